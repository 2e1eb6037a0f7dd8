"""Dimension lines: extension lines, ticks, and a text above the line that says what is measured.

Everything is on paper, in millimetres. Text too wide for its gap moves to a row of its own beyond the line, on a thin
leader, so that short gaps beside long ones stay readable.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from clochewright.drawings.lettering import CAP_HEIGHT, text_width_mm
from clochewright.drawings.marks import Line, Mark, Point, Text
from clochewright.drawings.spread import spread

TEXT_MM = 3.7
ROW_MM = 6.2  # from one row of dimensions to the next
_CLEAR_MM = 1.1  # between text and line, and between the measured point and its extension line
_PAST_MM = 1.3  # extension lines run on past the dimension line
_TICK_MM = 1.1  # half a tick, along and across
_FAR_MM = 14.0  # a text farther than this from its gap is hard to follow
_KNEE_MM = 4.5  # from a line to the upright readings beyond it
_ROOM_MM = 1.8  # kept free beside a text


@dataclass(frozen=True, slots=True)
class Rule:
    """Where a dimension line lies: its direction and how far out.

    `along` is the unit direction of reading, `below` whether the line lies on the reader's lower side of what it
    measures, `level_mm` its distance from the paper's origin in the direction away from that [mm].
    """

    along: Point
    below: bool
    level_mm: float

    @property
    def up(self) -> Point:
        """Unit direction to the reader's upper side."""
        return -self.along[1], self.along[0]

    @property
    def out(self) -> Point:
        """Unit direction away from what is measured."""
        return (self.along[1], -self.along[0]) if self.below else self.up

    @property
    def turn_deg(self) -> float:
        """Turn of the lettering [deg]."""
        return math.degrees(math.atan2(self.along[1], self.along[0]))

    def along_of(self, point: Point) -> float:
        """How far along the rule a point stands [mm]."""
        return point[0] * self.along[0] + point[1] * self.along[1]

    def out_of(self, point: Point) -> float:
        """How far out a point stands [mm]."""
        return point[0] * self.out[0] + point[1] * self.out[1]

    def at(self, along_mm: float, beyond_mm: float = 0.0) -> Point:
        """The point `along_mm` along the rule and `beyond_mm` beyond its line [mm]."""
        away = self.level_mm + beyond_mm
        return along_mm * self.along[0] + away * self.out[0], along_mm * self.along[1] + away * self.out[1]

    def text(self, along_mm: float, beyond_mm: float, text: str) -> Text:
        """A text whose middle stands over `along_mm`, its baseline `beyond_mm` beyond the line [mm]."""
        return Text("dimension", self.at(along_mm, beyond_mm), text, TEXT_MM, "middle", self.turn_deg)


def level_below(y_mm: float) -> Rule:
    """A level rule at height `y_mm`, below what it measures."""
    return Rule((1.0, 0.0), True, -y_mm)


def level_above(y_mm: float) -> Rule:
    """A level rule at height `y_mm`, above what it measures."""
    return Rule((1.0, 0.0), False, y_mm)


def upright_right(x_mm: float) -> Rule:
    """An upright rule at `x_mm`, to the right of what it measures; read from below."""
    return Rule((0.0, 1.0), True, x_mm)


def upright_left(x_mm: float) -> Rule:
    """An upright rule at `x_mm`, to the left of what it measures; read from below."""
    return Rule((0.0, 1.0), False, -x_mm)


def sloping(start: Point, end: Point, away_mm: float) -> Rule:
    """A rule along a slope, `away_mm` above the line from `start` (left) to `end` (right)."""
    length = math.dist(start, end)
    along = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
    return Rule(along, False, -along[1] * start[0] + along[0] * start[1] + away_mm)


def chain(rule: Rule, points: Sequence[Point], texts: Sequence[str]) -> tuple[list[Mark], int]:
    """Dimensions from each point to the next along one line.

    Args:
        rule: Where the line lies.
        points: What is measured, in the order of reading [mm].
        texts: One for each gap.

    Returns:
        The marks, and how many rows they take up beyond the rule's own: 0 where all texts fit their gaps, else 1.
    """
    stops = [rule.along_of(point) for point in points]
    marks = _line_with_ticks(rule, points, stops)
    seats = _seat(stops, texts)
    for (row, middle), gap_start, gap_end, text in zip(seats, stops, stops[1:], texts, strict=False):
        if row == 0:
            marks.append(rule.text(middle, -_CLEAR_MM if rule.below else _CLEAR_MM, text))
            continue
        cap = CAP_HEIGHT * TEXT_MM
        gap = (gap_start + gap_end) / 2
        half = text_width_mm(text, TEXT_MM) / 2 - 1.0
        knee = min(max(gap, middle - half), middle + half)
        inner = row * ROW_MM - (cap if rule.below else 0.4)  # the text's nearer edge
        marks.append(Line("dimension", (rule.at(gap), rule.at(knee, inner - (0.6 if rule.below else 1.3)))))
        marks.append(rule.text(middle, inner + cap if rule.below else inner, text))
    return marks, max((row for row, _ in seats), default=0)


