"""Strength: what wind, snow, weight and hands the cover can stand, and what change helps most."""

from clochewright.strength.beaufort import Force, beaufort, mean_of_gust
from clochewright.strength.changes import Again, rank_changes
from clochewright.strength.hold_down import lifting_gust, loose_lift_gust
from clochewright.strength.opening.types import (
    Alternative,
    Anchor,
    AtAngle,
    Buy,
    Cord,
    Counterweight,
    FixingWork,
    HoldDown,
    LeafOpening,
    Lifting,
    LiftLimit,
    Opening,
    OpenWind,
    PropAt,
    PropWork,
    Reach,
    Strut,
    WaxOpener,
    Weighted,
)
from clochewright.strength.opening.work import study_opening
from clochewright.strength.prove import prove
from clochewright.strength.reach import Load, load_of, reach_limits, reach_note
from clochewright.strength.spreading import Spread, spread_open
from clochewright.strength.study import ALL_BANDS, LIKELY, NOT_NOW, Asked, Bands, Extras
from clochewright.strength.types import BentShape, Check, Gain, Ground, Limit, Strength, WorstMember, about_m

__all__ = [
    "ALL_BANDS",
    "LIKELY",
    "NOT_NOW",
    "Again",
    "Alternative",
    "Anchor",
    "Asked",
    "AtAngle",
    "Bands",
    "BentShape",
    "Buy",
    "Check",
    "Cord",
    "Counterweight",
    "Extras",
    "FixingWork",
    "Force",
    "Gain",
    "Ground",
    "HoldDown",
    "LeafOpening",
    "LiftLimit",
    "Lifting",
    "Limit",
    "Load",
    "OpenWind",
    "Opening",
    "PropAt",
    "PropWork",
    "Reach",
    "Spread",
    "Strength",
    "Strut",
    "WaxOpener",
    "Weighted",
    "WorstMember",
    "about_m",
    "beaufort",
    "lifting_gust",
    "load_of",
    "loose_lift_gust",
    "mean_of_gust",
    "prove",
    "rank_changes",
    "reach_limits",
    "reach_note",
    "spread_open",
    "study_opening",
]
