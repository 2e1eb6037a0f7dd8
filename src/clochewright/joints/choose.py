"""What is cemented for good and what is only screwed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from clochewright.findings import Finding, Level
from clochewright.frame import Frame
from clochewright.plan import Plan

Treatment = Literal["cemented", "screwed"]

# A pipe this near the bottom of its socket is home; saws are not truer.
HOME_M = 0.0005

F402 = "ASTM F402, safe handling of solvent cements, primers and cleaners"


@dataclass(frozen=True, slots=True)
class Joint:
    """One pipe end in one socket, how deep [m], and how it is held."""

    id: str
    fitting: str
    port: str
    pipe: str
    seat_depth_m: float
    treatment: Treatment


@dataclass(frozen=True, slots=True)
class JointPlan:
    """Every joint of the frame, in the frame's order."""

    joints: tuple[Joint, ...]
    findings: tuple[Finding, ...] = ()

    @property
    def cemented(self) -> int:
        """Sockets that get cement."""
        return sum(joint.treatment == "cemented" for joint in self.joints)

    @property
    def screwed(self) -> int:
        """Sockets held by a screw."""
        return len(self.joints) - self.cemented

    @property
    def screws(self) -> int:
        """Screws for the screwed joints: one each (common practice, no source)."""
        return self.screwed


def choose_joints(frame: Frame, plan: Plan) -> JointPlan:
    """Say of each joint whether it is cemented or screwed: home is cemented, dry is screwed.

    Args:
        frame: the solved frame, whose pipes know how deep they sit.
        plan: says how many people build, for the cautions.

    Returns:
        The joints, with the cautions that belong to this step.
    """
    joints: list[Joint] = []
    for pipe in frame.pipes:
        for end in pipe.ends:
            if end.fitting is None or end.port is None:
                continue
            depth_m = frame.fitting(end.fitting).port(end.port).socket_depth_m
            treatment: Treatment = "cemented" if end.seat_depth_m >= depth_m - HOME_M else "screwed"
            name = f"J{len(joints) + 1}"
            joints.append(Joint(name, end.fitting, end.port, pipe.id, end.seat_depth_m, treatment))
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
