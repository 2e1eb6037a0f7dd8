"""The line film takes when it is pulled tight over fittings and pipes: the hull of their outlines.

A fitting is seen as its hub: a round body at the centre and one straight sleeve to each mouth. A pipe is seen as its
outside diameter. Film can only touch what stands proud, so the convex hull of all of it is where the film lies.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Sequence

Point = tuple[float, float]

# Points round a hub: 48 leave a hub of 41 mm short by 0.05 mm, far less than film stretches.
ROUND = 48
_TURNS = tuple((math.cos(2 * math.pi * i / ROUND), math.sin(2 * math.pi * i / ROUND)) for i in range(ROUND))
_HARDLY = 1e-9


def silhouette(start: Point, end: Point, radius_m: float) -> list[Point]:
    """Points round a hub or a pipe that runs from `start` to `end` as it is seen; a full circle where it is end on."""
    run = (end[0] - start[0], end[1] - start[1])
    length = math.hypot(*run)
    if length < _HARDLY:
        return [(start[0] + radius_m * c, start[1] + radius_m * s) for c, s in _TURNS]
    square = (-run[1] / length * radius_m, run[0] / length * radius_m)
    return [
        (point[0] + side * square[0], point[1] + side * square[1]) for point in (start, end) for side in (1.0, -1.0)
    ]


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
    line = kept[start:] + kept[:start]
    return (line[0], *(there for here, there in itertools.pairwise(line) if math.dist(here, there) > _HARDLY))


def length_along(line: Sequence[Point]) -> float:
    """Length of an open line [m]."""
    return sum(math.dist(a, b) for a, b in itertools.pairwise(line))
