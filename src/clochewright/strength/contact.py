"""Which one-way supports open: the smallest set that leaves none pulling and none pushed into.

A linear complementarity problem with a positive definite matrix; block pivoting, and Murty's least-index rule where
that goes round in circles (Murty, Linear Complementarity, Linear and Nonlinear Programming, 1988, ch. 3).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from clochewright.strength.solver import Responses
from clochewright.strength.structure import Floats

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


class Contacts:
    """The one-way supports of a structure; what is worked out for a set of open ones is kept: cases share sets."""

    def __init__(self, responses: Responses) -> None:
        contacts, p = responses.prepared.structure.contacts, responses.patterns
        self._moves_m = responses.contact_moves_m[:p]
        self._give = 1 / np.array([contact.stiffness_N_m for contact in contacts])
        flexible = responses.contact_moves_m[p:].T
        self._flexible = (flexible + flexible.T) / 2
        self._wrong: dict[tuple[int, ...], Floats] = {}
        self._undo: dict[tuple[int, ...], Floats | None] = {}

    def settle(self, weights: Floats, guess: tuple[int, ...] = ()) -> Opened:
        """Find the open contacts for a mix of patterns (p,), with those that are likely to be open from a case like it.

        Returns:
            The weights of all columns: an open contact's own is the force that undoes its push.
        """
        return self.settle_all(weights[None], (guess,))[0]

    def settle_all(self, cases: Floats, guesses: Sequence[tuple[int, ...]] = ()) -> list[Opened]:
        """The same for several mixes (cases, p); those without a guess begin with none open."""
        if not len(self._give):
            return [Opened(case, ()) for case in cases]
        whole = np.zeros((len(cases), cases.shape[1] + len(self._give)))
        whole[:, : cases.shape[1]] = cases
        given = cases @ self._moves_m
        tiny = 1e-12 * (np.abs(given).max(axis=1) + 1e-300)
        guesses = [*guesses, *[()] * (len(cases) - len(guesses))]
        return [self._turned_over(*one) for one in zip(whole, given, tiny.tolist(), guesses, strict=True)]

    def _turned_over(self, whole: Floats, given: Floats, tiny: float, is_open: tuple[int, ...]) -> Opened:
        """Turn over what is wrong until nothing is; `whole` takes the forces that undo the open ones."""
        for step in range(BLOCK_STEPS + LEAST_INDEX_STEPS):
            wrong = (self._wrongness(is_open) @ given > tiny).nonzero()[0]
            if not len(wrong):
                undo = self._undoing(is_open)
                if undo is None:
                    return Opened(None, is_open)
                whole[len(whole) - len(given) :][list(is_open)] = undo @ given
                return Opened(whole, is_open)
            turned = wrong.tolist() if step < BLOCK_STEPS else wrong[-1:].tolist()
            is_open = tuple(sorted(set(is_open).symmetric_difference(turned)))
        raise ArithmeticError("the one-way supports found no rest")  # Murty's rule ends: the matrix was not definite

    def _wrongness(self, is_open: tuple[int, ...]) -> Floats:
        """What makes of the movements with all closed how far each is wrong with these open (k, k).

        A closed one comes up, an open one would be pushed into.
        """
        known = self._wrong.get(is_open)
        if known is not None:
            return known
        count, give, at = len(self._give), self._give, list(is_open)
        undo = np.zeros((count, count))
        among = self._flexible[np.ix_(at, at)]
        undo[np.ix_(at, at)] = np.linalg.inv(np.diag(give[at] * (1 + WHISKER)) - among)
        wrong = np.eye(count) + self._flexible @ undo
        wrong[at] = -undo[at] * give[at, None]
        self._wrong[is_open] = wrong
        return wrong

    def _undoing(self, is_open: tuple[int, ...]) -> Floats | None:
        """What makes of them the forces that undo the open ones (open, k); None where the frame would come off."""
        if is_open in self._undo:
            return self._undo[is_open]
        at = list(is_open)
        matrix = np.diag(self._give[at]) - self._flexible[np.ix_(at, at)]
        root = np.sqrt(self._give[at])
        undo = None
        if not at or np.linalg.eigvalsh(matrix / (root[:, None] * root))[0] >= LOOSE:
            undo = np.zeros((len(at), len(self._give)))
            undo[:, at] = np.linalg.inv(matrix)
        self._undo[is_open] = undo
        return undo


def open_contacts(responses: Responses, weights: Floats, guess: tuple[int, ...] = ()) -> Opened:
    """The open contacts for a single mix of patterns (p,): see `Contacts.settle`."""
    return Contacts(responses).settle(weights, guess)
