"""First cuts: where bought sticks are sawn at the shop so that the load fits the car."""

from __future__ import annotations

from collections.abc import Sequence

from clochewright.cuts.problem import UNITS_PER_M, units
from clochewright.cuts.types import FirstCut, Stick, Stock
from clochewright.findings import Finding, Level

MAX_STEPS = 20_000


def first_cuts(stock: Stock, car_m: float) -> tuple[tuple[FirstCut, ...], tuple[Finding, ...]]:
    """The fewest saw cuts at the shop that leave no piece longer than the car; sticks on hand stay at home.

    Args:
        stock: The nesting.
        car_m: Longest thing that goes into the car [m].

    Returns:
        The first cuts of each bought stick that needs any, and a warning for each mark that is itself too long.
    """
    if not car_m > 0.0:
        raise ValueError("the car must have a length")
    cuts = []
    too_long: dict[str, float] = {}
    for place, stick in enumerate(stock.sticks):
        if stick.origin != "buy" or units(stick.length_m) <= units(car_m):
            continue
        too_long.update({mark: length_m for mark, length_m in stick.cuts if units(length_m) > units(car_m)})
        cut = _first_cut(place, stick, units(car_m), units(stock.kerf_m))
        if cut.positions_m:
            cuts.append(cut)
    findings = tuple(
        Finding(Level.WARN, "cuts", "cuts.longer-than-car", mark, {"mark": mark, "cut_m": length_m, "car_m": car_m})
        for mark, length_m in too_long.items()
    )
    return tuple(cuts), findings


def _first_cut(place: int, stick: Stick, car: int, kerf: int) -> FirstCut:
    length = units(stick.length_m)
    pieces = [(mark, units(length_m)) for mark, length_m in stick.cuts]
    sizes = [size for _, size in pieces]
    rest = length - sum(sizes) - kerf * (len(sizes) - 1)  # behind the last piece, while nothing is sawn there
    number = 1
    while True:
        # The rest in one piece if it can be, as one more thing to carry (it brings no saw cut of its own along) ...
        if rest - kerf <= car:
            loads = _loads(sizes + ([rest - kerf] if rest else []), number, car, kerf)
            if loads is not None:
                return _laid_out(place, length, kerf, pieces, loads)
        # ... else spread over the loads.
        loads = _loads(sizes, number, car, kerf)
        if loads is not None:
            loads += [[] for _ in range(number - len(loads))]
            needed = [max(0, sum(sizes[i] + kerf for i in load) - kerf) for load in loads]
            ends = _spread(length, needed, car, kerf)
            if ends is not None:
                return _sawn(place, length, kerf, ends, [[pieces[i][0] for i in load] for load in loads])
        number += 1


def _loads(sizes: Sequence[int], number: int, car: int, kerf: int) -> list[list[int]] | None:
    """The pieces in that many loads at most, by their places; a piece longer than the car is a load by itself."""
    order = sorted(range(len(sizes)), key=lambda i: -sizes[i])
    room = [car + kerf] * number
    loads: list[list[int]] = [[] for _ in range(number)]
    steps = MAX_STEPS

    def place(at: int) -> bool:
        nonlocal steps
        if at == len(order):
            return True
        steps -= 1
        if steps < 0:
            return False
        i = order[at]
        tried = set()
        for n in range(number):
            fits = sizes[i] + kerf <= room[n] or not loads[n]
            if room[n] in tried or not fits:
                continue
            tried.add(room[n])
            loads[n].append(i)
            room[n] -= sizes[i] + kerf
            if place(at + 1):
                return True
            room[n] += sizes[i] + kerf
            loads[n].pop()
        return False

    return [load for load in loads if load] if place(0) else None


def _laid_out(place: int, length: int, kerf: int, pieces: list[tuple[str, int]], loads: list[list[int]]) -> FirstCut:
    """Loads end to end, the one that holds the rest (the last of the sizes) at the end, the rest last in it."""
    rest = len(pieces)
    loads = sorted(loads, key=lambda load: rest in load)
    marks = [[pieces[i][0] for i in sorted(load) if i != rest] for load in loads]
    ends = []
    at = 0
    for load in loads[:-1]:
        at += sum(pieces[i][1] + kerf for i in load)
        ends.append(at - kerf)
    return _sawn(place, length, kerf, ends, marks)


def _spread(length: int, needed: list[int], car: int, kerf: int) -> list[int] | None:
    """Where the saw goes in when each load may carry some of the rest; None if the rest is too long for them all."""
    ends: list[int] = []
    at = 0
    for i, need in enumerate(needed):
        left = sum(needed[i + 1 :]) + kerf * (len(needed) - 1 - i)  # the loads behind, with the saw cuts before each
        longest = max(car, need)
        if i == len(needed) - 1:
            return ends if length - at <= longest else None
        end = min(at + longest, length - left)
        ends.append(end)
        at = end + kerf
    return None


def _sawn(place: int, length: int, kerf: int, ends: list[int], marks: list[list[str]]) -> FirstCut:
    starts = [0, *(end + kerf for end in ends)]
    lengths = [end - start for start, end in zip(starts, [*ends, length], strict=True)]
    if lengths[-1] <= 0:  # the last cut turns all that is left into dust
        lengths, marks = lengths[:-1], marks[:-1]
    return FirstCut(
        stick=place,
        positions_m=tuple(end / UNITS_PER_M for end in ends),
        pieces_m=tuple(piece / UNITS_PER_M for piece in lengths),
        marks=tuple(tuple(load) for load in marks),
    )
