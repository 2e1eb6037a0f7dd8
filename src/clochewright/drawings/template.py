"""Drilling templates at full size: cards for hinge, latch and bar, with rulers that show a wrong print.

The tape gives the place, the card gives the holes: a strip as long as the rail would have to be joined over many
sheets, each joint less exact than the tape is over the whole.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from clochewright.drawings.drill import PIN_m
from clochewright.drawings.marks import Circle, Drawing, Line, Mark, Point, Text, Units
from clochewright.drawings.sheet import MARGIN_MM, Box, box_around, fold, heading_mm, moved, on_sheet
from clochewright.findings import word
from clochewright.job import Job
from clochewright.lid import Fixing, Leaf, Prop
from clochewright.measures import inch, show_drill, show_length
from clochewright.strength import FixingWork, LeafOpening

WIDTH_MM, HEIGHT_MM = 180.0, 238.0
_TEXT_MM, _NAME_MM, _ROW_MM = 3.2, 4.0, 4.4
_GAP_MM = 4.0
_PAD_MM = 3.0
_CROSS_MM = 4.5  # half a cross through a hole
# What usual hardware measures; common practice, no source.
_WIDE_m = {"hinge": 0.076, "latch": 0.050}
_IN_BOARD_m = 0.019  # holes in the board, below its top
_BOARD_SHOWN_m = 0.030
_RULER_UP_MM = 9.0
_FAR_MM = 115.0  # pivot and pin further apart than this share no card


@dataclass(frozen=True, slots=True)
class _Card:
    """One card, its lower left corner at the origin."""

    name: str
    width_mm: float
    height_mm: float
    marks: tuple[Mark, ...]


def draw_templates(
    job: Job, leaf: Leaf, work: LeafOpening, width_mm: float = WIDTH_MM, height_mm: float = HEIGHT_MM
) -> list[Drawing]:
    """The templates of one leaf, to be printed at full size.

    Args:
        job: The finished job.
        leaf: The leaf; those alike use the same cards.
        work: What its opening asks.
        width_mm: Width of a sheet [mm].
        height_mm: Greatest height of a sheet [mm].
    """
    room_mm = width_mm - 2 * MARGIN_MM
    note = word("drawings.lid.template.note")
    high_mm = height_mm - heading_mm(note, width_mm) - _RULER_UP_MM - 10.0 - MARGIN_MM
    cards = list(_cards(job, leaf, work))
    sheets = _packed(cards, room_mm, high_mm) if cards else []
    return [_sheet(cards, number, len(sheets), job, width_mm) for number, cards in enumerate(sheets, start=1)]


def _cards(job: Job, leaf: Leaf, work: LeafOpening) -> Iterator[_Card]:
    for fixing in work.fixings:
        many = leaf.hinges if fixing.what == "hinge" else leaf.latches
        nothing_to_drill = fixing.how == "saddles" and leaf.body.kind == "panel"
        if many and not nothing_to_drill:
            yield _fixing_card(job, leaf, fixing, many)
    if leaf.props:
        yield _prop_card(job, leaf, leaf.props[0])


def _packed(cards: Sequence[_Card], width_mm: float, height_mm: float) -> list[list[_Card]]:
    """Cards on as few sheets as they take: below each other in two columns, or else in rows, moved to their places."""
    *left, right = cards
    stacked_mm = sum(card.height_mm + _GAP_MM for card in left) - _GAP_MM
    wide_mm = max((card.width_mm for card in left), default=0.0) + _GAP_MM + right.width_mm
    if left and wide_mm <= width_mm and max(stacked_mm, right.height_mm) <= height_mm:
        tops = [-sum(card.height_mm + _GAP_MM for card in left[:k]) for k in range(len(left))]
        placed = [_at(card, (0.0, top - card.height_mm)) for card, top in zip(left, tops, strict=True)]
        return [[*placed, _at(right, (wide_mm - right.width_mm, -right.height_mm))]]
    sheets: list[list[_Card]] = [[]]
    x, top, row_mm = 0.0, 0.0, 0.0
    for card in cards:
        if x > 0 and x + card.width_mm > width_mm:
            x, top, row_mm = 0.0, top - row_mm - _GAP_MM, 0.0
        if sheets[-1] and -(top - card.height_mm) > height_mm:
            sheets.append([])
            x, top, row_mm = 0.0, 0.0, 0.0
        sheets[-1].append(_at(card, (x, top - card.height_mm)))
        x += card.width_mm + _GAP_MM
        row_mm = max(row_mm, card.height_mm)
    return [sheet for sheet in sheets if sheet]


def _at(card: _Card, by: Point) -> _Card:
    return replace(card, marks=tuple(moved(mark, by) for mark in card.marks))


def _sheet(cards: Sequence[_Card], number: int, count: int, job: Job, width_mm: float) -> Drawing:
    units = job.plan.units
    drawn: list[Mark] = [mark for card in cards for mark in card.marks]
    whole = box_around(drawn)
    drawn += _rulers((whole.left_mm, whole.top_mm + 8.0))
    title = word(f"drawings.lid.template.title{'-of' if count > 1 else ''}", number=str(number), count=str(count))
    note = word("drawings.lid.template.note")
    alt = word("drawings.lid.template.alt", cards=", ".join(dict.fromkeys(card.name for card in cards)))
    left_mm = min(0.0, box_around(drawn).left_mm) - MARGIN_MM
    return on_sheet(drawn, title, note, width_mm, 1.0, units, alt, left_mm=left_mm, bar=False)


def _rulers(at: Point) -> Iterator[Mark]:
    """Two inches in eighths and fifty millimetres in fives, side by side."""
    for x, steps, step_mm, long, name in (
        (at[0], 16, inch * 1000 / 8, 8, show_length(2 * inch, "inch")),
        (at[0] + 84.0, 10, 5.0, 2, show_length(0.05, "mm")),
    ):
        y, length = at[1], steps * step_mm
        yield Line("axis", ((x, y), (x + length, y)))
        for k in range(steps + 1):
            tall = 4.0 if k % long == 0 else 2.2
            yield Line("axis", ((x + k * step_mm, y), (x + k * step_mm, y + tall)))
        yield Text("note", (x + length + 2.0, y + 0.6), word("drawings.lid.template.ruler", length=name), _TEXT_MM)


def _fixing_card(job: Job, leaf: Leaf, fixing: FixingWork, many: Sequence[Fixing]) -> _Card:
    """A hinge or a latch, as seen from outside: the rail above, the board or the frame's rail below."""
    units, what = job.plan.units, fixing.what
    pipe_mm = job.frame.pipe_outside_diameter_m * 1000
    middle_mm = _rail_up_m(job, leaf) * 1000  # of the rail, above the edge that the fixing bridges
    wide, stays = _WIDE_m[what] * 1000, leaf.body.kind == "panel"
    half = wide / 2 + 4.0
    low_mm = -middle_mm if stays else -_IN_BOARD_m * 1000
    below_mm = middle_mm + pipe_mm / 2 + 4.0 if stays else _BOARD_SHOWN_m * 1000
    holes = [(x * wide, middle_mm) for x in _spread(fixing.each)]
    marks: list[Mark] = [*_rail(-half, half, middle_mm, pipe_mm)]
    marks += _rail(-half, half, -middle_mm, pipe_mm) if stays else []
    marks.append(Line("rail-line", ((-half, 0.0), (half, 0.0))))
    marks += [Line("centre-line", ((0.0, -below_mm), (0.0, middle_mm + pipe_mm / 2 + 4.0)))]
    for side in (-1.0, 1.0):
        marks.append(Line("cut-line", ((side * wide / 2, -below_mm), (side * wide / 2, middle_mm + pipe_mm / 2 + 2.0))))
    if fixing.how != "saddles":
        diameter = fixing.pipe_hole_m
        marks += [mark for hole in holes for mark in _hole(hole, diameter * 1000)]
        marks += [mark for x, _ in holes for mark in _hole((x, -middle_mm), diameter * 1000)] if stays else []
    if not stays:
        marks += [mark for x, _ in holes for mark in _hole((x, low_mm), fixing.board_pilot_m * 1000)]
    said = {"hole": _drilled(fixing, units), "screw": _screw(fixing, units)}
    words = [
        word(f"drawings.lid.template.{what}-where", marks=", ".join(one.id for one in many)),
        word(f"drawings.lid.template.hole-{fixing.how}", **said),
    ]
    if not stays:
        words.append(word("drawings.lid.template.board-pilot", hole=show_drill(fixing.board_pilot_m, units)))
    if not stays:
        marks.append(_inside(-half, -_TEXT_MM - 0.8, word("drawings.lid.template.rim")))
    marks.append(_inside(-half, middle_mm - pipe_mm / 2 + 1.2, word("drawings.lid.template.pipe")))
    if stays:
        marks.append(_inside(-half, -middle_mm - pipe_mm / 2 + 1.2, word("drawings.lid.template.pipe-stays")))
    return _card(word(f"drawings.lid.template.{what}"), marks, words)


