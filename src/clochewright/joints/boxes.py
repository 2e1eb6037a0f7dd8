"""The smallest box that a part goes into, hubs included."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from clochewright.frame import Frame

Floats = NDArray[np.float64]
Box = tuple[float, float, float]
SAME = 1e-6
MOST_RODS, MOST_WAYS = 8, 14  # directions tried for a box's side, along rods and in all
SLACK_m = 1e-6
STARTS, MOST_NUDGES = 6, 6


class Solids:
    """Every fitting and pipe of a frame as round rods, ready to be boxed in any company."""

    def __init__(self, frame: Frame) -> None:
        """A bent pipe is measured by its length, since it straightens. Nothing is worked out before it is asked for."""
        self._frame = frame
        self._od_m = frame.pipe_outside_diameter_m
        self._bent = {pipe.id: pipe.cut_length_m for pipe in frame.pipes if pipe.shape == "bent"}
        self._known: dict[frozenset[str], Floats] = {}

    @cached_property
    def _rods(self) -> dict[str, tuple[Floats, Floats, Floats]]:
        """Of each piece the ends of its rods (n, 3), the way each rod lies and its radius [m]."""
        rods = {}
        for fitting in self._frame.fittings:
            centre = np.array(fitting.position_m)
            ways = np.array([port.direction for port in fitting.ports])
            tips = centre + ways * np.array([[port.centre_to_face_m] for port in fitting.ports])
            points = np.concatenate([np.repeat(centre[None], len(ways), axis=0), tips])
            radius = np.full(len(points), fitting.hub_diameter_m / 2)
            rods[fitting.id] = (points, np.concatenate([ways, ways]), radius)
        for pipe in self._frame.pipes:
            ends = np.array([pipe.path_m[0], pipe.path_m[-1]])
            way = (ends[1] - ends[0]) / max(float(np.linalg.norm(ends[1] - ends[0])), 1e-12)
            rods[pipe.id] = (ends, np.stack([way, way]), np.full(2, self._od_m / 2))
        return rods

    @cached_property
    def _reach(self) -> dict[str, tuple[float, float]]:
        """Of each fitting what it adds to the length of a pipe it is on, and how wide it is [m]."""
        return {
            fitting.id: (
                2 * sum(port.centre_to_stop_m for port in fitting.ports) / len(fitting.ports),
                2 * max(port.centre_to_face_m for port in fitting.ports),
            )
            for fitting in self._frame.fittings
        }

    def smallest(self, ids: Iterable[str], spaces_m: Sequence[Sequence[float]] = ()) -> Box:
        """The box with the least volume, longest side first [m]; of those that go into all these spaces, if any do."""
        part = frozenset(ids)
        boxes, better = self._boxes(part), self._nudged(part)
        boxes = boxes if better is None else np.concatenate([boxes, better])
        for space_m in spaces_m:
            inside = (boxes <= np.sort(np.array(space_m))[::-1] + SLACK_m).all(axis=1)
            boxes = boxes[inside] if inside.any() else boxes
        long, wide, thick = boxes[int(np.argmin(np.prod(boxes, axis=1)))]
        return (float(long), float(wide), float(thick))

    def _nudged(self, ids: frozenset[str]) -> Floats | None:
        """Boxes of the best turns, turned on a little as long as that makes them smaller."""
        if len(ids) < 4 or not self._bent.keys().isdisjoint(ids):
            return None
        rods = self._rods_of(sorted(ids))
        order = np.argsort(np.prod(self._boxes(ids), axis=1), kind="stable")
        found = []
        for turn in self._turns[order[:STARTS]]:
            sides = _sides(turn[None], *rods)
            for small in NUDGES:
                for _ in range(MOST_NUDGES):
                    tries = small @ turn
                    all_sides = _sides(tries, *rods)
                    best = int(np.argmin(np.prod(all_sides, axis=1)))
                    if np.prod(all_sides[best]) >= np.prod(sides[0]) * (1 - 1e-9):
                        break
                    turn, sides = tries[best], all_sides[best : best + 1]
            found.append(sides[0])
        return np.array(found)

    def fits(self, ids: Iterable[str], space_m: Sequence[float]) -> bool:
        """Whether the part goes into a space, sides in any order [m], turned as it likes but square to it."""
        room = np.sort(np.array(space_m))[::-1] + SLACK_m
        return bool((self._boxes(frozenset(ids)) <= room).all(axis=1).any())

    def _boxes(self, ids: frozenset[str]) -> Floats:
        """Boxes worth trying (n, 3), each longest side first [m]."""
        if ids not in self._known:
            self._known[ids] = self._measure(sorted(ids))
        return self._known[ids]

    def _measure(self, ids: Sequence[str]) -> Floats:
        bent = [self._bent[one] for one in ids if one in self._bent]
        if bent:  # a sprung pipe straightens with whatever is on it
            reach = [self._reach[one] for one in ids if one in self._reach]
            across_m = max([self._od_m, *(wide for _, wide in reach)])
            return np.sort(np.array([[sum(bent) + sum(stop for stop, _ in reach), across_m, self._od_m]]))[:, ::-1]
        return _sides(self._turns, *self._rods_of(ids))

    def _rods_of(self, ids: Sequence[str]) -> tuple[Floats, Floats, Floats]:
        rods = [self._rods[one] for one in ids]
        points, ways, radius = (np.concatenate([rod[k] for rod in rods]) for k in range(3))
        return points, ways, radius

    @cached_property
    def _turns(self) -> Floats:
        """Square frames (n, 3, 3) whose first side lies along a rod, or from one fitting to another across the bed.

        They are the same for every part, so that a piece of a part never needs more room than the part.
        """
        rods = _apart([way for _, ways, _ in self._rods.values() for way in ways], MOST_RODS)
        across = {(round(f.position_m[1], 4), round(f.position_m[2], 4)) for f in self._frame.fittings}
        points = [np.array((0.0, y_m, z_m)) for y_m, z_m in sorted(across)]
        chords = sorted((b - a for i, a in enumerate(points) for b in points[i + 1 :]), key=lambda c: -float(c @ c))
        mine = _apart([*rods, *chords], MOST_WAYS)
        turns = []
        for u in mine:
            level = np.array((0.0, 0.0, 1.0) if abs(u[2]) < 0.9 else (1.0, 0.0, 0.0))
            for v in [*mine, level]:
                square = v - np.dot(u, v) * u
                size = float(np.linalg.norm(square))
                if size > 0.1:
                    square = square / size
                    turns.append(np.stack([u, square, np.cross(u, square)]))
        return np.array(turns)


def _sides(turns: Floats, points: Floats, ways: Floats, radius: Floats) -> Floats:
    """Boxes (n, 3) round the rods in these frames (n, 3, 3), each longest side first."""
    at = turns @ points.T
    beyond = np.sqrt(np.maximum(0.0, 1 - (turns @ ways.T) ** 2)) * radius
    sides = (at + beyond).max(axis=2) - (at - beyond).min(axis=2)
    return -np.sort(-sides, axis=1)


def _small_turns(angle_rad: float) -> Floats:
    """Turns (6, 3, 3) by an angle about each axis, either way."""
    turns = []
    for axis in range(3):
        a, b = (axis + 1) % 3, (axis + 2) % 3
        for sign in (1.0, -1.0):
            turn = np.eye(3)
            turn[a, a] = turn[b, b] = np.cos(angle_rad)
            turn[a, b], turn[b, a] = -sign * np.sin(angle_rad), sign * np.sin(angle_rad)
            turns.append(turn)
    return np.array(turns)


NUDGES = tuple(_small_turns(angle_rad) for angle_rad in (0.2, 0.1, 0.05, 0.02, 0.01, 0.004))


def _apart(ways: Iterable[Floats], most: int) -> list[Floats]:
    """Unit vectors that differ, whichever way they look; the first so many."""
    kept: list[Floats] = []
    for way in ways:
        size = float(np.linalg.norm(way))
        if size < SAME:
            continue
        way = way / size
        if all(abs(float(np.dot(way, one))) < 1 - SAME for one in kept):
            kept.append(way)
        if len(kept) >= most:
            break
    return kept
