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


def solve_chained(chains: Chains, matrix: Floats, right: Floats) -> Floats:
    """Solve the symmetric matrix (n, n) for columns (n, c).

    Raises:
        numpy.linalg.LinAlgError: it is singular.
    """
    rest = chains.rest
    out = np.empty_like(right)
    condensed, load = matrix[np.ix_(rest, rest)], right[rest]
    taken = []
    for rows in chains.inner:
        beside = matrix[rows[:, :, None], rest]
        own = matrix[rows[:, :, None], rows[:, None, :]]
        found = np.linalg.solve(own, np.concatenate([beside, right[rows]], axis=2))
        flat, both = beside.reshape(-1, len(rest)), found.reshape(-1, found.shape[2])
        less = flat.T @ both
        condensed -= less[:, : len(rest)]
        load -= less[:, len(rest) :]
        taken.append((rows.ravel(), both))
    out[rest] = np.linalg.solve(condensed, load)
    for rows, both in taken:
        out[rows] = both[:, len(rest) :] - both[:, : len(rest)] @ out[rest]
    return out


def is_definite(chains: Chains, matrix: Floats) -> bool:
    """Whether every motion is resisted: the parts that are taken out, and what is left after them."""
    rest = chains.rest
    condensed = matrix[np.ix_(rest, rest)]
    try:
        for rows in chains.inner:
            own = matrix[rows[:, :, None], rows[:, None, :]]
            np.linalg.cholesky(own)
            beside = matrix[rows[:, :, None], rest]
            flat = beside.reshape(-1, len(rest))
            condensed -= flat.T @ np.linalg.solve(own, beside).reshape(-1, len(rest))
        np.linalg.cholesky(condensed)
    except np.linalg.LinAlgError:
        return False
    return True
