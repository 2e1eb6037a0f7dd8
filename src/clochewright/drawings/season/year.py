"""The year under the cover as a field of hours by days, in four named bands of temperature."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from clochewright.drawings.marks import Area, Drawing, Line, Mark, Text, Units
from clochewright.drawings.season.axes import AXIS_MM, Graph
from clochewright.drawings.sheet import MARGIN_MM, heading, heading_mm
from clochewright.findings import word
from clochewright.measures import MONTH_NAMES, show_hour, show_temperature
from clochewright.season import Season

DAYS, HOURS = 365, 24
_LEFT_MM, _HOUR_MM, _BELOW_MM, _LEGEND_MM = 17.0, 2.5, 7.0, 7.0
_SAMPLE_MM = 8.0
KILLS, COLD, GROWS, HOT = range(4)
_PENS = ("air-kills", "air-cold", "air-grows", "air-hot")
_NAMES = ("kills", "cold", "grows", "hot")
MONTH_STARTS = (0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334)


def draw_year(season: Season, units: Units, width_mm: float) -> Drawing:
    """One year, midnight at the bottom to midnight at the top, 1 January on the left."""
    bands = bands_of(season)
    title = word("drawings.season.year-title")
    note = word("drawings.season.year-note", way=word(f"season.way.{season.way}"))
    height = heading_mm(note, width_mm) + HOURS * _HOUR_MM + _BELOW_MM + 2 * _LEGEND_MM + MARGIN_MM
    graph = Graph(
        _LEFT_MM, MARGIN_MM + 2 * _LEGEND_MM + _BELOW_MM, width_mm - _LEFT_MM - MARGIN_MM, HOURS * _HOUR_MM,
        0.0, DAYS, 0.0, HOURS,
    )  # fmt: skip
    marks: list[Mark] = [*heading(title, note, width_mm, height)]
    marks.append(graph.box("air-grows", 0, DAYS, 0, HOURS))
    for band in (COLD, KILLS, HOT):
        marks += _field(graph, bands == band, _PENS[band])
    marks += _hatch(graph, bands == HOT)
    marks += [Line("month-line", (graph.at(day, 0), graph.at(day, HOURS))) for day in MONTH_STARTS[1:]]
    marks.append(graph.frame())
    marks += graph.beside([(hour, show_hour(hour, units)) for hour in (0, 6, 12, 18)], grid=False)
    marks += graph.below([(start, MONTH_NAMES[m][:3]) for m, start in enumerate(MONTH_STARTS)], between=True)
    marks += _legend(season, units, width_mm)
    return Drawing(title, width_mm, height, 1.0, units, tuple(marks), _in_words(season, bands, units))


def bands_of(season: Season) -> NDArray[np.int64]:
    """The band of every hour, shape (365, 24)."""
    edges = (season.kill_degC, season.grow_from_degC, season.limit_degC)
    return np.asarray(np.digitize(season.pictures.year_degC, edges, right=True), dtype=np.int64)


def _field(graph: Graph, where: NDArray[np.bool_], pen: str) -> Iterator[Area]:
    """Every stretch of days within one hour's row as a rectangle."""
    for hour in range(HOURS):
        for first, last in _runs(where[:, hour]):
            yield graph.box(pen, first, last, hour, hour + 1)


def _hatch(graph: Graph, where: NDArray[np.bool_]) -> Iterator[Line]:
    """Two lines across every hour's row, so that what is too hot is told in grey."""
    for hour in range(HOURS):
        for first, last in _runs(where[:, hour]):
            for part in (0.25, 0.75):
                yield Line("hot-hatch", (graph.at(first, hour + part), graph.at(last, hour + part)))


def _runs(row: NDArray[np.bool_]) -> list[tuple[int, int]]:
    edges = np.flatnonzero(np.diff(np.concatenate(([0], row.astype(np.int64), [0]))))
    return list(zip(edges[::2].tolist(), edges[1::2].tolist(), strict=True))


def _legend(season: Season, units: Units, width_mm: float) -> Iterator[Mark]:
    """A sample of each band with its name and edges, two to a line."""
    kill, grow, limit = (
        show_temperature(degC, units) for degC in (season.kill_degC, season.grow_from_degC, season.limit_degC)
    )
    tender, cooked = (crop or word("drawings.season.a-plant") for crop in (season.kill_crop, season.limit_crop))
    column = (width_mm - _LEFT_MM - MARGIN_MM) / 2
    for k, (pen, name) in enumerate(zip(_PENS, _NAMES, strict=True)):
        x, y = _LEFT_MM + (k % 2) * column, MARGIN_MM + (1 - k // 2) * _LEGEND_MM
        corners = ((x, y), (x + _SAMPLE_MM, y), (x + _SAMPLE_MM, y + 4.0), (x, y + 4.0))
        yield Area(pen, corners)
        if name == "hot":
            for part in (0.6, 1.5, 2.5, 3.4):
                yield Line("hot-hatch", ((x, y + part), (x + _SAMPLE_MM, y + part)))
        yield Line("rule", corners, closed=True)
        said = word(f"drawings.season.band-{name}", kill=kill, grow=grow, limit=limit, tender=tender, cooked=cooked)
        yield Text("note", (x + _SAMPLE_MM + 2.0, y + 1.0), said, AXIS_MM)


def _in_words(season: Season, bands: NDArray[np.int64], units: Units) -> str:
    hours = [int((bands == band).sum()) for band in (KILLS, COLD, GROWS, HOT)]
    shown = {"kill": show_temperature(season.kill_degC, units), "limit": show_temperature(season.limit_degC, units)}
    months = [MONTH_NAMES[m] for m in range(12) if (bands[_days_of(m)] == HOT).sum() > 30]
    hot = word("drawings.season.hot-in", months=", ".join(months)) if months else word("drawings.season.never-hot")
    return word(
        "drawings.season.year-alt", kills=hours[KILLS], cold=hours[COLD], grows=hours[GROWS], too_hot=hours[HOT],
        hot=hot, **shown,
    )  # fmt: skip


def _days_of(month: int) -> slice:
    return slice(MONTH_STARTS[month], (*MONTH_STARTS, DAYS)[month + 1])
