"""Where the lid turns, shuts and rests."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from clochewright.findings import Finding
from clochewright.frame import Body, Vec

BedSide = Literal["left", "right", "front", "far"]


@dataclass(frozen=True, slots=True)
class Fixing:
    """A hinge or a latch: its id, the pipe it is screwed to, and the middle of it on the rim's edge [m]."""

    id: str
    pipe: str
    position_m: Vec


@dataclass(frozen=True, slots=True)
class Hole:
    """One hole in a prop's bar: the opening it gives, from shut, and how far it is from the bar's pivot [m]."""

    open_deg: float
    from_pivot_m: float


@dataclass(frozen=True, slots=True)
class Prop:
    """A bar at one end of a leaf, pivoted on the leaf and dropped over a pin on the bed.

    `foot_m` is the pin; `head_m` is the pivot while the leaf is shut; `length_m` is from one to the other when it holds
    the leaf open at `open_deg`, its widest opening, measured from shut. `holes` give the openings, least first; `bar_m`
    is the whole bar. `pin_in` says what the pin is in: the bed's board, or a rafter of the frame that stays.
    """

    end: str
    pipe: str
    foot_m: Vec
    head_m: Vec
    length_m: float
    open_deg: float
    holes: tuple[Hole, ...] = ()
    bar_m: float = 0.0
    pin_in: Literal["board", "frame"] = "board"


@dataclass(frozen=True, slots=True)
class HingeLine:
    """The line a leaf turns about, and `over`: the level unit vector from it over the bed, towards the handle."""

    start_m: Vec
    end_m: Vec
    over: Vec

    @property
    def length_m(self) -> float:
        """Length of the line [m]."""
        return math.dist(self.start_m, self.end_m)

    def section(self, point: Vec) -> tuple[float, float]:
        """A point as seen along the line: how far out over the bed and how far up it lies from it [m]."""
        away = (point[0] - self.start_m[0], point[1] - self.start_m[1])
        return away[0] * self.over[0] + away[1] * self.over[1], point[2] - self.start_m[2]

    def turned(self, point: Vec, angle_deg: float) -> Vec:
        """Where a point of the leaf is once the leaf has opened by an angle [deg]."""
        out, up = self.section(point)
        turn = math.radians(angle_deg)
        further = out * math.cos(turn) - up * math.sin(turn) - out
        z = self.start_m[2] + out * math.sin(turn) + up * math.cos(turn)
        return (point[0] + further * self.over[0], point[1] + further * self.over[1], z)


@dataclass(frozen=True, slots=True)
class Round:
    """Something round of the leaf, seen along its hinge line: a pipe, a hub, or a point of the film (radius 0) [m]."""

    out_m: float
    up_m: float
    radius_m: float
    part: Literal["pipe", "fitting", "film"]


@dataclass(frozen=True, slots=True)
class Rest:
    """Where a leaf thrown fully open comes to rest: angle from shut, on what, and with which part of it.

    `block_m` is the height of a block that keeps the film off the soil, `block_out_m` how far behind the hinge line it
    lies; with it the leaf rests at `block_deg`. All are 0 where it lies on no ground.
    """

    angle_deg: float
    on: Literal["ground", "wall", "bed side", "rim", "frame"]
    part: Literal["pipe", "fitting", "film"]
    block_m: float = 0.0
    block_out_m: float = 0.0
    block_deg: float = 0.0

    @property
    def lies_deg(self) -> float:
        """Where it lies, to the whole degree: on its block where it has one [deg]."""
        return round(self.block_deg if self.block_m > 0 else self.angle_deg)


@dataclass(frozen=True, slots=True)
class Swing:
    """The room a leaf takes on its way: its highest above the ground, and how far behind the bed's side it comes [m].

    `behind_m` is on the way, `rests_behind_m` at rest. `path_m` is the way of the handle, as (out, up) from the line.
    """

    rest: Rest
    highest_m: float
    behind_m: float
    rests_behind_m: float
    path_m: tuple[tuple[float, float], ...] = ()


@dataclass(frozen=True, slots=True)
class Leaf:
    """One body that opens, with all that is its own: the whole cover, a section or a panel.

    `handle_m` is where a hand takes hold while it is shut. `outline` is what of it meets things as it turns; `over_m`
    is how far the hinge line lies in from the outside of the bed.
    """

    body: Body
    line: HingeLine
    hinges: tuple[Fixing, ...]
    latches: tuple[Fixing, ...]
    props: tuple[Prop, ...]
    handle_m: Vec
    outline: tuple[Round, ...]
    over_m: float
    swing: Swing


@dataclass(frozen=True, slots=True)
class LidPlan:
    """Hinges, latches and props of one lid; `hinge_line_m` is the line it turns about, front end first [m].

    `bodies` are what turns, each about a line of its own: the lid, the lids of a long cover, or panels of its roof.
    `leaves` are the same bodies, each with its own hinges, latches, props and swing. `saddles` are the straps that hold
    a frame that stays to the rim; none where the whole cover opens.
    """

    hinge_line_m: tuple[Vec, Vec]
    hinges: tuple[Fixing, ...]
    latches: tuple[Fixing, ...]
    props: tuple[Prop, ...]
    findings: tuple[Finding, ...] = ()
    bodies: tuple[Body, ...] = ()
    leaves: tuple[Leaf, ...] = ()
    saddles: tuple[Fixing, ...] = ()

    @property
    def hinged_at_end(self) -> bool:
        """Whether it turns about an end of the bed rather than a long side."""
        return bool(self.leaves) and abs(self.leaves[0].line.over[0]) > 0.5
