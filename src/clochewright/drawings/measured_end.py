"""What is measured at the end of the bed: the cross-section, its slopes, its walls or its hoops."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from clochewright.drawings.dimensions import (
    ROW_MM,
    TEXT_MM,
    dimension,
    level_above,
    level_below,
    sloping,
    upright_left,
    upright_right,
)
from clochewright.drawings.lettering import CAP_HEIGHT, text_width_mm
from clochewright.drawings.marks import Line, Mark, Point, Text
from clochewright.drawings.measured import FIRST_MM, SAME_M, centres, covers, over_all, upright
from clochewright.drawings.members import Placing, seen_path_m
from clochewright.drawings.sheet import Box, box_around
from clochewright.findings import word
from clochewright.frame import Frame, Vec
from clochewright.measures import Units, show_angle, show_length

_ARC_MM = 17.0  # radius of the arc that shows a pitch
_ARC_STEPS = 12
_ABOVE_MOUTHS_MM = 9.0
_RADIUS_AT = 0.3  # where along the hoop its radius is shown, if it bends alike everywhere
_ALIKE = 1.02
_LINE_MM = 1.7 * TEXT_MM
_CLEAR_MM = 4.0  # kept free between the words within a hoop and the hoop


@dataclass(frozen=True, slots=True)
class Slope:
    """One roof member seen from the front: centres of the fittings at its lower and its upper end [m]."""

    foot: Vec
    head: Vec

    @property
    def pitch_deg(self) -> float:
        """From level [deg]."""
        return math.degrees(math.atan2(self.head[2] - self.foot[2], abs(self.head[1] - self.foot[1])))


def end_dimensions(frame: Frame, placing: Placing, around: Box, units: Units) -> list[Mark]:
    """Across the bed: base and over all; up: rim to where the roof begins and to the top; slopes, pitch, hoop."""
    every = covers(frame)
    if not every:
        return []
    x = every[0].low_m
    left, right = (side(fitting.position_m[1] for fitting in every[0].base) for side in (max, min))
    low = around.bottom_mm - FIRST_MM
    base = placing.point((x, left, 0.0)), placing.point((x, right, 0.0))
    marks = dimension(level_below(low), *base, centres(left - right, units))
    hubs = placing.point((x, frame.width_m / 2, 0.0)), placing.point((x, -frame.width_m / 2, 0.0))
    marks += dimension(level_below(low - ROW_MM), *hubs, over_all(frame.width_m, units))
    slopes = front_slopes(frame)
    sloped = [mark for slope in slopes for mark in _slope(slope, placing, units)]
    marks += sloped + _heights(frame, slopes, placing, box_around(sloped, around), units)
    if frame.hoop is not None:
        marks += _hoop(frame, placing, units)
    return marks


def front_slopes(frame: Frame) -> tuple[Slope, ...]:
    """The roof's slopes, each once; of two that mirror each other the left one."""
    fittings = {fitting.id: fitting for fitting in frame.fittings}
    beyond = {  # the far end of the pipe that goes on behind a coupling
        (end.fitting, pipe.id): pipe.ends[1 - k] for pipe in frame.pipes for k, end in enumerate(pipe.ends)
    }
    found: dict[tuple[float, ...], Slope] = {}
    for pipe in frame.pipes:
        if pipe.role != "rafter":
            continue
        ends = []
        for end in pipe.ends:
            came_by = pipe.id
            while end.fitting is not None and fittings[end.fitting].role == "coupling":
                came_by = next(p for f, p in beyond if f == end.fitting and p != came_by)
                end = beyond[end.fitting, came_by]
            if end.fitting is not None:
                ends.append(fittings[end.fitting].position_m)
        if len(ends) < 2:
            continue
        foot, head = sorted(ends, key=lambda point: point[2])
        key = tuple(round(v, 3) for v in (abs(foot[1]), foot[2], abs(head[1]), head[2]))
        middle = foot[1] + head[1]
        best = found.get(key)
        if best is None or (middle, -foot[0]) > (best.foot[1] + best.head[1] + SAME_M, -best.foot[0]):
            found[key] = Slope(foot, head)
    return tuple(found.values())


def _heights(frame: Frame, slopes: Sequence[Slope], placing: Placing, around: Box, units: Units) -> list[Mark]:
    """From the rim to where the slopes begin and to the top, each on its own side, the lowest nearest."""
    x, half = -frame.length_m / 2, frame.width_m / 2
    base_m = min(fitting.position_m[2] for fitting in frame.fittings)
    mirrored = all(slope.foot[1] + slope.head[1] > -SAME_M for slope in slopes) and frame.shape != "lean-to"
    sides: dict[float, list[tuple[Vec, str]]] = {1.0: [], -1.0: []}
    for slope in slopes:
        for point in (slope.foot, slope.head):
            if point[2] - base_m < SAME_M or abs(point[1]) < SAME_M:
                continue
            # of two alike the right one is measured, beside the height over all
            side = -1.0 if mirrored else math.copysign(1.0, point[1])
            name = "roof" if frame.shape == "barn" else "centre"
            if frame.shape == "lean-to":
                name = "back" if point is slope.head else "front"
            text = word(f"drawings.to-{name}", height=show_length(point[2], units))
            if all(abs(point[2] - other[2]) > SAME_M for other, _ in sides[side]):
                sides[side].append(((point[0], side * abs(point[1]), point[2]), text))
    high_left = any(slope.head[1] > SAME_M for slope in slopes) and frame.shape == "lean-to"
    top_m = half if high_left else -half if frame.shape == "lean-to" else 0.0
    total = word("drawings.rim-to-top", height=show_length(frame.height_m, units))
    sides[1.0 if high_left else -1.0].append(((x, top_m, frame.height_m), total))
    marks: list[Mark] = []
    for side, heights in sides.items():
        out = around.left_mm - FIRST_MM if side > 0 else around.right_mm + FIRST_MM
        for point, text in sorted(heights, key=lambda height: height[0][2]):
            rule = upright_left(out) if side > 0 else upright_right(out)
            column, rows = upright(rule, placing.point((x, side * half, 0.0)), placing.point(point), text)
            marks += column
            out -= side * (rows + 1) * ROW_MM
    return marks


