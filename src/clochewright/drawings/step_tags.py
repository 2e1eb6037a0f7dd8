"""The numbers of the moves in a picture of a part: each beside the joint that its move closes."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from clochewright.drawings.apart import Gap
from clochewright.drawings.lettering import CAP_HEIGHT, text_corners
from clochewright.drawings.marks import Circle, Line, Mark, Point, Text
from clochewright.drawings.members import Placing
from clochewright.drawings.shapes import Solid

_TAG_MM = 2.2
_TAG_REACHES_MM = (4.0, 6.0, 8.5, 11.5, 15.0)


def order_tags(
    tags: Sequence[tuple[int, Gap]], keep_off: Iterable[Mark], solids: Sequence[Solid], placing: Placing
) -> list[Mark]:
    """The number of each move beside the joint that it closes, clear of lettering, of each other and of the pieces."""
    taken = [text_corners(mark, 1.0) for mark in keep_off if isinstance(mark, Text)]
    boxes = [(min(x for x, _ in c), min(y for _, y in c), max(x for x, _ in c), max(y for _, y in c)) for c in taken]
    bars = [(solid.start[:2], solid.end[:2], solid.radius_mm) for solid in solids]
    marks: list[Mark] = []
    stood: list[Point] = []
    for number, gap in tags:
        start, end = placing.point(gap.from_m), placing.point(gap.to_m)
        joint = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
        places = [
            (joint[0] + reach * math.cos(turn), joint[1] + reach * math.sin(turn))
            for reach in _TAG_REACHES_MM
            for turn in (math.tau * k / 16 for k in range(16))
        ]
        x, y = min(places, key=lambda at: _tag_cost(at, joint, stood, boxes, bars))
        stood.append((x, y))
        size = 3.2 if number < 10 else 2.7
        marks.append(Line("leader", ((x, y), joint)))
        marks.append(Circle("tag", (x, y), _TAG_MM))
        marks.append(Text("tag-text", (x, y - CAP_HEIGHT * size / 2), str(number), size, "middle", face="bold"))
    return marks


def _tag_cost(
    at: Point,
    joint: Point,
    stood: Sequence[Point],
    boxes: Sequence[tuple[float, float, float, float]],
    bars: Sequence[tuple[Point, Point, float]],
) -> float:
    """What a tag at a place costs: most where it touches another tag or lettering, then where it hides a piece."""
    room = min((math.dist(at, other) for other in stood), default=math.inf) - 2 * _TAG_MM - 0.3
    for left, bottom, right, top in boxes:
        gap = math.hypot(max(left - at[0], at[0] - right, 0.0), max(bottom - at[1], at[1] - top, 0.0))
        room = min(room, gap - _TAG_MM)
    clear = min((_from_bar(at, *bar) for bar in bars), default=math.inf) - _TAG_MM - 0.2
    return 10.0 * max(-room, 0.0) + 3.0 * max(-clear, 0.0) + 0.25 * math.dist(at, joint)


def _from_bar(at: Point, start: Point, end: Point, radius_mm: float) -> float:
    """How far a point lies off a piece's side, below 0 within it [mm]."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    long = dx * dx + dy * dy
    along = min(max(((at[0] - start[0]) * dx + (at[1] - start[1]) * dy) / long, 0.0), 1.0) if long > 1e-9 else 0.0
    return math.dist(at, (start[0] + dx * along, start[1] + dy * along)) - radius_mm
