"""The film pattern to scale: the sheet as it lies flat, with the frame's lines, folds, trim line and middle marks."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from itertools import pairwise

from clochewright.drawings.dimensions import ROW_MM, chain, level_below, upright_left
from clochewright.drawings.fold_sheet import draw_fold
from clochewright.drawings.lath_section import draw_lath
from clochewright.drawings.lettering import CAP_HEIGHT, text_corners, text_width_mm
from clochewright.drawings.marks import Area, Circle, Drawing, Line, Mark, Text
from clochewright.drawings.pattern_points import PatternPoint, pattern_points
from clochewright.drawings.roll_sheet import draw_rolls
from clochewright.drawings.sheet import MARGIN_MM, SCALES, box_around, on_sheet
from clochewright.film import Pattern, PatternPiece
from clochewright.findings import word
from clochewright.job import Job
from clochewright.measures import Units, show_length

Point = tuple[float, float]
Place = Callable[[Point], Point]

WIDTH_MM, HEIGHT_MM = 180.0, 150.0
_BESIDE_MM = 28.0  # kept beside the sheet for dimensions and for the balloon of the outermost point
_LABEL_MM, _NUMBER_MM, _LEGEND_MM = 3.5, 3.2, 3.3
_BALLOON_MM = 2.3
_TICK_MM = 3.0
_SLOPES_M = 0.05  # edges that differ in height by more than this are an upper and a lower one
_SAMPLE_MM = 9.0
_PENS = {
    "rail": "rail-line", "crest": "crest-line", "bent": "bent-line", "roll": "roll-line", "pleat": "pleat-line",
}  # fmt: skip
_LEGEND = ("sheet", "rail", "crest", "bent", "pleat", "roll", "trim")


def draw_pattern(job: Job, width_mm: float = WIDTH_MM, height_mm: float = HEIGHT_MM) -> dict[str, Drawing]:
    """The film's drawings: "pattern", "pattern-gable" where gables are cut by themselves, "rolls" and more.

    "fold" is an end that is folded, "lath" a bottom rail cut through, where there is one. Where panels open, "pattern"
    is the first of the strips on the frame that stays (another is "pattern-strip"), and "pattern-panel" a panel's own
    sheet.

    Args:
        job: The finished job; a refused one has no pattern.
        width_mm: Width of the sheets of paper [mm].
        height_mm: Greatest height that the film itself takes up on paper [mm].
    """
    if job.made is None:
        return {}
    film, units = job.made.film, job.plan.units
    pattern = film.pattern
    drawn = {"pattern": _draw_piece(pattern, pattern.main, units, width_mm, height_mm)}
    more = {piece.name: piece for piece in pattern.pieces[1:]}
    for name, piece in more.items():
        kind = "gable" if piece.is_gable else name
        drawn[f"pattern-{kind}"] = _draw_piece(pattern, piece, units, width_mm, height_mm)
    also = {
        "fold": draw_fold(pattern, units, width_mm),
        "rolls": draw_rolls(film, units, width_mm),
        "lath": draw_lath(job, width_mm),
    }
    return drawn | {name: one for name, one in also.items() if one is not None}


def _draw_piece(pattern: Pattern, piece: PatternPiece, units: Units, width_mm: float, height_mm: float) -> Drawing:
    room_mm = width_mm - 2 * MARGIN_MM - _BESIDE_MM
    scale = next(
        (s for s in SCALES[units] if piece.length_m * 1000 / s <= room_mm and piece.width_m * 1000 / s <= height_mm),
        math.ceil(max(piece.length_m * 1000 / room_mm, piece.width_m * 1000 / height_mm)),
    )
    size = 1000 / scale

    def place(point: Point) -> Point:
        return point[0] * size, point[1] * size

    drawn = [*_film(piece, place), *_labels(piece, place), *_middles(piece, place)]
    drawn += _numbers(pattern_points(piece), place)
    drawn += _sizes(piece, place, units)
    below = box_around(drawn).bottom_mm - 3.0
    drawn += _legend(piece, (box_around(drawn).left_mm, below), width_mm - 2 * MARGIN_MM)
    kind = "gable" if piece.is_gable else piece.name
    title = word("drawings.pattern.title" if kind == "cover" else f"drawings.pattern.{kind}-title")
    about = {"cover": pattern.ends, "gable": "gable-open" if pattern.panels else "gable"}.get(kind, kind)
    note = word(f"drawings.pattern.note-{about}")
    return on_sheet(drawn, title, note, width_mm, scale, units, _in_words(pattern, piece, units))


def _film(piece: PatternPiece, place: Place) -> list[Mark]:
    (x0, y0), (x1, y1) = piece.low, piece.high
    edge = tuple(place(point) for point in ((x0, y0), (x1, y0), (x1, y1), (x0, y1)))
    marks: list[Mark] = [Area("sheet", edge)]
    marks += [Area("skin", tuple(place(point) for point in face.flat)) for face in piece.faces]
    marks.append(Line("sheet", edge, closed=True))
    for line in piece.lines:
        marks.append(Line(_PENS[line.kind], tuple(place(point) for point in line.points)))
    marks.append(Line("trim-line", tuple(place(point) for point in piece.trim), closed=True))
    return marks


def _middles(piece: PatternPiece, place: Place) -> Iterable[Mark]:
    """A short stroke across the edge of the sheet at each middle mark."""
    for x, y in piece.middles:
        px, py = place((x, y))
        upright = abs(x) < 1e-9
        dx, dy = (0.0, _TICK_MM) if upright else (_TICK_MM, 0.0)
        yield Line("mark", ((px - dx, py - dy), (px + dx, py + dy)))


def _labels(piece: PatternPiece, place: Place) -> Iterable[Mark]:
    """Which side and which end is which, inside the frame's outline."""
    rails = [line for line in piece.lines if line.kind == "rail"]
    cap = CAP_HEIGHT * _LABEL_MM
    if piece.is_gable:
        px, py = place((0.0, rails[0].points[0][1]))
        yield from _on_patch(Text("note", (px, py + 1.8), word("drawings.pattern.end-rail"), _LABEL_MM, "middle"))
        return
    bents = [line for line in piece.lines if line.kind == "bent"]
    x = _widest_gap([line.points[0][0] for line in bents])
    first, second = _edges(piece)
    for line, name, up_mm in ((rails[0], first, -1.8 - cap), (rails[1], second, 1.8)):
        px, py = place((x, line.points[0][1]))
        yield from _on_patch(Text("note", (px, py + up_mm), word(f"drawings.pattern.{name}"), _LABEL_MM, "middle"))
    v = _widest_gap([line.points[0][1] for line in piece.lines if line.kind == "crest"] + [rails[0].points[0][1]])
    for line, name, inwards in zip(bents, ("front", "far"), (1.0, -1.0), strict=False):
        edge = (max if inwards > 0 else min)(point[0] for point in line.points)
        px, py = place((edge, v))
        at = (px + inwards * 2.2 + (cap if inwards > 0 else 0.0), py)
        yield from _on_patch(Text("note", at, word(f"drawings.pattern.{name}"), _LABEL_MM, "middle", 90.0))


