"""Joints and assembly meet here: what the one wants of the plan is written into it, and the other gets the solver."""

from __future__ import annotations

from clochewright.assembly import Opened, Opener, Opening
from clochewright.catalogue import PipeRow, pipe_section
from clochewright.frame import Frame
from clochewright.joints import JointPlan, site_of
from clochewright.plan import Plan, plan_with
from clochewright.strength import spread_open

WALL_SHARE = 0.07  # of the diameter, where a pipe's wall is not known


def opener_for(frame: Frame, joints: JointPlan, pipe: PipeRow) -> Opener:
    """Asks the frame solver for one frame, its pipe at its minimum wall, on a mild day."""
    outside_m = pipe.outside_diameter.value
    section = pipe_section(outside_m, pipe.wall.value if pipe.wall is not None else WALL_SHARE * outside_m)

    def opener(asked: Opening) -> Opened:
        spread = spread_open(frame, joints, asked.there, asked.gaps, asked.spread_m, section)
        return Opened(spread.forces_N, spread.stress_Pa, spread.strain_share)

    return opener


def plan_for_joints(plan: Plan, frame: Frame, joints: JointPlan) -> Plan | None:
    """The plan with what the joints want of it, where that is not in it yet: shorter pieces, and dry seats.

    Returns:
        The plan to run the bench on again; None where the frame suits the joints as it is.
    """
    if joints.split_m is not None and joints.split_m < (plan.joints.longest_m or float("inf")) - 1e-9:
        return plan_with(plan, [("joints.longest", joints.split_m)])
    if plan.joints.loose == "eased":
        return None
    fittings = {fitting.id: fitting for fitting in frame.fittings}
    roles = {pipe.id: pipe.role for pipe in frame.pipes}
    dry = {
        (roles[joint.pipe], site_of(fittings[joint.fitting]))
        for joint in joints.joints
        if joint.treatment == "screwed" and not joint.dry and fittings[joint.fitting].kind != "sleeve"
    }
    if not dry:
        return None
    kept = [one.model_dump() for one in plan.joints.held if (one.role, one.at) not in dry]
    more = [{"role": role, "at": at, "how": "screwed-dry"} for role, at in sorted(dry)]
    return plan_with(plan, [("joints.held", [*kept, *more])])
