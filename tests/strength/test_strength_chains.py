"""Taking chains out gives what the whole matrix gives, and what numpy's own solver says of it."""

from __future__ import annotations

import numpy as np
import peer
import pytest

from clochewright.strength.chains import Condensed, find_chains
from clochewright.strength.solver import prepare, stiffness_matrix

SHAPES = ("tent", "barn", "lean-to", "tunnel")


def scaled(structure):
    """The stiffness over its free freedoms, its diagonal 1."""
    ready = prepare(structure)
    matrix = stiffness_matrix(ready)[np.ix_(ready.free, ready.free)]
    scale = 1 / np.sqrt(np.diagonal(matrix))
    return ready, matrix * scale[:, None] * scale


@pytest.mark.parametrize("shape", SHAPES)
def test_chains_are_solved_as_the_whole_is(shape):
    (structure,) = peer.random_structures(3, 1, (shape,))
    ready, matrix = scaled(structure)
    right = np.random.default_rng(2).standard_normal((len(matrix), 5))
    assert ready.chains.inner
    assert np.allclose(
        Condensed(ready.chains, matrix).solve(right), np.linalg.solve(matrix, right), rtol=1e-8, atol=1e-8
    )


def test_definite_is_what_the_smallest_eigenvalue_says():
    (structure,) = peer.random_structures(3, 1, ("tunnel",))
    ready, matrix = scaled(structure)
    least = float(np.linalg.eigvalsh(matrix)[0])
    assert least > 0
    assert Condensed(ready.chains, matrix).definite
    assert not Condensed(ready.chains, matrix - 1.5 * least * np.eye(len(matrix))).definite


def test_a_ring_keeps_all_its_nodes():
    (structure,) = peer.random_structures(3, 1, ("tent",))
    members = structure.members
    n = 5
    ring = type(members)(
        np.arange(n), (np.arange(n) + 1) % n, *(getattr(members, name)[:n] for name in members.__slots__[2:])
    )
    chains = find_chains(ring, np.arange(6 * n), n)
    assert len(chains.rest) == 6 * n
    assert chains.inner == ()
