"""What the solver must not get wrong: stiff arms, one-way supports, frames that are free to move."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import peer
import pytest

from clochewright.strength.contact import open_contacts
from clochewright.strength.elements import stability
from clochewright.strength.second_order import second_order
from clochewright.strength.solver import prepare, respond
from clochewright.strength.structure import Contact, Loads, Members, Structure, Support

E_PA, I_M4, AREA_M2 = 2.76e9, 3.6355e-8, 3.186e-4


def beam(nodes_m, pairs, supports, contacts=(), arms=None, springs=None, stiffer=None):
    n = len(pairs)
    ones, none = np.ones(n), np.zeros((n, 3))
    start, stop = np.array(pairs, dtype=np.int64).T
    E = E_PA * (ones if stiffer is None else np.array(stiffer))
    start_arm, stop_arm = arms if arms is not None else (none, none)
    stiff = np.full(n, np.inf)
    one, two = springs if springs is not None else (stiff, stiff)
    members = Members(
        start, stop, start_arm, stop_arm, E, E / 2.8, AREA_M2 * ones, I_M4 * ones, 2 * I_M4 * ones, one, two
    )
    names = tuple(f"pipe {i}" for i in range(n))
    return Structure(np.array(nodes_m, dtype=float), members, tuple(supports), tuple(contacts), (), names)


def held(node, freedoms=range(6)):
    return [Support(node, freedom) for freedom in freedoms]


def nodal(structure, *entries):
    at = np.zeros((1, len(structure.nodes_m), 6))
    for node, freedom, value in entries:
        at[0, node, freedom] = value
    return Loads(at, np.zeros((1, len(structure.members), 3)))


BENT = [(0, 0, 0), (0, 0, 0.8), (0.9, 0.2, 0.8)]


def test_a_stiff_arm_is_a_very_stiff_member():
    """A frame with arms against the same frame with stiff members in their place, first and second order."""
    along = (np.array(BENT[1]) - BENT[0]) / 0.8
    across = (np.array(BENT[2]) - BENT[1]) / np.linalg.norm(np.array(BENT[2]) - BENT[1])
    arms = (np.array([along * 0.1, across * 0.08]), np.array([-along * 0.12, -across * 0.05]))
    with_arms = beam(BENT, [(0, 1), (1, 2)], held(0), arms=arms)
    points = [*BENT, along * 0.1, along * 0.68, BENT[1] + across * 0.08, BENT[2] - across * 0.05]
    pairs = [(3, 4), (5, 6), (0, 3), (4, 1), (1, 5), (6, 2)]
    in_pieces = beam(points, pairs, held(0), stiffer=[1, 1, *[1e5] * 4])
    entries = [(2, 0, 8.0), (2, 1, -5.0), (2, 2, -30.0), (1, 3, 1.5)]
    one = respond(prepare(with_arms), nodal(with_arms, *entries)).moves[0]
    two = respond(prepare(in_pieces), nodal(in_pieces, *entries)).moves[0, :3]
    assert np.abs(one - two).max() < 1e-4 * np.abs(two).max()
    bent = second_order(prepare(with_arms), nodal(with_arms, *entries), np.ones(1)).moves
    cut = second_order(prepare(in_pieces), nodal(in_pieces, *entries), np.ones(1)).moves[:3]
    assert np.abs(bent - one).max() > 0.01 * np.abs(one).max()
    assert np.abs(bent - cut).max() < 0.01 * np.abs(cut).max()


def test_a_very_stiff_spring_is_a_stiff_joint_and_a_very_soft_one_a_pin():
    pairs, supports = [(0, 1), (1, 2)], [*held(0), *held(2, range(3))]
    entries = [(1, 0, 8.0), (1, 1, -5.0), (1, 2, -30.0)]

    def moves(one, two):
        structure = beam(BENT, pairs, supports, springs=(np.array([np.inf, one]), np.array([two, np.inf])))
        return respond(prepare(structure), nodal(structure, *entries)).moves[0]

    assert moves(1e12, 1e12) == pytest.approx(moves(np.inf, np.inf), rel=1e-6, abs=1e-9)
    assert moves(1e-7, np.inf)[1] == pytest.approx(moves(0.0, np.inf)[1], rel=1e-6, abs=1e-9)


def test_stability_functions_meet_at_the_seam():
    """Series and closed form agree on both sides of where one takes over from the other."""
    EI, length = np.ones(4), np.ones(4)
    found = stability(np.array([0.0499999, 0.0500001, -0.0499999, -0.0500001]), EI, length)
    for f in (found.f1, found.f2, found.f3, found.f4):
        assert f[0] == pytest.approx(f[1], abs=1e-7)
        assert f[2] == pytest.approx(f[3], abs=1e-7)


def test_a_rail_lifts_off_where_nothing_holds_it_down():
    """A beam held at one end on a rim: pulled up at the other it leaves the rim, pressed it lies on it."""
    contacts = [Contact(1, 2, 1e6), Contact(2, 2, 1e6)]
    structure = beam([(0, 0, 0), (0.6, 0, 0), (1.2, 0, 0)], [(0, 1), (1, 2)], held(0), contacts)
    found = respond(prepare(structure), nodal(structure, (2, 2, 5.0)))
    up = open_contacts(found, np.array([1.0]))
    assert up.open == (0, 1)
    tip_m = np.tensordot(up.weights, found.moves, 1)[2, 2]
    assert tip_m == pytest.approx(5.0 * 1.2**3 / (3 * E_PA * I_M4), rel=1e-6)
    down = open_contacts(found, np.array([-1.0]))
    assert down.open == ()
    forces_N = -np.tensordot(down.weights, found.moves, 1)[2, 2] * 1e6
    assert forces_N == pytest.approx(5.0, rel=0.05)
    tipped = open_contacts(respond(prepare(structure), nodal(structure, (2, 4, 2.0))), np.array([1.0]))
    assert tipped.open == (0,)  # its end turned down onto the rim, it rises off the middle one


def test_a_frame_that_nothing_holds_down_is_not_answered():
    """Only lying on its rim, pulled up: no numbers, whatever the size of the pull."""
    contacts = [Contact(i, 2, 1e6) for i in range(2)]
    supports = [Support(0, 0), Support(0, 1), Support(1, 1), Support(0, 3)]
    structure = beam([(0, 0, 0), (1.0, 0, 0)], [(0, 1)], supports, contacts)
    found = respond(prepare(structure), nodal(structure, (0, 2, 1e-3), (1, 2, 1e-3)))
    assert open_contacts(found, np.array([1.0])).weights is None
    assert open_contacts(found, np.array([-1.0])).open == ()


def test_a_loose_square_racks_and_is_named():
    """Four pipes pinned at their corners: free to rack sideways; with one stiff corner not any more."""
    square = [(0, 0, 0), (0, 0, 1), (1, 0, 1), (1, 0, 0)]
    pairs = [(0, 1), (1, 2), (2, 3)]
    plane = [Support(i, f) for i in range(4) for f in (1, 3, 5)]
    supports = [*held(0, (0, 2)), *held(3, (0, 2)), *plane]

    def motion(corner):
        springs = (np.array([0.0, corner, 0.0]), np.array([0.0, 0.0, 0.0]))
        structure = beam(square, pairs, [*supports, *held(0, (4,)), *held(3, (4,))], springs=springs)
        # the corners' own turning is held by one member each, so that racking is all that is left
        members = replace(structure.members, stop_spring_Nm_rad=np.array([np.inf, np.inf, 0.0]))
        structure = replace(structure, members=members)
        return respond(prepare(structure), nodal(structure, (1, 0, 1.0))).motion

    found = motion(0.0)
    assert found is not None
    assert not found.whole
    assert found.way == "along the bed"
    assert set(found.members) == {"pipe 0", "pipe 1", "pipe 2"}
    assert motion(50.0) is None


def test_a_frame_with_no_supports_is_free_as_a_whole():
    (structure,) = peer.random_structures(5, 1, ("tent",))
    free = replace(structure, supports=(), contacts=())
    found = respond(prepare(free), peer.random_loads(free, 1, 1))
    assert found.motion is not None
    assert found.motion.whole
    assert np.isnan(found.moves).all()


def test_patterns_add_up():
    (structure,) = peer.random_structures(6, 1, ("barn",))
    structure = replace(structure, contacts=())
    structure = replace(structure, supports=(*structure.supports, *held(0)))
    loads = peer.random_loads(structure, 2, 2)
    both = Loads(loads.nodal.sum(axis=0)[None], loads.spread_N_m.sum(axis=0)[None])
    prepared = prepare(structure)
    moves = respond(prepared, loads).moves.sum(axis=0)
    assert moves == pytest.approx(respond(prepared, both).moves[0], abs=1e-9 * np.abs(moves).max() + 1e-12)