def _edges(piece: PatternPiece) -> tuple[str, str]:
    """What the two edges along the bed are called: the upper and the lower one where a sheet lies on one slope."""
    if piece.name != "cover":
        corners = [
            (flat[1], space[2]) for face in piece.faces for flat, space in zip(face.flat, face.space, strict=True)
        ]
        left_m, right_m = max(corners)[1], min(corners)[1]
        if abs(left_m - right_m) > _SLOPES_M:
            return ("upper", "lower") if left_m > right_m else ("lower", "upper")
    return "left", "right"


def _widest_gap(places: Iterable[float]) -> float:
    """The middle of the widest gap between places; the last of several."""
    ordered = sorted(places)
    gaps = list(pairwise(ordered)) or [(ordered[0], ordered[0])]
    start, end = max(gaps, key=lambda gap: (round(gap[1] - gap[0], 3), gap[1]))
    return (start + end) / 2


def _on_patch(text: Text) -> tuple[Mark, Mark]:
    """A text on a patch of the film's tint, which cuts the lines that run under it."""
    return Area("skin", text_corners(text, 0.5)), text


def _numbers(points: Sequence[PatternPoint], place: Place) -> Iterable[Mark]:
    """Numbered balloons beside the points, each on the side away from the middle and clear of those before."""
    taken: list[Point] = []
    for point in points:
        px, py = place((point.along_m, point.across_m))
        out = math.atan2(py, px) if math.hypot(px, py) > 1e-6 else math.pi / 2
        ways = [
            (px + reach * math.cos(out + turn), py + reach * math.sin(out + turn))
            for reach in (4.2, 6.5, 9.0)
            for turn in (0.0, 0.6, -0.6, 1.2, -1.2, 1.9, -1.9, 2.6, -2.6, math.pi)
        ]
        at = next(
            (way for way in ways if all(math.dist(way, other) > 2 * _BALLOON_MM + 0.6 for other in taken)), ways[0]
        )
        taken.append(at)
        share = 1 - _BALLOON_MM / math.dist(at, (px, py))
        yield Circle("leader", (px, py), 0.55)
        yield Line("leader", ((px, py), (px + share * (at[0] - px), py + share * (at[1] - py))))
        yield Circle("mark", at, _BALLOON_MM)
        drop = CAP_HEIGHT * _NUMBER_MM / 2
        yield Text("title", (at[0], at[1] - drop), str(point.number), _NUMBER_MM, "middle", face="bold")


