"""The rolls with the sheets that come off them, to scale, and what is left."""

from __future__ import annotations

from collections.abc import Iterable

from clochewright.drawings.lettering import CAP_HEIGHT, text_width_mm
from clochewright.drawings.marks import Area, Drawing, Line, Mark, Text
from clochewright.drawings.sheet import MARGIN_MM, SCALES, on_sheet
from clochewright.film import CutRoll, FilmPlan, Placed
from clochewright.findings import word
from clochewright.measures import Units, show_length

_NAME_MM, _SMALL_MM = 3.6, 3.0
_GAP_MM = 9.0
_HEIGHT_MM = 220.0  # of all rolls together


def draw_rolls(film: FilmPlan, units: Units, width_mm: float) -> Drawing | None:
    """Every roll of film and of other cloth, unrolled from left to right; None where no roll gives the sheets."""
    rolls = [*film.rolls, *(roll for more in film.more for roll in more.rolls)]
    if not rolls:
        return None
    longest_m = max(roll.length_m for roll in rolls)
    deep_m = sum(roll.width_m for roll in rolls)
    high_mm = max(_HEIGHT_MM - len(rolls) * _GAP_MM, _HEIGHT_MM / 3)
    scale = next(
        (s for s in SCALES[units] if longest_m * 1000 / s <= width_mm - 2 * MARGIN_MM and deep_m * 1000 / s <= high_mm),
        SCALES[units][-1],
    )
    size = 1000 / scale
    drawn: list[Mark] = []
    low = 0.0
    for number, roll in enumerate(rolls, start=1):
        low -= roll.width_m * size
        drawn += _roll(roll, low, size, units)
        name = word("drawings.pattern.roll-title", number=str(number), count=str(len(rolls)), label=roll.label)
        drawn.append(Text("title", (0.0, low + roll.width_m * size + 1.6), name, _NAME_MM, face="bold"))
        low -= _GAP_MM
    title, note = word("drawings.pattern.rolls-title"), word("drawings.pattern.note-rolls")
    alt = word("drawings.pattern.alt-rolls", count=len(rolls))
    return on_sheet(drawn, title, note, width_mm, scale, units, alt)


def _roll(roll: CutRoll, low: float, size: float, units: Units) -> Iterable[Mark]:
    yield from _box("offcut", 0.0, low, roll.length_m * size, roll.width_m * size)
    for placed in roll.placed:
        x, y = placed.along_m * size, low + placed.across_m * size
        yield from _box("sheet", x, y, placed.run_m * size, placed.breadth_m * size)
        yield from _named(placed, x, y, size, units)
    for left in roll.left:
        x, y = (roll.length_m - left.length_m, 0.0) if left.name == "end" else (0.0, roll.width_m - left.width_m)
        length, width = (show_length(m, units) for m in (left.length_m, left.width_m))
        text = word("drawings.pattern.left-end", length=length, width=width)
        yield from _inside(text, x * size, low + y * size, left.length_m * size, left.width_m * size)


def _named(placed: Placed, x: float, y: float, size: float, units: Units) -> Iterable[Mark]:
    name = placed.sheet.name.partition(",")
    said = word(f"film.piece.{name[0].replace(' ', '-')}") + name[1] + name[2]
    length, width = (show_length(m, units) for m in (placed.sheet.length_m, placed.sheet.width_m))
    full = word("drawings.pattern.piece", name=said, length=length, width=width)
    for text in (full, said):
        inside = list(_inside(text, x, y, placed.run_m * size, placed.breadth_m * size))
        if inside:
            yield from inside
            return


def _box(pen: str, x: float, y: float, width: float, height: float) -> tuple[Mark, Mark]:
    corners = ((x, y), (x + width, y), (x + width, y + height), (x, y + height))
    return Area(pen, corners), Line(pen, corners, closed=True)


def _inside(text: str, x: float, y: float, width: float, height: float) -> Iterable[Mark]:
    """A text in the middle of a box, along it or up it, as far as it fits."""
    need = text_width_mm(text, _SMALL_MM) + 2.0
    drop = CAP_HEIGHT * _SMALL_MM / 2
    if need <= width and height > _SMALL_MM:
        yield Text("note", (x + width / 2, y + height / 2 - drop), text, _SMALL_MM, "middle")
    elif need <= height and width > _SMALL_MM:
        yield Text("note", (x + width / 2 + drop, y + height / 2), text, _SMALL_MM, "middle", 90.0)
