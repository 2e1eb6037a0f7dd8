"""Taking out what only passes loads on: nodes inside a hoop or along a rail, before the rest is solved.

A node with two members and no fixed support lies on a chain between two others. All chains of one length are taken out
at once (static condensation), which leaves a third of the freedoms of a tunnel. Nothing is left out: the answer is that
of the whole matrix.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from clochewright.strength.structure import Floats, Ints, Members

LONGEST = 10  # nodes: a longer chain is left where it is


@dataclass(frozen=True, slots=True)
class Chains:
    """Freedoms by their place among the free ones: `rest`, and for each length of chain one row a chain."""

    rest: Ints
    inner: tuple[Ints, ...]


def find_chains(members: Members, free: Ints, nodes: int) -> Chains:
    """Find the chains of a structure whose free freedoms are numbered `free`."""
    ends = np.concatenate([members.start, members.stop])
    place = np.full(6 * nodes, -1, dtype=np.int64)
    place[free] = np.arange(len(free))
    whole = (place.reshape(-1, 6) >= 0).all(axis=1)
    passing = (np.bincount(ends, minlength=nodes) == 2) & whole
    beside: dict[int, list[int]] = {}
    for one, two in zip(members.start.tolist(), members.stop.tolist(), strict=True):
        beside.setdefault(one, []).append(two)
        beside.setdefault(two, []).append(one)
    seen: set[int] = set()
    by_length: dict[int, list[list[int]]] = {}
    for node in np.flatnonzero(passing).tolist():
        if node in seen:
            continue
        chain, waiting = [], [node]
        seen.add(node)
        while waiting:
            at = waiting.pop()
            chain.append(at)
            more = [other for other in beside[at] if passing[other] and other not in seen]
            seen.update(more)
            waiting += more
        if len(chain) <= LONGEST:
            by_length.setdefault(len(chain), []).append(chain)
    inner = tuple(
        place.reshape(-1, 6)[np.array(chains)].reshape(len(chains), -1) for _, chains in sorted(by_length.items())
    )
    is_rest = np.ones(len(free), dtype=bool)
    for rows in inner:
        is_rest[rows] = False
    if not is_rest.any():  # a ring of nothing but such nodes
        return Chains(np.arange(len(free)), ())
    return Chains(np.flatnonzero(is_rest), inner)


class Condensed:
    """A symmetric matrix (n, n) with its chains taken out.

    Raises:
        numpy.linalg.LinAlgError: a chain by itself is singular.
    """

    def __init__(self, chains: Chains, matrix: Floats) -> None:
        self._chains = chains
        rest = chains.rest
        self._left = matrix[np.ix_(rest, rest)]
        self._own = [matrix[rows[:, :, None], rows[:, None, :]] for rows in chains.inner]
        self._beside = [matrix[rows[:, :, None], rest] for rows in chains.inner]
        self._follow = [np.linalg.solve(own, beside) for own, beside in zip(self._own, self._beside, strict=True)]
        for beside, follow in zip(self._beside, self._follow, strict=True):
            self._left -= beside.reshape(-1, len(rest)).T @ follow.reshape(-1, len(rest))

    def solve(self, right: Floats) -> Floats:
        """Solve for columns (n, c).

        Raises:
            numpy.linalg.LinAlgError: the matrix is singular.
        """
        rest, load = self._chains.rest, right[self._chains.rest]
        alone = []
        for rows, own, beside in zip(self._chains.inner, self._own, self._beside, strict=True):
            found = np.linalg.solve(own, right[rows])
            load -= beside.reshape(-1, len(rest)).T @ found.reshape(-1, right.shape[1])
            alone.append(found)
        out = np.empty_like(right)
        out[rest] = np.linalg.solve(self._left, load)
        for rows, found, follow in zip(self._chains.inner, alone, self._follow, strict=True):
            out[rows] = found - follow @ out[rest]
        return out

    @property
    def definite(self) -> bool:
        """Whether every motion is resisted: in the chains, and in what is left after them."""
        try:
            for part in (*self._own, self._left):
                np.linalg.cholesky(part)
        except np.linalg.LinAlgError:
            return False
        return True
