"""The force of a hand over the opening, with the plan's limit and the force in each bar, as a plot."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from clochewright.drawings.lettering import CAP_HEIGHT, text_corners, text_width_mm
from clochewright.drawings.marks import Area, Circle, Drawing, Line, Mark, Point, Text
from clochewright.drawings.sheet import MARGIN_MM, on_sheet
from clochewright.drawings.spread import spread
from clochewright.findings import word
from clochewright.job import Job
from clochewright.lid import Leaf
from clochewright.measures import Units, read_force, show_angle, show_force
from clochewright.strength import AtAngle, LeafOpening

WIDTH_MM, HEIGHT_MM = 180.0, 82.0
_TEXT_MM, _NAME_MM = 3.2, 3.5
_LEFT_MM, _RIGHT_MM = 19.0, 4.0  # kept for the figures beside the axes
_MOST_STEPS = 7
_STEPS = (1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0)
_ONE = {"inch": float(read_force("1 lbf")), "mm": 1.0}


@dataclass(frozen=True, slots=True)
class _Axes:
    """Where angle and force lie on paper, the origin at the lower left corner of the plot.

    `low_N` and `high_N` are whole steps, so that every label of the scale stands at its own height.
    """

    most_deg: float
    low_N: float
    high_N: float
    step_N: float
    width_mm: float
    height_mm: float

    def at(self, angle_deg: float, force_N: float) -> Point:
        """A point of the plot [mm]."""
        share = (min(max(force_N, self.low_N), self.high_N) - self.low_N) / (self.high_N - self.low_N)
        return angle_deg / self.most_deg * self.width_mm, share * self.height_mm


def draw_force(
    job: Job, leaf: Leaf, work: LeafOpening, width_mm: float = WIDTH_MM, height_mm: float = HEIGHT_MM
) -> Drawing:
    """The force curve of one leaf.

    Args:
        job: The finished job.
        leaf: The leaf.
        work: What its opening asks.
        width_mm: Width of the sheet of paper [mm].
        height_mm: Height of the plot itself [mm].
    """
    units = job.plan.units
    rows = [row for row in work.angles if row.angle_deg <= work.rest_deg + 1e-6]
    propped = _propped(rows, work)
    axes = _axes(rows, propped, work, units, width_mm - 2 * MARGIN_MM - _LEFT_MM - _RIGHT_MM, height_mm)
    drawn = [*_grid(axes, units), *_band(axes, rows), *_stops(axes, work, leaf)]
    drawn += _limit(axes, work, units)
    drawn += _curves(axes, rows, propped)
    drawn += _names(axes, rows, propped, work, units, drawn)
    title, note = word("drawings.lid.force.title"), word("drawings.lid.force.note")
    left_mm = -(MARGIN_MM + _LEFT_MM)
    alt = _in_words(work, propped, units)
    return on_sheet(drawn, title, note, width_mm, 1.0, units, alt, left_mm=left_mm, bar=False)


def _propped(rows: Sequence[AtAngle], work: LeafOpening) -> list[AtAngle]:
    """The rows at which a bar can hold it: from its least opening to its widest."""
    if work.prop is None or not work.prop.holes:
        return []
    first, last = work.prop.holes[0].angle_deg, work.prop.holes[-1].angle_deg
    return [row for row in rows if first - 1e-6 <= row.angle_deg <= last + 1e-6]


def _axes(
    rows: Sequence[AtAngle], propped: Sequence[AtAngle], work: LeafOpening, units: Units, width_mm: float,
    height_mm: float,
) -> _Axes:  # fmt: skip
    one, limit = _ONE[units], work.reach.limit_N
    low = min(0.0, *(row.lift_low_N for row in rows))
    high = max(limit, *(row.lift_high_N for row in rows), *(row.prop_force_N for row in propped), one)
    step = _step((high - low) / one) * one
    low = math.floor(low / step - 1e-9) * step if low < -1e-6 else 0.0
    high = math.ceil(high * 1.04 / step) * step
    return _Axes(max(work.rest_deg, work.reach.wanted_deg, 1.0), low, high, step, width_mm, height_mm)


def _step(span: float) -> float:
    return next((step for step in _STEPS if span / step <= _MOST_STEPS), _STEPS[-1])


def _grid(axes: _Axes, units: Units) -> Iterator[Mark]:
    one, step = _ONE[units], axes.step_N
    drop = CAP_HEIGHT * _TEXT_MM / 2
    for k in range(round(axes.low_N / step), round(axes.high_N / step) + 1):
        x, y = axes.at(0.0, k * step)
        yield Line("axis" if k == 0 else "scale-line", ((x, y), (x + axes.width_mm, y)))
        text = f"{k * step / one:g} {'lbf' if units == 'inch' else 'N'}"
        yield Text("note", (x - 2.0, y - drop), text.replace("-", "\N{MINUS SIGN}"), _TEXT_MM, "end")
    yield Line("axis", (axes.at(0.0, axes.low_N), axes.at(0.0, axes.high_N)))
    by = 10.0 if axes.most_deg <= 100 else 20.0
    for k in range(int(axes.most_deg / by) + 1):
        x, y = axes.at(k * by, axes.low_N)
        yield Line("axis", ((x, y), (x, y - 1.2)))
        yield Text("note", (x, y - 5.0), f"{k * by:g}°", _TEXT_MM, "middle")
    middle = axes.width_mm / 2
    yield Text(
        "note", (middle, axes.at(0.0, axes.low_N)[1] - 10.0), word("drawings.lid.force.angle"), _TEXT_MM, "middle"
    )


def _band(axes: _Axes, rows: Sequence[AtAngle]) -> Iterator[Mark]:
    upper = [axes.at(row.angle_deg, row.lift_high_N) for row in rows]
    lower = [axes.at(row.angle_deg, row.lift_low_N) for row in rows]
    if len(rows) > 1:
        yield Area("band", (*upper, *reversed(lower)))


def _stops(axes: _Axes, work: LeafOpening, leaf: Leaf) -> Iterator[Mark]:
    """Upright lines where it is propped open, where it balances, and where it rests."""
    stops = [("wanted", work.reach.wanted_deg), ("balances", work.over_centre_deg), ("rest", leaf.swing.rest.lies_deg)]
    shown: list[tuple[str, float]] = []
    for name, angle_deg in stops:
        if 0 < angle_deg <= axes.most_deg + 1e-6 and all(abs(angle_deg - other) > 1.0 for _, other in shown):
            shown.append((name, angle_deg))
    shown.sort(key=lambda stop: stop[1])
    texts = [f"{word(f'drawings.lid.force.{name}')} {show_angle(round(angle_deg))}" for name, angle_deg in shown]
    wanted = [axes.at(angle_deg, 0.0)[0] for _, angle_deg in shown]
    widths = [text_width_mm(text, _TEXT_MM) + 3.0 for text in texts]
    middles = spread(wanted, widths, 0.0, axes.width_mm + 1.5)
    for (_, angle_deg), text, middle in zip(shown, texts, middles, strict=True):
        low, high = axes.at(angle_deg, axes.low_N), axes.at(angle_deg, axes.high_N)
        yield Line("centre-line", (low, high, (middle, high[1] + 1.2)))
        yield Text("note", (middle, high[1] + 2.0), text, _TEXT_MM, "middle")


def _limit(axes: _Axes, work: LeafOpening, units: Units) -> Iterator[Mark]:
    low, high = axes.at(0.0, work.reach.limit_N), axes.at(axes.most_deg, work.reach.limit_N)
    yield Line("limit", (low, high))
    text = word("drawings.lid.force.limit", force=show_force(work.reach.limit_N, units))
    yield from _on_patch(Text("note", (high[0] - 1.5, high[1] + 1.6), text, _NAME_MM, "end"))


def _curves(axes: _Axes, rows: Sequence[AtAngle], propped: Sequence[AtAngle]) -> Iterator[Mark]:
    if len(rows) > 1:
        yield Line("curve", tuple(axes.at(row.angle_deg, row.lift_force_N) for row in rows))
    if len(propped) > 1:
        yield Line("curve-bar", tuple(axes.at(row.angle_deg, row.prop_force_N) for row in propped))


def _names(
    axes: _Axes,
    rows: Sequence[AtAngle],
    propped: Sequence[AtAngle],
    work: LeafOpening,
    units: Units,
    drawn: Iterable[Mark],
) -> Iterator[Mark]:
    """The name of each curve beside it, with the figure that counts, clear of words that stand there."""
    taken = [text_corners(mark, 0.6) for mark in drawn if isinstance(mark, Text)]
    named: list[tuple[Point, str]] = []
    if propped:
        widest = propped[-1]
        named.append((axes.at(widest.angle_deg, widest.prop_force_N),
                      f"{show_force(widest.prop_force_N, units)} {word('drawings.lid.force.bar')}"))  # fmt: skip
    up_to = [row for row in rows if row.angle_deg <= work.reach.wanted_deg + 1e-6] or list(rows[:1])
    worst = max(up_to, key=lambda row: row.lift_force_N)
    hand = f"{word('drawings.lid.force.hand')} {show_force(worst.lift_force_N, units)}"
    named.append((axes.at(worst.angle_deg, worst.lift_force_N), hand))
    for (x, y), text in named:
        yield Circle("hand", (x, y), 0.9)
        for dx, dy in ((2.4, 1.6), (2.4, -4.2), (2.4, 6.0), (2.4, -9.0), (6.0, 12.0), (6.0, -14.0)):
            told = Text("title", (x + dx, y + dy), text, _NAME_MM, "start", face="bold")
            if told.at[0] + text_width_mm(text, _NAME_MM, "bold") > axes.width_mm:
                told = Text("title", (x - dx, y + dy), text, _NAME_MM, "end", face="bold")
            corners = text_corners(told, 0.3)
            inside = corners[0][1] > 0.5 and corners[2][1] < axes.height_mm and min(c[0] for c in corners) > 0
            if inside and not any(_meet(corners, other) for other in taken):
                break
        taken.append(text_corners(told, 0.6))
        yield from _on_patch(told)


def _meet(one: Sequence[Point], other: Sequence[Point]) -> bool:
    """Whether two level boxes overlap."""
    (ax, ay), _, (bx, by), _ = one
    (cx, cy), _, (dx, dy), _ = other
    return ax < dx and cx < bx and ay < dy and cy < by


def _on_patch(text: Text) -> tuple[Mark, Mark]:
    return Area("reach", text_corners(text, 0.3)), text


def _in_words(work: LeafOpening, propped: Sequence[AtAngle], units: Units) -> str:
    return word(
        "drawings.lid.force.alt",
        shut=show_force(work.at(0.0).lift_force_N, units),
        most=show_force(work.most_N, units),
        limit=show_force(work.reach.limit_N, units),
        balance=show_angle(round(work.over_centre_deg)),
        widest=show_angle(work.reach.wanted_deg),
        bar=show_force(propped[-1].prop_force_N if propped else 0.0, units),
    )
