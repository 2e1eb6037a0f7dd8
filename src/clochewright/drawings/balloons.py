"""Balloons: a pipe's mark in a circle beside it, on a thin leader, where there is room."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from clochewright.drawings.lettering import CAP_HEIGHT, text_corners, text_width_mm
from clochewright.drawings.marks import Circle, Line, Mark, Point, Text
from clochewright.drawings.projection import Array, Flags
from clochewright.drawings.shapes import Solid
from clochewright.drawings.sheet import Box

RADIUS_MM = 3.3
_LETTER_MM = 4.4
_DOT_MM = 0.65
_CLEAR_MM = 0.9  # wanted between a balloon and anything else
_REACHES_MM = (7.5, 11.5)
_DIRECTIONS = 12
_NEAR_PLACES = (0.5, 0.36, 0.64)  # where along a pipe its leader starts
_FAR_PLACES = (0.43, 0.57, 0.28, 0.72, 0.18, 0.82)  # and where else, if none of those leaves good room
_GOOD_COST = 2.5


def _spokes(reaches_mm: Sequence[float]) -> Array:
    """Where a balloon may stand around the start of its leader, shape (n, 2) [mm]."""
    turns = [math.tau * k / _DIRECTIONS for k in range(_DIRECTIONS)]
    return np.array([(reach * math.cos(turn), reach * math.sin(turn)) for reach in reaches_mm for turn in turns])


_SPOKES = _spokes(_REACHES_MM)
_LONG_SPOKES = _spokes((15.5, 20.0, 26.0, 34.0))  # for what must have its balloon


@dataclass(frozen=True, slots=True)
class Labelled:
    """A pipe that may carry a balloon: its id, its mark, and its centre line on paper, (right, up, toward) [mm].

    `always` says that it gets one even where it is hidden.
    """

    part: str
    mark: str
    path: Array
    always: bool = False


def place_balloons(
    wanted: Sequence[Sequence[Labelled]],
    solids: Sequence[Solid],
    drawn: Iterable[Mark],
    sheet: Box,
    keep_off: Sequence[Box] = (),
) -> list[Mark]:
    """One balloon for each group of pipes, on whichever of them leaves it the best room.

    Args:
        wanted: Groups of pipes of one mark; each group gets one balloon.
        solids: Everything that stands in the view.
        drawn: Marks whose lines and lettering the balloons keep clear of.
        sheet: The part of the paper that may be used.
        keep_off: Parts of it that may not.

    Returns:
        Leaders, dots, circles and letters; a group whose pipes can't be seen gets none.
    """
    room = _Room(solids, drawn, sheet, keep_off)
    marks: list[Mark] = []
    for group in wanted:
        best = room.best(group)
        if best is None:
            continue
        room.take(best.anchor, best.centre)
        marks += _balloon(best.pipe, best.anchor, best.centre)
    return marks


def _balloon(pipe: Labelled, anchor: Point, centre: Point) -> list[Mark]:
    reach = math.dist(anchor, centre)
    edge = (
        centre[0] + (anchor[0] - centre[0]) * RADIUS_MM / reach,
        centre[1] + (anchor[1] - centre[1]) * RADIUS_MM / reach,
    )
    size = letter_mm(pipe.mark)
    baseline = (centre[0], centre[1] - CAP_HEIGHT * size / 2)
    return [
        Line("leader", (anchor, edge), part=pipe.part),
        Circle("leader", anchor, _DOT_MM, part=pipe.part),
        Circle("mark", centre, RADIUS_MM, part=pipe.part),
        Text("mark", baseline, pipe.mark, size, "middle", 0.0, "bold", pipe.part),
    ]


def letter_mm(mark: str) -> float:
    """The size of type at which a mark fits into its balloon [mm]."""
    return min(_LETTER_MM, (2 * RADIUS_MM - 1.2) / text_width_mm(mark, 1.0, "bold"))


@dataclass(frozen=True, slots=True)
class _Seat:
    """One place for a balloon, and what it costs in crossings and crowding."""

    cost: float
    anchor: Point
    centre: Point
    pipe: Labelled


class _Room:
    """What is already on the paper, and what a balloon at a place would cost."""

    def __init__(self, solids: Sequence[Solid], drawn: Iterable[Mark], sheet: Box, keep_off: Sequence[Box]) -> None:
        self._bars = np.array([(*s.start[:2], *s.end[:2]) for s in solids]).reshape(-1, 4)
        self._depth = np.array([(s.start[2], s.end[2]) for s in solids]).reshape(-1, 2)
        self._radius = np.array([s.radius_mm for s in solids])
        self._part = np.array([s.part for s in solids])
        self._pipe = np.array([s.pen.startswith("pipe") for s in solids], dtype=bool)
        lines, boxes = [], [(box.left_mm, box.bottom_mm, box.right_mm, box.top_mm) for box in keep_off]
        for mark in drawn:
            if isinstance(mark, Line):
                lines += [(*a, *b) for a, b in zip(mark.points, mark.points[1:], strict=False)]
            elif isinstance(mark, Text):
                xs, ys = zip(*text_corners(mark), strict=True)
                boxes.append((min(xs), min(ys), max(xs), max(ys)))
        self._lines = np.array(lines).reshape(-1, 4)
        self._boxes = np.array(boxes).reshape(-1, 4)
        self._taken = np.empty((0, 2))
        self._leaders = np.empty((0, 4))
        self._sheet = sheet

    def take(self, anchor: Point, centre: Point) -> None:
        """Marks a place as used."""
        self._taken = np.vstack([self._taken, centre])
        self._leaders = np.vstack([self._leaders, (*anchor, *centre)])

    def best(self, group: Sequence[Labelled]) -> _Seat | None:
        """The first good place for one of the pipes' balloon, or the least bad of all; None if none is seen."""
        best: _Seat | None = None
        for spokes in (_SPOKES, _LONG_SPOKES):
            for places in (_NEAR_PLACES, _FAR_PLACES):
                for pipe in group:
                    seat = self._seat(pipe, places, spokes)
                    if seat and (best is None or seat.cost < best.cost):
                        best = seat
                    if best and best.cost < _GOOD_COST:
                        return best
            if best is not None or not any(pipe.always for pipe in group):
                return best
        return best

    def _seat(self, pipe: Labelled, places: Sequence[float], spokes: Array) -> _Seat | None:
        """The cheapest place for the pipe's balloon with its leader from one of those places along it."""
        anchors = self._seen(pipe, places)
        centres = (anchors[:, None, :2] + spokes[None]).reshape(-1, 2)
        starts = np.repeat(anchors[:, :2], len(spokes), axis=0)
        lengths = np.hypot(spokes[:, 0], spokes[:, 1])
        cost = np.repeat(anchors[:, 2] * 1.5, len(spokes)) + 0.12 * np.tile(lengths, len(anchors))
        fits = self._fits(centres, starts)
        if not fits.any():
            return None
        centres, starts = centres[fits], starts[fits]
        cost = np.round(cost[fits] + self._cost(pipe, centres, starts), 6)
        k = int(np.argmin(cost))
        return _Seat(float(cost[k]), _pair(starts[k]), _pair(centres[k]), pipe)

    def _seen(self, pipe: Labelled, places: Sequence[float]) -> Array:
        """Points of the pipe with nothing in front, as rows (x, y, how far from its middle, 0 to 0.5)."""
        points = _along(pipe.path, places)
        apart, where = _distance(points[:, :2], self._bars)
        depth = self._depth[:, 0] + (self._depth[:, 1] - self._depth[:, 0]) * where
        in_front = (depth > points[:, 2:] + 1e-6) & (self._part != pipe.part)
        hidden = ((apart < self._radius + 0.4) & in_front).any(axis=1) & (not pipe.always)
        seen: Array = np.column_stack([points[:, :2], np.abs(np.array(places) - 0.5)])[~hidden]
        return seen

    def _fits(self, centres: Array, starts: Array) -> Flags:
        """Whether a balloon is within the paper, clear of lettering and of the other balloons and their leaders."""
        x, y = centres[:, 0], centres[:, 1]
        sheet, r = self._sheet, RADIUS_MM + 0.3
        fits = (x > sheet.left_mm + r) & (x < sheet.right_mm - r) & (y > sheet.bottom_mm + r) & (y < sheet.top_mm - r)
        fits &= (_box_distance(centres, self._boxes) > RADIUS_MM + _CLEAR_MM).all(axis=1)
        fits &= (_point_distance(centres, self._taken) > 2 * RADIUS_MM + _CLEAR_MM).all(axis=1)
        fits &= (_distance(centres, self._leaders)[0] > RADIUS_MM + 0.5).all(axis=1)
        leaders = np.hstack([starts, centres])
        fits &= (_distance(self._taken, leaders)[0] > RADIUS_MM + 0.5).all(axis=0)
        for t in (0.1, 0.3, 0.5):
            fits &= (_box_distance(starts + (centres - starts) * t, self._boxes) > 0.4).all(axis=1)
        return fits

    def _cost(self, pipe: Labelled, centres: Array, starts: Array) -> Array:
        """How much a balloon and its leader lie on other things."""
        clear = _distance(centres, self._bars)[0] - self._radius
        cost: Array = 3.0 * np.clip(RADIUS_MM + _CLEAR_MM - clear, 0.0, 3.0).sum(axis=1)
        cost += 2.0 * (_distance(centres, self._lines)[0] < RADIUS_MM + 0.4).sum(axis=1)
        cost += 1.5 * _crossings(starts, centres, self._bars[self._pipe & (self._part != pipe.part)])
        cost += 1.0 * _crossings(starts, centres, self._lines)
        cost += 6.0 * _crossings(starts, centres, self._leaders)
        return cost


