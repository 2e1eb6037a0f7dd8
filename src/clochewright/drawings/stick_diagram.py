"""Cutting diagrams: each stick drawn as a tape, with a saw mark at every cut and the tape's reading below it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from clochewright.cuts import CutList, Stick
from clochewright.drawings.lettering import CAP_HEIGHT, text_width_mm
from clochewright.drawings.marks import Area, Circle, Drawing, Face, Line, Mark, Text
from clochewright.drawings.sheet import MARGIN_MM
from clochewright.drawings.spread import spread
from clochewright.measures import Units, inch, show_length

WIDTH_MM = 180.0
_TAPE_MM = 11.0  # height of the tape on paper
_HEAD_MM = 6.5  # kept for the stick's name
_GAP_MM = 3.0
_ROW_MM = 4.6  # a row of lettering above or below the tape
_LEADER_MM = 3.5  # height of the leaders to it
_FAR_MM = 9.0  # lettering farther than this from its place is turned upright instead
_SAW_PAST_MM = 1.8  # a saw mark stands out of the tape by this much
_HATCH_MM = 2.6  # from one hatch line to the next
_LETTER_MM, _LENGTH_MM, _READING_MM, _NAME_MM = 5.0, 3.7, 3.6, 4.0
_ROOM_MM = 2.2  # kept free between texts

_Label = tuple[float, str]  # where on the sheet [mm] and what


def draw_sticks(cutlist: CutList, units: Units = "inch", width_mm: float = WIDTH_MM) -> tuple[Drawing, ...]:
    """Draws one cutting diagram a stick, all to the scale at which the longest fills the sheet.

    Args:
        cutlist: Its sticks, pieces in sawing order from the left.
        units: How lengths are shown.
        width_mm: Width of the sheets [mm].

    Returns:
        One drawing a stick, in the order of the cut list. Lengths along the stick are to scale, its height is not.
    """
    sticks = cutlist.stock.sticks
    if not sticks:
        return ()
    scale = max(stick.length_m for stick in sticks) * 1000 / (width_mm - 2 * MARGIN_MM)
    return tuple(
        _draw_stick(stick, k, len(sticks), cutlist.stock.kerf_m, scale, units, width_mm)
        for k, stick in enumerate(sticks, start=1)
    )


def saw_marks_m(stick: Stick, kerf_m: float) -> tuple[float, ...]:
    """Where to saw, from the stick's left end: at each figure the saw goes to the right of the mark [m].

    A piece that ends where the stick ends needs no cut.
    """
    marks, reached = [], 0.0
    for _, length_m in stick.cuts:
        reached += length_m
        if reached < stick.length_m - 1e-6:
            marks.append(reached)
        reached += kerf_m
    return tuple(marks)


def _draw_stick(
    stick: Stick, number: int, count: int, kerf_m: float, scale: float, units: Units, width_mm: float
) -> Drawing:
    part = f"stick-{number}"
    saws = saw_marks_m(stick, kerf_m)

    def across(distance_m: float) -> float:
        return MARGIN_MM + distance_m * 1000 / scale

    ends = _piece_ends(stick, kerf_m)
    loose = [
        ((across(a) + across(b)) / 2, f"{mark} {show_length(length, units)}")
        for (mark, length), (a, b) in zip(stick.cuts, ends, strict=True)
        if not _fits_within(mark, show_length(length, units), across(b) - across(a))
    ]
    rest = (across(ends[-1][1] + kerf_m) if ends else across(0.0)), across(stick.length_m)
    offcut = _offcut_words(stick, units)
    offcut_inside = text_width_mm(offcut, _LENGTH_MM, "italic") + 2 * _ROOM_MM < rest[1] - rest[0]
    if stick.offcut_m > 0 and not offcut_inside:
        loose.append(((rest[0] + rest[1]) / 2, offcut))
    readings = _beside([(across(s), show_length(s, units)) for s in saws], _READING_MM, "regular", width_mm)
    above = _beside(loose, _LENGTH_MM, "bold", width_mm)
    bottom = MARGIN_MM / 2 + readings.height_mm + _SAW_PAST_MM
    top = bottom + _TAPE_MM
    name = f"Stick {number} of {count}"
    origin = "to buy" if stick.origin == "buy" else "on hand"
    about = f"{show_length(stick.length_m, units, style='long')}, {origin}"
    name_ends = MARGIN_MM + text_width_mm(name, _NAME_MM, "bold") + _GAP_MM + text_width_mm(about, _LENGTH_MM)
    name_from = top + _SAW_PAST_MM + (above.height_mm if above.left_mm < name_ends + _GAP_MM else 0.0)
    height = max(name_from + _HEAD_MM, top + _SAW_PAST_MM + above.height_mm + MARGIN_MM / 2)

    left, right = across(0.0), across(stick.length_m)
    marks: list[Mark] = [Area("piece", ((left, bottom), (right, bottom), (right, top), (left, top)), part)]
    if stick.offcut_m > 0:
        marks += _offcut(*rest, bottom, top, offcut if offcut_inside else "", part)
    marks += _graduations(stick.length_m, scale, bottom, units, part)
    for (mark, length), (a, b) in zip(stick.cuts, ends, strict=True):
        marks += _piece(mark, show_length(length, units), across(a), across(b), bottom, part)
    marks.append(Line("piece", ((left, bottom), (right, bottom), (right, top), (left, top)), True, part))
    for saw in saws:
        marks += _saw(across(saw), bottom, top, part)
    marks += _readings(readings, bottom - _SAW_PAST_MM, part)
    marks += _names_above(above, top, part)
    baseline = name_from + 2.0
    marks.append(Text("title", (left, baseline), name, _NAME_MM, face="bold", part=part))
    marks.append(Text("note", (name_ends, baseline), about, _LENGTH_MM, "end", part=part))
    pieces = ", ".join(f"{mark} {show_length(length, units)}" for mark, length in stick.cuts)
    words = (
        f"{name}, {about}: from the left end {pieces or 'nothing is cut'}; {offcut}. "
        f"Saw at {', '.join(show_length(s, units) for s in saws) or 'no place'}, just past each mark."
    )
    return Drawing(name, width_mm, height, scale, units, tuple(marks), words)


def _piece_ends(stick: Stick, kerf_m: float) -> list[tuple[float, float]]:
    """Where each piece starts and ends along the stick [m]."""
    ends, reached = [], 0.0
    for _, length_m in stick.cuts:
        ends.append((reached, reached + length_m))
        reached += length_m + kerf_m
    return ends


def _offcut_words(stick: Stick, units: Units) -> str:
    return f"offcut {show_length(stick.offcut_m, units)}" if stick.offcut_m > 0 else "no offcut"


def _fits_within(mark: str, length: str, room_mm: float) -> bool:
    widest = max(text_width_mm(mark, _LETTER_MM, "bold"), text_width_mm(length, _LENGTH_MM))
    return widest + 2 * _ROOM_MM <= room_mm


def _piece(mark: str, length: str, start: float, end: float, bottom: float, part: str) -> list[Mark]:
    """Mark over length in the middle of a piece, where they fit."""
    if not _fits_within(mark, length, end - start):
        return []
    middle = (start + end) / 2
    return [
        Text("piece", (middle, bottom + 6.6), mark, _LETTER_MM, "middle", face="bold", part=part),
        Text("piece", (middle, bottom + 2.9), length, _LENGTH_MM, "middle", part=part),
    ]


def _offcut(start: float, end: float, bottom: float, top: float, words: str, part: str) -> list[Mark]:
    """A tinted, hatched rest; the hatch leaves room for its words."""
    marks: list[Mark] = [Area("offcut", ((start, bottom), (end, bottom), (end, top), (start, top)), part)]
    middle = (start + end) / 2
    half = text_width_mm(words, _LENGTH_MM, "italic") / 2 + 1.5 if words else 0.0
    rise = top - bottom
    x = start - rise + _HATCH_MM
    while x < end:
        low, high = max(x, start), min(x + rise, end)
        if high - low > 0.3 and (high < middle - half or low > middle + half):
            marks.append(Line("offcut", ((low, bottom + low - x), (high, bottom + high - x)), part=part))
        x += _HATCH_MM
    if words:
        y = (bottom + top) / 2 - CAP_HEIGHT * _LENGTH_MM / 2
        marks.append(Text("offcut", (middle, y), words, _LENGTH_MM, "middle", face="italic", part=part))
    return marks


def _graduations(length_m: float, scale: float, bottom: float, units: Units, part: str) -> list[Mark]:
    """The tape's own strokes along its lower edge: each 3 in and foot, or each 100 mm and half metre."""
    step_m, long_every = (3 * inch, 4) if units == "inch" else (0.1, 5)
    marks: list[Mark] = []
    for k in range(1, int(length_m / step_m + 1e-6) + 1):
        x = MARGIN_MM + k * step_m * 1000 / scale
        if k * step_m < length_m - 1e-6:
            stroke = 1.9 if k % long_every == 0 else 0.9
            marks.append(Line("rule", ((x, bottom), (x, bottom + stroke)), part=part))
    return marks


