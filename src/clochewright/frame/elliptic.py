"""Elliptic integrals and the amplitude, as the elastica needs them.

Own code, so that nothing but the standard library is wanted at run time. The integrals go by Carlson's duplication,
the amplitude by the arithmetic-geometric mean (Digital Library of Mathematical Functions, 19.36(i) and 22.20(ii)).
"""

from __future__ import annotations

import math

NEAR_ENOUGH = 1e-3  # spread at which the series below, cut after the fifth order, is true to the last digits of a float


def integrals(sin_ratio: float, cos_ratio: float, delta_ratio: float) -> tuple[float, float]:
    """The integrals F = ∫ da / Δ and D = ∫ sin²a da / Δ from 0 to an angle within a quarter turn.

    Δ² = 1 - n sin²a, with any n for which Δ stays real up to the angle (n < 0 and n > 1 as well); F is Legendre's
    first kind, and his second is F - n D.

    Args:
        sin_ratio: sine of the upper angle, 0 to 1.
        cos_ratio: its cosine; together with `delta_ratio` it says the angle more sharply near a quarter turn.
        delta_ratio: Δ at the upper angle, 0 or more. It and the cosine can't both be 0: F would be endless.

    Returns:
        F and D, both plain numbers.
    """
    x, y, z = cos_ratio * cos_ratio, delta_ratio * delta_ratio, 1.0
    part, tail = 1.0, 0.0
    while True:
        mean, mean_d = (x + y + z) / 3, (x + y + 3 * z) / 5
        spread = max(abs(mean - x), abs(mean - y), abs(mean - z)) / mean
        spread_d = max(abs(mean_d - x), abs(mean_d - y), abs(mean_d - z)) / mean_d
        if max(spread, spread_d) < NEAR_ENOUGH:
            break
        root_x, root_y, root_z = math.sqrt(x), math.sqrt(y), math.sqrt(z)
        shift = root_x * root_y + root_y * root_z + root_z * root_x
        tail += part / (root_z * (z + shift))
        part /= 4
        x, y, z = (x + shift) / 4, (y + shift) / 4, (z + shift) / 4
    f = sin_ratio * _first_series(x, y, z, mean)
    d = sin_ratio**3 * (tail + part * _second_series(x, y, mean_d) / 3)
    return f, d


def _first_series(x: float, y: float, z: float, mean: float) -> float:
    """Carlson's R_F of three numbers close to their mean (DLMF 19.36.1)."""
    dx, dy, dz = 1 - x / mean, 1 - y / mean, 1 - z / mean
    e2, e3 = dx * dy - dz * dz, dx * dy * dz
    return (1 - e2 / 10 + e3 / 14 + e2 * e2 / 24 - 3 * e2 * e3 / 44) / math.sqrt(mean)


def _second_series(x: float, y: float, mean: float) -> float:
    """Carlson's R_D of three numbers close to their mean, in which the third counts three times (DLMF 19.36.2)."""
    dx, dy = 1 - x / mean, 1 - y / mean
    dz = -(dx + dy) / 3
    e2, e3 = dx * dy - 6 * dz * dz, (3 * dx * dy - 8 * dz * dz) * dz
    e4, e5 = 3 * (dx * dy - dz * dz) * dz * dz, dx * dy * dz**3
    series = 1 - 3 * e2 / 14 + e3 / 6 + 9 * e2 * e2 / 88 - 3 * e4 / 22 - 9 * e2 * e3 / 52 + 3 * e5 / 26
    return series / (mean * math.sqrt(mean))


def amplitude(arc_ratio: float, complement_ratio: float) -> float:
    """The angle whose integral F is `arc_ratio`, for 0 <= n <= 1.

    Args:
        arc_ratio: the value of F; any number.
        complement_ratio: 1 - n, 0 to 1: given instead of n, so that an n hardly below 1 keeps its digits.

    Returns:
        The angle [rad].
    """
    a, b = 1.0, max(math.sqrt(complement_ratio), 1e-150)
    shares = []
    while a - b > 1e-15 * a:  # as near as doubles can tell; a last step would only halve rounding
        c = (a - b) / 2
        a, b = (a + b) / 2, math.sqrt(a * b)
        shares.append(c / a)
    angle = math.ldexp(a * arc_ratio, len(shares))
    for share in reversed(shares):
        angle = (angle + math.asin(share * math.sin(angle))) / 2
    return angle
