"""The film of a cover whose roof opens in panels: what stays on the frame, and a flat sheet on each panel.

A slope that opens is left out of the frame's own film. Along the opening the strips that stay go round the frame's
rails as they do at the bottom, and each gable gets a lap there, since no sheet over the bed covers its edge.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from clochewright.film.develop import LAP_M, develop, open_ended, strip_corners
from clochewright.film.outline import Point
from clochewright.film.pattern import Face, Pattern, PatternLine, PatternPiece
from clochewright.film.skin import Skin
from clochewright.frame import Body, Frame, Vec

# What is left between two openings, round the ridge, is no strip if it is narrower (common practice, no source).
LEAST_STRIP_M = 0.05


@dataclass(frozen=True, slots=True)
class Opening:
    """A slope that opens: from which point of the section to which, and the one of the two that lies higher."""

    first: int
    last: int
    top: int


@dataclass(frozen=True, slots=True)
class Edge:
    """An edge of film with a lath of its own: of an opening or a panel; `side` is one of the lath's sides.

    `start_m` is where it begins along the bed [m].
    """

    side: str
    length_m: float
    start_m: float = 0.0


def openings(skin: Skin, panels: Sequence[Body]) -> tuple[Opening, ...]:
    """The slopes that open, each once however many panels lie on it, from the left."""
    found = {}
    for panel in panels:
        lines = (panel.hinge_line_m[0], panel.free_line_m[0])
        ends = [_nearest(skin, skin.corners, at) for at in lines]
        if ends[0] == ends[1]:  # the roof hardly bends at the slope's other end
            ends = [_nearest(skin, range(len(skin.section_m)), at) for at in lines]
        first, last = sorted(ends)
        found[first] = Opening(first, last, max(ends, key=lambda i: skin.section_m[i][1]))
    return tuple(found[first] for first in sorted(found))


def part(
    skin: Skin,
    overhang_m: float,
    stations_m: Sequence[float],
    slopes: Sequence[Opening],
    panels: Sequence[PatternPiece],
) -> tuple[Pattern, tuple[Edge, ...]]:
    """Lay out the film of one cover with openings.

    Args:
        skin: the surface of the whole cover.
        overhang_m: film past each edge, to roll on a lath [m].
        stations_m: where the bents stand [m].
        slopes: those that open, from the left.
        panels: the panels' own pieces.

    Returns:
        The pattern, strips first, then panels, then gables; and the edges along the openings.
    """
    whole = develop(skin, overhang_m, "cut", stations_m)
    strips, edges = [], []
    bounds = [0, *(i for slope in slopes for i in (slope.first, slope.last)), len(skin.section_m) - 1]
    tops = {slope.top for slope in slopes}
    for first, last in zip(bounds[::2], bounds[1::2], strict=True):
        if sum(math.dist(a, b) for a, b in pairwise(skin.section_m[first : last + 1])) < LEAST_STRIP_M:
            continue
        mine = sliced(skin, first, last)
        strips.append(replace(open_ended(mine, mine.tuck_m + overhang_m, stations_m), name="strip"))
        for i in (first, last):
            if i not in (0, len(skin.section_m) - 1):
                side = "opening-top" if i in tops else "opening-bottom"
                edges.append(Edge(side, skin.far_m[i] - skin.front_m[i], skin.front_m[i]))
    gables = tuple(_with_lap(gable, slopes) for gable in whole.pieces[1:])
    corners = strip_corners(sliced(skin, bounds[0], bounds[1])) if bounds[0] != bounds[1] else ()
    return Pattern("cut", (*strips, *panels, *gables), 0, corners), tuple(edges)


def sliced(skin: Skin, first: int, last: int) -> Skin:
    """The part of a skin between two points of its section, both included."""
    section = skin.section_m[first : last + 1]
    corners = tuple(i - first for i in skin.corners if first < i < last)
    run_m = sum(math.dist(a, b) for a, b in pairwise(section))
    return Skin(
        section, skin.front_m[first : last + 1], skin.far_m[first : last + 1], (0, *corners, last - first),
        skin.tuck_m, run_m + 2 * skin.tuck_m,
    )  # fmt: skip


def panel_piece(frame: Frame, panel: Body, overhang_m: float) -> PatternPiece:
    """A panel's own sheet: flat over its fittings, and on all four sides half round them to where the lath begins.

    The first axis runs along the bed, the second across it, towards the left; (0, 0) is the sheet's middle.
    """
    fittings = [fitting for fitting in frame.fittings if fitting.body == panel.id]
    round_m = max(fitting.hub_diameter_m for fitting in fittings) / 2
    corners = [fitting.position_m for fitting in fittings if fitting.role == "panel corner"]
    left, right = max(corners, key=lambda at: at[1]), min(corners, key=lambda at: at[1])
    front_m, far_m = min(at[0] for at in corners), max(at[0] for at in corners)
    middle_m = (front_m + far_m) / 2
    half_x, half_v = (far_m - front_m) / 2, math.dist(left[1:], right[1:]) / 2
    tuck_m = math.pi * round_m
    hem_m = tuck_m + overhang_m
    low, high = (-half_x - hem_m, -half_v - hem_m), (half_x + hem_m, half_v + hem_m)
    trim = (low, (high[0], low[1]), high, (low[0], high[1]))
    flat: tuple[Point, ...] = ((-half_x, -half_v), (half_x, -half_v), (half_x, half_v), (-half_x, half_v))
    # square to the slope and away from the bed, which the film lies above by the fittings' radius
    across = ((left[1] - right[1]) / (2 * half_v), (left[2] - right[2]) / (2 * half_v))
    out = (-across[1] * round_m, across[0] * round_m)
    space: tuple[Vec, ...] = tuple(
        (middle_m + x, at[1] + out[0], at[2] + out[1])
        for (x, _), at in zip(flat, (right, right, left, left), strict=True)
    )
    rafters = sorted(
        {round(f.position_m[0] - middle_m, 6) for f in fittings if f.role in ("panel corner", "panel rafter foot")}
    )
    lines = [PatternLine("rail", ((-half_x, v), (half_x, v))) for v in (half_v, -half_v)]
    lines += [PatternLine("bent", ((x, half_v), (x, -half_v))) for x in (rafters[0], rafters[-1], *rafters[1:-1])]
    lines += [PatternLine("roll", ((-half_x, v), (half_x, v))) for v in (half_v + tuck_m, -half_v - tuck_m)]
    lines += [PatternLine("roll", ((x, half_v), (x, -half_v))) for x in (-half_x - tuck_m, half_x + tuck_m)]
    return PatternPiece("panel", low, high, trim, tuple(lines), (Face(flat, space),))


def panel_edges(panel: Body) -> tuple[Edge, ...]:
    """The four edges of a panel, over its fittings, each with a lath of its own."""
    (front, *_), (far, *_) = panel.hinge_line_m
    length_m, width_m = far - front, math.dist(panel.hinge_line_m[0], panel.free_line_m[0])
    along = (Edge(side, length_m, front) for side in ("panel-top", "panel-bottom"))
    return (*along, *(Edge(side, width_m) for side in ("panel-front", "panel-far")))


def _nearest(skin: Skin, points: Iterable[int], at: Vec) -> int:
    return min(points, key=lambda i: math.dist(skin.section_m[i], at[1:]))


def _with_lap(gable: PatternPiece, slopes: Sequence[Opening]) -> PatternPiece:
    """A gable with a lap along the slopes that open: its edge there moves out by the lap."""
    edge = list(gable.trim[2:])  # as the section runs, from the left rail over the top
    inside = (sum(x for x, _ in edge) / len(edge), sum(y for _, y in edge) / len(edge))
    moved = list(edge)
    for slope in slopes:
        (x0, y0), (x1, y1) = edge[slope.first], edge[slope.last]
        run_m = math.dist((x0, y0), (x1, y1))
        out = ((y1 - y0) / run_m, (x0 - x1) / run_m)
        if (inside[0] - x0) * out[0] + (inside[1] - y0) * out[1] > 0:
            out = (-out[0], -out[1])
        for i in range(slope.first, slope.last + 1):
            moved[i] = (edge[i][0] + LAP_M * out[0], edge[i][1] + LAP_M * out[1])
    trim = (*gable.trim[:2], *moved)
    low = (min(x for x, _ in trim), min(y for _, y in trim))
    high = (max(x for x, _ in trim), max(y for _, y in trim))
    return replace(gable, low=low, high=high, trim=trim)