def _saw(x: float, bottom: float, top: float, part: str) -> list[Mark]:
    """A saw mark: a stroke right through the tape under a small tooth that points at it."""
    high = top + _SAW_PAST_MM
    return [
        Line("saw", ((x, bottom - _SAW_PAST_MM), (x, high)), part=part),
        Area("saw", ((x, top - 0.6), (x + 1.3, high), (x - 1.3, high)), part),
    ]


@dataclass(frozen=True, slots=True)
class _Beside:
    """Lettering beside the tape: where each text stands, where it belongs, the text; upright where too wide."""

    seats: tuple[tuple[float, float, str], ...]
    size_mm: float
    face: Face
    upright: bool = False

    @property
    def led(self) -> bool:
        """Whether leaders are wanted."""
        return any(abs(x - wanted) > 0.1 for x, wanted, _ in self.seats)

    @property
    def left_mm(self) -> float:
        """Where the lettering starts on the left; past any sheet, if there is none [mm]."""
        if not self.seats:
            return math.inf
        x, _, text = self.seats[0]
        return x - (self.size_mm if self.upright else text_width_mm(text, self.size_mm, self.face)) / 2

    @property
    def height_mm(self) -> float:
        """Height that the lettering takes up, its leaders included [mm]."""
        if not self.seats:
            return 0.0
        widest = max(text_width_mm(text, self.size_mm, self.face) for _, _, text in self.seats)
        return (widest + 2.0 if self.upright else _ROW_MM) + (_LEADER_MM if self.led else 0.0)


