"""Direct stiffness for frames in space: every pattern of load and every one-way support in one factorisation.

All one-way supports are first taken as closed. What opening them would do follows from unit forces at them, solved
along with the loads, so that a case only has to solve for the few supports that open (contact.py), and any mix of
patterns is a weighted sum of what was solved once.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from clochewright.strength.chains import Chains, Condensed, find_chains
from clochewright.strength.elements import Elements, elements, fixed_end_loads
from clochewright.strength.mechanism import FreeMotion, free_motion
from clochewright.strength.structure import Floats, Ints, Loads, Shape, Structure, member_shape

# A frame whose softest motion is this much softer than its stiffest freedom, both scaled to it, is free to move.
FREE = 1e-11


@dataclass(frozen=True, slots=True)
class Prepared:
    """A structure ready to be solved: shape, elements, where each freedom goes, which are free to move, its chains."""

    structure: Structure
    shape: Shape
    elements: Elements
    freedoms: Ints
    free: Ints
    chains: Chains


@dataclass(frozen=True, slots=True)
class Responses:
    """What each column of load does: first the patterns, then a unit force at each contact.

    `moves` (c, nodes, 6) are node movements [m, rad]; `own_ends` (c, members, 12) the movements of the elastic parts'
    own ends, `end_forces` (c, members, 12) the forces on them, `spread` (c, members, 3) the load along them, all in
    local axes; `contact_moves_m` (c, k) the movements at the contacts.
    `motion` says how the frame is free to move; then there are no numbers.
    """

    prepared: Prepared
    patterns: int
    moves: Floats
    own_ends: Floats
    end_forces: Floats
    spread: Floats
    contact_moves_m: Floats
    motion: FreeMotion | None = None


def prepare(structure: Structure) -> Prepared:
    """Work out what does not depend on the loads."""
    members = structure.members
    shape = member_shape(structure.nodes_m, members)
    ends = np.stack([members.start, members.stop], axis=1)
    freedoms = (ends[:, :, None] * 6 + np.arange(6)).reshape(len(members), 12)
    fixed = {s.node * 6 + s.freedom for s in structure.supports if np.isinf(s.stiffness_N_m)}
    free = np.array([i for i in range(6 * len(structure.nodes_m)) if i not in fixed], dtype=np.int64)
    chains = find_chains(members, free, len(structure.nodes_m))
    return Prepared(structure, shape, elements(members, shape), freedoms, free, chains)


def stiffness_matrix(prepared: Prepared, made: Elements | None = None) -> Floats:
    """The whole stiffness (freedoms, freedoms) with springs and closed contacts, fixed supports not yet taken out."""
    made = made or prepared.elements
    size = 6 * len(prepared.structure.nodes_m)
    parts = made.turn.transpose(0, 2, 1) @ made.stiffness @ made.turn
    places = prepared.freedoms[:, :, None] * size + prepared.freedoms[:, None, :]
    flat: Floats = np.asarray(np.bincount(places.ravel(), parts.ravel(), size * size), dtype=np.float64)
    whole = flat.reshape(size, size)
    for support in prepared.structure.supports:
        if np.isfinite(support.stiffness_N_m):
            whole[support.node * 6 + support.freedom, support.node * 6 + support.freedom] += support.stiffness_N_m
    for contact in prepared.structure.contacts:
        whole[contact.node * 6 + contact.freedom, contact.node * 6 + contact.freedom] += contact.stiffness_N_m
    return whole


def respond(prepared: Prepared, loads: Loads) -> Responses:
    """Solve all patterns and all contacts at once; a frame that is free to move is named and not answered."""
    structure, made = prepared.structure, prepared.elements
    size, contacts = 6 * len(structure.nodes_m), structure.contacts
    spread, ends = local_loads(prepared, made, loads)
    columns = np.zeros((len(loads) + len(contacts), size))
    columns[: len(loads)] = node_loads(prepared, made, loads, ends)
    at = np.array([contact.node * 6 + contact.freedom for contact in contacts], dtype=np.int64)
    columns[len(loads) + np.arange(len(contacts)), at] = [contact.sign for contact in contacts]
    solved = solve_free(prepared, stiffness_matrix(prepared), columns)
    moves, motion = solved.moves, solved.motion
    if motion is not None:
        moves = np.full_like(columns, np.nan)
    shape = (len(columns), len(structure.members), 12)
    own, forces, along = np.zeros(shape), np.zeros(shape), np.zeros((*shape[:2], 3))
    along[: len(loads)] = spread
    local = np.einsum("nij,cnj->cni", made.turn, moves[:, prepared.freedoms])
    own[:] = np.einsum("nij,cnj->cni", made.follow, local)
    own[: len(loads)] += np.einsum("nij,pnj->pni", made.slip, ends)
    forces[:] = np.einsum("nij,cnj->cni", made.bare, own)
    forces[: len(loads)] -= ends
    signs = np.array([contact.sign for contact in contacts])
    return Responses(
        prepared, len(loads), moves.reshape(len(columns), -1, 6), own, forces, along, moves[:, at] * signs, motion
    )


def local_loads(prepared: Prepared, made: Elements, loads: Loads) -> tuple[Floats, Floats]:
    """Spread loads in local axes (p, members, 3), and what they amount to at the elastic ends (p, members, 12)."""
    spread = np.einsum("nij,pnj->pni", prepared.shape.axes, loads.spread_N_m)
    return spread, fixed_end_loads(spread, prepared.shape.length_m, made.factors)


def node_loads(prepared: Prepared, made: Elements, loads: Loads, ends: Floats) -> Floats:
    """All loads brought to the nodes (p, freedoms)."""
    size = 6 * len(prepared.structure.nodes_m)
    passed = np.einsum("nij,pnj->pni", made.pass_on, ends)
    at_nodes = np.einsum("nji,pnj->pni", made.turn, passed)
    columns = loads.nodal.reshape(len(loads), size).copy()
    for column, values in zip(columns, at_nodes, strict=True):
        column += np.bincount(prepared.freedoms.ravel(), weights=values.ravel(), minlength=size)
    return columns


@dataclass(frozen=True, slots=True)
class Moved:
    """Movements (c, freedoms) under columns of load with the matrix as it was condensed, or what is free to move."""

    moves: Floats
    motion: FreeMotion | None
    condensed: Condensed | None


def solve_free(prepared: Prepared, whole: Floats, columns: Floats) -> Moved:
    """Solve for columns of load (c, freedoms).

    The matrix is scaled to a unit diagonal. Two probes, loads that reach every freedom, are solved along with the rest:
    what they move tells how soft the softest motion is.
    """
    free = prepared.free
    matrix = whole if len(free) == len(whole) else whole[np.ix_(free, free)]
    diagonal = np.diagonal(matrix)
    if (diagonal <= 0).any():
        return Moved(np.zeros_like(columns), named_motion(prepared, matrix), None)
    scale = 1 / np.sqrt(diagonal)
    scaled = matrix * scale[:, None]
    scaled *= scale
    probes = np.random.default_rng(1).standard_normal((2, len(free)))
    right = np.concatenate([columns[:, free] * scale, probes]).T
    try:
        condensed = Condensed(prepared.chains, scaled)
        solved = condensed.solve(right)
    except np.linalg.LinAlgError:
        return Moved(np.zeros_like(columns), named_motion(prepared, matrix), None)
    softness = np.linalg.norm(solved[:, -2:], axis=0).max()
    if not softness < 1 / FREE:
        return Moved(np.zeros_like(columns), named_motion(prepared, matrix), None)
    moves = np.zeros_like(columns)
    moves[:, free] = solved[:, : len(columns)].T * scale
    return Moved(moves, None, condensed)


def named_motion(prepared: Prepared, matrix: Floats) -> FreeMotion:
    """The softest motion of a matrix over the free freedoms, named."""
    diagonal = np.maximum(np.diagonal(matrix), 1e-9 * np.abs(np.diagonal(matrix)).max())
    scale = 1 / np.sqrt(diagonal)
    _, vectors = np.linalg.eigh(matrix * scale[:, None] * scale)
    moves = np.zeros(6 * len(prepared.structure.nodes_m))
    moves[prepared.free] = vectors[:, 0] * scale
    return free_motion(prepared.structure, moves.reshape(-1, 6))


def support_forces(prepared: Prepared, moves: Floats, columns: Floats) -> Floats:
    """Forces of springs, contacts and fixed supports on the nodes (c, nodes, 6) for given movements and loads.

    What the members pull with, less what is loaded there; only meant for freedoms that are supported.
    """
    bare = Structure(prepared.structure.nodes_m, prepared.structure.members, ())
    whole = stiffness_matrix(replace(prepared, structure=bare))
    flat: Floats = moves.reshape(len(moves), -1) @ whole - columns
    return flat.reshape(moves.shape)