def _sizes(piece: PatternPiece, place: Place, units: Units) -> list[Mark]:
    """What is measured along two edges: sheet, hems, frame, slopes."""
    (x0, y0), (x1, y1) = piece.low, piece.high
    if not piece.is_gable:
        rail = next(line for line in piece.lines if line.kind == "rail")
        along = [x0, rail.points[0][0], rail.points[1][0], x1]
        crests = sorted({line.points[0][1] for line in piece.lines if line.kind in ("crest", "rail")
                         and line.points[0][1] == line.points[1][1]})  # fmt: skip
        across = [y0, *_apart(crests), y1]
    else:
        rails = next(line for line in piece.lines if line.kind == "rail").points
        along = sorted({x0, rails[0][0], rails[1][0], x1})
        across = [y0, 0.0, y1]
    marks: list[Mark] = []
    low = place((x0, y0))[1] - 8.0
    left = place((x0, y0))[0] - 8.0
    for stops, whole in ((_apart(along), False), ([x0, x1], True)):
        if whole and len(_apart(along)) <= 2:
            continue
        drawn, rows = _chain_along(stops, y0, low, place, units)
        marks += drawn
        low -= (rows + 1) * ROW_MM
    for stops in (across, [y0, y1]):
        points = [place((x0, y)) for y in stops]
        texts = [show_length(b - a, units) for a, b in pairwise(stops)]
        drawn, rows = chain(upright_left(left), points, texts)
        marks += drawn
        left -= (rows + 1) * ROW_MM
    return marks


def _chain_along(stops: Sequence[float], y: float, low: float, place: Place, units: Units) -> tuple[list[Mark], int]:
    points = [place((x, y)) for x in stops]
    texts = [show_length(b - a, units) for a, b in pairwise(stops)]
    return chain(level_below(low), points, texts)


def _apart(stops: Iterable[float], least_m: float = 0.02) -> list[float]:
    """Stops without those that lie hard by the one before."""
    kept: list[float] = []
    for stop in stops:
        if not kept or stop - kept[-1] >= least_m:
            kept.append(stop)
    return kept


def _legend(piece: PatternPiece, at: Point, width_mm: float) -> Iterable[Mark]:
    """What each kind of line means, in rows below the drawing; `at` is the upper left corner [mm]."""
    used = {line.kind for line in piece.lines}
    x, y = at[0], at[1] - 3.0
    for kind in _LEGEND:
        if kind not in ("sheet", "trim") and kind not in used:
            continue
        above = kind == "rail" and piece.name in ("strip", "panel")  # rails of the roof, not of the base
        text = word("drawings.pattern.rail-above" if above else f"drawings.pattern.{kind}")
        need = _SAMPLE_MM + 2.0 + text_width_mm(text, _LEGEND_MM) + 5.0
        if x + need > at[0] + width_mm:
            x, y = at[0], y - 5.2
        pen = {"sheet": "sheet", "trim": "trim-line"}.get(kind) or _PENS[kind]
        middle = y + CAP_HEIGHT * _LEGEND_MM / 2
        yield Line(pen, ((x, middle), (x + _SAMPLE_MM, middle)))
        yield Text("note", (x + _SAMPLE_MM + 2.0, y), text, _LEGEND_MM)
        x += need


def _in_words(pattern: Pattern, piece: PatternPiece, units: Units) -> str:
    size = {"length": show_length(piece.length_m, units), "width": show_length(piece.width_m, units)}
    if piece.name != "cover":
        return word(f"drawings.pattern.alt-{'gable' if piece.is_gable else piece.name}", **size)
    ends = word(f"drawings.pattern.ends.{pattern.ends}")
    return word("drawings.pattern.alt", **size, ends=ends, pleats=pattern.pleats)
