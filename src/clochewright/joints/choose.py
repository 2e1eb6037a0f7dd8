"""What is cemented for good and what is only screwed."""

from __future__ import annotations

from collections.abc import Collection

from clochewright.findings import Finding, Level
from clochewright.frame import Frame
from clochewright.joints.types import Joint, JointPlan, Treatment
from clochewright.plan import Plan

F402 = "ASTM F402, safe handling of solvent cements, primers and cleaners"


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
