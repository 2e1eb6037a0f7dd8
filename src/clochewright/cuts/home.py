"""What lies at the saw at home: whole sticks, and the pieces that the shop made of others, each with its own offcut."""

from __future__ import annotations

from collections.abc import Iterator

from clochewright.cuts.problem import UNITS_PER_M, units
from clochewright.cuts.types import AtHome, CutList, FirstCut, Stick


def carried(stick: Stick, first: FirstCut, kerf_m: float) -> tuple[Stick, ...]:
    """The pieces of one stick that are carried home, as sticks of their own.

    Args:
        stick: The whole stick.
        first: Where the shop saws it.
        kerf_m: Width that the saw takes away [m].
    """
    size = dict(stick.cuts)
    pieces = []
    for length_m, marks in zip(first.pieces_m, first.marks, strict=True):
        offcut = units(length_m) - sum(units(size[mark]) + units(kerf_m) for mark in marks)
        cuts = tuple((mark, size[mark]) for mark in marks)
        pieces.append(Stick(length_m, stick.origin, cuts, max(0, offcut) / UNITS_PER_M))
    return tuple(pieces)


def at_home(cutlist: CutList) -> Iterator[AtHome]:
    """Every length that is sawn at home, in the order of the sticks, pieces of one stick in theirs."""
    firsts = {first.stick: first for first in cutlist.first_cuts}
    for place, stick in enumerate(cutlist.stock.sticks):
        if place not in firsts:
            yield AtHome(place, 0, 1, stick)
            continue
        pieces = carried(stick, firsts[place], cutlist.stock.kerf_m)
        for number, piece in enumerate(pieces, start=1):
            yield AtHome(place, number, len(pieces), piece)