def _pair(point: Array) -> Point:
    return float(point[0]), float(point[1])


def _along(path: Array, places: Sequence[float]) -> Array:
    """The points at those fractions along a path, shape (n, 3)."""
    reached = np.concatenate([[0.0], np.cumsum(np.hypot(*(path[1:, :2] - path[:-1, :2]).T))])
    wanted = np.array(places) * reached[-1]
    return np.column_stack([np.interp(wanted, reached, path[:, k]) for k in range(3)])


def _distance(points: Array, segments: Array) -> tuple[Array, Array]:
    """Distance of each point to each segment (x1, y1, x2, y2), and where along it, both shape (points, segments)."""
    ax, ay = segments[:, 0], segments[:, 1]
    dx, dy = segments[:, 2] - ax, segments[:, 3] - ay
    x, y = points[:, None, 0] - ax, points[:, None, 1] - ay
    where = np.clip((x * dx + y * dy) / np.maximum(dx * dx + dy * dy, 1e-12), 0.0, 1.0)
    return np.hypot(x - where * dx, y - where * dy), where


def _point_distance(points: Array, others: Array) -> Array:
    gap = points[:, None, :] - others[None]
    return np.hypot(gap[..., 0], gap[..., 1])


def _box_distance(points: Array, boxes: Array) -> Array:
    """Distance of each point to each upright box (left, bottom, right, top), 0 within, shape (points, boxes)."""
    x, y = points[:, None, 0], points[:, None, 1]
    dx = np.maximum(np.maximum(boxes[None, :, 0] - x, x - boxes[None, :, 2]), 0.0)
    dy = np.maximum(np.maximum(boxes[None, :, 1] - y, y - boxes[None, :, 3]), 0.0)
    return np.hypot(dx, dy)


def _crossings(starts: Array, ends: Array, segments: Array) -> NDArray[np.int64]:
    """How many of the segments each line from start to end crosses, shape (lines,)."""
    ax, ay = segments[:, 0], segments[:, 1]
    dx, dy = segments[:, 2] - ax, segments[:, 3] - ay
    ex, ey = (ends - starts)[:, :1], (ends - starts)[:, 1:]
    x, y = ax - starts[:, :1], ay - starts[:, 1:]
    turn = ex * dy - ey * dx
    along, across = x * dy - y * dx, x * ey - y * ex  # where they meet on either, times the turn
    size = np.abs(turn)
    meets = (along * turn > 0) & (across * turn > 0) & (np.abs(along) < size) & (np.abs(across) < size)
    counts: NDArray[np.int64] = meets.sum(axis=1)
    return counts
