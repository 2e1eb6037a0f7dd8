"""How many of which pack: the least money, or where a price is missing the least left over."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

_HARDLY = 1e-9
# Packs are labelled to about this; two pints and a quart are the same.
_SAME_PLACES = 4
# Past so many of the largest pack the rest is no longer weighed up: the largest is taken.
_WEIGHED_UP = 3


@dataclass(frozen=True, slots=True)
class Pack:
    """One size something is sold in; `quantity` in the goods' unit."""

    label: str
    quantity: float
    price: Decimal | None


def choose_packs(quantity: float, packs: Sequence[Pack]) -> tuple[tuple[Pack, int], ...]:
    """The packs to buy for a quantity that is needed, in the goods' unit; largest pack first.

    Cheapest where all packs have prices; else the least bought, and among those the fewest packs.
    """
    if quantity <= _HARDLY or not packs:
        return ()
    largest_first = sorted(packs, key=lambda pack: -pack.quantity)
    largest = largest_first[0].quantity
    ahead = max(0, math.floor(quantity / largest) - _WEIGHED_UP)
    priced = all(pack.price is not None for pack in packs)

    def burden(counts: tuple[int, ...]) -> tuple[Decimal | float, float, int]:
        bought = sum(count * pack.quantity for count, pack in zip(counts, largest_first, strict=True))
        cost = sum(
            (count * (pack.price or Decimal(0)) for count, pack in zip(counts, largest_first, strict=True)), Decimal(0)
        )
        return (cost if priced else 0, round(bought, _SAME_PLACES), sum(counts))

    best = min(_ways(quantity - ahead * largest, [pack.quantity for pack in largest_first]), key=burden)
    counts = (best[0] + ahead, *best[1:])
    return tuple((pack, count) for pack, count in zip(largest_first, counts, strict=True) if count)


def _ways(need: float, sizes: Sequence[float]) -> Iterator[tuple[int, ...]]:
    """Every set of packs that is enough and from which none could be put back."""
    size, rest = sizes[0], sizes[1:]
    most = max(0, math.ceil(need / size - _HARDLY))
    if not rest:
        yield (most,)
        return
    for count in range(most + 1):
        for others in _ways(need - count * size, rest):
            yield (count, *others)


@dataclass(frozen=True, slots=True)
class Lengths:
    """Sticks to buy for pieces of lath: how many, and how many joins the pieces need because they are longer."""

    sticks: int
    joins: int


def sticks_for(pieces_m: Sequence[float], stick_m: float, kerf_m: float) -> Lengths:
    """Sticks of one length that give all pieces; what is longer than a stick is made up of whole sticks and a rest.

    Rests are put where they first fit, longest first.
    """
    whole, joins, rests = 0, 0, []
    for piece in pieces_m:
        full = math.floor(piece / stick_m + _HARDLY)
        rest = piece - full * stick_m
        whole += full
        if rest > _HARDLY:
            rests.append(rest)
            joins += full
        else:
            joins += max(0, full - 1)
    left: list[float] = []
    for rest in sorted(rests, reverse=True):
        place = next((i for i, room in enumerate(left) if room + _HARDLY >= rest), None)
        if place is None:
            left.append(stick_m)
            place = len(left) - 1
        left[place] -= rest + kerf_m
    return Lengths(whole + len(left), joins)
