"""What is measured in each view, and from where to where."""

from __future__ import annotations

import math
from itertools import pairwise

from clochewright.drawings.dimensions import (
    ROW_MM,
    TEXT_MM,
    Rule,
    chain,
    crowded,
    dimension,
    level_above,
    level_below,
    running,
    sloping,
    upright_left,
    upright_right,
)
from clochewright.drawings.lettering import CAP_HEIGHT
from clochewright.drawings.marks import Line, Mark, Point, Text
from clochewright.drawings.members import Placing
from clochewright.drawings.sheet import Box
from clochewright.frame import Frame, Vec
from clochewright.measures import Units, show_angle, show_length

_FIRST_MM = 7.0  # from the drawing to its first row of dimensions
_SAME_M = 0.0005  # stations this near to each other are one


def _centres(length_m: float, units: Units) -> str:
    return f"{show_length(length_m, units)} c-c"


def _over_all(length_m: float, units: Units) -> str:
    return f"{show_length(length_m, units, style='long')} over all"


def plan_dimensions(frame: Frame, placing: Placing, around: Box, units: Units) -> list[Mark]:
    """Along the bed: where the fittings stand on each side rail, base and over all; across it: base and over all."""
    near, far = -frame.base_width_m / 2, frame.base_width_m / 2
    left, right = -frame.base_length_m / 2, frame.base_length_m / 2
    near_stops, far_stops = _on_rail(frame, near), _on_rail(frame, far)
    marks, rows = _stops(placing, near_stops, near, level_below(around.bottom_mm - _FIRST_MM), units)
    low = around.bottom_mm - _FIRST_MM - (rows + 1) * ROW_MM
    if len(near_stops) > 2:
        ends = (placing.point((left, near, 0.0)), placing.point((right, near, 0.0)))
        marks += dimension(level_below(low), *ends, _centres(frame.base_length_m, units))
        low -= ROW_MM
    ends = (placing.point((-frame.length_m / 2, near, 0.0)), placing.point((frame.length_m / 2, near, 0.0)))
    marks += dimension(level_below(low), *ends, _over_all(frame.length_m, units))
    if any(abs(a - b) > _SAME_M for a, b in zip(near_stops, far_stops, strict=False)):
        marks += _stops(placing, far_stops, far, level_above(around.top_mm + _FIRST_MM), units)[0]
    across = placing.point((left, near, 0.0)), placing.point((left, far, 0.0))
    marks += dimension(upright_left(around.left_mm - _FIRST_MM), *across, _centres(frame.base_width_m, units))
    hubs = placing.point((right, -frame.width_m / 2, 0.0)), placing.point((right, frame.width_m / 2, 0.0))
    marks += dimension(upright_right(around.right_mm + _FIRST_MM), *hubs, _over_all(frame.width_m, units))
    return marks


def _on_rail(frame: Frame, y_m: float) -> list[float]:
    """Where fittings stand along the side rail at `y_m`, its corners included, from the front [m]."""
    ends = [-frame.base_length_m / 2, frame.base_length_m / 2]
    low_m = min((fitting.position_m[2] for fitting in frame.fittings), default=0.0)
    on_rail = [
        fitting.position_m[0]
        for fitting in frame.fittings
        if abs(fitting.position_m[1] - y_m) < _SAME_M and fitting.position_m[2] - low_m < _SAME_M
    ]
    stops: list[float] = []
    for x in sorted([*ends, *on_rail]):
        if not stops or x - stops[-1] > _SAME_M:
            stops.append(x)
    return stops


def _stops(placing: Placing, stops_m: list[float], y_m: float, rule: Rule, units: Units) -> tuple[list[Mark], int]:
    """From stop to stop along a rail, or running from the front corner where that would be crowded.

    With it, how many rows it takes beyond its own.
    """
    points = [placing.point((x, y_m, 0.0)) for x in stops_m]
    texts = [_centres(b - a, units) for a, b in pairwise(stops_m)]
    if crowded(rule, points, texts):
        return running(rule, points, ["0", *(_centres(x - stops_m[0], units) for x in stops_m[1:-1])])
    return chain(rule, points, texts)


