"""What moves as one: the lid or lids of a cover that opens as a whole, and the line that each turns about."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

from clochewright.frame.covers import covers
from clochewright.frame.parts import Frame, Pipe, Vec
from clochewright.plan import Plan

Kind = Literal["cover", "half", "panel"]
OPPOSITE = {"left": "right", "right": "left", "front": "far", "far": "front"}


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

    A whole cover turns about the outer edge of its hinge side, on the rim. Hoops in sleeves have no rail to hinge, and
    nothing turns; nor does a frame that was refused.
    """
    if not any(pipe.role == "side rail" for pipe in frame.pipes):
        return ()
    return tuple(_whole(cover, middle_m, plan.lid.hinge_side) for cover, middle_m in covers(frame))


def _whole(cover: Frame, middle_m: float, hinge_side: str) -> Body:
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
        cover.pipes[0].body, "cover", edges[hinge_side], edges[free_side], toward, rails[hinge_side], rails[free_side]
    )


def _rail(pipes: Sequence[Pipe], role: str, beyond: Callable[[Vec], float]) -> tuple[str, ...]:
    """The pipes of one rail: those of a role that lie beyond the middle."""
    return tuple(pipe.id for pipe in pipes if pipe.role == role and beyond(pipe.path_m[0]) > 0)
