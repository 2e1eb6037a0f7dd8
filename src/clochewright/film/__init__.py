"""The film: the sheet and its roll, the laths it is rolled on, staples and screws."""

from clochewright.film.cut import cut_sheet
from clochewright.film.types import FilmPlan, Lath, Roll, Sheet

__all__ = ["FilmPlan", "Lath", "Roll", "Sheet", "cut_sheet"]