def running(rule: Rule, points: Sequence[Point], texts: Sequence[str]) -> tuple[list[Mark], int]:
    """Readings of a tape hooked on the first point, upright beyond a level line.

    Args:
        rule: Where the line lies.
        points: What is measured, in the order of reading [mm].
        texts: One for each point but the last, which another dimension is to give.

    Returns:
        As for `chain`.
    """
    stops = [rule.along_of(point) for point in points]
    marks = _line_with_ticks(rule, points, stops)
    cap = CAP_HEIGHT * TEXT_MM
    stands = spread(stops[:-1], [TEXT_MM * 1.2] * len(texts), stops[0], stops[-1] - _CLEAR_MM)
    for stop, stand, text in zip(stops, stands, texts, strict=False):
        marks.append(Line("dimension", (rule.at(stop, _PAST_MM), rule.at(stand, _KNEE_MM))))
        x, y = rule.at(stand, _KNEE_MM + 0.7)
        marks.append(Text("dimension", (x + cap / 2, y), text, TEXT_MM, "end" if rule.below else "start", 90.0))
    longest = max(text_width_mm(text, TEXT_MM) for text in texts)
    return marks, math.ceil((_KNEE_MM + 0.7 + longest) / ROW_MM)


def _line_with_ticks(rule: Rule, points: Sequence[Point], stops: Sequence[float]) -> list[Mark]:
    """The dimension line, its extension lines from the points, and a tick at each."""
    marks: list[Mark] = []
    for point, stop in zip(points, stops, strict=True):
        foot = rule.level_mm - rule.out_of(point)
        if foot > _CLEAR_MM:
            marks.append(Line("dimension", (rule.at(stop, _CLEAR_MM - foot), rule.at(stop, _PAST_MM))))
        marks.append(_tick(rule, stop))
    marks.append(Line("dimension", (rule.at(stops[0]), rule.at(stops[-1]))))
    return marks


def dimension(rule: Rule, start: Point, end: Point, text: str) -> list[Mark]:
    """One dimension from `start` to `end`, in the order of reading [mm]."""
    return chain(rule, (start, end), (text,))[0]


def _tick(rule: Rule, stop: float) -> Line:
    """A short slanting stroke where a dimension ends."""
    (ax, ay), (ux, uy) = rule.along, rule.up
    x, y = rule.at(stop)
    dx, dy = _TICK_MM * (ax + ux), _TICK_MM * (ay + uy)
    return Line("tick", ((x - dx, y - dy), (x + dx, y + dy)))


def crowded(rule: Rule, points: Sequence[Point], texts: Sequence[str]) -> bool:
    """Whether some text of a chain would stand far from its gap, or all of them have no room side by side."""
    stops = [rule.along_of(point) for point in points]
    gaps = [(a + b) / 2 for a, b in pairwise(stops)]
    return any(
        row and not (abs(middle - gap) <= _FAR_MM and middle > stops[0])
        for (row, middle), gap in zip(_seat(stops, texts), gaps, strict=True)
    )


def _seat(stops: Sequence[float], texts: Sequence[str]) -> list[tuple[int, float]]:
    """For each gap: the row of its text, 0 on the line itself or 1 beyond, and where its middle stands [mm]."""
    gaps = [(a + b) / 2 for a, b in pairwise(stops)]
    widths = [text_width_mm(text, TEXT_MM) + _ROOM_MM for text in texts]
    short = [k for k, (a, b) in enumerate(pairwise(stops)) if widths[k] > b - a]
    middles = list(gaps)
    if len(gaps) > 1:  # side by side between the outermost extension lines
        beside = spread([gaps[k] for k in short], [widths[k] for k in short], stops[0], stops[-1])
        for k, middle in zip(short, beside, strict=True):
            middles[k] = middle
    return [(int(k in short), middle) for k, middle in enumerate(middles)]
