"""Where the lid turns, shuts and rests."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from clochewright.findings import Finding
from clochewright.frame import Body, Vec


@dataclass(frozen=True, slots=True)
class Fixing:
    """A hinge or a latch: its id, the pipe it is screwed to, and the middle of it on the rim's edge [m]."""

    id: str
    pipe: str
    position_m: Vec


@dataclass(frozen=True, slots=True)
class Prop:
    """A stay at one end of the bed.

    `foot_m` is on the rim; `head_m` is where it meets the lid while the lid is shut; `length_m` holds the lid open
    at `open_deg`, measured from shut.
    """

    end: Literal["front", "far"]
    pipe: str
    foot_m: Vec
    head_m: Vec
    length_m: float
    open_deg: float


@dataclass(frozen=True, slots=True)
class LidPlan:
    """Hinges, latches and props of one lid; `hinge_line_m` is the line it turns about, front end first [m].

    `bodies` are what turns, each about a line of its own: the lid, the lids of a long cover, or panels of its roof.
    """

    hinge_line_m: tuple[Vec, Vec]
    hinges: tuple[Fixing, ...]
    latches: tuple[Fixing, ...]
    props: tuple[Prop, ...]
    findings: tuple[Finding, ...] = ()
    bodies: tuple[Body, ...] = ()
