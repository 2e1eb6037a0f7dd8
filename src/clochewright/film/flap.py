"""One end of the film that stays on the sheet: how it lies there, and where it is folded like a parcel."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from clochewright.film.cap import Cap, laying
from clochewright.film.outline import Point
from clochewright.film.pattern import Face, PatternLine
from clochewright.film.skin import ONE_BEND_M, Skin
from clochewright.frame import Vec

# Where the film has to turn in by less than this at a foot, it is gathered into the roll and not pleated.
GATHERED_M = 0.1
_HARDLY = 1e-12


@dataclass(frozen=True, slots=True)
class Part:
    """A part of an end that lies flat on the sheet: its bottom corners on the cap, and how it is laid there."""

    left: Point
    right: Point
    lay: Callable[[Point], Point]

    def below(self, by_m: float) -> tuple[Point, Point]:
        """Its bottom on the sheet, or a line so far below it [m]; left end first."""
        return self.lay((self.left[0], self.left[1] - by_m)), self.lay((self.right[0], self.right[1] - by_m))


@dataclass(frozen=True, slots=True)
class Pleat:
    """One pleat from `start`: film is folded under along the line to `under`, and back along that to `middle` [m]."""

    start: Point
    under: Point
    middle: Point

    def past(self, by_m: float) -> Point:
        """A point so far past the end of its middle [m]."""
        share = 1 + by_m / max(math.dist(self.start, self.middle), _HARDLY)
        return tuple(a + share * (b - a) for a, b in zip(self.start, self.middle, strict=True))  # type: ignore[return-value]


class Flap:
    """One end on the sheet. It is worked out as if it were the far end; `out` turns it to the end it belongs to.

    Under a ridge the end hangs on both slopes and is parted down its middle; any other hangs in one piece on the slope
    over the middle of the bed. Where walls stand beside it, or the ridge is, the spare film makes a pleat.
    """

    def __init__(self, skin: Skin, cap: Cap, edge: Sequence[Point], toward: float) -> None:
        self.cap, self.toward, self.skin = cap, toward, skin
        self.edge = [(toward * x, v) for x, v in edge]
        first, last = cap.edge[0], cap.edge[-1]
        self.foot = ((first[0] + last[0]) / 2, 0.0)
        if skin.ridge is not None:
            left, right = self._slope(skin.ridge - 1, -1), self._slope(skin.ridge, 1)
            self.parts: tuple[Part, ...] = (
                Part(first, self.foot, self._lay(left)),
                Part(self.foot, last, self._lay(right)),
            )
            self.hung = (left, right + 1)
        else:
            over = next(i for i in range(len(self.edge) - 1) if skin.section_m[i + 1][0] <= 0)
            self.parts = (Part(first, last, self._lay(over)),)
            self.hung = (over, over + 1)
        self.ridge_pleat = self._ridge_pleat()
        self.ears = self._ear(0, -1), self._ear(-1, 1)

    def out(self, point: Point) -> Point:
        """From the far end to the one it belongs to."""
        return self.toward * point[0], point[1]

    @property
    def pleats(self) -> tuple[Pleat, ...]:
        """All its pleats, the one under the ridge first."""
        return tuple(pleat for pleat in (self.ridge_pleat, *self.ears) if pleat is not None)

    def faces(self) -> Iterable[Face]:
        """Its flat faces, each on the part that it belongs to."""
        cap, ridge = self.cap, self.skin.ridge
        for triangle in cap.triangles:
            corners = [(cap.edge[i], cap.rim[i]) for i in triangle]
            for part, side in zip(self.parts, (-1.0, 1.0), strict=False):
                mine = _on_side(corners, (cap.edge[ridge], self.foot), side) if ridge is not None else corners
                if len(mine) > 2:
                    yield Face(tuple(self.out(part.lay(flat)) for flat, _ in mine), tuple(space for _, space in mine))

    def trim(self, hem_m: float) -> list[Point]:
        """The line to trim to round this end, from the left rail to the right one."""
        left_ear, right_ear = self.ears
        path = [left_ear.past(hem_m)] if left_ear else []
        path += self.parts[0].below(hem_m)
        if self.ridge_pleat:
            path += [self.ridge_pleat.past(hem_m), *self.parts[1].below(hem_m)]
        path += [right_ear.past(hem_m)] if right_ear else []
        return [self.out(point) for point in path]

    def lines(self) -> Iterable[PatternLine]:
        """Pleats, the end rail, and where the roll on its lath begins."""
        for pleat in self.pleats:
            for end in (pleat.under, pleat.middle):
                yield PatternLine("pleat", (self.out(pleat.start), self.out(end)))
        for part in self.parts:
            yield PatternLine("rail", tuple(self.out(point) for point in part.below(0.0)))
            if self.skin.tuck_m > 0:
                yield PatternLine("roll", tuple(self.out(point) for point in part.below(self.skin.tuck_m)))

    def _slope(self, start: int, step: int) -> int:
        """The first edge beside the ridge that is no part of the bend round its hub."""
        section, i = self.skin.section_m, start
        while 0 < i < len(section) - 2 and math.dist(section[i], section[i + 1]) <= ONE_BEND_M:
            i += step
        return i

    def _lay(self, i: int) -> Callable[[Point], Point]:
        return laying((self.cap.edge[i], self.cap.edge[i + 1]), (self.edge[i], self.edge[i + 1]))

    def _ridge_pleat(self) -> Pleat | None:
        if self.skin.ridge is None:
            return None
        left, right = self.parts[0].below(0.0)[1], self.parts[1].below(0.0)[0]
        return _pleat(self.edge[self.skin.ridge], left, right)

    def _ear(self, foot: int, step: int) -> Pleat | None:
        """The pleat at the corner beside the slope that the end hangs on; none where the slope runs to the rail."""
        part, hung = (self.parts[0], self.hung[0]) if step < 0 else (self.parts[-1], self.hung[1])
        laid, flat = part.below(0.0)[0 if step < 0 else 1], self.edge[foot]
        if math.dist(laid, flat) < GATHERED_M:
            return None
        inner = self.skin.corners[1:-1]
        beyond = [i for i in inner if (i - hung) * step >= 0]
        at = min(beyond, key=lambda i: abs(i - hung), default=hung)
        return _pleat(self.edge[at], laid, flat)


def _pleat(start: Point, under: Point, other: Point) -> Pleat:
    """The pleat between two lines that are to lie on each other: its middle halfway between, as long as they are."""
    reach_m = (math.dist(start, under) + math.dist(start, other)) / 2
    turns = [math.atan2(point[1] - start[1], point[0] - start[0]) for point in (under, other)]
    middle = turns[0] + math.remainder(turns[1] - turns[0], 2 * math.pi) / 2
    return Pleat(start, under, (start[0] + reach_m * math.cos(middle), start[1] + reach_m * math.sin(middle)))


def _on_side(corners: Sequence[tuple[Point, Vec]], line: tuple[Point, Point], side: float) -> list[tuple[Point, Vec]]:
    """What of a flat face lies to one side of a line: the right one (1) or the left one (-1), looking along it."""
    (x0, y0), (x1, y1) = line
    kept: list[tuple[Point, Vec]] = []
    off = [side * ((flat[0] - x0) * (y1 - y0) - (flat[1] - y0) * (x1 - x0)) for flat, _ in corners]
    for i, (here, at) in enumerate(corners):
        there, to = corners[i - 1]
        if (off[i] > _HARDLY) != (off[i - 1] > _HARDLY) and abs(off[i] - off[i - 1]) > _HARDLY:
            share = off[i] / (off[i] - off[i - 1])
            x, y, z = (a + share * (b - a) for a, b in zip(at, to, strict=True))
            kept.append(((here[0] + share * (there[0] - here[0]), here[1] + share * (there[1] - here[1])), (x, y, z)))
        if off[i] > _HARDLY:
            kept.append((here, at))
    return kept
