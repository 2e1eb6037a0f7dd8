"""Conversion factors against the tables that define them.

NIST Special Publication 811 (2008), Guide for the Use of the International System of Units, appendix B.8, prints these
factors; those in bold there are exact. The inch and the pound are those of the international agreement of 1959. The
printed figures stand here from memory; they agree with the definitions, from which each can be worked out again.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest

from clochewright.measures import (
    foot,
    inch,
    read_force,
    read_length,
    read_mass,
    read_pressure,
    read_speed,
    read_temperature,
)

EXACT = [
    (read_length, "1 in", "0.0254"),  # NIST SP 811 B.8, inch (in); agreement of 1959: 1 in = 25.4 mm
    (read_length, "1 ft", "0.3048"),  # NIST SP 811 B.8, foot (ft)
    (read_length, "1 yd", "0.9144"),  # NIST SP 811 B.8, yard (yd); agreement of 1959
    (read_length, "1 mil", "0.0000254"),  # NIST SP 811 B.8, mil (0.001 in)
    (read_mass, "1 lb", "0.45359237"),  # NIST SP 811 B.8, pound (avoirdupois); agreement of 1959
    (read_speed, "1 mph", "0.44704"),  # NIST SP 811 B.8, mile per hour
    (read_force, "1 lbf", "4.4482216152605"),  # NIST SP 811 B.8, pound-force, and its footnote with all digits
    (read_force, "1 kgf", "9.80665"),  # NIST SP 811 B.8, kilogram-force
    (read_temperature, "212 F", "100"),  # boiling and freezing water: NIST SP 811 B.8, t/C = (t/F - 32)/1.8
    (read_temperature, "32 F", "0"),
]

ROUNDED = [
    (read_mass, "1 oz", 2.834952e-2),  # NIST SP 811 B.8, ounce (avoirdupois)
    (read_speed, "1 km/h", 2.777778e-1),  # NIST SP 811 B.8, kilometer per hour
    (read_speed, "1 knot", 5.144444e-1),  # NIST SP 811 B.8, knot (nautical mile per hour)
    (read_pressure, "1 psf", 4.788026e1),  # NIST SP 811 B.8, pound-force per square foot
]


@pytest.mark.parametrize(("read", "text", "printed"), EXACT)
def test_exact_factors(read: Callable[[object], Fraction], text: str, printed: str) -> None:
    assert read(text) == Fraction(printed)


@pytest.mark.parametrize(("read", "text", "printed"), ROUNDED)
def test_factors_printed_to_seven_figures(read: Callable[[object], Fraction], text: str, printed: float) -> None:
    assert float(read(text)) == pytest.approx(printed, rel=5e-7)


def test_constants_are_the_international_inch_and_foot() -> None:
    assert (inch, foot) == (0.0254, 0.3048)  # NIST SP 811 B.8, inch and foot
