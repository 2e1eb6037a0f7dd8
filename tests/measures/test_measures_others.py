"""Angles, weights, speeds, temperatures, forces and pressures: read exactly, shown by unit system."""

from __future__ import annotations

import math
from collections.abc import Callable
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from clochewright.errors import MeasureError
from clochewright.measures import (
    read_angle,
    read_force,
    read_mass,
    read_money,
    read_pressure,
    read_speed,
    read_temperature,
    show_angle,
    show_force,
    show_mass,
    show_pressure,
    show_speed,
    show_temperature,
    show_temperature_difference,
)

# Exact factors; tests/published/test_published_units.py holds them against the tables they come from.
LB = Fraction(45_359_237, 10**8)
LBF = Fraction(44_482_216_152_605, 10**13)

READERS: list[Callable[[object], Any]] = [
    read_angle, read_force, read_mass, read_money, read_pressure, read_speed, read_temperature,
]  # fmt: skip


@pytest.mark.parametrize(
    ("read", "text", "value"),
    [
        (read_angle, "45 deg", 45),
        (read_angle, "45°", 45),
        (read_angle, "45º", 45),  # the ordinal sign that some keyboards offer
        (read_angle, "22.5 degrees", Fraction(45, 2)),
        (read_angle, "22½°", Fraction(45, 2)),
        (read_mass, "3 lb 4 oz", Fraction(13, 4) * LB),
        (read_mass, "2lbs.", 2 * LB),
        (read_mass, "1.5 kg", Fraction(3, 2)),
        (read_mass, "1 kg 200 g", Fraction(6, 5)),
        (read_mass, "400g", Fraction(2, 5)),
        (read_speed, "15 m/s", 15),
        (read_speed, "50 km/h", Fraction(125, 9)),
        (read_speed, "5 miles  per hour", 5 * Fraction(44_704, 10**5)),
        (read_speed, "36 kn", 36 * Fraction(1852, 3600)),
        (read_temperature, "32 F", 0),
        (read_temperature, "-40 °F", -40),
        (read_temperature, "4 degC", 4),
        (read_temperature, "−5°C", -5),
        (read_temperature, "4 ℃", 4),
        (read_temperature, "50℉", 10),
        (read_force, "10 lbf", 10 * LBF),
        (read_force, "2 kN", 2000),
        (read_force, "45 newtons", 45),
        (read_pressure, "1 kN/m2", 1000),
        (read_pressure, "1 kN/m²", 1000),
        (read_pressure, "960 Pa", 960),
    ],
)
def test_reads_exactly(read: Callable[[object], Fraction], text: str, value: Fraction | int) -> None:
    assert read(text) == value


@pytest.mark.parametrize(
    ("read", "text", "part_of_the_sentence"),
    [
        (read_angle, "45", "45 of what? Write 45 deg."),
        (read_angle, "-3 deg", "less than nothing"),
        (read_angle, "45° 30'", "can't be read as an angle"),
        (read_mass, "3", "3 of what? Write 3 lb or 3 kg."),
        (read_mass, "3 lb 200 g", "mixes two kinds"),
        (read_mass, "4 oz 3 lb", "from the larger unit"),
        (read_speed, "35", "35 of what? Write 35 mph or 35 m/s."),
        (read_speed, "35 mph 2 m/s", "mixes two kinds"),
        (read_temperature, "40", "40 of what? Write 40 F or 40 C."),
        (read_temperature, "4 C 5 C", "can't be read as a temperature"),
        (read_temperature, "-300 C", "colder than anything can be"),
        (read_force, "5 lb", "“lb” is no unit of force"),
        (read_pressure, "5 psi", "“psi” is no unit of pressure"),
    ],
)
def test_refuses_in_plain_words(read: Callable[[object], Fraction], text: str, part_of_the_sentence: str) -> None:
    with pytest.raises(MeasureError) as refusal:
        read(text)
    assert part_of_the_sentence in str(refusal.value)


