"""Pipe, fittings and goods: data files with a source on every row, and their loader."""

from clochewright.catalogue.book import Catalogue
from clochewright.catalogue.kinds import KINDS, Kind
from clochewright.catalogue.listing import ListingRow, listing
from clochewright.catalogue.loading import load_catalogue
from clochewright.catalogue.prices import Prices, load_prices, stick_label
from clochewright.catalogue.sections import Section, pipe_section
from clochewright.catalogue.types import FilmRoll, FittingRow, GoodsRow, PipeRow, SocketRow

__all__ = [
    "KINDS",
    "Catalogue",
    "FilmRoll",
    "FittingRow",
    "GoodsRow",
    "Kind",
    "ListingRow",
    "PipeRow",
    "Prices",
    "Section",
    "SocketRow",
    "listing",
    "load_catalogue",
    "load_prices",
    "pipe_section",
    "stick_label",
]
