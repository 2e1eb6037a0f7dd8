"""Three-component vectors as plain tuples: quicker than arrays for the handful that one fitting needs."""

from __future__ import annotations

import math

from clochewright.frame.parts import Vec

ALONG: Vec = (1.0, 0.0, 0.0)
BACK: Vec = (-1.0, 0.0, 0.0)
UP: Vec = (0.0, 0.0, 1.0)


def ahead(start: Vec, direction: Vec, distance_m: float) -> Vec:
    """The point `distance_m` [m] from `start` along a unit `direction`."""
    return (
        start[0] + direction[0] * distance_m,
        start[1] + direction[1] * distance_m,
        start[2] + direction[2] * distance_m,
    )


def opposite(direction: Vec) -> Vec:
    """The same line, the other way."""
    return (-direction[0], -direction[1], -direction[2])


def dot(a: Vec, b: Vec) -> float:
    """Scalar product."""
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def distance(a: Vec, b: Vec) -> float:
    """From one point to another [m]."""
    return math.dist(a, b)


def across(side: float, slope_deg: float) -> Vec:
    """Unit vector across the bed (`side` +1 or -1 along y), rising at `slope_deg` [deg]."""
    slope = math.radians(slope_deg)
    return (0.0, side * math.cos(slope), math.sin(slope))


def unit(start: Vec, finish: Vec) -> Vec:
    """The unit vector from one point to another."""
    length_m = math.dist(start, finish)
    return (
        (finish[0] - start[0]) / length_m,
        (finish[1] - start[1]) / length_m,
        (finish[2] - start[2]) / length_m,
    )
