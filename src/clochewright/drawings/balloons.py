"""Balloons: a pipe's mark in a circle beside it, on a thin leader, where there is room."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

import numpy as np

from clochewright.drawings.lettering import CAP_HEIGHT, text_corners
from clochewright.drawings.marks import Circle, Line, Mark, Point, Text
from clochewright.drawings.projection import Array
from clochewright.drawings.solids import Solid

RADIUS_MM = 3.3
_LETTER_MM = 4.4
_DOT_MM = 0.65
_CLEAR_MM = 0.9  # wanted between a balloon and anything else
_REACHES_MM = (7.0, 10.0, 13.5, 18.0)
_PLACES = (0.5, 0.4, 0.6, 0.3, 0.7, 0.22, 0.78)  # where along a pipe its leader may start
_DIRECTIONS = tuple(k * math.tau / 16 for k in range(16))
_STEPS = 10  # points along a leader that are looked at


@dataclass(frozen=True, slots=True)
class Labelled:
    """A pipe that may carry a balloon: its id, its mark, and its centre line on paper, (right, up, toward) [mm]."""

    part: str
    mark: str
    path: Array


def place_balloons(
    wanted: Sequence[Sequence[Labelled]],
    solids: Sequence[Solid],
    drawn: Iterable[Mark],
    sheet: tuple[float, float, float, float],
) -> list[Mark]:
    """One balloon for each group of pipes, on whichever of them leaves it the best room.

    Args:
        wanted: Groups of pipes of one mark; each group gets one balloon.
        solids: Everything that stands in the view.
        drawn: Marks whose lines and lettering the balloons keep clear of.
        sheet: Left, bottom, right, top of the paper that may be used [mm].

    Returns:
        Leaders, dots, circles and letters; a group whose pipes can't be seen gets none.
    """
    room = _Room(solids, drawn, sheet)
    marks: list[Mark] = []
    for group in wanted:
        best = min((seat for pipe in group for seat in room.seats(pipe)), default=None)
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
    size = _LETTER_MM if len(pipe.mark) < 3 else _LETTER_MM * 0.75
    baseline = (centre[0], centre[1] - CAP_HEIGHT * size / 2)
    return [
        Line("leader", (anchor, edge), part=pipe.part),
        Circle("leader", anchor, _DOT_MM, part=pipe.part),
        Circle("mark", centre, RADIUS_MM, part=pipe.part),
        Text("mark", baseline, pipe.mark, size, "middle", 0.0, "bold", pipe.part),
    ]


@dataclass(frozen=True, slots=True, order=True)
class _Seat:
    """One place for a balloon; the lowest cost is the best, ties go to the earlier one."""

    cost: float
    turn: int
    anchor: Point
    centre: Point
    pipe: Labelled = field(compare=False)


class _Room:
    """What is already on the paper, and what a balloon at a place would cost."""

    def __init__(
        self, solids: Sequence[Solid], drawn: Iterable[Mark], sheet: tuple[float, float, float, float]
    ) -> None:
        self._solids = solids
        self._bars = np.array([(*s.start[:2], *s.end[:2]) for s in solids])
        self._bar_radius = np.array([s.radius_mm for s in solids])
        lines, boxes = [], []
        for mark in drawn:
            if isinstance(mark, Line):
                lines += [(*a, *b) for a, b in zip(mark.points, mark.points[1:], strict=False)]
            elif isinstance(mark, Text):
                boxes.append(text_corners(mark))
        self._lines = np.array(lines).reshape(-1, 4)
        self._boxes = np.array(
            [(min(x), min(y), max(x), max(y)) for x, y in (zip(*box, strict=True) for box in boxes)]
        ).reshape(-1, 4)
        self._taken = np.empty((0, 2))
        self._leaders = np.empty((0, 4))
        self._sheet = sheet

    def take(self, anchor: Point, centre: Point) -> None:
        """Marks a place as used."""
        self._taken = np.vstack([self._taken, centre])
        self._leaders = np.vstack([self._leaders, (*anchor, *centre)])

    def seats(self, pipe: Labelled) -> list[_Seat]:
        """Places for the pipe's balloon where it fits, with what each costs."""
        anchors = self._seen(pipe)
        if not len(anchors):
            return []
        spokes = np.array([(r * math.cos(a), r * math.sin(a)) for r in _REACHES_MM for a in _DIRECTIONS])
        reach = np.tile(np.repeat(_REACHES_MM, len(_DIRECTIONS)), len(anchors))
        centres = (anchors[:, None, :2] + spokes[None, :, :]).reshape(-1, 2)
        starts = np.repeat(anchors[:, :2], len(spokes), axis=0)
        away = np.repeat(anchors[:, 2], len(spokes))
        fits = self._fits(centres, starts)
        if not fits.any():
            return []
        centres, starts, reach, away = centres[fits], starts[fits], reach[fits], away[fits]
        cost = self._cost(centres, starts) + 0.12 * reach + 1.5 * away
        k = int(np.argmin(np.round(cost, 6)))
        return [_Seat(float(cost[k]), k, _pair(starts[k]), _pair(centres[k]), pipe)]

    def _seen(self, pipe: Labelled) -> Array:
        """Points of the pipe where a leader may start and nothing lies in front: (x, y, distance from its middle)."""
        points = np.array([_along(pipe.path, t) for t in _PLACES])
        others = [k for k, s in enumerate(self._solids) if s.part != pipe.part]
        bars, radius = self._bars[others], self._bar_radius[others]
        apart, where = _distance(points[:, :2], bars)
        depth = np.array([(self._solids[k].start[2], self._solids[k].end[2]) for k in others]).reshape(-1, 2)
        nearer = depth[:, 0] + (depth[:, 1] - depth[:, 0]) * where > points[:, 2:] + 1e-6
        hidden = ((apart < radius + 0.4) & nearer).any(axis=1)
        off = np.abs(np.array(_PLACES) - 0.5)
        return np.column_stack([points[:, :2], off])[~hidden]

    def _fits(self, centres: Array, starts: Array) -> Array:
        """Whether a balloon is within the paper, clear of lettering and of the other balloons and their leaders."""
        left, bottom, right, top = self._sheet
        x, y = centres[:, 0], centres[:, 1]
        r = RADIUS_MM + 0.3
        fits = (x > left + r) & (x < right - r) & (y > bottom + r) & (y < top - r)
        fits &= _box_distance(centres, self._boxes).min(axis=1, initial=np.inf) > RADIUS_MM + _CLEAR_MM
        fits &= _point_distance(centres, self._taken).min(axis=1, initial=np.inf) > 2 * RADIUS_MM + _CLEAR_MM
        fits &= _distance(centres, self._leaders)[0].min(axis=1, initial=np.inf) > RADIUS_MM + 0.5
        for t in np.linspace(0.0, 1.0, _STEPS):
            on_leader = starts + (centres - starts) * t
            fits &= _point_distance(on_leader, self._taken).min(axis=1, initial=np.inf) > RADIUS_MM + 0.5
            fits &= _box_distance(on_leader, self._boxes).min(axis=1, initial=np.inf) > 0.4
        return fits

    def _cost(self, centres: Array, starts: Array) -> Array:
        """How much a balloon and its leader lie on other things."""
        apart = _distance(centres, self._bars)[0] - self._bar_radius
        cost = np.clip(RADIUS_MM + _CLEAR_MM - apart, 0.0, 3.0).sum(axis=1) * 3.0
        lines = _distance(centres, self._lines)[0]
        cost += (lines < RADIUS_MM + 0.4).sum(axis=1) * 2.0
        for t in np.linspace(0.25, 1.0, _STEPS):
            on_leader = starts + (centres - starts) * t
            cost += ((_distance(on_leader, self._bars)[0] - self._bar_radius) < 0.0).sum(axis=1) * 0.35
        return cost + _crossings(starts, centres, self._leaders) * 6.0


