"""Section properties of pipe."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi, sqrt


@dataclass(frozen=True, slots=True)
class Section:
    """Area [m2], second moment [m4], section modulus [m3] and radius of gyration [m] of a pipe's cross-section."""

    area_m2: float
    I_m4: float
    S_m3: float
    r_m: float


def pipe_section(outside_diameter_m: float, wall_m: float) -> Section:
    """Section properties of a round pipe; use the minimum wall for strength and stiffness.

    Args:
        outside_diameter_m: outside diameter [m].
        wall_m: wall thickness [m], more than nothing and less than half the diameter.

    Returns:
        The section (a solid rod is not a pipe: the wall must leave a bore).

    Raises:
        ValueError: if the wall does not fit the diameter.
    """
    if not 0 < wall_m < outside_diameter_m / 2:
        raise ValueError(f"a wall of {wall_m} m does not fit a pipe of {outside_diameter_m} m")
    bore_m = outside_diameter_m - 2 * wall_m
    area_m2 = pi / 4 * (outside_diameter_m**2 - bore_m**2)
    I_m4 = pi / 64 * (outside_diameter_m**4 - bore_m**4)
    return Section(area_m2, I_m4, 2 * I_m4 / outside_diameter_m, sqrt(I_m4 / area_m2))