def _beside(labels: list[_Label], size_mm: float, face: Face, width_mm: float) -> _Beside:
    """Seats lettering beside the tape: level if each text stands near its place, else upright."""
    level = [text_width_mm(text, size_mm, face) + _ROOM_MM for _, text in labels]
    seats = _seats(labels, level, width_mm)
    if all(abs(x - wanted) <= _FAR_MM and x > MARGIN_MM for x, wanted, _ in seats):
        return _Beside(seats, size_mm, face)
    return _Beside(_seats(labels, [size_mm * 1.15] * len(labels), width_mm), size_mm, face, upright=True)


def _seats(labels: list[_Label], widths: list[float], width_mm: float) -> tuple[tuple[float, float, str], ...]:
    margin = MARGIN_MM - _ROOM_MM / 2
    stands = spread([wanted for wanted, _ in labels], widths, margin, width_mm - margin)
    return tuple((x, wanted, text) for x, (wanted, text) in zip(stands, labels, strict=True))


def _readings(beside: _Beside, top: float, part: str) -> Iterator[Mark]:
    """What the tape reads at each saw mark, below `top` [mm]."""
    cap = CAP_HEIGHT * beside.size_mm
    high = top - (_LEADER_MM if beside.led else 0.0)
    for x, wanted, text in beside.seats:
        if beside.led:
            yield Line("leader", ((wanted, top), (x, high - 0.3)), part=part)
        if beside.upright:
            yield Text("mark", (x + cap / 2, high - 1.0), text, beside.size_mm, "end", 90.0, part=part)
        else:
            yield Text("mark", (x, high - cap - 1.0), text, beside.size_mm, "middle", part=part)


def _names_above(beside: _Beside, tape_top: float, part: str) -> Iterator[Mark]:
    """Names of the pieces too short to hold them, above the tape."""
    cap = CAP_HEIGHT * beside.size_mm
    low = tape_top + _SAW_PAST_MM + (_LEADER_MM if beside.led else 0.0)
    for x, wanted, text in beside.seats:
        yield Circle("rule", (wanted, tape_top - 2.5), 0.5, part)
        yield Line("dimension", ((wanted, tape_top - 2.0), (wanted, tape_top + 0.5), (x, low + 0.3)), part=part)
        if beside.upright:
            yield Text("piece", (x + cap / 2, low + 1.0), text, beside.size_mm, "start", 90.0, beside.face, part)
        else:
            yield Text("piece", (x, low + 1.2), text, beside.size_mm, "middle", face=beside.face, part=part)
