"""What is measured in plan and side view, and from where to where."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from clochewright.drawings.dimensions import (
    ROW_MM,
    Rule,
    chain,
    crowded,
    dimension,
    level_above,
    level_below,
    running,
    upright_left,
    upright_right,
)
from clochewright.drawings.marks import Mark, Point
from clochewright.drawings.members import Placing
from clochewright.drawings.sheet import Box
from clochewright.findings import word
from clochewright.frame import Fitting, Frame, is_panel
from clochewright.measures import Units, show_length

FIRST_MM = 7.0  # from the drawing to its first row of dimensions
SAME_M = 0.0005  # places this near to each other are one
_MOST_GAPS = 6  # more of them, some too short for their text, are read from one end


@dataclass(frozen=True, slots=True)
class Cover:
    """One cover on the bed: its base's fittings, and where its outsides lie along the bed [m]."""

    base: tuple[Fitting, ...]
    low_m: float
    high_m: float


def covers(frame: Frame) -> tuple[Cover, ...]:
    """The covers that stand on the bed, from the front; panels lie on them."""
    bodies: dict[str, list[Fitting]] = {}
    for fitting in frame.fittings:
        if not is_panel(fitting.body):
            bodies.setdefault(fitting.body, []).append(fitting)
    found = []
    for fittings in bodies.values():
        low_m = min(fitting.position_m[2] for fitting in fittings)
        base = tuple(fitting for fitting in fittings if fitting.position_m[2] - low_m < SAME_M)
        edges = [(fitting.position_m[0], fitting.hub_diameter_m / 2) for fitting in base]
        found.append(Cover(base, min(x - r for x, r in edges), max(x + r for x, r in edges)))
    return tuple(sorted(found, key=lambda cover: cover.low_m))


def centres(length_m: float, units: Units) -> str:
    """A length from centre to centre, as a dimension says it."""
    return word("drawings.centres", length=show_length(length_m, units))


def over_all(length_m: float, units: Units) -> str:
    """A length from outside to outside, as a dimension says it."""
    return word("drawings.over-all", length=show_length(length_m, units, style="long"))


def plan_dimensions(frame: Frame, placing: Placing, around: Box, units: Units) -> list[Mark]:
    """Along the bed: where the fittings stand on each side rail, base and over all; across it: base and over all.

    Covers that stand end to end are alike, so only the front one is measured out.
    """
    every = covers(frame)
    if not every:
        return []
    first = every[0]
    near, far = (side(fitting.position_m[1] for fitting in first.base) for side in (min, max))
    near_stops, far_stops = _on_rail(first, near), _on_rail(first, far)
    first_rule = level_below(around.bottom_mm - FIRST_MM)
    marks, rows = _stops(placing, near_stops, near, first_rule, units)
    low = around.bottom_mm - FIRST_MM - (rows + 1) * ROW_MM
    if len(near_stops) > 2:
        ends = (placing.point((near_stops[0], near, 0.0)), placing.point((near_stops[-1], near, 0.0)))
        marks += dimension(level_below(low), *ends, centres(near_stops[-1] - near_stops[0], units))
        low -= ROW_MM
    if len(every) > 1:
        ends_m = [edge for cover in every for edge in (cover.low_m, cover.high_m)]
        points = [placing.point((x, near, 0.0)) for x in ends_m]
        texts = [
            word("drawings.apart", length=show_length(b - a, units)) if k % 2 else over_all(b - a, units)
            for k, (a, b) in enumerate(pairwise(ends_m))
        ]
        row, rows = chain(level_below(low), points, texts)
        marks += row
        low -= (rows + 1) * ROW_MM
    ends = (placing.point((-frame.length_m / 2, near, 0.0)), placing.point((frame.length_m / 2, near, 0.0)))
    marks += dimension(level_below(low), *ends, over_all(frame.length_m, units))
    if len(near_stops) != len(far_stops) or any(
        abs(a - b) > SAME_M for a, b in zip(near_stops, far_stops, strict=True)
    ):
        marks += _stops(placing, far_stops, far, level_above(around.top_mm + FIRST_MM), units)[0]
    left, right = near_stops[0], every[-1].high_m
    across = placing.point((left, near, 0.0)), placing.point((left, far, 0.0))
    marks += dimension(upright_left(around.left_mm - FIRST_MM), *across, centres(far - near, units))
    hubs = placing.point((right, -frame.width_m / 2, 0.0)), placing.point((right, frame.width_m / 2, 0.0))
    marks += dimension(upright_right(around.right_mm + FIRST_MM), *hubs, over_all(frame.width_m, units))
    return marks


