"""The points of a film pattern that one measures out on the sheet, numbered for drawing and list."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from clochewright.film import PatternPiece

Point = tuple[float, float]
Alike = Literal["quarters", "ends", "turned", "nothing"]

# Points nearer to each other than this are one mark; halves that differ by less are alike (common practice, no source).
SAME_M = 0.012
# Of a curved edge only every so many points are listed, so that a list stays a list.
MOST_ALONG_EDGE = 13


@dataclass(frozen=True, slots=True)
class PatternPoint:
    """One point to measure out: its number, what it is, and where it lies from the middle marks [m]."""

    number: int
    what: str
    along_m: float
    across_m: float


def pattern_points(piece: PatternPiece) -> tuple[PatternPoint, ...]:
    """The points of a piece; of halves or quarters that are alike only one has them.

    On the sheet over the bed both figures are from the sheet's middle; on a gable the second is up from the end rail.
    """
    kept: list[tuple[str, Point]] = []
    for what, point in _named(piece):
        if not any(_same(point, other) for _, other in kept):
            kept.append((what, point))
    alike = what_is_alike(piece)
    far_only, left_only = alike != "nothing", alike == "quarters"
    shown = [
        (what, (x, y)) for what, (x, y) in kept if not (far_only and x < -SAME_M) and not (left_only and y < -SAME_M)
    ]
    ordered = sorted(shown, key=lambda named: (_ORDER.index(named[0]), round(-named[1][1], 3), named[1][0]))
    return tuple(PatternPoint(n, what, x, y) for n, (what, (x, y)) in enumerate(ordered, start=1))


def what_is_alike(piece: PatternPiece) -> Alike:
    """Which parts of a piece are alike: all quarters, its ends, its ends when the sheet is turned round, or nothing."""
    points = [point for _, point in _named(piece)]

    def alike(sx: float, sy: float) -> bool:
        return all(any(_same((sx * x, sy * y), other) for other in points) for x, y in points)

    if alike(-1.0, 1.0):
        return "quarters" if not piece.is_gable and alike(1.0, -1.0) else "ends"
    return "turned" if not piece.is_gable and alike(-1.0, -1.0) else "nothing"


_ORDER = ("corner", "rail-end", "crest", "rail", "pleat", "bent", "trim")


def _named(piece: PatternPiece) -> Iterator[tuple[str, Point]]:
    sides = [line for line in piece.lines if line.kind == "rail"]
    corner = "rail-end" if piece.name in ("strip", "panel") else "corner"
    for line in sides if piece.is_gable else sides[:2]:
        yield from ((corner, point) for point in line.points)
    for line in piece.lines:
        if line.kind == "crest":
            yield from (("crest", point) for point in line.points)
    for line in () if piece.is_gable else sides[2:]:
        yield from (("rail", point) for point in line.points)
    for line in piece.lines:
        if line.kind == "pleat":
            yield "pleat", line.points[-1]
        if line.kind == "bent" and piece.is_gable:
            step = max(1, len(line.points) // MOST_ALONG_EDGE)
            last = len(line.points) - 1
            yield from (("bent", p) for i, p in enumerate(line.points) if min(i, last - i) % step == 0)
    # of a trim line along a curve, only the corners that lie on the edge of the sheet
    edges = (piece.low[1], piece.high[1]) if not piece.is_gable else (piece.low[1],)
    for x, y in piece.trim:
        if len(piece.trim) <= 2 * MOST_ALONG_EDGE or any(abs(y - edge) < SAME_M for edge in edges):
            yield "trim", (x, y)


def _same(one: Point, other: Point) -> bool:
    return abs(one[0] - other[0]) < SAME_M and abs(one[1] - other[1]) < SAME_M
