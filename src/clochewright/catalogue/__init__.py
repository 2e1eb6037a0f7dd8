"""Pipe, fittings and goods: data files with a source on every row, and their loader."""

from clochewright.catalogue.book import Catalogue
from clochewright.catalogue.crops import Crop, find_crop, load_crops
from clochewright.catalogue.kinds import KINDS, Kind
from clochewright.catalogue.listing import ListingRow, listing
from clochewright.catalogue.loading import load_catalogue
from clochewright.catalogue.measuring import (
    Legs,
    MeasuredFitting,
    OddFigure,
    arm_off_m,
    mean_m,
    odd_figures,
    other_sockets,
    turn_deg,
    unlike_m,
    work_out,
)
from clochewright.catalogue.prices import Prices, load_prices, stick_label
from clochewright.catalogue.sections import Section, pipe_section
from clochewright.catalogue.types import PILOT_SHARE, BandEnd, FilmRoll, FittingRow, GoodsRow, PipeRow, SocketRow

__all__ = [
    "KINDS",
    "PILOT_SHARE",
    "BandEnd",
    "Catalogue",
    "Crop",
    "FilmRoll",
    "FittingRow",
    "GoodsRow",
    "Kind",
    "Legs",
    "ListingRow",
    "MeasuredFitting",
    "OddFigure",
    "PipeRow",
    "Prices",
    "Section",
    "SocketRow",
    "arm_off_m",
    "find_crop",
    "listing",
    "load_catalogue",
    "load_crops",
    "load_prices",
    "mean_m",
    "odd_figures",
    "other_sockets",
    "pipe_section",
    "stick_label",
    "turn_deg",
    "unlike_m",
    "work_out",
]
