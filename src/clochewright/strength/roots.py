"""Finds how much of a load makes the largest share just 1."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from clochewright.strength.shares import CAME_OFF, Bears, Shares, Solved, share_out
from clochewright.strength.structure import Floats

CLOSE = 4e-3  # of the share; half of it in speed
NEAR_WORST = 0.5  # a case that far below the worst at a first look is left out until the end
STEPS = 40
MOST = 1e7  # a load this many times its unit is no garden load


@dataclass(frozen=True, slots=True)
class Root:
    """How much of the load, which case governs, what of it and where; the case's weights and open contacts there."""

    scale: float
    case: int
    what: str
    where: int
    weights: Floats
    open: tuple[int, ...]
    pipes: Floats


Cases = Callable[[float, Sequence[int] | None], Floats]


def find_root(solved: Solved, at: Cases, bears: Bears, start_scale: float) -> Root:
    """The smallest amount at which some case reaches its limit.

    Shares grow with the amount, nearly in proportion; false position between a safe and an unsafe amount, with the
    unsafe side's weight halved where it stays (the Illinois rule).

    Args:
        solved: the model.
        at: the cases' weights for an amount, of all or of the numbered ones.
        bears: what the parts bear.
        start_scale: an amount to begin with.
    """
    first = share_out(solved, at(start_scale, None), bears)
    chosen = [int(i) for i in np.flatnonzero(first.most >= NEAR_WORST * min(first.most.max(), 10.0))]
    root = _search(solved, lambda x: at(x, chosen), bears, start_scale)
    if len(chosen) == len(first.most):
        return root
    every = share_out(solved, at(root.scale, None), bears)
    if every.most.max() > 1 + 4 * CLOSE and root.scale > 0:
        return _search(solved, lambda x: at(x, None), bears, root.scale)
    return _with_case(root, chosen[root.case])


def _with_case(root: Root, case: int) -> Root:
    return Root(root.scale, case, root.what, root.where, root.weights, root.open, root.pipes)


def _search(solved: Solved, at: Callable[[float], Floats], bears: Bears, start_scale: float) -> Root:
    safe, unsafe = 0.0, 0.0
    safe_off = unsafe_off = 0.0
    amount = start_scale
    found: Shares | None = None
    guesses: Sequence[tuple[int, ...]] = ()
    for step in range(STEPS):
        found = share_out(solved, at(amount), bears, guesses)
        guesses = found.opened
        off = min(float(found.most.max()), CAME_OFF) - 1
        if abs(off) < CLOSE:
            break
        if off > 0:
            if unsafe and safe:
                safe_off /= 2
            unsafe, unsafe_off = amount, off
        else:
            if unsafe and safe:
                unsafe_off /= 2
            safe, safe_off = amount, off
        if unsafe and unsafe - safe < 1e-4 * unsafe:
            break
        if not unsafe:
            amount *= min(max(1.05 / (1 + off), 1.3), 8.0) if off > -1 else 8.0
            if amount > MOST * start_scale:
                break
        elif not safe:
            amount *= max(0.95 / (1 + off), 0.15) if step < 8 else 0.01
            if amount < 1e-6 * start_scale:
                amount = 0.0
                break
        elif unsafe_off > 1e6:
            amount = (safe + unsafe) / 2
        else:
            amount = safe + (unsafe - safe) * safe_off / (safe_off - unsafe_off)
            amount = min(max(amount, safe + 0.02 * (unsafe - safe)), unsafe - 0.02 * (unsafe - safe))
    assert found is not None
    worst = int(found.most.argmax())
    weights = at(amount)[worst]
    return Root(amount, worst, found.what[worst], found.where[worst], weights, found.opened[worst], found.pipes[worst])
