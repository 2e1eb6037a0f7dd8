"""The stored parts in their space: each part's box where it lies, what is in front before what is behind."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from clochewright.assembly import Packed, Packing
from clochewright.drawings.balloons import Labelled, place_balloons
from clochewright.drawings.lettering import CAP_HEIGHT, text_width_mm
from clochewright.drawings.marks import Area, Drawing, Line, Mark, Point, Text
from clochewright.drawings.members import Placing
from clochewright.drawings.projection import THREE_QUARTER
from clochewright.drawings.sheet import MARGIN_MM, Box, box_around, moved
from clochewright.findings import word
from clochewright.frame import Vec
from clochewright.measures import Units, show_length

_ROOM_MM = 11.0
_TEXT_MM = 4.2
_HAIR_M = 1e-6
_FACES = {  # the three faces of a box that look toward the eye, as corners (x, y, z) of 0 and 1
    "top": ((0, 0, 1), (1, 0, 1), (1, 1, 1), (0, 1, 1)),
    "front": ((0, 0, 0), (1, 0, 0), (1, 0, 1), (0, 0, 1)),
    "left": ((0, 0, 0), (0, 1, 0), (0, 1, 1), (0, 0, 1)),
}
_BACK = (  # those of the space that look away: its floor, far side and far end
    ((0, 0, 0), (1, 0, 0), (1, 1, 0), (0, 1, 0)),
    ((0, 1, 0), (1, 1, 0), (1, 1, 1), (0, 1, 1)),
    ((1, 0, 0), (1, 1, 0), (1, 1, 1), (1, 0, 1)),
)


def draw_packing(packing: Packing, units: Units, paper_mm: tuple[float, float] = (174.0, 90.0)) -> Drawing:
    """The parts' boxes in their space, each with its part's name, the space with its measures.

    Args:
        packing: Where each part lies.
        units: How lengths are shown.
        paper_mm: Width and greatest height [mm].
    """
    full = box_around(_walls(packing.space_m, Placing(THREE_QUARTER, 1.0)))
    spare = 2 * (_ROOM_MM + MARGIN_MM)
    beside = max(spare, 2 * (text_width_mm(show_length(packing.space_m[2], units), _TEXT_MM) + 2.0 + MARGIN_MM))
    scale = max(full.width_mm / (paper_mm[0] - beside), full.height_mm / (paper_mm[1] - spare))
    placing = Placing(THREE_QUARTER, scale, (paper_mm[0] / 2 - (full.left_mm + full.right_mm) / 2 / scale, 0.0))
    walls = _walls(packing.space_m, placing)
    room = box_around(walls)
    ordered = back_to_front(packing.packed)
    boxes = [mark for one in ordered for mark in _box(one, placing)]
    measures = _measures(packing.space_m, units, placing)
    sheet = Box(MARGIN_MM, room.bottom_mm - _ROOM_MM, paper_mm[0] - MARGIN_MM, room.top_mm + _ROOM_MM)
    wanted = [[_label(one, placing)] for one in ordered]
    balloons = place_balloons(wanted, [], [*(m for m in boxes if isinstance(m, Line)), *measures], sheet)
    whole = [*walls, *boxes, *measures, *balloons]
    around = box_around(whole)
    low = around.bottom_mm - MARGIN_MM
    marks = tuple(moved(mark, (0.0, -low)) for mark in whole)
    parts = ", ".join(one.part for one in packing.packed)
    space = " × ".join(show_length(side_m, units) for side_m in packing.space_m)
    alt = word("drawings.build.packing-alt", parts=parts, space=space)
    title = word("drawings.build.packing")
    return Drawing(title, paper_mm[0], around.top_mm + MARGIN_MM - low, scale, units, marks, alt)


def back_to_front(packed: Sequence[Packed]) -> list[Packed]:
    """The boxes so that none hides one drawn after it, seen from the front, the left and above."""
    left, order = list(packed), []
    while left:
        free = next(
            (one for one in left if not any(_behind(other, one) for other in left if other is not one)), left[0]
        )
        order.append(free)
        left.remove(free)
    return order


def _behind(one: Packed, other: Packed) -> bool:
    """Whether one box lies past the other as seen: farther along, farther back, or below."""
    low, high = np.array(one.corner_m), np.array(one.corner_m) + np.array(one.box_m)
    other_low, other_high = np.array(other.corner_m), np.array(other.corner_m) + np.array(other.box_m)
    past = low >= other_high - _HAIR_M
    before = high <= other_low + _HAIR_M
    if before[0] or before[1] or past[2]:
        return False
    return bool(past[0] or past[1] or before[2])


def _face(corner_m: Vec, box_m: Vec, corners: Sequence[tuple[int, int, int]], placing: Placing) -> tuple[Point, ...]:
    points = np.array(corner_m) + np.array(corners) * np.array(box_m)
    return tuple((x, y) for x, y, _ in placing.place(points).tolist())


def _walls(space_m: Vec, placing: Placing) -> list[Mark]:
    marks: list[Mark] = []
    for corners in _BACK:
        points = _face((0.0, 0.0, 0.0), space_m, corners, placing)
        marks += [Area("floor", points), Line("floor", points, closed=True)]
    return marks


def _box(one: Packed, placing: Placing) -> list[Mark]:
    marks: list[Mark] = []
    for name, corners in _FACES.items():
        points = _face(one.corner_m, one.box_m, corners, placing)
        pen = "box" if name == "top" else "box-side"
        marks += [Area(pen, points, one.part), Line(pen, points, closed=True, part=one.part)]
    return marks


def _label(one: Packed, placing: Placing) -> Labelled:
    """Where a box's balloon may point to: along its front face."""
    x, y, z = one.corner_m
    ends = np.array([(x, y, z + one.box_m[2] / 2), (x + one.box_m[0], y, z + one.box_m[2] / 2)])
    return Labelled(one.part, one.part, placing.place(ends))


def _measures(space_m: Vec, units: Units, placing: Placing) -> list[Mark]:
    """Length below the front edge, depth below the left one, height at the far right edge."""
    length, depth, height = space_m
    below = 4.6
    marks: list[Mark] = []
    for start, end, size, side in (
        ((0.0, 0.0, 0.0), (length, 0.0, 0.0), length, 1.0),
        ((0.0, depth, 0.0), (0.0, 0.0, 0.0), depth, 1.0),
    ):
        a, b = placing.point(start), placing.point(end)
        turn = float(np.degrees(np.arctan2(b[1] - a[1], b[0] - a[0])))
        at = (
            (a[0] + b[0]) / 2 + below * float(np.sin(np.radians(turn))) * side,
            (a[1] + b[1]) / 2 - below * float(np.cos(np.radians(turn))) * side,
        )
        marks.append(Text("dimension", at, show_length(size, units), _TEXT_MM, "middle", turn))
    x, y = placing.point((length, 0.0, height / 2))
    marks.append(Text("dimension", (x + 2.0, y - CAP_HEIGHT * _TEXT_MM / 2), show_length(height, units), _TEXT_MM))
    return marks