def _on_rail(cover: Cover, y_m: float) -> list[float]:
    """Where fittings stand along the side rail at `y_m`, its corners included, from the front [m]."""
    stops: list[float] = []
    for x in sorted(f.position_m[0] for f in cover.base if abs(f.position_m[1] - y_m) < SAME_M):
        if not stops or x - stops[-1] > SAME_M:
            stops.append(x)
    return stops


def _stops(placing: Placing, stops_m: list[float], y_m: float, rule: Rule, units: Units) -> tuple[list[Mark], int]:
    """From stop to stop along a rail, or running from the front corner where that would be crowded.

    With it, how many rows it takes beyond its own.
    """
    if len(stops_m) < 2:
        return [], -1
    points = [placing.point((x, y_m, 0.0)) for x in stops_m]
    texts = [centres(b - a, units) for a, b in pairwise(stops_m)]
    in_chain = chain(rule, points, texts)
    if crowded(rule, points, texts) or (len(texts) > _MOST_GAPS and in_chain[1]):
        readings = [show_length(x - stops_m[0], units) for x in stops_m[1:-1]]
        return running(rule, points, [word("drawings.from-here"), *readings])
    return in_chain


def side_dimensions(frame: Frame, placing: Placing, around: Box, units: Units) -> list[Mark]:
    """Along the bed: over all; up: rim to each rail's centre line and to the top; down: the sleeves."""
    every = covers(frame)
    if not every:
        return []
    ends = placing.point((-frame.length_m / 2, 0.0, 0.0)), placing.point((frame.length_m / 2, 0.0, 0.0))
    marks = dimension(level_below(around.bottom_mm - FIRST_MM), *ends, over_all(frame.length_m, units))
    out = around.left_mm - FIRST_MM
    rim = placing.point((every[0].low_m, 0.0, 0.0))
    for height_m, text in levels(frame, units):
        stop = placing.point((every[0].low_m, 0.0, height_m))
        column, rows = upright(upright_left(out), rim, stop, text)
        marks += column
        out -= (rows + 1) * ROW_MM
    right = every[-1].high_m
    marks += upright(
        upright_right(around.right_mm + FIRST_MM),
        placing.point((right, 0.0, 0.0)),
        placing.point((right, 0.0, frame.height_m)),
        word("drawings.to-top", height=show_length(frame.height_m, units)),
    )[0]
    return marks


def upright(rule: Rule, low: Point, high: Point, text: str) -> tuple[list[Mark], int]:
    """An upright dimension, and how many rows it takes beyond its own."""
    return chain(rule, (low, high), (text,))


def levels(frame: Frame, units: Units) -> list[tuple[float, str]]:
    """Heights of the rails above the base, from the rim to their centre lines [m], lowest first, with their texts."""
    heights: list[float] = []
    for z in sorted(end.point_m[2] for pipe in frame.pipes if pipe.role == "eave rail" for end in pipe.ends):
        if not heights or z - heights[-1] > SAME_M:
            heights.append(z)
    top_m = frame.ridge_height_m
    names = [(z, "rail" if frame.shape == "own" else "eave") for z in heights]
    if frame.shape == "lean-to":
        names = [(z, "back" if z == heights[-1] else "front") for z in heights]
    elif not heights or top_m - heights[-1] > SAME_M:
        names.append((top_m, "crown" if frame.hoop else "ridge"))
    return [(z, word(f"drawings.to-{name}", height=show_length(z, units))) for z, name in names]
