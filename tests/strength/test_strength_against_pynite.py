"""Our solver beside PyNiteFEA 3.2, which shares nothing with it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import peer
import pytest

from clochewright.strength.contact import open_contacts
from clochewright.strength.second_order import second_order
from clochewright.strength.solver import prepare, respond
from clochewright.strength.structure import Loads, Support

SHAPES = ("tent", "barn", "lean-to", "tunnel", "own")


def case(structure, loads, p):
    """Movements (nodes, 6) and forces of the supports (nodes, 6) of one pattern, with its one-way supports."""
    prepared = prepare(structure)
    found = respond(prepared, loads)
    assert found.motion is None
    opened = open_contacts(found, np.eye(len(loads))[p])
    if opened.weights is None:
        return None
    moves = np.tensordot(opened.weights, found.moves, 1)
    forces = np.zeros_like(moves)
    for support in structure.supports:
        if np.isfinite(support.stiffness_N_m):
            forces[support.node, support.freedom] -= support.stiffness_N_m * moves[support.node, support.freedom]
    for i, contact in enumerate(structure.contacts):
        if i not in opened.open:
            forces[contact.node, contact.freedom] -= contact.stiffness_N_m * moves[contact.node, contact.freedom]
    return moves, forces, len(opened.open)


@pytest.mark.parametrize("seed", range(6))
def test_thirty_random_frames_on_one_way_rims(seed):
    """Movements and reactions of 30 random frames of all shapes within 1e-6 of the largest."""
    opened = 0
    for number, structure in enumerate(peer.random_structures(seed, 5, SHAPES)):
        loads = peer.random_loads(structure, 100 * seed + number, patterns=1)
        model = peer.in_pynite(structure, loads)
        model.analyze(check_stability=False)
        ours = case(structure, loads, 0)
        assert ours is not None
        moves, forces, count = ours
        theirs = peer.node_moves(model, structure, "0")
        assert np.abs(moves[:, :3] - theirs[:, :3]).max() < 1e-6 * np.abs(theirs[:, :3]).max()
        assert np.abs(moves[:, 3:] - theirs[:, 3:]).max() < 1e-6 * np.abs(theirs[:, 3:]).max()
        rest = peer.reactions(model, structure, "0")
        held = {(s.node, s.freedom) for s in (*structure.supports, *structure.contacts)}
        sprung = [
            at for at in held if not any(s.node == at[0] and np.isinf(s.stiffness_N_m) for s in structure.supports)
        ]
        for node, freedom in sprung:
            assert abs(forces[node, freedom] - rest[node, freedom]) < 1e-6 * np.abs(rest).max()
        opened += count
    assert opened > 0  # else nothing was tried of one-way supports


@pytest.mark.parametrize("shape", ["lean-to", "barn"])
def test_second_order_equals_a_refined_mesh(shape):
    """P-Δ and P-δ within 1 % of the same frame with every member cut into four, at loads that count.

    Its movements inside uncut spans are not second order, so it has to be cut up; ours is not.
    """
    (structure,) = peer.random_structures(3, 1, (shape,))
    structure = replace(structure, contacts=(), supports=(*structure.supports, *_feet_held(structure)))
    nodal = np.zeros((1, len(structure.nodes_m), 6))
    nodal[0, :, 1] = 2.0
    nodal[0, structure.nodes_m[:, 2] > 0.2, 2] = -1.0
    loads = Loads(nodal, np.zeros((1, len(structure.members), 3)))
    prepared = prepare(structure)
    first = respond(prepared, loads).moves[0]
    factor = 1.0
    while second_order(prepared, loads, np.array([factor * 1.3])).stands:  # up to near its buckling load
        factor *= 1.3
    factor *= 0.6
    heavy = Loads(loads.nodal * factor, loads.spread_N_m)
    ours = second_order(prepared, heavy, np.ones(1)).moves
    model = peer.in_pynite(structure, heavy, pieces=4)
    model.analyze_PDelta(check_stability=False)
    theirs = peer.node_moves(model, structure, "0")
    amplified = np.abs(ours[:, :3]).max() / np.abs(factor * first[:, :3]).max()
    assert amplified > 1.1  # else second order was not tried
    assert np.abs(ours[:, :3] - theirs[:, :3]).max() < 0.01 * np.abs(theirs[:, :3]).max()


def _feet_held(structure):
    return [Support(i, 2) for i, point in enumerate(structure.nodes_m) if point[2] < 0.05]
