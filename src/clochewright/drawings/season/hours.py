"""Hours on end: a cold spring night, and a hot clear day shut and opened."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from clochewright.drawings.lettering import CAP_HEIGHT
from clochewright.drawings.marks import Area, Drawing, Line, Mark, Text, Units
from clochewright.drawings.season.axes import AXIS_MM, Graph, degrees_beside
from clochewright.drawings.sheet import MARGIN_MM, heading, heading_mm
from clochewright.findings import word
from clochewright.measures import show_day, show_hour, show_temperature
from clochewright.season import Season, Stretch

_LEFT_MM, _GRAPH_MM, _BELOW_MM, _LEGEND_MM = 17.0, 66.0, 8.0, 5.6
_SAMPLE_MM = 11.0


@dataclass(frozen=True, slots=True)
class _Curve:
    """One line of the graph: its pen, its name in the legend, its values."""

    pen: str
    name: str
    degC: Sequence[float]


def draw_night(season: Season, units: Units, width_mm: float) -> Drawing:
    """A spring night just cold enough to kill outside: air outside, and inside with its range."""
    night = season.pictures.cold_night
    curves = [
        _Curve("air-outside", word("drawings.season.outside"), night.outside_degC),
        _Curve("air-inside", word("drawings.season.inside-shut"), night.likely_degC),
    ]
    kill, crop = show_temperature(season.kill_degC, units), season.kill_crop
    level = (season.kill_degC, word(f"drawings.season.kills-{'crop' if crop else 'frost'}", crop=crop, degrees=kill))
    lows = [min(row) for row in (night.outside_degC, night.low_degC, night.likely_degC, night.high_degC)]
    shown = [show_temperature(degC, units) for degC in lows]
    said = {"day": show_day(night.day + 1, units), "out": shown[0], "low": shown[1], "likely": shown[2]}
    alt = word(
        "drawings.season.night-alt", high=shown[3], kill=kill, crop=crop or word("drawings.season.a-plant"), **said
    )
    return _drawn("night", night, curves, level, units, width_mm, said, alt)


def draw_day(season: Season, units: Units, width_mm: float) -> Drawing:
    """The hottest clear day of spring: air outside, inside shut with its range, and as the gardener opens it."""
    day = season.pictures.hot_day
    curves = [
        _Curve("air-outside", word("drawings.season.outside"), day.outside_degC),
        _Curve("air-inside", word("drawings.season.inside-shut"), day.likely_degC),
        _Curve("air-opened", word("drawings.season.opened", way=word(f"season.way.{season.way}")), day.opened_degC),
    ]
    limit, crop = show_temperature(season.limit_degC, units), season.limit_crop or word("drawings.season.a-plant")
    highs = [max(row) for row in (day.outside_degC, day.low_degC, day.likely_degC, day.high_degC, day.opened_degC)]
    shown = [show_temperature(degC, units) for degC in highs]
    said = {"day": show_day(day.day, units), "out": shown[0], "likely": shown[2], "opened": shown[4]}
    alt = word("drawings.season.day-alt", low=shown[1], high=shown[3], limit=limit, crop=crop, **said)
    level = (season.limit_degC, word("drawings.season.limit-here", degrees=limit, crop=crop))
    return _drawn("day", day, curves, level, units, width_mm, said, alt)


def _drawn(
    name: str, stretch: Stretch, curves: Sequence[_Curve], level: tuple[float, str], units: Units, width_mm: float,
    said: dict[str, str], alt: str,
) -> Drawing:  # fmt: skip
    title, note = word(f"drawings.season.{name}-title", **said), word(f"drawings.season.{name}-note")
    hours = [float(hour) + 1.0 for hour in range(len(stretch.likely_degC))]  # a mean of an hour, drawn at its end
    every = [degC for curve in curves for degC in curve.degC] + [*stretch.low_degC, *stretch.high_degC, level[0]]
    low, high = min(every) - 1.5, max(every) + 1.5
    legend = _LEGEND_MM * (len(curves) + 1)
    below = MARGIN_MM + legend + _BELOW_MM
    height = heading_mm(note, width_mm) + _GRAPH_MM + below
    graph = Graph(
        _LEFT_MM, below, width_mm - _LEFT_MM - MARGIN_MM, _GRAPH_MM, hours[0], hours[-1], low, high
    )  # fmt: skip
    marks: list[Mark] = [*heading(title, note, width_mm, height)]
    marks.append(graph.band("air-range", hours, stretch.low_degC, stretch.high_degC))
    marks += graph.beside(degrees_beside(low, high, units))
    marks += _level(graph, *level)
    marks += [graph.line(curve.pen, hours, curve.degC) for curve in curves]
    marks.append(graph.frame())
    step = 2 if len(hours) < 20 else 3
    clock = [h for h in range(int(hours[0]) + 1, int(hours[-1])) if (h + stretch.from_h) % step == 0]
    marks += graph.below([(float(h), show_hour(h + stretch.from_h, units)) for h in clock])
    marks += _legend(graph, curves)
    return Drawing(title, width_mm, height, 1.0, units, tuple(marks), alt)


def _level(graph: Graph, degC: float, name: str) -> Iterator[Mark]:
    """The temperature that matters, with its name above it at the left."""
    yield Line("air-level", (graph.at(graph.low_x, degC), graph.at(graph.high_x, degC)))
    x, y = graph.at(graph.low_x, degC)
    yield Text("air-level", (x + 2.0, y + 1.2), name, AXIS_MM, face="bold")


def _legend(graph: Graph, curves: Sequence[_Curve]) -> Iterator[Mark]:
    y = MARGIN_MM + _LEGEND_MM * len(curves) + 1.0
    x = graph.left_mm
    drop = CAP_HEIGHT * AXIS_MM / 2
    for curve in curves:
        yield Line(curve.pen, ((x, y + drop), (x + _SAMPLE_MM, y + drop)))
        yield Text("note", (x + _SAMPLE_MM + 2.5, y), curve.name, AXIS_MM)
        y -= _LEGEND_MM
    yield _sample(x, y)
    yield Text("note", (x + _SAMPLE_MM + 2.5, y), word("drawings.season.range"), AXIS_MM)


def _sample(x: float, y: float) -> Mark:
    return Area("air-range", ((x, y - 0.6), (x + _SAMPLE_MM, y - 0.6), (x + _SAMPLE_MM, y + 3.0), (x, y + 3.0)))
