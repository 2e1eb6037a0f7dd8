"""The paper: which scale fits, where things stand on the sheet, its heading and its scale bar."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import assert_never

from clochewright.drawings.lettering import text_corners, text_width_mm
from clochewright.drawings.marks import Area, Circle, Drawing, Line, Mark, Point, Text
from clochewright.measures import Units, foot

TITLE_MM = 5.2
NOTE_MM = 3.5
MARGIN_MM = 4.0
_HEADING_MM = 18.0  # kept for title and note at the top
_LINE_MM = 4.4  # and for each further line of the note

# One to so many: whole parts of an inch to the foot, and the usual metric steps. Common practice, no source.
SCALES = {
    "inch": (2.0, 3.0, 4.0, 6.0, 8.0, 10.0, 12.0, 16.0, 20.0, 24.0, 28.0, 32.0, 40.0, 48.0, 64.0, 96.0, 128.0, 192.0),
    "mm": (2.0, 2.5, 4.0, 5.0, 7.5, 10.0, 12.5, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0, 75.0, 100.0, 150.0, 200.0),
}


@dataclass(frozen=True, slots=True)
class Box:
    """An upright box on paper [mm]."""

    left_mm: float
    bottom_mm: float
    right_mm: float
    top_mm: float

    @property
    def width_mm(self) -> float:
        """Left to right [mm]."""
        return self.right_mm - self.left_mm

    @property
    def height_mm(self) -> float:
        """Bottom to top [mm]."""
        return self.top_mm - self.bottom_mm


def box_around(marks: Iterable[Mark], also: Box | None = None) -> Box:
    """The smallest box that holds all marks, lettering and circles included, and another box."""
    points = [point for mark in marks for point in _extent(mark)]
    if also:
        points += [(also.left_mm, also.bottom_mm), (also.right_mm, also.top_mm)]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return Box(min(xs), min(ys), max(xs), max(ys))


def _extent(mark: Mark) -> tuple[Point, ...]:
    if isinstance(mark, Text):
        return text_corners(mark)
    if isinstance(mark, Circle):
        (x, y), r = mark.centre, mark.radius_mm
        return (x - r, y - r), (x + r, y + r)
    return mark.points


def moved(mark: Mark, by: Point) -> Mark:
    """The mark, shifted on paper [mm]."""
    dx, dy = by
    match mark:
        case Line():
            return Line(mark.pen, tuple([(x + dx, y + dy) for x, y in mark.points]), mark.closed, mark.part)
        case Area():
            return Area(mark.pen, tuple([(x + dx, y + dy) for x, y in mark.points]), mark.part)
        case Circle():
            return replace(mark, centre=(mark.centre[0] + dx, mark.centre[1] + dy))
        case Text():
            return replace(mark, at=(mark.at[0] + dx, mark.at[1] + dy))
        case _:
            assert_never(mark)


def heading_mm(note: str, width_mm: float) -> float:
    """Height of title and note at the top of a sheet of that width [mm]."""
    return _HEADING_MM + _LINE_MM * (len(fold(note, NOTE_MM, width_mm - 2 * MARGIN_MM)) - 1)


def heading(title: str, note: str, width_mm: float, height_mm: float) -> list[Mark]:
    """Title and note in the upper left corner of a sheet of that size [mm]."""
    top = height_mm - MARGIN_MM - TITLE_MM * 0.7
    marks: list[Mark] = [Text("title", (MARGIN_MM, top), title, TITLE_MM, face="bold")]
    for k, line in enumerate(fold(note, NOTE_MM, width_mm - 2 * MARGIN_MM)):
        marks.append(Text("note", (MARGIN_MM, top - 5.4 - _LINE_MM * k), line, NOTE_MM))
    return marks


def on_sheet(
    drawn: Sequence[Mark],
    title: str,
    note: str,
    width_mm: float,
    scale: float,
    units: Units,
    alt: str,
    *,
    left_mm: float | None = None,
    bar: bool = True,
) -> Drawing:
    """What was drawn, set on a sheet below its title and note.

    Args:
        drawn: The marks, wherever they lie.
        title: What the sheet shows.
        note: What is to be known of it.
        width_mm: Width of the sheet [mm]; its height is what it takes.
        scale: One to so many.
        units: What its lengths are shown in.
        alt: The drawing in words.
        left_mm: What lies on the sheet's left edge [mm]; a margin before the leftmost mark if left out.
        bar: Whether a scale bar stands in the upper right corner.
    """
    whole = box_around(drawn)
    height_mm = whole.height_mm + heading_mm(note, width_mm) + MARGIN_MM
    shift = (MARGIN_MM - whole.left_mm if left_mm is None else -left_mm, MARGIN_MM - whole.bottom_mm)
    marks = [moved(mark, shift) for mark in drawn]
    marks += heading(title, note, width_mm, height_mm)
    if bar:
        marks += scale_bar((width_mm - MARGIN_MM - 4.0, height_mm - MARGIN_MM - 3.6), scale, units)
    return Drawing(title, width_mm, height_mm, scale, units, tuple(marks), alt)


def fold(text: str, size_mm: float, width_mm: float) -> list[str]:
    """The text in lines no wider than `width_mm` [mm], broken between words."""
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width_mm(longer, size_mm) <= width_mm:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


def scale_bar(right: Point, scale: float, units: Units, longest_mm: float = 42.0) -> list[Mark]:
    """A scale bar whose right end stands at `right` [mm]: it stays true however large the sheet is printed."""
    step_m, name = (foot, "ft") if units == "inch" else (0.5, "m")
    steps = max(1, min(4, math.floor(longest_mm * scale / 1000 / step_m)))
    length = steps * step_m * 1000 / scale
    x, y = right[0] - length, right[1]
    marks: list[Mark] = [Line("rule", ((x, y), (x + length, y), (x + length, y + 1.2), (x, y + 1.2)), closed=True)]
    for k in range(0, steps, 2):
        a, b = x + length * k / steps, x + length * (k + 1) / steps
        marks.append(Area("title", ((a, y), (b, y), (b, y + 1.2), (a, y + 1.2))))
    far = steps if units == "inch" else steps * step_m
    marks.append(Text("note", (x, y + 2.2), "0", 3.0, "middle"))
    marks.append(Text("note", (x + length, y + 2.2), f"{far:g} {name}", 3.0, "middle"))
    return marks
