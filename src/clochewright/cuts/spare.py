"""How near the nesting is to doing with one stick less."""

from __future__ import annotations

from clochewright.cuts.problem import UNITS_PER_M, units
from clochewright.cuts.types import CutList, Spare, Stock


def spare(cut_list: CutList) -> Spare | None:
    """The bought stick that could most nearly be done without, or None where fewer than two sticks are used.

    What the stick holds is put where the other sticks have most room, longest first; `short_m` is what they lack for
    it. It is enough to shorten that much, not always needed: nesting anew may do with less.

    Args:
        cut_list: Cuts and sticks.
    """
    sticks = cut_list.stock.sticks
    bought = [place for place, stick in enumerate(sticks) if stick.origin == "buy"]
    if not bought or len(sticks) < 2:
        return None
    return min((_without(cut_list.stock, place) for place in bought), key=lambda near: (near.short_m, near.stick))


def _without(stock: Stock, place: int) -> Spare:
    kerf = units(stock.kerf_m)
    room = {}
    marks = {}
    for other, stick in enumerate(stock.sticks):
        if other != place:
            room[other] = units(stick.length_m) + kerf - sum(units(length_m) + kerf for _, length_m in stick.cuts)
            marks[other] = [mark for mark, _ in stick.cuts]
    for mark, length_m in stock.sticks[place].cuts:
        roomiest = max(room, key=lambda other: (room[other], -other))
        room[roomiest] -= units(length_m) + kerf
        marks[roomiest].append(mark)
    over = tuple(other for other in sorted(room) if room[other] < 0)
    named = dict.fromkeys(mark for other in over for mark in marks[other])
    return Spare(place, -sum(room[other] for other in over) / UNITS_PER_M, over, tuple(named))
