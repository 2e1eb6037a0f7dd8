"""First cuts: where bought sticks are sawn at the shop so that the load fits the car.

A shop's saw is rough, and a piece may yet have to grow a little: what is left of a stick is shared out, so that each
piece that is carried home is a little longer than what is sawn from it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from types import MappingProxyType

from clochewright.cuts.problem import UNITS_PER_M, units
from clochewright.cuts.types import FirstCut, Stick, Stock
from clochewright.findings import Finding, Level
from clochewright.measures import Units, inch

MAX_STEPS = 20_000
GROWTH_M = 0.025  # what a carried piece has to spare where the stick has that much; the rest stays in one piece
PLAY_M = 0.006  # left free in the car where that asks for no further cut, since a shop's saw is rough

# Where there is room the shop saws at a whole figure, the coarsest that can be had [m].
_WHOLE_M = MappingProxyType(
    {"inch": tuple(inch / part for part in (1, 2, 4, 8, 16)), "mm": (0.01, 0.005, 0.001)},
)


@dataclass(frozen=True, slots=True)
class _Haul:
    """What goes into the car, how much of that is made use of, and the saw's width."""

    car: int
    used: int
    kerf: int


def first_cuts(stock: Stock, car_m: float, shown: Units = "inch") -> tuple[tuple[FirstCut, ...], tuple[Finding, ...]]:
    """The fewest saw cuts at the shop that leave no piece longer than the car; sticks on hand stay at home.

    Args:
        stock: The nesting.
        car_m: Longest thing that goes into the car [m].
        shown: How lengths are shown, for cuts at whole figures.

    Returns:
        The first cuts of each bought stick that needs any, and a warning for each mark that is itself too long.
    """
    if not car_m > 0.0:
        raise ValueError("the car must have a length")
    whole = [units(step_m) for step_m in _WHOLE_M[shown]]
    cuts = []
    too_long: dict[str, float] = {}
    for place, stick in enumerate(stock.sticks):
        if stick.origin != "buy" or units(stick.length_m) <= units(car_m):
            continue
        too_long.update({mark: length_m for mark, length_m in stick.cuts if units(length_m) > units(car_m)})
        cut = _first_cut(place, stick, units(car_m), units(stock.kerf_m), whole)
        if cut.positions_m:
            cuts.append(cut)
    findings = tuple(
        Finding(Level.WARN, "cuts", "cuts.longer-than-car", mark, {"mark": mark, "cut_m": length_m, "car_m": car_m})
        for mark, length_m in too_long.items()
    )
    return tuple(cuts), findings


