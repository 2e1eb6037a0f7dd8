"""Sizes as a hand takes them: holes as drills are sold, heights no finer than one feels."""

from __future__ import annotations

from fractions import Fraction

from clochewright.measures.length import Style, inch, show_length
from clochewright.measures.rounding import Units


def show_drill(diameter_m: float, units: Units) -> str:
    """The size sold that is nearest to a diameter [m]: in 1/64 in, or in half millimetres."""
    if units == "mm":
        return f"{max(1, round(diameter_m * 2000)) / 2:g} mm"
    sixty_fourths = max(1, round(diameter_m / inch * 64))
    return f"{Fraction(sixty_fourths, 64)} in"


def show_about(length_m: float, units: Units, style: Style = "plain") -> str:
    """A length [m] to the inch, or to the centimetre."""
    step_m = inch if units == "inch" else 0.01
    return show_length(round(length_m / step_m) * step_m, units, style=style)
