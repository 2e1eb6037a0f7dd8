"""Joints: what is cemented and what is screwed."""

from clochewright.joints.choose import Judge, choose_joints
from clochewright.joints.curing import CEMENT_SOURCE, CementTime, cement_times
from clochewright.joints.types import Found, Joint, JointPlan, Part, Spot, Treatment, Wish
from clochewright.joints.wishes import site_of

__all__ = [
    "CEMENT_SOURCE",
    "CementTime",
    "Found",
    "Joint",
    "JointPlan",
    "Judge",
    "Part",
    "Spot",
    "Treatment",
    "Wish",
    "cement_times",
    "choose_joints",
    "site_of",
]