def _inside(left: float, y: float, text: str) -> Text:
    return Text("note", (left + 1.0, y), text, _TEXT_MM)


def _drilled(fixing: FixingWork, units: Units) -> str:
    return show_drill(fixing.pipe_hole_m, units)


def _screw(fixing: FixingWork, units: Units) -> str:
    if fixing.how == "bolts":
        return show_drill(fixing.bolt_m, units)
    return f"{show_drill(fixing.screw_m, units)} × {show_length(fixing.screw_length_m, units)}"


def _rail_up_m(job: Job, leaf: Leaf) -> float:
    """The middle of the hinged rail above the hinge line, or beside it where that runs along a slope [m]."""
    pipe = next(pipe for pipe in job.frame.pipes if pipe.id in leaf.body.hinge_pipes)
    out, up = leaf.line.section(pipe.path_m[0])
    return math.hypot(out, up) / math.sqrt(2) if leaf.body.kind == "panel" else up


def _spread(count: int) -> list[float]:
    """Where so many holes are, as parts of the width from the middle."""
    if count <= 1:
        return [0.0]
    return [-0.34 + 0.68 * k / (count - 1) for k in range(count)]


def _rail(left: float, right: float, middle: float, pipe_mm: float) -> Iterator[Mark]:
    for y in (middle - pipe_mm / 2, middle + pipe_mm / 2):
        yield Line("pipe", ((left, y), (right, y)))
    yield Line("centre-line", ((left, middle), (right, middle)))


