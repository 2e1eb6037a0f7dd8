"""Lengths, angles, weights, prices and the rest, as people write and read them; everything inside is SI."""

from clochewright.measures.angle import read_angle, show_angle
from clochewright.measures.calendar import MONTH_NAMES, show_day, show_hour
from clochewright.measures.force import GRAVITY_M_S2, read_force, read_pressure, show_force, show_pressure
from clochewright.measures.length import Style, foot, inch, read_length, round_length, show_length
from clochewright.measures.mass import read_mass, show_mass
from clochewright.measures.money import Money, read_money, show_money
from clochewright.measures.rough import show_about, show_drill
from clochewright.measures.rounding import Units
from clochewright.measures.speed import read_speed, show_speed
from clochewright.measures.temperature import read_temperature, show_temperature, show_temperature_difference

__all__ = [
    "GRAVITY_M_S2",
    "MONTH_NAMES",
    "Money",
    "Style",
    "Units",
    "foot",
    "inch",
    "read_angle",
    "read_force",
    "read_length",
    "read_mass",
    "read_money",
    "read_pressure",
    "read_speed",
    "read_temperature",
    "round_length",
    "show_about",
    "show_angle",
    "show_day",
    "show_drill",
    "show_force",
    "show_hour",
    "show_length",
    "show_mass",
    "show_money",
    "show_pressure",
    "show_speed",
    "show_temperature",
    "show_temperature_difference",
]
