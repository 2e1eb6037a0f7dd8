"""How many sticks of each kind: the numbers that could better a nesting, lightest first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from clochewright.cuts.problem import Problem

MAX_STEPS = 20_000


@dataclass(frozen=True, slots=True)
class Totals:
    """Numbers of sticks of each kind; `complete` when there are no others."""

    numbers: tuple[tuple[int, ...], ...]
    complete: bool


def totals(problem: Problem, weights: Sequence[int], low: int, below: int, *, most_cost: int | None = None) -> Totals:
    """Numbers of sticks whose rooms together hold all pieces.

    Args:
        problem: What is wanted and what there is.
        weights: What a stick of each kind counts; sticks that count nothing are all taken.
        low: The least that the sticks may weigh together.
        below: They must weigh less than this.
        most_cost: The most they may cost; None for any.

    Returns:
        The totals, lightest first.
    """
    kinds = problem.kinds
    behind = [0.0] * (len(kinds) + 1)  # room of the kinds from here on
    for k in range(len(kinds) - 1, -1, -1):
        available = kinds[k].available
        behind[k] = behind[k + 1] + (float("inf") if available is None else kinds[k].room * available)
    found: list[tuple[int, tuple[int, ...]]] = []
    steps = MAX_STEPS

    def walk(numbers: tuple[int, ...], weight: int, cost: int, lacking: int) -> None:
        nonlocal steps
        steps -= 1
        k = len(numbers)
        if steps < 0 or lacking > behind[k]:
            return
        if k == len(kinds):
            if weight >= low:
                found.append((weight, numbers))
            return
        kind = kinds[k]
        enough = -(-lacking // kind.room) if lacking > 0 else 0
        n = 0
        if weights[k] == 0:
            n = enough if kind.available is None else kind.available
        while kind.available is None or n <= kind.available:
            after = weight + n * weights[k], cost + n * kind.price, lacking - n * kind.room
            if after[0] >= below or (most_cost is not None and after[1] > most_cost):
                break
            walk((*numbers, n), *after)
            if weights[k] == 0 or steps < 0:
                break
            n += 1

    walk((), 0, 0, problem.fill(problem.wanted))
    found.sort()
    return Totals(tuple(numbers for _, numbers in found), steps >= 0)
