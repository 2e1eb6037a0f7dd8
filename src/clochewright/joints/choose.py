"""What is cemented for good and what is only screwed."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from typing import Literal

from clochewright.findings import Finding, Level
from clochewright.frame import Frame
from clochewright.plan import Plan

Treatment = Literal["cemented", "screwed"]

F402 = "ASTM F402, safe handling of solvent cements, primers and cleaners"


@dataclass(frozen=True, slots=True)
class Joint:
    """One pipe end in one socket, how deep [m], how it is held, and whether an old part brings it along as it is."""

    id: str
    fitting: str
    port: str
    pipe: str
    seat_depth_m: float
    treatment: Treatment
    old: bool = False


@dataclass(frozen=True, slots=True)
class JointPlan:
    """Every joint of the frame, in the frame's order."""

    joints: tuple[Joint, ...]
    findings: tuple[Finding, ...] = ()

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


def choose_joints(frame: Frame, plan: Plan, kept: Collection[tuple[str, str]] = ()) -> JointPlan:
    """Say of each joint whether it is cemented or screwed: home is cemented, dry is screwed.

    How deep a pipe goes doesn't tell: in a parallel socket a dry pipe goes all the way too. A sleeve takes no cement,
    since the hoop has to come out of it; a screw keeps the wind from lifting it out (common practice, no source).

    Args:
        frame: the solved frame, whose pipes know how deep they sit.
        plan: says which seats are home and which dry, and how many people build, for the cautions.
        kept: fitting and pipe of each joint that an old part brings along, cemented long ago.

    Returns:
        The joints, with the cautions that belong to this step.
    """
    joints: list[Joint] = []
    sleeves = {fitting.id for fitting in frame.fittings if fitting.kind == "sleeve"}
    seats = {seat.role: seat.seat for seat in plan.joints.seats}
    for pipe in frame.pipes:
        home = seats.get(pipe.role, plan.joints.seat) == "home"
        for end in pipe.ends:
            if end.fitting is None or end.port is None:
                continue
            old = (end.fitting, pipe.id) in kept
            treatment: Treatment = "cemented" if old or (home and end.fitting not in sleeves) else "screwed"
            name = f"J{len(joints) + 1}"
            joints.append(Joint(name, end.fitting, end.port, pipe.id, end.seat_depth_m, treatment, old))
    plan_of_joints = JointPlan(tuple(joints))
    return JointPlan(plan_of_joints.joints, _cautions(plan_of_joints, plan))


def _cautions(joints: JointPlan, plan: Plan) -> tuple[Finding, ...]:
    found = []
    if joints.cemented:
        values = {"count": joints.cemented}
        found.append(Finding(Level.NOTE, "joints", "joints.cement-fumes", "joints", values, F402))
        if plan.people == 1:
            found.append(Finding(Level.NOTE, "joints", "joints.cement-alone", "joints", values, F402))
    if joints.screwed:
        values = {"count": joints.screwed}
        source = "common practice, no source"
        found.append(Finding(Level.NOTE, "joints", "joints.screwed-dry", "joints", values, source))
    return tuple(found)
