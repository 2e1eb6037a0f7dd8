"""The line film takes when it is pulled tight over fittings and pipes: the hull of their outlines.

A fitting is seen as its hub: a round body at the centre and one straight sleeve to each mouth. A pipe is seen as its
outside diameter. Film can only touch what stands proud, so the convex hull of all of it is where the film lies.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Sequence

from clochewright.frame import Fitting, Pipe

Point = tuple[float, float]

# Points round a hub: 48 leave a hub of 41 mm short by 0.05 mm, far less than film stretches.
ROUND = 48
_TURNS = tuple((math.cos(2 * math.pi * i / ROUND), math.sin(2 * math.pi * i / ROUND)) for i in range(ROUND))
_HARDLY = 1e-9


def outline_points(
    fittings: Iterable[Fitting], pipes: Iterable[Pipe], pipe_diameter_m: float, sideways: int
) -> list[Point]:
    """Points round every hub and pipe, seen along the bed (`sideways` 1: y, z) or across it (`sideways` 0: x, z).

    Args:
        fittings: the hubs to wrap.
        pipes: the pipes to wrap.
        pipe_diameter_m: outside diameter of the pipe [m].
        sideways: which coordinate is drawn level, 0 for x or 1 for y.
    """
    points: list[Point] = []
    for fitting in fittings:
        centre = (fitting.position_m[sideways], fitting.position_m[2])
        radius = fitting.hub_diameter_m / 2
        points += _circle(centre, radius)
        for port in fitting.ports:
            direction = (port.direction[sideways], port.direction[2])
            points += _mouth(centre, direction, port.centre_to_face_m, radius)
    radius = pipe_diameter_m / 2
    for pipe in pipes:
        flat = [(point[sideways], point[2]) for point in pipe.path_m]
        for here, there in itertools.pairwise(flat):
            run = (there[0] - here[0], there[1] - here[1])
            length = math.hypot(*run)
            if length < _HARDLY:
                points += _circle(here, radius)
                continue
            for end in (here, there):
                points += _mouth(end, (run[0] / length, run[1] / length), 0.0, radius)
    return points


def _circle(centre: Point, radius: float) -> list[Point]:
    return [(centre[0] + radius * c, centre[1] + radius * s) for c, s in _TURNS]


def _mouth(centre: Point, direction: Point, reach: float, radius: float) -> list[Point]:
    """The two corners of a sleeve seen from the side; none when it is seen end on."""
    seen = math.hypot(*direction)
    if seen < _HARDLY:
        return []
    along = (centre[0] + direction[0] * reach, centre[1] + direction[1] * reach)
    square = (-direction[1] / seen * radius, direction[0] / seen * radius)
    return [(along[0] + square[0], along[1] + square[1]), (along[0] - square[0], along[1] - square[1])]


def hull(points: Sequence[Point]) -> list[Point]:
    """Convex hull, anticlockwise, by Andrew's monotone chain (Information Processing Letters 9, 1979, p. 216)."""
    ordered = sorted(set(points))
    if len(ordered) < 3:
        return ordered

    def chain(path: Iterable[Point]) -> list[Point]:
        kept: list[Point] = []
        for point in path:
            while len(kept) >= 2 and _turn(kept[-2], kept[-1], point) <= 0:
                kept.pop()
            kept.append(point)
        return kept[:-1]

    return chain(ordered) + chain(reversed(ordered))


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def over_the_top(corners: Sequence[Point], level_m: float) -> tuple[Point, ...]:
    """The part of a hull above a level [m], from the foot of the greater coordinate over the top to the other foot.

    Args:
        corners: the hull, anticlockwise.
        level_m: where the film starts and ends, such as the underside of the bottom rail.
    """
    kept: list[Point] = []
    for here, there in zip(corners, [*corners[1:], *corners[:1]], strict=True):
        if here[1] >= level_m:
            kept.append(here)
        if (here[1] - level_m) * (there[1] - level_m) < 0:
            share = (level_m - here[1]) / (there[1] - here[1])
            kept.append((here[0] + share * (there[0] - here[0]), level_m))
    if not kept:
        return ()
    # The hull runs anticlockwise, so from its outermost foot the film's line is one unbroken stretch.
    lowest = min(point[1] for point in kept)
    feet = [i for i, point in enumerate(kept) if point[1] - lowest < _HARDLY]
    start = max(feet, key=lambda i: kept[i][0])
    return tuple(kept[start:] + kept[:start])


def length_along(line: Sequence[Point]) -> float:
    """Length of an open line [m]."""
    return sum(math.dist(a, b) for a, b in itertools.pairwise(line))
