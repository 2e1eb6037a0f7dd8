"""Cutting diagrams: each stick drawn as a tape, with a saw mark at every cut and the tape's reading below it.

A stick that the shop saws is drawn as the pieces that come home, each read from its own left end. What is cut alike
shares a diagram.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from clochewright.cuts import AtHome, CutList
from clochewright.drawings.beside import Beside, beside
from clochewright.drawings.lettering import CAP_HEIGHT, text_width_mm
from clochewright.drawings.marks import Area, Circle, Drawing, Line, Mark, Text
from clochewright.drawings.sheet import MARGIN_MM
from clochewright.drawings.stick_readings import (
    alike,
    called,
    comes_from,
    offcut_words,
    piece_ends_m,
    readings,
    runs,
    saw_marks_m,
)
from clochewright.findings import word
from clochewright.measures import Units, inch, show_length

WIDTH_MM = 180.0
_TAPE_MM = 11.0  # height of the tape on paper
_HEAD_MM = 6.5  # kept for the stick's name
_GAP_MM = 3.0
_SAW_PAST_MM = 1.8  # a saw mark stands out of the tape by this much
_HATCH_MM = 2.6  # from one hatch line to the next
_LETTER_MM, _LENGTH_MM, _READING_MM, _NAME_MM = 5.0, 3.7, 3.6, 4.0
_SMALL_MM = 3.3  # lengths within short pieces
_ROOM_MM = 2.2  # kept free between texts
_TIGHT_MM = 0.7  # kept free on either side of a length within its piece
_TINY_MM = 14.0  # pieces alike that are drawn shorter than this are named together


def draw_sticks(cutlist: CutList, units: Units = "inch", width_mm: float = WIDTH_MM) -> tuple[Drawing, ...]:
    """Draws the cutting diagrams, all to the scale at which the longest stick fills the sheet.

    Args:
        cutlist: Its sticks, pieces in sawing order from the left.
        units: How lengths are shown.
        width_mm: Width of the sheets [mm].

    Returns:
        One drawing for each group of `alike`, in its order. Lengths along the stick are to scale, its height is not.
    """
    groups = alike(cutlist)
    if not groups:
        return ()
    scale = max(group[0].sawn.length_m for group in groups) * 1000 / (width_mm - 2 * MARGIN_MM)
    return tuple(_draw_stick(cutlist, group, scale, units, width_mm) for group in groups)


def _draw_stick(cutlist: CutList, group: Sequence[AtHome], scale: float, units: Units, width_mm: float) -> Drawing:
    one, kerf_m, sticks = group[0], cutlist.stock.kerf_m, cutlist.stock.sticks
    stick = one.sawn
    part = f"stick-{one.stick + 1}"
    saws = saw_marks_m(stick, kerf_m)

    def across(distance_m: float) -> float:
        return MARGIN_MM + distance_m * 1000 / scale

    ends = piece_ends_m(stick, kerf_m)
    loose: list[tuple[float, str]] = []
    together = []
    for run in runs(stick):
        letter, piece_m = stick.cuts[run[0]]
        length = show_length(piece_m, units)
        room = across(piece_m) - across(0.0)
        if _size_within(letter, length, room) is not None:
            continue
        if len(run) > 1 and room < _TINY_MM:
            start, end = ends[run[0]][0], ends[run[-1]][1]
            name = word("drawings.pieces", count=str(len(run)), mark=letter, length=length)
            loose.append(((across(start) + across(end)) / 2, name))
            together.append(run)
        else:
            loose += [((across(ends[k][0]) + across(ends[k][1])) / 2, f"{letter} {length}") for k in run]
    rest = (across(ends[-1][1] + kerf_m) if ends else across(0.0)), across(stick.length_m)
    offcut = offcut_words(stick, units)
    offcut_inside = text_width_mm(offcut, _LENGTH_MM, "italic") + 2 * _ROOM_MM < rest[1] - rest[0]
    if stick.offcut_m > 0 and not offcut_inside:
        loose.append(((rest[0] + rest[1]) / 2, offcut))
    told = readings(stick, kerf_m, units, together)
    below = beside([(across(saw_m), words) for saw_m, words in told], _READING_MM, "regular", width_mm)
    above = beside(loose, _LENGTH_MM, "bold", width_mm)
    bottom = MARGIN_MM / 2 + below.height_mm + _SAW_PAST_MM
    top = bottom + _TAPE_MM
    title = called(group, len(sticks))
    about = comes_from(one, sticks[one.stick].length_m, units)
    name_ends = MARGIN_MM + text_width_mm(title, _NAME_MM, "bold") + _GAP_MM + text_width_mm(about, _LENGTH_MM)
    name_from = top + _SAW_PAST_MM + (above.height_mm if above.left_mm < name_ends + _GAP_MM else 0.0)
    height = max(name_from + _HEAD_MM, top + _SAW_PAST_MM + above.height_mm + MARGIN_MM / 2)

    left, right = across(0.0), across(stick.length_m)
    marks: list[Mark] = [Area("piece", ((left, bottom), (right, bottom), (right, top), (left, top)), part)]
    if stick.offcut_m > 0:
        marks += _offcut(*rest, bottom, top, offcut if offcut_inside else "", part)
    marks += _graduations(stick.length_m, scale, bottom, units, part)
    for (mark, length_m), (a, b) in zip(stick.cuts, ends, strict=True):
        marks += _piece(mark, show_length(length_m, units), across(a), across(b), bottom, part)
    marks.append(Line("piece", ((left, bottom), (right, bottom), (right, top), (left, top)), True, part))
    for saw in saws:
        marks += _saw(across(saw), bottom, top, part)
    marks += _readings(below, bottom - _SAW_PAST_MM, part)
    marks += _names_above(above, top, part)
    baseline = name_from + 2.0
    marks.append(Text("title", (left, baseline), title, _NAME_MM, face="bold", part=part))
    marks.append(Text("note", (name_ends, baseline), about, _LENGTH_MM, "end", part=part))
    pieces = ", ".join(f"{mark} {show_length(length, units)}" for mark, length in stick.cuts)
    words = (
        f"{title}, {about}: from the left end {pieces or 'nothing is cut'}; {offcut}. "
        f"Saw at {', '.join(show_length(s, units) for s in saws) or 'no place'}, just past each mark."
    )
    return Drawing(title, width_mm, height, scale, units, tuple(marks), words)


def _size_within(mark: str, length: str, room_mm: float) -> float | None:
    """Size of type at which a length fits its piece, below the mark [mm]; None where it doesn't."""
    if text_width_mm(mark, _LETTER_MM, "bold") + 2 * _TIGHT_MM > room_mm:
        return None
    for size_mm, spare_mm in ((_LENGTH_MM, _ROOM_MM), (_LENGTH_MM, _TIGHT_MM), (_SMALL_MM, _TIGHT_MM)):
        if text_width_mm(length, size_mm) + 2 * spare_mm <= room_mm:
            return size_mm
    return None