def side_dimensions(frame: Frame, placing: Placing, around: Box, units: Units) -> list[Mark]:
    """Along the bed: over all; up: rim to the ridge's centre line and to the top."""
    ends = placing.point((-frame.length_m / 2, 0.0, 0.0)), placing.point((frame.length_m / 2, 0.0, 0.0))
    marks = dimension(level_below(around.bottom_mm - _FIRST_MM), *ends, _over_all(frame.length_m, units))
    left, right = -frame.base_length_m / 2, frame.base_length_m / 2
    marks += dimension(
        upright_left(around.left_mm - _FIRST_MM),
        placing.point((-frame.length_m / 2, 0.0, 0.0)),
        placing.point((left, 0.0, frame.ridge_height_m)),
        f"{show_length(frame.ridge_height_m, units)} to ridge centre",
    )
    marks += dimension(
        upright_right(around.right_mm + _FIRST_MM),
        placing.point((frame.length_m / 2, 0.0, 0.0)),
        placing.point((right, 0.0, frame.height_m)),
        f"{show_length(frame.height_m, units)} to top",
    )
    return marks


def end_dimensions(frame: Frame, placing: Placing, around: Box, units: Units) -> list[Mark]:
    """Across the bed: base and over all; up: rim to the top; along the left slope: foot to top; and the pitch."""
    x = -frame.base_length_m / 2
    base = placing.point((x, frame.base_width_m / 2, 0.0)), placing.point((x, -frame.base_width_m / 2, 0.0))
    low = around.bottom_mm - _FIRST_MM
    marks = dimension(level_below(low), *base, _centres(frame.base_width_m, units))
    hubs = placing.point((x, frame.width_m / 2, 0.0)), placing.point((x, -frame.width_m / 2, 0.0))
    marks += dimension(level_below(low - ROW_MM), *hubs, _over_all(frame.width_m, units))
    rim, top = placing.point((x, -frame.width_m / 2, 0.0)), placing.point((x, 0.0, frame.height_m))
    marks += dimension(
        upright_right(around.right_mm + _FIRST_MM), rim, top, f"{show_length(frame.height_m, units)} rim to top"
    )
    slope = _front_slope(frame)
    if slope:
        foot, head = slope
        marks += dimension(
            sloping(placing.point(foot), placing.point(head), _FIRST_MM),
            placing.point(foot),
            placing.point(head),
            _centres(math.dist(foot, head), units),
        )
        marks += _pitch(placing.point(foot), frame.pitch_deg)
    return marks


def _front_slope(frame: Frame) -> tuple[Vec, Vec] | None:
    """Centres of the fittings at foot and head of the left rafter nearest the front, or None."""
    fittings = {fitting.id: fitting.position_m for fitting in frame.fittings}
    slopes: list[tuple[float, Vec, Vec]] = []
    for pipe in frame.pipes:
        ends = [fittings[end.fitting] for end in pipe.ends if end.fitting is not None]
        if pipe.role == "rafter" and len(ends) == 2:
            foot, head = sorted(ends, key=lambda p: p[2])
            if foot[1] > head[1]:
                slopes.append((foot[0], foot, head))
    return min(slopes)[1:] if slopes else None


def _pitch(foot: Point, pitch_deg: float) -> list[Mark]:
    """The pitch as an arc at the foot, with its angle inside."""
    radius = 17.0
    steps = 12
    arc = tuple(
        (foot[0] + radius * math.cos(a), foot[1] + radius * math.sin(a))
        for a in (math.radians(pitch_deg) * k / steps for k in range(steps + 1))
    )
    middle, beyond = math.radians(pitch_deg) / 2, radius + 1.5
    x, y = foot[0] + beyond * math.cos(middle), foot[1] + beyond * math.sin(middle)
    at = (x, y - CAP_HEIGHT * TEXT_MM / 2)
    return [Line("dimension", arc), Text("dimension", at, show_angle(pitch_deg), TEXT_MM)]