def _hole(at: Point, diameter_mm: float) -> Iterator[Mark]:
    """A hole with a cross through its middle, to prick through."""
    x, y = at
    yield Circle("hole", at, max(diameter_mm / 2, 0.4))
    yield Line("leader", ((x - _CROSS_MM, y), (x + _CROSS_MM, y)))
    yield Line("leader", ((x, y - _CROSS_MM), (x, y + _CROSS_MM)))


def _prop_card(job: Job, leaf: Leaf, prop: Prop) -> _Card:
    """Pivot and pin of a bar, as seen from beyond the end of the bed; the pin alone where the two are far apart."""
    units = job.plan.units
    pipe_mm, pin_mm = job.frame.pipe_outside_diameter_m * 1000, PIN_m[units] * 1000
    head, foot = leaf.line.section(prop.head_m), leaf.line.section(prop.foot_m)
    apart_mm = math.dist(head, foot) * 1000
    half, drill = 30.0, show_drill(PIN_m[units], units)
    together = prop.pin_in == "frame" or apart_mm <= _FAR_MM
    marks: list[Mark] = []
    if together:
        name = "pipe" if prop.pin_in == "board" else "rafter"
        marks += [*_rail(-half, half, 0.0, pipe_mm), *_hole((0.0, 0.0), pin_mm)]
        marks.append(_inside(-half, -pipe_mm / 2 + 1.2, word(f"drawings.lid.template.{name}")))
        words = [word("drawings.lid.template.pivot", hole=drill)]
    else:
        from_line = show_length(math.hypot(*head), units)
        words = [word("drawings.lid.template.pivot-far", hole=drill, from_line=from_line)]
    if prop.pin_in == "board":
        rim_mm = -head[1] * 1000 - leaf.line.start_m[2] * 1000
        at = (0.0, (foot[1] - head[1]) * 1000)
        marks.append(Line("rail-line", ((-half, rim_mm), (half, rim_mm))))
        marks.append(_inside(-half, rim_mm - _TEXT_MM - 0.8, word("drawings.lid.template.rim")))
        down = show_length((rim_mm - at[1]) / 1000, units)
        corner = show_length(_bed_across(job, leaf) - leaf.over_m - foot[0], units)
        words.insert(0, word("drawings.lid.template.prop-where", corner=corner))
        words.append(word("drawings.lid.template.pin", hole=drill, down=down))
        top_mm = rim_mm + 6.0
    else:
        # The card lies along the slope, so the pin that is straight below the pivot lies aside on it.
        slope = _slope(job, leaf, prop)
        at = (apart_mm * -math.sin(slope), -apart_mm * math.cos(slope))
        marks += _rail(-half, half, at[1], pipe_mm)
        marks.append(_inside(-half, at[1] - pipe_mm / 2 + 1.2, word("drawings.lid.template.rafter-stays")))
        along = show_length(math.hypot(*head), units)
        words.insert(0, word("drawings.lid.template.prop-where-frame", corner=along))
        words.append(word("drawings.lid.template.pin-frame", hole=drill))
        top_mm = 0.0
    marks.append(Line("centre-line", ((0.0, pipe_mm / 2 + 4.0 if together else top_mm), (0.0, at[1] - 8.0))))
    marks += _hole(at, pin_mm)
    return _card(word("drawings.lid.template.prop"), marks, words)