@pytest.mark.parametrize("read", READERS)
@pytest.mark.parametrize("nonsense", ["", "soft", "1" * 300, "1/0", math.inf, math.nan, 10**5000, None, True, [], "-"],
                         ids=lambda given: repr(given)[:12] if not isinstance(given, int) else "int")
def test_nonsense_gets_one_plain_sentence(read: Callable[[object], Any], nonsense: object) -> None:
    with pytest.raises(MeasureError) as refusal:
        read(nonsense)
    assert str(refusal.value).endswith(".")
    assert len(str(refusal.value)) < 160


@given(st.sampled_from(READERS), st.text(max_size=40))
def test_any_text_is_read_or_refused(read: Callable[[object], Any], text: str) -> None:
    assert answer_or_refusal(read, text)


def answer_or_refusal(read: Callable[[object], Any], text: str) -> bool:
    """Whether the text was read, or refused with a sentence; any other exception goes through and fails the test."""
    try:
        read(text)
    except MeasureError as refusal:
        return str(refusal).endswith(".")
    return True


@pytest.mark.parametrize(
    ("shown", "expected"),
    [
        (show_angle(45.0), "45°"),
        (show_angle(22.5), "22.5°"),
        (show_angle(-0.01), "0°"),
        (show_mass(float(LB) * 12.34, "inch"), "12.3 lb"),
        (show_mass(float(LB) / 4, "inch"), "4 oz"),
        (show_mass(0.0, "inch"), "0 lb"),
        (show_mass(5.63, "mm"), "5.6 kg"),
        (show_mass(0.12, "mm"), "120 g"),
        (show_mass(0.9999, "mm"), "1 kg"),
        (show_speed(0.44704 * 35, "inch"), "35 mph"),
        (show_speed(15.25, "mm"), "15.3 m/s"),
        (show_temperature(0.0, "inch"), "32 °F"),
        (show_temperature(-0.04, "mm"), "0 °C"),
        (show_temperature(4.5, "mm"), "4.5 °C"),
        (show_temperature_difference(5.0, "inch"), "9 °F"),
        (show_temperature_difference(5.0, "mm"), "5 °C"),
        (show_force(20.0, "inch"), "4.5 lbf"),
        (show_force(200.0, "inch"), "45 lbf"),
        (show_force(52.6, "mm"), "53 N"),
        (show_pressure(957.6, "inch"), "20 psf"),
        (show_pressure(957.6, "mm"), "958 Pa"),
    ],
)
def test_shows_by_unit_system(shown: str, expected: str) -> None:
    assert shown == expected


@given(st.floats(0, 500))
def test_what_is_shown_reads_back_within_rounding(value: float) -> None:
    assert abs(float(read_angle(show_angle(value))) - value) <= 0.05 + 1e-6
    assert abs(float(read_mass(show_mass(value, "mm"))) - value) <= 0.05 + 1e-6
    assert abs(float(read_mass(show_mass(value, "inch"))) - value) <= (0.05 + 1e-6) * float(LB)
    assert abs(float(read_speed(show_speed(value, "inch"))) - value) <= (0.5 + 1e-6) * 0.44704
    assert abs(float(read_speed(show_speed(value, "mm"))) - value) <= 0.05 + 1e-6
    assert abs(float(read_temperature(show_temperature(value, "inch"))) - value) <= (0.5 + 1e-6) * 5 / 9
    assert abs(float(read_temperature(show_temperature(-value / 2, "mm"))) + value / 2) <= 0.05 + 1e-6
    assert abs(float(read_force(show_force(value, "inch"))) - value) <= (0.5 + 1e-6) * float(LBF)
    assert abs(float(read_force(show_force(value, "mm"))) - value) <= 0.5 + 1e-6
    assert abs(float(read_pressure(show_pressure(value, "inch"))) - value) <= (0.05 + 1e-6) * 47.88026
    assert abs(float(read_pressure(show_pressure(value, "mm"))) - value) <= 0.5 + 1e-6
