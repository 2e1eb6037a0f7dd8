"""Joints, and the parts that cemented joints hold together."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from clochewright.findings import Finding

Treatment = Literal["cemented", "screwed"]
Wish = Literal["knock-down", "few-screws", "one-piece", "no-cement"]
Found = Literal["as-said", "exact", "best-found"]
Spot = tuple[str, str]  # a fitting and one of its ports


@dataclass(frozen=True, slots=True)
class Joint:
    """One pipe end in one socket, how deep [m], and how it is held.

    `old` says that an old part brings the joint along as it is. `dry` that the pipe goes in only as far as it pushes by
    hand; a screwed joint that is not dry is home in a socket that was eased.
    """

    id: str
    fitting: str
    port: str
    pipe: str
    seat_depth_m: float
    treatment: Treatment
    old: bool = False
    dry: bool = False


@dataclass(frozen=True, slots=True)
class Part:
    """What cemented joints hold together: it is stored and carried as one thing.

    `box_m` is the smallest box it goes into, longest side first, hubs included [m]. `like` is the id of the first part
    that is the same in kind, its own id where it is that one. A bent pipe that is by itself straightens.
    """

    id: str
    pipes: tuple[str, ...]
    fittings: tuple[str, ...]
    box_m: tuple[float, float, float]
    like: str

    @property
    def ids(self) -> tuple[str, ...]:
        """All its fittings and pipes."""
        return (*self.fittings, *self.pipes)


@dataclass(frozen=True, slots=True)
class JointPlan:
    """Every joint of the frame, in the frame's order, and the parts that they make.

    `wish` is what was asked for. `found` says how the choice was come by: "as-said" follows from the wish, "exact" is
    proven to take the fewest screws (of the choices that treat like joints alike, or of all in a small frame),
    "best-found" is not. `goes_together` says that an order without force was found. `split_m` is the longest piece of
    pipe that can be stored [m] where a pipe alone is longer: it wants couplings; None where none is. `eased` are the
    ids of the screwed joints whose socket is eased to let the dry pipe in to its stop.
    """

    joints: tuple[Joint, ...]
    findings: tuple[Finding, ...] = ()
    parts: tuple[Part, ...] = ()
    wish: Wish = "knock-down"
    found: Found = "as-said"
    goes_together: bool = True
    split_m: float | None = None
    eased: frozenset[str] = frozenset()

    @property
    def cemented(self) -> int:
        """Sockets that get cement."""
        return sum(joint.treatment == "cemented" and not joint.old for joint in self.joints)

    @property
    def screwed(self) -> int:
        """Sockets held by a screw."""
        return sum(joint.treatment == "screwed" for joint in self.joints)

    @property
    def screws(self) -> int:
        """Screws for the screwed joints: one each (common practice, no source)."""
        return self.screwed