def _slope(job: Job, leaf: Leaf, prop: Prop) -> float:
    """How the rafter that carries the pivot rises over the bed [rad]."""
    pipe = next(pipe for pipe in job.frame.pipes if pipe.id == prop.pipe)
    a, b = sorted((leaf.line.section(pipe.path_m[0]), leaf.line.section(pipe.path_m[-1])))
    return math.atan2(b[1] - a[1], b[0] - a[0])


def _bed_across(job: Job, leaf: Leaf) -> float:
    bed = job.plan.bed
    return bed.outside_width_m if abs(leaf.line.over[1]) > 0.5 else bed.outside_length_m


def _card(name: str, marks: Sequence[Mark], words: Sequence[str]) -> _Card:
    """A card with its name above and its words below, cut round."""
    whole = box_around(marks)
    width = max(whole.width_mm, 64.0)
    lines = [line for text in words for line in fold(text, _TEXT_MM, width)]
    drawn = list(marks)
    y = whole.bottom_mm - _ROW_MM - 1.0
    for line in lines:
        drawn.append(Text("note", (whole.left_mm, y), line, _TEXT_MM))
        y -= _ROW_MM
    drawn.append(Text("title", (whole.left_mm, whole.top_mm + 3.0), name, _NAME_MM, face="bold"))
    box = box_around(drawn, Box(whole.left_mm, whole.bottom_mm, whole.left_mm + width, whole.top_mm))
    by = (_PAD_MM - box.left_mm, _PAD_MM - box.bottom_mm)
    size = (box.width_mm + 2 * _PAD_MM, box.height_mm + 2 * _PAD_MM)
    placed = [moved(mark, by) for mark in drawn]
    placed.append(Line("cut-line", ((0.0, 0.0), (size[0], 0.0), size, (0.0, size[1])), closed=True))
    return _Card(name, size[0], size[1], tuple(placed))
