"""Second order: a case solved on the frame as it has moved, thrusts and one-way supports found by iteration."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from clochewright.strength.elements import arm_stiffness, elements
from clochewright.strength.solver import Prepared, local_loads, node_loads, solve_free, stiffness_matrix
from clochewright.strength.spans import Along, along_members
from clochewright.strength.structure import Floats, Loads

MOST_ROUNDS = 25
SETTLED = 1e-5  # largest change of a thrust, as a share of the largest thrust


@dataclass(frozen=True, slots=True)
class SecondOrder:
    """One case, second order. `stands` is False where the frame buckles before it carries this; then all else is 0.

    `moves` (nodes, 6) [m, rad]; `end_forces` (members, 12) local [N, N·m]; `open` the contacts that are open.
    """

    stands: bool
    moves: Floats
    end_forces: Floats
    along: Along
    open: tuple[int, ...]


def second_order(
    prepared: Prepared,
    loads: Loads,
    weights: Floats,
    is_open: tuple[int, ...] = (),
    first: Floats | None = None,
    settled_share: float = SETTLED,
) -> SecondOrder:
    """Solve one mix of patterns (p,) with the moved shape's own moments (P-Δ and P-δ).

    Args:
        prepared: the structure.
        loads: its patterns.
        weights: how much of each.
        is_open: contacts that are open at first order.
        first: end forces (members, 12) at first order, if they are known, to begin with.
        settled_share: when to stop: the largest change of a thrust as a share of the largest thrust.
    """
    members, contacts = prepared.structure.members, prepared.structure.contacts
    one = Loads(np.tensordot(weights, loads.nodal, 1)[None], np.tensordot(weights, loads.spread_N_m, 1)[None])
    state = np.zeros(len(contacts), dtype=bool)
    state[list(is_open)] = True
    forces = np.zeros((len(members), 12)) if first is None else first
    previous = (forces[:, 0] - forces[:, 6]) / 2
    made = prepared.elements if first is None else elements(members, prepared.shape, previous, prepared.elements.turn)
    for _ in range(MOST_ROUNDS):
        whole = stiffness_matrix(prepared, made) + _arms(prepared, forces)
        for i in np.flatnonzero(state):
            at = contacts[i].node * 6 + contacts[i].freedom
            whole[at, at] -= contacts[i].stiffness_N_m
        spread, ends = local_loads(prepared, made, one)
        solved = solve_free(prepared, whole, node_loads(prepared, made, one, ends))
        if solved.condensed is None:
            return _fallen(prepared)
        moves = solved.moves
        local = np.einsum("nij,nj->ni", made.turn, moves[0][prepared.freedoms])
        own = np.einsum("nij,nj->ni", made.follow, local) + np.einsum("nij,nj->ni", made.slip, ends[0])
        forces = np.einsum("nij,nj->ni", made.bare, own) - ends[0]
        thrust = (forces[:, 0] - forces[:, 6]) / 2
        lifted = np.array([c.sign * moves[0, c.node * 6 + c.freedom] > 0 for c in contacts], dtype=bool)
        change = np.abs(thrust - previous).max() if len(thrust) else 0.0
        if (lifted == state).all() and change <= settled_share * max(np.abs(thrust).max(), 1e-9):
            if not solved.condensed.definite:  # past the buckling load
                return _fallen(prepared)
            EI = members.E_Pa * members.I_m4
            along = along_members(own, forces, spread[0], prepared.shape.length_m, EI, made.factors)
            return SecondOrder(True, moves[0].reshape(-1, 6), forces, along, tuple(np.flatnonzero(state).tolist()))
        previous, state = thrust, lifted
        made = elements(members, prepared.shape, thrust, prepared.elements.turn)
    return _fallen(prepared)


def _arms(prepared: Prepared, forces: Floats) -> Floats:
    """What the forces at the tips of the stiff arms add to the whole stiffness (freedoms, freedoms)."""
    members, axes = prepared.structure.members, prepared.shape.axes
    size = 6 * len(prepared.structure.nodes_m)
    out = np.zeros((size, size))
    sides = ((members.start, members.start_arm_m, 0), (members.stop, members.stop_arm_m, 6))
    for node, arm, first in sides:
        force = np.einsum("nji,nj->ni", axes, forces[:, first : first + 3])
        at = node[:, None] * 6 + np.array([3, 4, 5])
        np.add.at(out, (at[:, :, None], at[:, None, :]), arm_stiffness(arm, force))
    return out


def _fallen(prepared: Prepared) -> SecondOrder:
    nodes, n = len(prepared.structure.nodes_m), len(prepared.structure.members)
    none = Along(np.zeros((n, 1, 2)), np.zeros((n, 1)), np.zeros((n, 1, 3)))
    return SecondOrder(False, np.zeros((nodes, 6)), np.zeros((n, 12)), none, ())
