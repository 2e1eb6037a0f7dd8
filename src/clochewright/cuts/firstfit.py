"""A quick nesting: longest piece first, into the first stick that has room. The start for everything exact."""

from __future__ import annotations

from dataclasses import dataclass

from clochewright.cuts.problem import Nesting, Problem


@dataclass(slots=True)
class _Open:
    kind: int
    room: int
    counts: list[int]


def first_fit(problem: Problem) -> Nesting:
    """The best of a few first-fit nestings, one for each length of stick for sale, tight and loose.

    Pieces on hand are opened before a stick is bought. Afterwards each bought stick is changed for the cheapest that
    still holds its pieces.
    """
    for_sale: list[int | None] = [k for k, kind in enumerate(problem.kinds) if kind.available is None]
    tries = [_fit(problem, first, best) for first in (for_sale or [None]) for best in (False, True)]
    return min(tries, key=lambda n: (problem.cost(n), problem.length(n), len(n.uses)))


def _fit(problem: Problem, first: int | None, tightest: bool) -> Nesting:
    kinds = problem.kinds
    left = [kind.available for kind in kinds]
    by_length = sorted(range(len(kinds)), key=lambda k: kinds[k].room)
    open_sticks: list[_Open] = []
    for i, (size, wanted) in enumerate(zip(problem.sizes, problem.wanted, strict=True)):
        for _ in range(wanted):
            fitting = [stick for stick in open_sticks if stick.room >= size]
            if fitting:
                stick = min(fitting, key=lambda s: s.room) if tightest else fitting[0]
            else:
                kind = _next_kind(problem, by_length, left, size, first)
                if kind is None:
                    break
                number = left[kind]
                left[kind] = None if number is None else number - 1
                stick = _Open(kind, kinds[kind].room, [0] * len(problem.sizes))
                open_sticks.append(stick)
            stick.room -= size
            stick.counts[i] += 1

    for stick in open_sticks:
        if kinds[stick.kind].available is None:
            fill = kinds[stick.kind].room - stick.room
            enough = [k for k, kind in enumerate(kinds) if kind.room >= fill and left[k] != 0]
            stick.kind = min(enough, key=lambda k: (kinds[k].price, kinds[k].length, k))
            number = left[stick.kind]
            left[stick.kind] = None if number is None else number - 1
    return problem.nesting((stick.kind, stick.counts, 1) for stick in open_sticks)


def _next_kind(
    problem: Problem, by_length: list[int], left: list[int | None], size: int, first: int | None
) -> int | None:
    """The stick to open for a piece: the shortest on hand that holds it, else the chosen one for sale, else another."""
    enough = [k for k in by_length if problem.kinds[k].room >= size and left[k] != 0]
    on_hand = [k for k in enough if left[k] is not None]
    if on_hand:
        return on_hand[0]
    if first in enough:
        return first
    return enough[0] if enough else None