def _slope(slope: Slope, placing: Placing, units: Units) -> list[Mark]:
    """The slope's length from centre to centre, above it, and its pitch at its foot."""
    foot, head = placing.point(slope.foot), placing.point(slope.head)
    left, right = sorted((foot, head))
    length = centres(math.dist(slope.foot, slope.head), units)
    marks = dimension(sloping(left, right, FIRST_MM), left, right, length)
    if abs(slope.head[1] - slope.foot[1]) > SAME_M and slope.head[2] - slope.foot[2] > SAME_M:
        marks += _pitch(foot, slope.pitch_deg, 1.0 if head[0] > foot[0] else -1.0)
    return marks


def _pitch(foot: Point, pitch_deg: float, way: float) -> list[Mark]:
    """The pitch as an arc at the foot, with its angle inside; `way` is 1 where the slope rises to the right."""
    turns = [math.radians(pitch_deg) * k / _ARC_STEPS for k in range(_ARC_STEPS + 1)]
    arc = tuple((foot[0] + way * _ARC_MM * math.cos(a), foot[1] + _ARC_MM * math.sin(a)) for a in turns)
    middle, beyond = math.radians(pitch_deg) / 2, _ARC_MM + 1.5
    x, y = foot[0] + way * beyond * math.cos(middle), foot[1] + beyond * math.sin(middle)
    text = Text(
        "dimension", (x, y - CAP_HEIGHT * TEXT_MM / 2), show_angle(pitch_deg), TEXT_MM, "start" if way > 0 else "end"
    )
    return [Line("dimension", arc), text]


def _hoop(frame: Frame, placing: Placing, units: Units) -> list[Mark]:
    """Span between the mouths of the sockets, rise above them, and the tightest radius."""
    assert frame.hoop is not None
    paths = [seen_path_m(pipe) for pipe in frame.pipes if pipe.role == "hoop"]
    front = min(path[0][0] for path in paths)
    points = [tuple(point) for path in paths if abs(path[0][0] - front) < SAME_M for point in path.tolist()]
    left, right = max(points, key=lambda p: p[1]), min(points, key=lambda p: p[1])
    mouth_m = min(points[0][2], points[-1][2])
    left, right = (front, left[1], mouth_m), (front, right[1], mouth_m)
    span = word("drawings.span", length=show_length(left[1] - right[1], units))
    rise = word("drawings.rise", length=show_length(frame.hoop.rise_m, units))
    across = placing.point(left), placing.point(right)
    marks = dimension(level_above(across[0][1] + _ABOVE_MOUTHS_MM), *across, span)
    return marks + _radius([placing.point(point) for point in points], frame.hoop.least_radius_m, units, rise)


def _radius(path: Sequence[Point], radius_m: float, units: Units, rise: str) -> list[Mark]:
    """The tightest radius as a leader from the words within the hoop to where it is; the rise stands below it.

    In a hoop too small for it the words are shorter, or the rise is left to the booklet.
    """
    x, low = (path[0][0] + path[-1][0]) / 2, path[0][1] + _ABOVE_MOUTHS_MM + 2.2 * TEXT_MM
    shown = show_length(radius_m, units)

    def fits(text: str, y: float) -> bool:
        inside = min(abs(px - x) for px, py in path if py < y + 1.5 * TEXT_MM) - _CLEAR_MM
        return text_width_mm(text, TEXT_MM) / 2 < inside

    y = low + _LINE_MM if fits(rise, low) else low
    text = word("drawings.radius", length=shown)
    if not fits(text, y):
        text = word("drawings.radius-short", length=shown)
    at = _tightest(path)
    way = 1.0 if at[0] > x else -1.0
    start = (x + way * (text_width_mm(text, TEXT_MM) / 2 + 1.2), y + CAP_HEIGHT * TEXT_MM / 2)
    marks: list[Mark] = [Line("dimension", (start, at)), Text("dimension", (x, y), text, TEXT_MM, "middle")]
    if y > low:
        marks.append(Text("dimension", (x, low), rise, TEXT_MM, "middle"))
    return marks


def _tightest(path: Sequence[Point]) -> Point:
    """Where a path bends most; a place on its way up, if it bends much alike everywhere."""
    turns = [
        abs(math.remainder(math.atan2(c[1] - b[1], c[0] - b[0]) - math.atan2(b[1] - a[1], b[0] - a[0]), math.tau))
        / max(math.dist(a, b) + math.dist(b, c), 1e-9)
        for (a, b), (_, c) in pairwise(pairwise(path))
    ]
    inner = turns[2:-2]  # the sockets' own ends are straight
    most = max(inner)
    if most < _ALIKE * sum(inner) / len(inner):
        return path[round(_RADIUS_AT * (len(path) - 1))]
    return path[turns.index(most) + 1]
