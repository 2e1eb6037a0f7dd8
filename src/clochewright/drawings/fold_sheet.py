"""One end of a sheet with folded ends, as it lies flat: which triangles of spare film go under, and along what line."""

from __future__ import annotations

import math
from collections.abc import Iterable

from clochewright.drawings.lettering import text_corners
from clochewright.drawings.marks import Area, Drawing, Line, Mark, Point, Text
from clochewright.drawings.sheet import MARGIN_MM, SCALES, on_sheet
from clochewright.film import Pattern, PatternPiece
from clochewright.findings import word
from clochewright.measures import Units

_HIGH_MM, _TEXT_MM = 70.0, 3.5
_HARDLY = 1e-6
_RIDGE_SHARE = 0.05  # a fold that starts this near to the middle, by the sheet's width, is under a ridge
Triangle = tuple[Point, Point, Point]


def draw_fold(pattern: Pattern, units: Units, width_mm: float) -> Drawing | None:
    """The far end from outside, the rest of the sheet above it; None where ends are not folded.

    Args:
        pattern: The film's pattern.
        units: How lengths are shown.
        width_mm: Width of the sheet of paper [mm].
    """
    if pattern.ends != "folded" or not pattern.pleats:
        return None
    piece = pattern.main
    spare = spare_film(piece)
    edge_m = min(x for triangle in spare for x, _ in triangle)
    trim = [point for point in piece.trim if point[0] > edge_m - _HARDLY]
    wide, high = (max(p[k] for p in trim) - min(p[k] for p in trim) for k in (1, 0))
    room_mm = width_mm - 2 * MARGIN_MM
    fits = (s for s in SCALES[units] if wide * 1000 / s <= room_mm and high * 1000 / s <= _HIGH_MM)
    scale = next(fits, math.ceil(max(wide * 1000 / room_mm, high * 1000 / _HIGH_MM)))
    size = 1000 / scale

    def place(point: Point) -> Point:
        return point[1] * size, -point[0] * size

    drawn: list[Mark] = []
    for face in piece.faces:
        if min(x for x, _ in face.flat) > edge_m - _HARDLY:
            drawn.append(Area("skin", tuple(place(point) for point in face.flat)))
    drawn += [Area("hand", tuple(place(point) for point in triangle)) for triangle in spare]
    drawn += [Line("bent-line", tuple(place(point) for point in line)) for line in _beyond(piece, "bent", edge_m)]
    drawn += [Line("rail-line", tuple(place(point) for point in line)) for line in _beyond(piece, "rail", edge_m)]
    for start, under, other in spare:
        middle = ((under[0] + other[0]) / 2, (under[1] + other[1]) / 2)
        drawn.append(Line("pleat-line", (place(start), place(middle))))
        drawn += [Line("pipe", (place(start), place(end))) for end in (under, other)]
    drawn.append(Line("trim-line", tuple(place(point) for point in trim)))
    for triangle in spare:
        at_ridge = abs(triangle[0][1]) < _RIDGE_SHARE * piece.width_m
        name = word(f"drawings.fold.{'spare' if at_ridge else 'ear'}")
        x, y = place((sum(p[0] for p in triangle) / 3, sum(p[1] for p in triangle) / 3))
        told = Text("title", (x, y), name, _TEXT_MM, "middle", face="bold")
        drawn += [Area("hand", text_corners(told, 0.3)), told]
    title, note = word("drawings.fold.title"), word("drawings.fold.note")
    alt = word("drawings.fold.alt", count=len(spare))
    return on_sheet(drawn, title, note, width_mm, scale, units, alt, left_mm=-width_mm / 2, bar=False)


def spare_film(piece: PatternPiece) -> tuple[Triangle, ...]:
    """The triangles of the far end that are folded under: where a fold starts, and the two lines that meet [m].

    The fold halves each: the ends of the two lines are mirror images in it.
    """
    pleats = [line.points for line in piece.lines if line.kind == "pleat"]
    found = []
    for (start, under), (_, middle) in zip(pleats[::2], pleats[1::2], strict=True):
        if start[0] < 0:
            continue
        run = (middle[0] - start[0], middle[1] - start[1])
        away = (under[0] - start[0], under[1] - start[1])
        share = 2 * (away[0] * run[0] + away[1] * run[1]) / (run[0] ** 2 + run[1] ** 2)
        found.append((start, under, (start[0] + share * run[0] - away[0], start[1] + share * run[1] - away[1])))
    return tuple(found)


def _beyond(piece: PatternPiece, kind: str, edge_m: float) -> Iterable[tuple[Point, ...]]:
    """Lines of a kind that lie beyond the edge of the far end."""
    return (
        line.points for line in piece.lines if line.kind == kind and min(x for x, _ in line.points) > edge_m - _HARDLY
    )
