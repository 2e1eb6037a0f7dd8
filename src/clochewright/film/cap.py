"""One end of the film laid out flat, as seen from outside."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from clochewright.film.outline import Point
from clochewright.frame import Vec


@dataclass(frozen=True, slots=True)
class Cap:
    """An end laid out flat.

    `edge` is the line along which it hangs on the rest of the film, `rim` the same line in space, left rail first;
    `edge[0]` lies at (0, 0), and the bottom runs from there to `edge[-1]` along the first axis, the top above it.
    `triangles` are its flat faces, by number of the edge's points.
    """

    edge: tuple[Point, ...]
    rim: tuple[Vec, ...]
    triangles: tuple[tuple[int, int, int], ...]


def unroll(rim: Sequence[Vec], toward: float) -> Cap:
    """Lay an end flat: pulled tight over its rim, the film lies in flat triangles from point to point.

    Args:
        rim: where it hangs, in space, from the left rail over the top to the right one [m].
        toward: 1 for the far end, -1 for the front end.
    """
    outward = [(toward * x, y, z) for x, y, z in rim]
    triangles: list[tuple[int, int, int]] = []
    edge: list[Point] = [(0.0, 0.0)] * len(rim)
    edge[-1] = (-math.dist(rim[0], rim[-1]), 0.0)
    waiting = [(0, len(rim) - 1)]
    while waiting:
        left, right = waiting.pop()
        if right - left < 2:
            continue
        between = _proudest(outward, left, right)
        edge[between] = _apex(edge[left], edge[right], *(math.dist(rim[i], rim[between]) for i in (left, right)))
        triangles.append((left, between, right))
        waiting += [(left, between), (between, right)]
    return Cap(tuple(edge), tuple(rim), tuple(triangles))


def _proudest(rim: Sequence[Vec], left: int, right: int) -> int:
    """The point between two others that a sheet turning about their line from outside meets first."""
    (x0, y0, z0), (x1, y1, z1) = rim[left], rim[right]
    ax, ay, az = x1 - x0, y1 - y0, z1 - z0
    square = ax * ax + ay * ay + az * az
    # out is the part of the bed's direction that is square to the line, and on is square to both, up and outwards
    out = (1 - ax * ax / square, -ax * ay / square, -ax * az / square)
    size = math.sqrt(square)
    on = (0.0, az / size, -ay / size)

    def turn(i: int) -> float:
        px, py, pz = rim[i][0] - x0, rim[i][1] - y0, rim[i][2] - z0
        scale = math.sqrt(out[0]) or 1.0  # its own length
        beyond = (px * out[0] + py * out[1] + pz * out[2]) / scale
        return math.atan2((py * on[1] + pz * on[2]) / scale, beyond)

    return min(range(left + 1, right), key=turn)


def _apex(left: Point, right: Point, from_left_m: float, from_right_m: float) -> Point:
    """The third corner of a triangle that stands above its base; `left` and `right` as the film's edge runs."""
    base_m = math.dist(left, right)
    along = (base_m**2 + from_left_m**2 - from_right_m**2) / (2 * base_m)
    high = math.sqrt(max(0.0, from_left_m**2 - along**2))
    run = ((right[0] - left[0]) / base_m, (right[1] - left[1]) / base_m)
    return left[0] + along * run[0] + high * run[1], left[1] + along * run[1] - high * run[0]


@dataclass(frozen=True, slots=True)
class Motion:
    """A turn and a shift in the plane."""

    turn: complex
    shift: complex

    def __call__(self, point: Point) -> Point:
        """The point, moved."""
        moved = self.turn * complex(*point) + self.shift
        return moved.real, moved.imag


def laying(one: tuple[Point, Point], on: tuple[Point, Point]) -> Motion:
    """The motion that lays one edge on another of the same length."""
    a, b, c, d = (complex(*point) for point in (*one, *on))
    turn = (d - c) / (b - a)
    turn /= abs(turn)
    return Motion(turn, (c + d) / 2 - turn * (a + b) / 2)
