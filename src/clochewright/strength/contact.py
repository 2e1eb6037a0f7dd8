"""Which one-way supports open: the smallest set that leaves none pulling and none pushed into.

A linear complementarity problem with a positive definite matrix; block pivoting, and Murty's least-index rule where
that goes round in circles (Murty, Linear Complementarity, Linear and Nonlinear Programming, 1988, ch. 3).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from clochewright.strength.solver import Responses
from clochewright.strength.structure import Floats, Ints

BLOCK_STEPS, LEAST_INDEX_STEPS = 12, 400
LOOSE = 1e-9  # softest opening against a support's own stiffness: below it, nothing but that support held the frame
WHISKER = 1e-8  # of a support's stiffness, left in it while looking, so that no step on the way is singular


@dataclass(frozen=True, slots=True)
class Opened:
    """The weights (c,) on all columns of a case with its open contacts, or None where the frame comes off its supports.

    `open` are the numbers of the contacts that are open.
    """

    weights: Floats | None
    open: tuple[int, ...]


def open_contacts(responses: Responses, weights: Floats, guess: tuple[int, ...] = ()) -> Opened:
    """Find the open contacts for a mix of patterns (p,).

    Args:
        responses: what each column does, with all contacts closed.
        weights: how much of each pattern the case holds.
        guess: contacts that are likely to be open, from a case like it.

    Returns:
        The weights of all columns: an open contact's own is the force that undoes its push.
    """
    contacts = responses.prepared.structure.contacts
    count, p = len(contacts), responses.patterns
    whole = np.zeros(p + count)
    whole[:p] = weights
    if not count:
        return Opened(whole, ())
    given = weights @ responses.contact_moves_m[:p]
    give = 1 / np.array([contact.stiffness_N_m for contact in contacts])
    flexible = responses.contact_moves_m[p:].T
    flexible = (flexible + flexible.T) / 2
    tiny = 1e-12 * (np.abs(given).max() + 1e-300)
    is_open = np.zeros(count, dtype=bool)
    is_open[list(guess)] = True
    for step in range(BLOCK_STEPS + LEAST_INDEX_STEPS):
        undo = np.zeros(count)
        at = np.flatnonzero(is_open)
        if len(at):
            undo[at] = np.linalg.solve(np.diag(give[at] * (1 + WHISKER)) - flexible[np.ix_(at, at)], given[at])
        moves = given + flexible @ undo
        # A closed one must be pressed down (moves <= 0); an open one must have come up, which is what undoing it says.
        wrong = np.where(is_open, undo * give < -tiny, moves > tiny)
        if not wrong.any():
            rest = _settled(given, flexible, give, at)
            if rest is None:
                return Opened(None, tuple(int(i) for i in at))
            whole[p:][at] = rest
            return Opened(whole, tuple(int(i) for i in at))
        if step < BLOCK_STEPS:
            is_open ^= wrong
        else:
            last = int(np.flatnonzero(wrong)[-1])
            is_open[last] = not is_open[last]
    raise ArithmeticError("the one-way supports found no rest")  # Murty's rule ends, so the matrix was not definite


def _settled(given: Floats, flexible: Floats, give: Floats, at: Ints) -> Floats | None:
    """The forces that undo the open contacts, exactly; None where the frame would come off."""
    if not len(at):
        return np.zeros(0)
    matrix = np.diag(give[at]) - flexible[np.ix_(at, at)]
    root = np.sqrt(give[at])
    if np.linalg.eigvalsh(matrix / (root[:, None] * root))[0] < LOOSE:
        return None
    undone: Floats = np.asarray(np.linalg.solve(matrix, given[at]), dtype=np.float64)
    return undone
