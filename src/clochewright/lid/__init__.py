"""The lid: hinge line, hinges, latches and props; the room it takes as it opens, and where it comes to rest."""

from clochewright.lid.bare import Stretch, bare_stretches
from clochewright.lid.hang import (
    HINGE_WIDTH_M,
    LATCH_WIDTH_M,
    hang_lid,
    hinge_count,
    latch_count,
    openings_of,
)
from clochewright.lid.prop import PIVOT_WIDTH_m
from clochewright.lid.saddles import STRAP_WIDTH_M
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
    "HINGE_WIDTH_M",
    "LATCH_WIDTH_M",
    "STRAP_WIDTH_M",
    "BedSide",
    "Fixing",
    "HingeLine",
    "Hole",
    "Leaf",
    "LidPlan",
    "PIVOT_WIDTH_m",
    "Prop",
    "Rest",
    "Round",
    "Stretch",
    "Swing",
    "bare_stretches",
    "hang_lid",
    "hinge_count",
    "latch_count",
    "openings_of",
]
