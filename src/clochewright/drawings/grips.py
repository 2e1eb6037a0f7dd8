"""Where to hold a leaf when it is lifted off, seen from above, with its balance point."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from clochewright.drawings.dimensions import chain, level_below, upright_left
from clochewright.drawings.lettering import text_corners, text_width_mm
from clochewright.drawings.marks import Area, Circle, Drawing, Line, Mark, Point, Text
from clochewright.drawings.members import Placing, frame_solids
from clochewright.drawings.projection import PLAN
from clochewright.drawings.sheet import (
    MARGIN_MM,
    SCALES,
    Box,
    box_around,
    on_sheet,
)
from clochewright.drawings.solids import draw_solids
from clochewright.findings import word
from clochewright.frame import Frame
from clochewright.job import Job
from clochewright.lid import Leaf
from clochewright.measures import show_length
from clochewright.strength import LeafOpening

WIDTH_MM, HEIGHT_MM = 180.0, 70.0
_TEXT_MM = 3.4
_HAND_MM = 2.6
_DIMENSION_MM = 7.0


def draw_grips(
    job: Job, leaf: Leaf, work: LeafOpening, width_mm: float = WIDTH_MM, height_mm: float = HEIGHT_MM
) -> Drawing:
    """The leaf from above with hands on it.

    Args:
        job: The finished job.
        leaf: The leaf.
        work: What its opening asks.
        width_mm: Width of the sheet [mm].
        height_mm: Greatest height of the view itself [mm].
    """
    units = job.plan.units
    mine = _only(job.frame, leaf.body.id)
    for scale in SCALES[units]:
        placing = Placing(PLAN, scale)
        drawn = draw_solids(frame_solids(mine, placing, fade_behind_m=-1e6))
        view = box_around(drawn)
        if view.width_mm <= width_mm - 2 * MARGIN_MM - 24.0 and view.height_mm <= height_mm:
            break
    hands = [placing.point(grip) for grip in work.lifting.grips_m]
    balance = placing.point(work.centre_m)
    drawn += _sizes(job, mine, work, placing, view)
    drawn += _hands(hands, balance, view.right_mm)
    key = {1: "one", 2: "two"}.get(work.lifting.people, "none")
    title, note = word("drawings.lid.grips.title"), word(f"drawings.lid.grips.note-{key}")
    whole = box_around(drawn)
    left_mm = whole.left_mm - max(0.0, (width_mm - 2 * MARGIN_MM - whole.width_mm) / 2) - MARGIN_MM
    from_front = show_length(work.centre_m[0] - _low(mine, 0), units)
    alt = word("drawings.lid.grips.alt", count=len(hands), from_front=from_front)
    return on_sheet(drawn, title, note, width_mm, scale, units, alt, left_mm=left_mm)


def _only(frame: Frame, body: str) -> Frame:
    return replace(
        frame,
        pipes=tuple(pipe for pipe in frame.pipes if pipe.body == body),
        fittings=tuple(fitting for fitting in frame.fittings if fitting.body == body),
    )


def _low(mine: Frame, axis: int) -> float:
    return min(fitting.position_m[axis] - fitting.hub_diameter_m / 2 for fitting in mine.fittings)


def _high(mine: Frame, axis: int) -> float:
    return max(fitting.position_m[axis] + fitting.hub_diameter_m / 2 for fitting in mine.fittings)


def _sizes(job: Job, mine: Frame, work: LeafOpening, placing: Placing, view: Box) -> Iterator[Mark]:
    """Along the bed the balance point, across it the hands, each from the outside of the frame."""
    units = job.plan.units
    low, high = _low(mine, 0), _high(mine, 0)
    along = [low, work.centre_m[0], high]
    points = [placing.point((x, _low(mine, 1), 0.0)) for x in along]
    texts = [show_length(b - a, units) for a, b in pairwise(along)]
    yield from chain(level_below(view.bottom_mm - _DIMENSION_MM), points, texts)[0]
    ends = [grip for grip in work.lifting.grips_m if abs(grip[0] - low) < (high - low) / 8]
    across = [_low(mine, 1), *sorted({round(grip[1], 4) for grip in ends}), _high(mine, 1)]
    if len(across) > 2:
        points = [placing.point((low, y, 0.0)) for y in across]
        texts = [show_length(b - a, units) for a, b in pairwise(across)]
        yield from chain(upright_left(view.left_mm - _DIMENSION_MM), points, texts)[0]


def _hands(hands: Sequence[Point], balance: Point, right_mm: float) -> Iterator[Mark]:
    for x, y in hands:
        yield Circle("hand", (x, y), _HAND_MM)
        for k in (-1, 0, 1):  # the fingers
            yield Line("hand", ((x - 1.2, y + k * 0.9), (x + 1.2, y + k * 0.9)))
    x, y = balance
    yield Circle("mark", balance, 1.6)
    yield Line("mark", ((x - 1.6, y), (x + 1.6, y)))
    yield Line("mark", ((x, y - 1.6), (x, y + 1.6)))
    told = [Text("note", (x + 3.2, y - 5.4), word("drawings.lid.grips.balance"), _TEXT_MM)]
    if hands:
        at = max(hands)
        said, drop = word("drawings.lid.grips.hand"), 1.1
        inside = at[0] + 4.0 + text_width_mm(said, _TEXT_MM) < right_mm
        told.append(Text("note", (at[0] + (4.0 if inside else -4.0), at[1] - drop), said, _TEXT_MM,
                         "start" if inside else "end"))  # fmt: skip
    for text in told:
        yield Area("reach", text_corners(text, 0.4))
        yield text
