"""Joints: what is cemented and what is screwed."""

from clochewright.joints.choose import Joint, JointPlan, Treatment, choose_joints

__all__ = ["Joint", "JointPlan", "Treatment", "choose_joints"]
