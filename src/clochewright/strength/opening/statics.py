"""Statics of a leaf turning about its hinge line, at many angles at once.

Everything is seen along the hinge line: x out over the bed, y up, the line at (0, 0). A leaf of weight W whose centre
of gravity is out by x_c needs a moment W x_c to hold it; a force P along a unit way u at a point h gives P (h x u).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from clochewright.strength.opening.types import Point
from clochewright.strength.structure import Floats

LEAST_LEVER_m = 1e-6


@dataclass(frozen=True, slots=True)
class Turning:
    """A leaf as statics sees it: weight [N], centre of gravity and handle while it is shut [m]."""

    weight_N: float
    centre_m: Point
    handle_m: Point

    @property
    def handle_radius_m(self) -> float:
        """From the hinge line to the handle [m]."""
        return math.hypot(*self.handle_m)

    @property
    def over_centre_deg(self) -> float:
        """The angle from shut at which it balances over its hinges [deg]."""
        return 90.0 - math.degrees(math.atan2(self.centre_m[1], self.centre_m[0]))


def turned(point: Point, angles_deg: Floats) -> Floats:
    """Where a point of the leaf is at each angle from shut (n, 2) [m]."""
    turn = np.radians(angles_deg)
    x, y = point
    cos, sin = np.cos(turn), np.sin(turn)
    return np.stack([x * cos - y * sin, x * sin + y * cos], axis=-1)


def moment_Nm(leaf: Turning, angles_deg: Floats) -> Floats:
    """The moment that holds it still at each angle [Nm]; below zero past its over-centre."""
    return np.asarray(leaf.weight_N * turned(leaf.centre_m, angles_deg)[:, 0])


def lift_N(leaf: Turning, angles_deg: Floats) -> Floats:
    """The hand's force at the handle, square to its way, at each angle [N]."""
    return moment_Nm(leaf, angles_deg) / leaf.handle_radius_m


def lever_m(points: Floats, toward: Floats) -> Floats:
    """The lever arm about the hinge line of a force at `points` (..., 2) along the way `toward` - `points` [m]."""
    way = toward - points
    length = np.maximum(np.hypot(way[..., 0], way[..., 1]), LEAST_LEVER_m)
    return np.asarray((points[..., 0] * way[..., 1] - points[..., 1] * way[..., 0]) / length)


def force_along_N(leaf: Turning, angles_deg: Floats, points: Floats, toward: Floats) -> Floats:
    """The force at `points` along the way to `toward` that holds it still [N]; infinite where it has no lever."""
    lever = lever_m(points, toward)
    with np.errstate(divide="ignore"):
        return np.where(np.abs(lever) > LEAST_LEVER_m, moment_Nm(leaf, angles_deg) / lever, np.inf)


def prop_N(leaf: Turning, angles_deg: Floats, pivot_m: Point, pin_m: Point) -> tuple[Floats, Floats]:
    """The push in a bar from a pin on the bed to a pivot on the leaf [N], and its angle to the leaf [deg].

    All bars together; a bar pushes along the way from the pin through the pivot.
    """
    heads = turned(pivot_m, angles_deg)
    pin = np.broadcast_to(np.array(pin_m), heads.shape)
    push = force_along_N(leaf, angles_deg, heads, 2 * heads - pin)
    sine = np.abs(lever_m(heads, 2 * heads - pin)) / math.hypot(*pivot_m)
    return push, np.degrees(np.arcsin(np.clip(sine, 0.0, 1.0)))


def hinge_N(leaf: Turning, forces_N: Floats) -> Floats:
    """What all hinges together bear at each angle [N], the other forces on the leaf, but its weight, being (n, 2)."""
    return np.asarray(np.hypot(forces_N[:, 0], forces_N[:, 1] - leaf.weight_N))


def square_to_way(leaf: Turning, angles_deg: Floats) -> Floats:
    """The unit way of the handle as it opens, at each angle (n, 2)."""
    radius = turned(leaf.handle_m, angles_deg) / leaf.handle_radius_m
    return np.stack([-radius[:, 1], radius[:, 0]], axis=-1)
