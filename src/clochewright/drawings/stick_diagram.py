"""Cutting diagrams: each stick drawn as a tape, with a saw mark at every cut and the tape's reading below it."""

from __future__ import annotations

from clochewright.cuts import CutList, Stick
from clochewright.drawings.lettering import CAP_HEIGHT, text_width_mm
from clochewright.drawings.marks import Area, Drawing, Line, Mark, Text
from clochewright.drawings.sheet import MARGIN_MM
from clochewright.measures import Units, inch, show_length

WIDTH_MM = 180.0
_TAPE_MM = 11.0  # height of the tape on paper
_HEAD_MM = 9.0  # kept above the tape for the stick's name
_ROW_MM = 5.0  # one row of readings below the tape
_SAW_PAST_MM = 1.8  # a saw mark stands out of the tape by this much
_HATCH_MM = 2.6  # from one hatch line to the next
_LETTER_MM, _LENGTH_MM, _READING_MM, _NAME_MM = 5.0, 3.7, 3.6, 4.0
_ROOM_MM = 1.2

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
    offcut_from = ends[-1][1] + kerf_m if ends else 0.0
    offcut = _offcut_words(stick, units)
    has_offcut = offcut_from < stick.length_m - 1e-4
    offcut_inside = text_width_mm(offcut, _LENGTH_MM, "italic") + 2 * _ROOM_MM < across(stick.length_m) - across(
        offcut_from
    )
    if has_offcut and not offcut_inside and stick.offcut_m > 0:
        loose.append(((across(offcut_from) + across(stick.length_m)) / 2, offcut))
    readings = _rows([(across(s), show_length(s, units)) for s in saws], _READING_MM, width_mm)
    above = _rows(loose, _LENGTH_MM, width_mm)
    rows_below, rows_above = _row_count(readings), _row_count(above)
    bottom = MARGIN_MM / 2 + rows_below * _ROW_MM + _SAW_PAST_MM
    top = bottom + _TAPE_MM
    height = top + _SAW_PAST_MM + rows_above * _ROW_MM + _HEAD_MM

    left, right = across(0.0), across(stick.length_m)
    marks: list[Mark] = [Area("piece", ((left, bottom), (right, bottom), (right, top), (left, top)), part)]
    if has_offcut:
        marks += _offcut(across(offcut_from), right, bottom, top, offcut if offcut_inside else "", part)
    marks += _graduations(stick.length_m, scale, bottom, units, part)
    for (mark, length), (a, b) in zip(stick.cuts, ends, strict=True):
        marks += _piece(mark, show_length(length, units), across(a), across(b), bottom, part)
    marks.append(Line("piece", ((left, bottom), (right, bottom), (right, top), (left, top)), True, part))
    for saw in saws:
        marks += _saw(across(saw), bottom, top, part)
    for row, x, wanted, text in readings:
        y = bottom - _SAW_PAST_MM - (row + 1) * _ROW_MM + 1.4
        if row:
            marks.append(Line("leader", ((wanted, bottom - _SAW_PAST_MM), (wanted, y + _READING_MM * 0.8)), part=part))
        marks.append(Text("mark", (x, y), text, _READING_MM, "middle", part=part))
    for row, x, wanted, text in above:
        y = top + _SAW_PAST_MM + row * _ROW_MM + 1.0
        marks.append(Line("dimension", ((wanted, top - _TAPE_MM / 2), (wanted, y - 0.6)), part=part))
        marks.append(Text("piece", (x, y), text, _LENGTH_MM, "middle", face="bold", part=part))
    origin = "to buy" if stick.origin == "buy" else "on hand"
    name = f"Stick {number} of {count}"
    baseline = height - MARGIN_MM / 2 - _NAME_MM * 0.7
    marks.append(Text("title", (left, baseline), name, _NAME_MM, face="bold", part=part))
    about = f"{show_length(stick.length_m, units, style='long')}, {origin}"
    after = left + text_width_mm(name, _NAME_MM, "bold") + 3.0
    marks.append(Text("note", (after, baseline), about, _LENGTH_MM, part=part))
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


def _rows(labels: list[_Label], size_mm: float, width_mm: float) -> list[tuple[int, float, float, str]]:
    """Seats labels in as few rows as keep them apart: (row, where it stands, where it belongs, text) [mm]."""
    ends: list[float] = []
    seats = []
    for wanted, text in labels:
        half = text_width_mm(text, size_mm, "bold") / 2
        x = min(max(wanted, MARGIN_MM + half), width_mm - MARGIN_MM - half)
        row = next((r for r, end in enumerate(ends) if x - half > end + _ROOM_MM), len(ends))
        if row == len(ends):
            ends.append(0.0)
        ends[row] = x + half
        seats.append((row, x, wanted, text))
    return seats


def _row_count(seats: list[tuple[int, float, float, str]]) -> int:
    return max((row for row, _, _, _ in seats), default=-1) + 1
