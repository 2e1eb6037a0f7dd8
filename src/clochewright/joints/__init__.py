"""Joints: what is cemented and what is screwed."""

from clochewright.joints.choose import choose_joints
from clochewright.joints.types import Joint, JointPlan, Part, Treatment, Wish

__all__ = ["Joint", "JointPlan", "Part", "Treatment", "Wish", "choose_joints"]
