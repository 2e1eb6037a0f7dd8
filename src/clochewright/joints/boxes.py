"""The smallest box that a part goes into, hubs included."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np
from numpy.typing import NDArray

from clochewright.frame import Frame, Vec

Floats = NDArray[np.float64]
Box = tuple[float, float, float]
SAME = 1e-6
MOST_WAYS = 8  # directions tried for a box's side; a part of a cover has fewer
SLACK_m = 1e-6


class Solids:
    """Every fitting and pipe of a frame as round rods, ready to be boxed in any company."""

    def __init__(self, frame: Frame) -> None:
        """Reads the frame once; a bent pipe is measured by its length, since it straightens."""
        self._rods: dict[str, tuple[Floats, Floats, Floats]] = {}
        self._centre: dict[str, Vec] = {}
        self._bent: dict[str, float] = {}
        self._od_m = frame.pipe_outside_diameter_m
        self._reach: dict[str, tuple[float, float]] = {}
        self._known: dict[frozenset[str], Floats] = {}
        for fitting in frame.fittings:
            centre = np.array(fitting.position_m)
            ways = np.array([port.direction for port in fitting.ports])
            tips = centre + ways * np.array([[port.centre_to_face_m] for port in fitting.ports])
            points = np.concatenate([np.repeat(centre[None], len(ways), axis=0), tips])
            radius = np.full(len(points), fitting.hub_diameter_m / 2)
            self._rods[fitting.id] = (points, np.concatenate([ways, ways]), radius)
            self._centre[fitting.id] = fitting.position_m
            stops_m = sum(port.centre_to_stop_m for port in fitting.ports) / len(fitting.ports)
            self._reach[fitting.id] = (2 * stops_m, 2 * max(port.centre_to_face_m for port in fitting.ports))
        for pipe in frame.pipes:
            ends = np.array([pipe.path_m[0], pipe.path_m[-1]])
            way = (ends[1] - ends[0]) / max(float(np.linalg.norm(ends[1] - ends[0])), 1e-12)
            self._rods[pipe.id] = (ends, np.stack([way, way]), np.full(2, self._od_m / 2))
            if pipe.shape == "bent":
                self._bent[pipe.id] = pipe.cut_length_m

    def smallest(self, ids: Iterable[str]) -> Box:
        """The box with the least volume, longest side first [m]."""
        boxes = self._boxes(frozenset(ids))
        long, wide, thick = boxes[int(np.argmin(np.prod(boxes, axis=1)))]
        return (float(long), float(wide), float(thick))

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
        rods = [self._rods[one] for one in ids]
        points, ways, radius = (np.concatenate([rod[k] for rod in rods]) for k in range(3))
        frames = np.array(list(self._turns(ids, ways)))
        at = np.einsum("fij,nj->fin", frames, points)
        beyond = np.sqrt(np.maximum(0.0, 1 - np.einsum("fij,nj->fin", frames, ways) ** 2)) * radius
        sides = (at + beyond).max(axis=2) - (at - beyond).min(axis=2)
        return -np.sort(-sides, axis=1)

    def _turns(self, ids: Sequence[str], ways: Floats) -> Iterable[Floats]:
        """Square frames whose first side lies along a rod or from one outer fitting to another."""
        centres = np.array([self._centre[one] for one in ids if one in self._centre])
        chords: list[Floats] = []
        if len(centres) > 2:
            low_high = {
                int(i) for way in ways[:MOST_WAYS] for i in (np.argmin(centres @ way), np.argmax(centres @ way))
            }
            outer = centres[sorted(low_high)]
            chords = [b - a for i, a in enumerate(outer) for b in outer[i + 1 :]]
        mine = _apart([*ways, *chords])
        made = False
        for u in mine:
            for v in mine:
                across = v - np.dot(u, v) * u
                size = float(np.linalg.norm(across))
                if size > 0.1:
                    across = across / size
                    made = True
                    yield np.stack([u, across, np.cross(u, across)])
        if not made:
            u = mine[0]
            across = np.cross(u, (0.0, 0.0, 1.0) if abs(u[2]) < 0.9 else (1.0, 0.0, 0.0))
            across = across / np.linalg.norm(across)
            yield np.stack([u, across, np.cross(u, across)])


def _apart(ways: Iterable[Floats]) -> list[Floats]:
    """Unit vectors that differ, whichever way they look."""
    kept: list[Floats] = []
    for way in ways:
        size = float(np.linalg.norm(way))
        if size < SAME:
            continue
        way = way / size
        if all(abs(float(np.dot(way, one))) < 1 - SAME for one in kept):
            kept.append(way)
        if len(kept) >= MOST_WAYS:
            break
    return kept
