"""The lid: hinge line, hinges, latches and props; the room it takes as it opens, and where it comes to rest."""

from clochewright.lid.hang import hang_lid, hinge_count, latch_count, openings_of
from clochewright.lid.types import (
    BedSide,
    Fixing,
    HingeLine,
    Hole,
    Leaf,
    LidPlan,
    Prop,
    Rest,
    Round,
    Swing,
)

__all__ = [
    "BedSide",
    "Fixing",
    "HingeLine",
    "Hole",
    "Leaf",
    "LidPlan",
    "Prop",
    "Rest",
    "Round",
    "Swing",
    "hang_lid",
    "hinge_count",
    "latch_count",
    "openings_of",
]