def _pair(point: Array) -> Point:
    return float(point[0]), float(point[1])


def _along(path: Array, t: float) -> Array:
    """The point a fraction `t` along a path, shape (3,)."""
    steps = np.hypot(*(path[1:, :2] - path[:-1, :2]).T)
    reached = np.concatenate([[0.0], np.cumsum(steps)])
    want = t * reached[-1]
    return np.array([np.interp(want, reached, path[:, k]) for k in range(3)])


def _distance(points: Array, segments: Array) -> tuple[Array, Array]:
    """Distance of each point to each segment (x1, y1, x2, y2), and where along it, both shape (points, segments)."""
    a, d = segments[:, :2], segments[:, 2:] - segments[:, :2]
    off = points[:, None, :] - a[None]
    where = np.clip((off * d[None]).sum(axis=2) / np.maximum((d**2).sum(axis=1), 1e-12), 0.0, 1.0)
    gap = off - where[..., None] * d[None]
    return np.hypot(gap[..., 0], gap[..., 1]), where


def _point_distance(points: Array, others: Array) -> Array:
    gap = points[:, None, :] - others[None]
    return np.hypot(gap[..., 0], gap[..., 1])


def _box_distance(points: Array, boxes: Array) -> Array:
    """Distance of each point to each upright box (left, bottom, right, top), 0 within, shape (points, boxes)."""
    x, y = points[:, None, 0], points[:, None, 1]
    dx = np.maximum(np.maximum(boxes[None, :, 0] - x, x - boxes[None, :, 2]), 0.0)
    dy = np.maximum(np.maximum(boxes[None, :, 1] - y, y - boxes[None, :, 3]), 0.0)
    return np.hypot(dx, dy)


def _crossings(starts: Array, ends: Array, segments: Array) -> Array:
    """How many of the segments each line from start to end crosses, shape (lines,)."""
    if not len(segments):
        return np.zeros(len(starts))
    a, d = segments[None, :, :2], segments[None, :, 2:] - segments[None, :, :2]
    p, e = starts[:, None], (ends - starts)[:, None]
    cross = e[..., 0] * d[..., 1] - e[..., 1] * d[..., 0]
    safe = np.where(np.abs(cross) > 1e-9, cross, np.inf)
    off = a - p
    s = (off[..., 0] * d[..., 1] - off[..., 1] * d[..., 0]) / safe
    t = (off[..., 0] * e[..., 1] - off[..., 1] * e[..., 0]) / safe
    return (np.isfinite(safe) & (s > 0) & (s < 1) & (t > 0) & (t < 1)).sum(axis=1)
