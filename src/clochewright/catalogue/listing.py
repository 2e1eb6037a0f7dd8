"""The catalogue written out, one figure a row, for the command line and the page."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from clochewright.catalogue.book import Catalogue
from clochewright.catalogue.types import FittingRow, GoodsRow, PipeRow
from clochewright.sources import Cited

# What a figure's number is in, by the ending of its name; a name with none of these endings is a plain number.
_UNITS = {
    "_W_m2K": "W/m2K",
    "_kg_m2": "kg/m2",
    "_m2_per_L": "m2/L",
    "_kg_m": "kg/m",
    "_years": "years",
    "_kg": "kg",
    "_m": "m",
}


@dataclass(frozen=True, slots=True)
class ListingRow:
    """One figure: which part (`section` is "pipe", "fitting" or "goods"), what it is, and the figure with its source.

    `what` keeps its unit in its ending ("wall_m"); `unit` is the same unit by itself ("m").
    """

    section: str
    part: str
    what: str
    cited: Cited
    unit: str
    note: str = ""


def listing(catalogue: Catalogue) -> tuple[ListingRow, ...]:
    """Every figure of the catalogue, pipe first, then fittings, then goods."""
    rows: list[ListingRow] = []
    for pipe in catalogue.pipes:
        rows.extend(_pipe(pipe))
    for pipe in catalogue.pipes:
        for fitting in catalogue.fittings(pipe.key):
            rows.extend(_fitting(fitting))
    for goods in catalogue.all_goods:
        rows.extend(_goods(goods))
    return tuple(rows)


def _pipe(pipe: PipeRow) -> Iterator[ListingRow]:
    figures = {
        "outside_diameter_m": pipe.outside_diameter,
        "wall_m": pipe.wall,
        "bore_m": pipe.bore,
        "mass_kg_m": pipe.mass_kg_m,
    }
    for what, cited in figures.items():
        if cited is not None:
            yield _row("pipe", pipe.key, what, cited, pipe.note)


def _fitting(fitting: FittingRow) -> Iterator[ListingRow]:
    part = f"{fitting.kind}, {fitting.pipe_key}"
    for socket in fitting.sockets:
        yield _row("fitting", part, f"{socket.name} centre_to_stop_m", socket.centre_to_stop, fitting.note)
        yield _row("fitting", part, f"{socket.name} socket_depth_m", socket.depth, fitting.note)
    yield _row("fitting", part, "hub_diameter_m", fitting.hub_diameter, fitting.note)
    if fitting.mass_kg is not None:
        yield _row("fitting", part, "mass_kg", fitting.mass_kg, fitting.note)


def _goods(goods: GoodsRow) -> Iterator[ListingRow]:
    for what, cited in goods.figures.items():
        yield _row("goods", goods.name, what, cited, goods.note)


def _row(section: str, part: str, what: str, cited: Cited, note: str) -> ListingRow:
    unit = next((unit for ending, unit in _UNITS.items() if what.endswith(ending)), "")
    return ListingRow(section, part, what, cited, unit, note)
