"""Hands: every way of handling is among the cases, and what hands hold up is what statics says."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from asking import example

from clochewright.strength import LIKELY, prove
from clochewright.strength.hands import held_by
from clochewright.strength.patterns import Patterns
from clochewright.strength.shares import solve
from clochewright.strength.solver import local_loads, node_loads, support_forces
from clochewright.strength.study import study

NAMES = ("bed-4", "bed-7", "long-bed", "wall-bed")


def held(one, hands, *, hinged):
    """The upward force of each hand and of the rest of the supports on a cover that hangs in them [N]."""
    structure = held_by(one.solved.model, hands, hinged)
    assert structure is not None
    loads, row = one.patterns.loads, one.patterns.row["own"]
    own = Patterns(replace(loads, nodal=loads.nodal[[row]], spread_N_m=loads.spread_N_m[[row]]), {"own": 0})
    solved = solve(replace(one.solved.model, structure=structure), own)
    ready = solved.prepared
    _, ends = local_loads(ready, ready.elements, own.loads)
    columns = node_loads(ready, ready.elements, own.loads, ends)
    forces = support_forces(ready, solved.responses.moves[:1], columns)[0, :, 2]
    nodes = [one.solved.model.node_of[hand] for hand in hands]
    return forces[nodes], forces.sum(), own, solved


@pytest.mark.parametrize("name", NAMES)
def test_every_way_of_handling_is_among_the_cases(name):
    found = prove(example(name), LIKELY)
    assert {check.key for check in found.checks} == {"lift-rail", "lift-corner", "carry-ends"}
    assert {"lean-rail", "lean-ridge"} <= {limit.key for limit in found.limits}
    assert all(check.share > 0 for check in found.checks)


@pytest.mark.parametrize("hand", ["hand lift", "hand corner"])
def test_one_hand_lifts_the_weight_over_the_lever_about_the_hinges(hand):
    """F = W x_cg / L (statics), for a lid that lies shut."""
    one = study(example("bed-4"))
    (force,), whole, own, solved = held(one, (hand,), hinged=True)
    nodes = solved.model.structure.nodes_m
    hinge_y = nodes[solved.model.hinge_nodes[0], 1]
    members, lengths = solved.model.structure.members, solved.prepared.shape.length_m
    middles = (nodes[members.start] + members.start_arm_m + nodes[members.stop] + members.stop_arm_m)[:, 1] / 2
    spread = own.loads.spread_N_m[0, :, 2] * lengths
    nodal = own.loads.nodal[0, :, 2]
    weight = -(spread.sum() + nodal.sum())
    moment = -(spread @ (middles - hinge_y) + nodal @ (nodes[:, 1] - hinge_y))
    lever = nodes[solved.model.node_of[hand], 1] - hinge_y
    assert whole == pytest.approx(weight, rel=1e-6)
    assert force == pytest.approx(moment / lever, rel=0.02)


def test_two_people_carry_a_half_each():
    one = study(example("bed-4"))
    hands = tuple(f"hand {end} {place}" for end in ("front", "far") for place in ("a", "b"))
    forces, whole, _, _ = held(one, hands, hinged=False)
    assert forces.sum() == pytest.approx(whole, rel=1e-6)
    assert forces[:2].sum() == pytest.approx(whole / 2, rel=0.03)
    assert np.all(forces > 0)


def test_lifting_by_a_corner_racks_more_than_by_the_middle():
    checks = {check.key: check for check in prove(example("bed-4"), LIKELY).checks}
    assert checks["lift-corner"].gives_m > 2 * checks["lift-rail"].gives_m
    assert checks["lift-corner"].share > checks["lift-rail"].share