def _first_cut(place: int, stick: Stick, car: int, kerf: int, whole: Sequence[int]) -> FirstCut:
    length = units(stick.length_m)
    sizes = [units(length_m) for _, length_m in stick.cuts]
    rest = length - sum(sizes) - kerf * (len(sizes) - 1)  # behind the last piece, while nothing is sawn there
    hauls = [_Haul(car, car - play, kerf) for play in (min(units(PLAY_M), car), 0)]
    number = 1
    while True:
        even = min(rest // number, kerf + units(GROWTH_M))
        even, *less = (share - share % whole[-1] for share in (even, even // 2, even // 4, 0))
        for share, haul in product(dict.fromkeys((even, *less)), hauls):
            for loads in _loads_with_rest(sizes, rest, number, haul, share):
                needed = [max(0, sum(sizes[i] + kerf for i in load) - kerf) for load in loads]
                spare = _shared_out(needed, length, haul, share, even)
                if spare is not None:
                    _to_whole_figures(needed, spare, haul, whole)
                    marks = [[stick.cuts[i][0] for i in load] for load in loads]
                    return _sawn(place, kerf, [sum(both) for both in zip(needed, spare, strict=True)], marks)
        number += 1


def _loads_with_rest(
    sizes: Sequence[int], rest: int, number: int, haul: _Haul, share: int
) -> Iterator[list[list[int]]]:
    """Ways to share the pieces out so that each load can carry its share of the rest as well.

    First what leaves the remainder of the rest in one piece, which goes with the last load; then any.
    """
    remainder = rest - number * share
    if remainder - haul.kerf + share <= haul.used:
        # One more thing to carry; it brings no saw cut of its own along.
        loads = _loads([*sizes, *([remainder - haul.kerf] if remainder else [])], number, haul, share)
        if loads is not None:
            loads = sorted(loads, key=lambda load: len(sizes) in load)
            yield _filled([[i for i in sorted(load) if i < len(sizes)] for load in loads], number)
    loads = _loads(sizes, number, haul, share)
    if loads is not None:
        yield _filled([sorted(load) for load in loads], number)


def _filled(loads: list[list[int]], number: int) -> list[list[int]]:
    """As many loads as that, those behind the last with nothing in them."""
    return loads + [[] for _ in range(number - len(loads))]


def _loads(sizes: Sequence[int], number: int, haul: _Haul, share: int) -> list[list[int]] | None:
    """The pieces in that many loads at most, by their places, with room for a share of the rest in each.

    A piece longer than the car is a load by itself.
    """
    order = sorted(range(len(sizes)), key=lambda i: -sizes[i])
    kerf = haul.kerf
    room = [haul.used + kerf - share] * number
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
            fits = sizes[i] + kerf <= room[n] or (not loads[n] and sizes[i] > haul.car)
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


def _shared_out(needed: Sequence[int], length: int, haul: _Haul, share: int, even: int) -> list[int] | None:
    """What each load carries besides what it needs, or None if that doesn't go into the car.

    Each that holds a piece gets an even part of the rest, or a share at least, as far as the car has room; the last
    loads get what remains. Less than nothing for the last: its saw cut turns it to dust.
    """
    over = length - sum(needed) - haul.kerf * (len(needed) - 1)
    if over < 0:
        return [*(0 for _ in needed[1:]), over] if not needed[-1] and over >= -haul.kerf else None
    room = [haul.used - need if need <= haul.car else even for need in needed]  # on the roof nothing is in the way
    for wish in (even, share):
        spare = [min(wish, most) if need else 0 for need, most in zip(needed, room, strict=True)]
        if sum(spare) <= over:
            break
    over -= sum(spare)
    for i in reversed(range(len(needed))):
        more = min(max(over, 0), room[i] - spare[i])
        spare[i] += more
        over -= more
    return spare if over == 0 else None


def _to_whole_figures(needed: Sequence[int], spare: list[int], haul: _Haul, whole: Sequence[int]) -> None:
    """Moves each cut a little, to a whole figure on the tape; a load gives up a quarter of its offcut at each end."""
    kerf = haul.kerf
    at = -kerf
    for i in range(len(needed) - 1):
        at += kerf + needed[i] + spare[i]
        low = at - max(0, min((spare[i] - kerf) // 4, haul.used - needed[i + 1] - spare[i + 1]))
        high = at + max(0, min((spare[i + 1] - kerf) // 4, haul.used - needed[i] - spare[i]))
        for step in whole:
            least, most = -(-low // step), high // step
            if least <= most:
                moved = min(max((at + step // 2) // step, least), most) * step - at
                spare[i] += moved
                spare[i + 1] -= moved
                at += moved
                break


def _sawn(place: int, kerf: int, lengths: list[int], marks: list[list[str]]) -> FirstCut:
    ends = []
    at = 0
    for one in lengths[:-1]:
        at += one
        ends.append(at)
        at += kerf
    if lengths[-1] <= 0:  # the last cut turns all that is left into dust
        lengths, marks = lengths[:-1], marks[:-1]
    return FirstCut(
        stick=place,
        positions_m=tuple(end / UNITS_PER_M for end in ends),
        pieces_m=tuple(piece / UNITS_PER_M for piece in lengths),
        marks=tuple(tuple(load) for load in marks),
    )
