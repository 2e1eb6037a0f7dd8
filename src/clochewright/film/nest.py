"""Sheets laid out on rolls of one width and length, so that few rolls are opened and little of each is used.

Film is cut with scissors from edge to edge, so every layout here can be cut that way. Up to four sheets all such
layouts are weighed up; more are laid out by several rules of thumb, of which shelf first-fit is one, and the best is
kept.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from clochewright.film.types import Placed, Sheet

EXACT = 4
_HARDLY = 1e-6

Layout = tuple[tuple[Placed, ...], ...]  # roll by roll


def nest_sheets(sheets: Sequence[Sheet], width_m: float, length_m: float) -> Layout | None:
    """Lay sheets out on rolls.

    Args:
        sheets: what is cut; each may be turned.
        width_m: width of a roll [m].
        length_m: length of a roll [m].

    Returns:
        The sheets on each roll, or None where one of them fits no roll.
    """
    if not all(_ways(sheet, width_m, length_m) for sheet in sheets):
        return None
    if len(sheets) <= EXACT:
        return _exact(sheets, width_m, length_m)
    found = [shelves(sheets, width_m, length_m), *_guillotined(sheets, width_m, length_m)]
    return min(found, key=burden)


def burden(layout: Layout) -> tuple[int, float]:
    """Rolls opened, and how much of their length is used [m]."""
    return len(layout), round(sum(used_m(roll)[0] for roll in layout), 6)


def used_m(roll: Sequence[Placed]) -> tuple[float, float]:
    """Length and width that the sheets on one roll take up [m]."""
    return max(p.along_m + p.run_m for p in roll), max(p.across_m + p.breadth_m for p in roll)


def _ways(sheet: Sheet, width_m: float, length_m: float) -> list[Placed]:
    """A sheet at the roll's corner, turned or not, as far as it fits."""
    ways = [Placed(sheet, 0.0, 0.0, turned) for turned in (False, True)]
    return [way for way in ways if way.breadth_m <= width_m + _HARDLY and way.run_m <= length_m + _HARDLY]


def shelves(sheets: Sequence[Sheet], width_m: float, length_m: float) -> Layout:
    """Shelf first-fit: longest first, each on the first shelf across a roll that has room for it.

    Sheets that fit neither way raise ValueError.
    """
    least = [min(_ways(sheet, width_m, length_m), key=lambda way: way.run_m) for sheet in sheets]
    rolls: list[list[Placed]] = []
    open_shelves: list[tuple[int, float, float, float]] = []  # roll, start, depth, filled to
    ends: list[float] = []
    for way in sorted(least, key=lambda way: -way.run_m):
        for i, (roll, start_m, depth_m, filled_m) in enumerate(open_shelves):
            if way.run_m <= depth_m + _HARDLY and filled_m + way.breadth_m <= width_m + _HARDLY:
                rolls[roll].append(replace(way, along_m=start_m, across_m=filled_m))
                open_shelves[i] = (roll, start_m, depth_m, filled_m + way.breadth_m)
                break
        else:
            into = next((i for i, end_m in enumerate(ends) if end_m + way.run_m <= length_m + _HARDLY), None)
            if into is None:
                rolls.append([])
                ends.append(0.0)
                into = len(ends) - 1
            rolls[into].append(replace(way, along_m=ends[into], across_m=0.0))
            open_shelves.append((into, ends[into], way.run_m, way.breadth_m))
            ends[into] += way.run_m
    return tuple(tuple(roll) for roll in rolls)


@dataclass(frozen=True, slots=True)
class _Box:
    """Sheets that fill one upright box: one alone, or two boxes beside or after each other, as cuts take them apart."""

    run_m: float
    breadth_m: float
    one: Placed | None = None
    first: _Box | None = None
    second: _Box | None = None

    def beside(self, other: _Box) -> _Box:
        """Both side by side across the roll."""
        return _Box(max(self.run_m, other.run_m), self.breadth_m + other.breadth_m, None, self, other)

    def after(self, other: _Box) -> _Box:
        """One after the other along the roll."""
        return _Box(self.run_m + other.run_m, max(self.breadth_m, other.breadth_m), None, self, other)

    def placed(self, along_m: float = 0.0, across_m: float = 0.0) -> Iterator[Placed]:
        """Its sheets, the box's corner at this place on the roll [m]."""
        if self.one is not None:
            yield replace(self.one, along_m=along_m, across_m=across_m)
        elif self.first is not None and self.second is not None:
            is_beside = self.breadth_m >= self.first.breadth_m + self.second.breadth_m - _HARDLY
            yield from self.first.placed(along_m, across_m)
            if is_beside:
                yield from self.second.placed(along_m, across_m + self.first.breadth_m)
            else:
                yield from self.second.placed(along_m + self.first.run_m, across_m)


