"""Drill and screw sizes as they are sold: in 1/64 in, or in half millimetres."""

from __future__ import annotations

from fractions import Fraction
from types import MappingProxyType

from clochewright.measures import Units, inch

PIN_m = MappingProxyType({"inch": 0.25 * inch, "mm": 0.006})  # of a bar's pin and pivot; common practice, no source


def drill_size(diameter_m: float, units: Units) -> str:
    """The size sold that is nearest to a diameter [m]."""
    if units == "mm":
        return f"{round(diameter_m * 2000) / 2:g} mm"
    sixty_fourths = max(1, round(diameter_m / inch * 64))
    return f"{Fraction(sixty_fourths, 64)} in"
