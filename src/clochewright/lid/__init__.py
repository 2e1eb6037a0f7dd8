"""The lid: hinge line, hinges, latches and prop; where they sit on the frame and on the bed's rim."""

from clochewright.lid.hang import hang_lid, hinge_count, latch_count
from clochewright.lid.types import Fixing, LidPlan, Prop

__all__ = ["Fixing", "LidPlan", "Prop", "hang_lid", "hinge_count", "latch_count"]