def _exact(sheets: Sequence[Sheet], width_m: float, length_m: float) -> Layout:
    """The best of all edge-to-edge layouts, by ever larger sets of sheets."""
    whole = (1 << len(sheets)) - 1
    boxes: dict[int, list[_Box]] = {}
    for mask in range(1, whole + 1):
        if mask & (mask - 1) == 0:
            ways = _ways(sheets[mask.bit_length() - 1], width_m, length_m)
            found = [_Box(way.run_m, way.breadth_m, way) for way in ways]
        else:
            pairs = ((a, b) for part in _halves(mask) for a in boxes[part] for b in boxes[mask ^ part])
            joined = (join for a, b in pairs for join in (a.beside(b), a.after(b)))
            found = [box for box in joined if _fits(box, width_m, length_m)]
        boxes[mask] = _worth_keeping(found)
    best: dict[int, Layout] = {0: ()}
    for mask in range(1, whole + 1):
        parts = [mask, *_halves(mask), *(mask ^ half for half in _halves(mask))]
        tried = [(tuple(boxes[part][0].placed()), *best[mask ^ part]) for part in parts if boxes[part]]
        best[mask] = min(tried, key=burden)
    return best[whole]


def _halves(mask: int) -> Iterator[int]:
    """Each way to part a set in two, once."""
    lowest = mask & -mask
    part = (mask - 1) & mask
    while part:
        if part & lowest:
            yield part
        part = (part - 1) & mask


def _fits(box: _Box, width_m: float, length_m: float) -> bool:
    return box.run_m <= length_m + _HARDLY and box.breadth_m <= width_m + _HARDLY


def _worth_keeping(boxes: Sequence[_Box]) -> list[_Box]:
    """Boxes of which none is both longer and wider than another, shortest first."""
    kept: list[_Box] = []
    for box in sorted(boxes, key=lambda box: (box.run_m, box.breadth_m)):
        if not kept or box.breadth_m < kept[-1].breadth_m - _HARDLY:
            kept.append(box)
    return kept


_ORDERS: tuple[Callable[[Sheet], float], ...] = (
    lambda sheet: -sheet.area_m2,
    lambda sheet: -max(sheet.length_m, sheet.width_m),
    lambda sheet: -min(sheet.length_m, sheet.width_m),
)


def _guillotined(sheets: Sequence[Sheet], width_m: float, length_m: float) -> Iterator[Layout]:
    """Each sheet into the free piece it fits best, whose rest is then cut in two, by several orders of sheets."""
    for order in _ORDERS:
        for across_first in (True, False):
            yield _one_by_one(sorted(sheets, key=order), width_m, length_m, across_first)


def _one_by_one(sheets: Sequence[Sheet], width_m: float, length_m: float, across_first: bool) -> Layout:
    rolls: list[list[Placed]] = []
    free: list[tuple[int, float, float, float, float]] = []  # roll, along, across, run, breadth
    for sheet in sheets:
        best: tuple[tuple[float, float], int, Placed] | None = None
        for i, (_, along_m, across_m, run_m, breadth_m) in enumerate(free):
            for way in _ways(sheet, breadth_m, run_m):
                score = (along_m + way.run_m, min(run_m - way.run_m, breadth_m - way.breadth_m))
                if best is None or score < best[0]:
                    best = (score, i, replace(way, along_m=along_m, across_m=across_m))
        if best is None:
            rolls.append([])
            way = min(_ways(sheet, width_m, length_m), key=lambda way: way.run_m)
            free.append((len(rolls) - 1, 0.0, 0.0, length_m, width_m))
            best = ((0.0, 0.0), len(free) - 1, way)
        _, i, way = best
        roll, along_m, across_m, run_m, breadth_m = free.pop(i)
        rolls[roll].append(way)
        rest_run_m, rest_breadth_m = run_m - way.run_m, breadth_m - way.breadth_m
        beside = (roll, along_m, across_m + way.breadth_m, way.run_m if across_first else run_m, rest_breadth_m)
        after = (roll, along_m + way.run_m, across_m, rest_run_m, breadth_m if across_first else way.breadth_m)
        free += [piece for piece in (beside, after) if min(piece[3], piece[4]) > _HARDLY]
    return tuple(tuple(roll) for roll in rolls)


def strip_count(need_m: float, roll_width_m: float, lap_m: float) -> int | None:
    """Strips of a roll that, lapped, make up a width [m]; None where the roll is no wider than the lap."""
    if need_m <= roll_width_m + _HARDLY:
        return 1
    if roll_width_m <= lap_m:
        return None
    return math.ceil((need_m - lap_m) / (roll_width_m - lap_m) - _HARDLY)
