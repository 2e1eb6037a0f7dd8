"""Weeks won as bars: the chance of a killing night in each week of the year, without the cover and with it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from clochewright.drawings.marks import Drawing, Line, Mark, Text, Units
from clochewright.drawings.season.axes import AXIS_MM, Graph
from clochewright.drawings.season.year import MONTH_STARTS
from clochewright.drawings.sheet import MARGIN_MM, heading, heading_mm
from clochewright.findings import word
from clochewright.measures import MONTH_NAMES, show_temperature
from clochewright.season import Band, CropVerdict, Season

MOST_CROPS = 3
WEEKS = 52
_LEFT_MM, _GRAPH_MM, _ROW_MM, _LEGEND_MM = 17.0, 26.0, 42.0, 7.0
_NAME_MM = 4.2
_GAP = 0.06  # of a week's width, left free on either side of a bar


@dataclass(frozen=True, slots=True)
class _Row:
    """One crop: its name, what it wins in words, and the chance of a killing night by week."""

    name: str
    won: str
    bare: Sequence[float]
    covered: Sequence[float]


def draw_weeks(season: Season, units: Units, width_mm: float, most_crops: int = MOST_CROPS) -> Drawing:
    """One row of bars for each of some crops, the tenderest first; for frost itself where no crop is named."""
    tenderest_first = sorted(season.crops, key=lambda verdict: -sum(verdict.bare_week_share))
    rows = [_crop(verdict) for verdict in tenderest_first[:most_crops]] or [_frost(season, units)]
    title = word("drawings.season.weeks-title")
    note = word("drawings.season.weeks-note", years=season.years)
    height = heading_mm(note, width_mm) + len(rows) * _ROW_MM + _LEGEND_MM + MARGIN_MM
    marks: list[Mark] = [*heading(title, note, width_mm, height)]
    for k, row in enumerate(rows):
        bottom = MARGIN_MM + _LEGEND_MM + (len(rows) - 1 - k) * _ROW_MM + 7.0
        marks += _bars(row, bottom, width_mm)
    marks += _legend(width_mm)
    alt = " ".join([word("drawings.season.weeks-alt", years=season.years), *(_in_words(row) for row in rows)])
    return Drawing(title, width_mm, height, 1.0, units, tuple(marks), alt)


def _crop(verdict: CropVerdict) -> _Row:
    won = word("drawings.season.won", spring=_weeks(verdict.spring_weeks), autumn=_weeks(verdict.autumn_weeks))
    if verdict.worth_it == "no":
        won = word("drawings.season.not-worth")
    return _Row(verdict.crop, won, verdict.bare_week_share, verdict.covered_week_share)


def _frost(season: Season, units: Units) -> _Row:
    name = word("drawings.season.frost", degrees=show_temperature(season.kill_degC, units))
    gain = season.frost_free_gain_days
    won = word("drawings.season.won-days", low=f"{gain.low:.0f}", high=f"{gain.high:.0f}")
    return _Row(name, won, season.bare_week_share, season.covered_week_share)


def _weeks(band: Band) -> str:
    low, likely, high = (f"{weeks:.0f}" for weeks in (band.low, band.likely, band.high))
    return word(f"drawings.season.weeks{'-sure' if low == high else ''}", low=low, likely=likely, high=high)


def _bars(row: _Row, bottom: float, width_mm: float) -> Iterator[Mark]:
    graph = Graph(_LEFT_MM, bottom, width_mm - _LEFT_MM - MARGIN_MM, _GRAPH_MM, 0.0, float(WEEKS), 0.0, 1.0)
    yield Text("title", (_LEFT_MM, bottom + _GRAPH_MM + 2.2), row.name, _NAME_MM, face="bold")
    yield Text("note", (width_mm - MARGIN_MM, bottom + _GRAPH_MM + 2.4), row.won, AXIS_MM, "end")
    yield from graph.beside([(0.0, "0 %"), (0.5, "50 %"), (1.0, "100 %")])
    for week, (bare, covered) in enumerate(zip(row.bare, row.covered, strict=True)):
        if bare > 0:
            box = graph.box("week-bare", week + _GAP, week + 1 - _GAP, 0.0, bare)
            yield from (box, Line("week-bare", box.points, closed=True))
        if covered > 0:
            yield graph.box("week-covered", week + _GAP, week + 1 - _GAP, 0.0, covered)
    yield graph.frame()
    starts = [(start / 7.0, MONTH_NAMES[m][:3]) for m, start in enumerate(MONTH_STARTS)]
    yield from graph.below(starts, between=True)


def _legend(width_mm: float) -> Iterator[Mark]:
    x, y = _LEFT_MM, MARGIN_MM
    for pen in ("week-bare", "week-covered"):
        name = word(f"drawings.season.{pen}")
        box = Graph(x, y, 5.0, 4.0, 0.0, 1.0, 0.0, 1.0).box(pen, 0, 1, 0, 1)
        yield box
        yield Line("rule", box.points, closed=True)
        yield Text("note", (x + 7.0, y + 1.0), name, AXIS_MM)
        x += (width_mm - _LEFT_MM - MARGIN_MM) / 2


def _in_words(row: _Row) -> str:
    safe = [sum(share < 0.1 for share in shares) for shares in (row.bare, row.covered)]
    return word("drawings.season.row-alt", name=row.name, bare=safe[0], covered=safe[1], won=row.won)
