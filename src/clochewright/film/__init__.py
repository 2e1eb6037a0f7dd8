"""The film: its pattern, the sheets and rolls it is cut from, the laths it is rolled on, staples and screws."""

from clochewright.film.cut import cut_sheet
from clochewright.film.pattern import Pattern, PatternLine, PatternPiece, area_m2
from clochewright.film.seat import BOTTOM
from clochewright.film.skin import Skin, skin_of
from clochewright.film.types import (
    BodyFilm,
    CutRoll,
    FilmChoice,
    FilmPlan,
    Lath,
    LathRoll,
    LathSeat,
    Leftover,
    OldSheet,
    OrderStep,
    Panel,
    Placed,
    Roll,
    ScrewFit,
    SecondCover,
    Sheet,
)

__all__ = [
    "BOTTOM",
    "BodyFilm",
    "CutRoll",
    "FilmChoice",
    "FilmPlan",
    "Lath",
    "LathRoll",
    "LathSeat",
    "Leftover",
    "OldSheet",
    "OrderStep",
    "Panel",
    "Pattern",
    "PatternLine",
    "PatternPiece",
    "Placed",
    "Roll",
    "ScrewFit",
    "SecondCover",
    "Sheet",
    "Skin",
    "area_m2",
    "cut_sheet",
    "skin_of",
]