def _piece(mark: str, length: str, start: float, end: float, bottom: float, part: str) -> list[Mark]:
    """Mark over length in the middle of a piece, where they fit."""
    size_mm = _size_within(mark, length, end - start)
    if size_mm is None:
        return []
    middle = (start + end) / 2
    return [
        Text("piece", (middle, bottom + 6.6), mark, _LETTER_MM, "middle", face="bold", part=part),
        Text("piece", (middle, bottom + 2.9), length, size_mm, "middle", part=part),
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


def _readings(below: Beside, top: float, part: str) -> Iterator[Mark]:
    """What the tape reads at each saw mark, below `top` [mm]."""
    for seat in below.seats:
        far = top - below.reach_mm(seat)
        if far < top:
            yield Line("leader", ((seat.wanted_mm, top), (below.leader_mm(seat), far)), part=part)
        yield below.text(seat, far, "mark", part, above=False)


def _names_above(above: Beside, tape_top: float, part: str) -> Iterator[Mark]:
    """Names of the pieces too short to hold them, above the tape."""
    low = tape_top + _SAW_PAST_MM
    for seat in above.seats:
        far = low + above.reach_mm(seat)
        yield Circle("rule", (seat.wanted_mm, tape_top - 2.5), 0.5, part)
        bend = seat.wanted_mm, tape_top + 0.5
        yield Line("dimension", ((seat.wanted_mm, tape_top - 2.0), bend, (above.leader_mm(seat), far)), part=part)
        yield above.text(seat, far, "piece", part, above=True)
