"""What moves as one, the lids of a cover or panels of its roof, and the line that each turns about."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

from clochewright.frame.covers import covers, is_panel
from clochewright.frame.parts import Fitting, Frame, Pipe, Vec
from clochewright.plan import Plan

Kind = Literal["cover", "half", "panel"]
OPPOSITE = {"left": "right", "right": "left", "front": "far", "far": "front"}
SAME_LINE_M = 1e-6
RAILS = ("side rail", "eave rail", "ridge")


@dataclass(frozen=True, slots=True)
class Body:
    """One body that opens; its id is the `body` of its pipes and fittings.

    `hinge_line_m` is the line it turns about, front end first (left end first where it turns about an end of the bed);
    `free_line_m` the edge that comes up, in the same order, both while it is shut [m]. `toward` says which way it opens
    about the hinge line by the right-hand rule: 1 or -1. `hinge_pipes` and `free_pipes` are its own pipes along the
    two. `hinge_on` and `latch_on` are the pipes of the fixed frame that the other leaf of a hinge and the other half of
    a latch go on; none of them where that is the bed's rim.
    """

    id: str
    kind: Kind
    hinge_line_m: tuple[Vec, Vec]
    free_line_m: tuple[Vec, Vec]
    toward: float
    hinge_pipes: tuple[str, ...]
    free_pipes: tuple[str, ...]
    hinge_on: tuple[str, ...] = ()
    latch_on: tuple[str, ...] = ()


def moving_bodies(frame: Frame, plan: Plan) -> tuple[Body, ...]:
    """Every body that opens, from the front end on.

    A whole cover turns about the outer edge of its hinge side, on the rim; a panel about the outer edge of its hinged
    rail, where its fittings lie on the frame's. Hoops in sleeves have no rail to hinge, and nothing turns; nor does a
    frame that was refused.
    """
    panels = tuple(dict.fromkeys(pipe.body for pipe in frame.pipes if is_panel(pipe.body)))
    if panels:
        return tuple(_panel(frame, name, plan.panel.hinge) for name in panels)
    if not any(pipe.role == "side rail" for pipe in frame.pipes):
        return ()
    kind: Kind = "half" if plan.lid.opens == "halves" else "cover"
    return tuple(_whole(cover, middle_m, plan.lid.hinge_side, kind) for cover, middle_m in covers(frame))


def _whole(cover: Frame, middle_m: float, hinge_side: str, kind: Kind) -> Body:
    half_x, half_y = cover.length_m / 2, cover.width_m / 2
    front, far = middle_m - half_x, middle_m + half_x
    edges: dict[str, tuple[Vec, Vec]] = {
        "left": ((front, half_y, 0.0), (far, half_y, 0.0)),
        "right": ((front, -half_y, 0.0), (far, -half_y, 0.0)),
        "front": ((front, half_y, 0.0), (front, -half_y, 0.0)),
        "far": ((far, half_y, 0.0), (far, -half_y, 0.0)),
    }
    rails = {
        "left": _rail(cover.pipes, "side rail", lambda at: at[1]),
        "right": _rail(cover.pipes, "side rail", lambda at: -at[1]),
        "front": _rail(cover.pipes, "end rail", lambda at: middle_m - at[0]),
        "far": _rail(cover.pipes, "end rail", lambda at: at[0] - middle_m),
    }
    free_side = OPPOSITE[hinge_side]
    toward = 1.0 if hinge_side in ("right", "front") else -1.0
    return Body(
        cover.pipes[0].body, kind, edges[hinge_side], edges[free_side], toward, rails[hinge_side], rails[free_side]
    )


def _rail(pipes: Sequence[Pipe], role: str, beyond: Callable[[Vec], float]) -> tuple[str, ...]:
    """The pipes of one rail: those of a role that lie beyond the middle."""
    return tuple(pipe.id for pipe in pipes if pipe.role == role and beyond(pipe.path_m[0]) > 0)


def _panel(frame: Frame, name: str, hinge: str) -> Body:
    mine = [pipe for pipe in frame.pipes if pipe.body == name]
    corners = [fitting for fitting in frame.fittings if fitting.body == name and fitting.role == "panel corner"]
    hub_m = max(fitting.hub_diameter_m for fitting in frame.fittings if fitting.body == name)
    along = [corner.position_m[0] for corner in corners]
    front, far = min(along) - hub_m / 2, max(along) + hub_m / 2
    low, high = ((end[1], end[2]) for end in _by_height(corners))
    run_m = math.dist(low, high)
    up = ((high[0] - low[0]) / run_m, (high[1] - low[1]) / run_m)
    out = (-math.copysign(up[1], up[0]), abs(up[0]))  # square to the slope, away from the bed

    def edge(at: tuple[float, float], beyond: float) -> tuple[Vec, Vec]:
        y = at[0] + hub_m / 2 * (beyond * up[0] - out[0])
        z = at[1] + hub_m / 2 * (beyond * up[1] - out[1])
        return (front, y, z), (far, y, z)

    edges, rails = {"top": edge(high, 1.0), "bottom": edge(low, -1.0)}, {}
    for which, at in (("top", high), ("bottom", low)):
        rails[which] = tuple(p.id for p in mine if p.role == "panel rail" and math.dist(p.path_m[0][1:], at) < hub_m)
    free = "bottom" if hinge == "top" else "top"
    (_, hinge_y, hinge_z), (_, free_y, free_z) = edges[hinge][0], edges[free][0]
    rises = (free_y - hinge_y) * out[1] - (free_z - hinge_z) * out[0]
    return Body(
        name,
        "panel",
        edges[hinge],
        edges[free],
        math.copysign(1.0, rises),
        rails[hinge],
        rails[free],
        _beside(frame, edges[hinge]),
        _beside(frame, edges[free]),
    )


def _by_height(fittings: Sequence[Fitting]) -> tuple[Vec, Vec]:
    places = [fitting.position_m for fitting in fittings]
    return min(places, key=lambda at: at[2]), max(places, key=lambda at: at[2])


def _beside(frame: Frame, edge: tuple[Vec, Vec]) -> tuple[str, ...]:
    """The pipes of the frame's own rail that runs nearest to an edge, as far along the bed as the edge goes."""
    rails = [pipe for pipe in frame.pipes if pipe.role in RAILS and not is_panel(pipe.body)]

    def away_m(pipe: Pipe) -> float:
        return math.dist(pipe.path_m[0][1:], edge[0][1:])

    near_m = min(map(away_m, rails))
    return tuple(
        pipe.id
        for pipe in rails
        if away_m(pipe) < near_m + SAME_LINE_M
        and max(pipe.path_m[0][0], pipe.path_m[-1][0]) > edge[0][0]
        and min(pipe.path_m[0][0], pipe.path_m[-1][0]) < edge[1][0]
    )
