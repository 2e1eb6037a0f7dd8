"""Strength: what wind, snow, weight and hands the cover can stand, and what change helps most."""

from clochewright.strength.beaufort import Force, beaufort, mean_of_gust
from clochewright.strength.changes import Again, rank_changes
from clochewright.strength.hold_down import lifting_gust, loose_lift_gust
from clochewright.strength.prove import prove
from clochewright.strength.reach import Load, load_of, reach_limits, reach_note
from clochewright.strength.spreading import Spread, spread_open
from clochewright.strength.study import ALL_BANDS, LIKELY, NOT_NOW, Asked, Bands, Extras
from clochewright.strength.types import BentShape, Check, Gain, Limit, Strength, WorstMember, about_m

__all__ = [
    "ALL_BANDS",
    "LIKELY",
    "NOT_NOW",
    "Again",
    "Asked",
    "Bands",
    "BentShape",
    "Check",
    "Extras",
    "Force",
    "Gain",
    "Limit",
    "Load",
    "Spread",
    "Strength",
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
]
