"""What the lid weighs and where it balances."""

from __future__ import annotations

import math

import pytest

from clochewright.catalogue import load_catalogue
from clochewright.film import cut_sheet
from clochewright.frame import raise_frame
from clochewright.joints import choose_joints
from clochewright.lid import hang_lid
from clochewright.plan import plan_from_si
from clochewright.weights import weigh
from clochewright.weights.lumps import balance, middle_of
from frame_samples import FOOT, tent

POUND = 0.45359237


@pytest.fixture(scope="module")
def catalogue():
    return load_catalogue()


def weigh_tent(frame, catalogue, pipe_key="1 in Sch 40"):
    plan = plan_from_si({"bed": {"length_m": frame.length_m, "width_m": frame.width_m}})
    film = cut_sheet(frame, plan, catalogue)
    return film, weigh(
        frame, film, hang_lid(frame, plan), choose_joints(frame, plan), catalogue, catalogue.pipe(pipe_key)
    )


def test_the_lid_is_the_sum_of_its_parts(catalogue, small_tent):
    film, weights = weigh_tent(small_tent, catalogue)
    parts = (weights.pipe_kg, weights.fittings_kg, weights.film_kg, weights.lath_kg, weights.hardware_kg)
    assert weights.lid_kg.value == pytest.approx(sum(part.value for part in parts))
    assert weights.lid_kg.low == pytest.approx(sum(part.low for part in parts))
    assert weights.lid_kg.high == pytest.approx(sum(part.high for part in parts))
    assert weights.film_kg == film.mass_kg
    assert all(part.low <= part.value <= part.high for part in parts)


def test_a_plastic_pipe_cover_weighs_1_to_2_kg_a_square_metre(catalogue):
    """From memory of covers like it, and worked out in our reference: about 1 to 2 kg/m2 of plan, smaller ones more."""
    frame = tent(9 * FOOT, 5.5 * FOOT)
    _, weights = weigh_tent(frame, catalogue)
    assert 1.0 <= weights.lid_kg.value / (frame.length_m * frame.width_m) <= 3.0


def test_it_balances_in_the_middle_but_for_the_brace(catalogue):
    """A tent with two bents is the same left and right, front and far; its balance point lies inside it."""
    frame = tent(4 * FOOT, 3 * FOOT, 2)
    _, weights = weigh_tent(frame, catalogue)
    assert weights.centre_m[0] == pytest.approx(0.0, abs=1e-9)
    assert weights.centre_m[1] == pytest.approx(0.0, abs=1e-9)
    assert 0.05 < weights.centre_m[2] < frame.ridge_height_m / 2


def test_a_brace_on_one_side_draws_the_balance_to_it(catalogue, small_tent):
    _, weights = weigh_tent(small_tent, catalogue)
    brace_x = next(pipe.path_m[0][0] for pipe in small_tent.pipes if pipe.role == "brace")
    assert 0 < weights.centre_m[0] < brace_x


def test_the_balance_of_pipe_alone_by_hand(catalogue):
    """Moments by hand: without film, fittings and laths the balance is that of the pipes' middles."""
    frame = tent(6 * FOOT, 3 * FOOT, 2)
    whole = sum(pipe.cut_length_m for pipe in frame.pipes)
    by_hand = sum(pipe.cut_length_m * (pipe.path_m[0][2] + pipe.path_m[1][2]) / 2 for pipe in frame.pipes) / whole
    assert balance([(pipe.cut_length_m, middle_of(pipe)) for pipe in frame.pipes])[2] == pytest.approx(by_hand)


def test_estimates_are_said(catalogue, small_tent):
    _, weights = weigh_tent(small_tent, catalogue)
    (finding,) = [finding for finding in weights.findings if finding.key == "weights.fittings-estimated"]
    assert "tee" in finding.values["kinds"]
    assert math.isclose(weights.fitting_kg["elbow-90"].value, 0.12 * POUND, rel_tol=0.01)


def test_bodies_add_up_to_the_whole(catalogue):
    """Two covers end to end weigh together what the whole does, each balancing over its own middle."""
    plan = plan_from_si({"bed": {"length_m": 4.8, "width_m": 1.2}, "cover": {"sections": 2}})
    frame = raise_frame(plan, catalogue)
    lid = hang_lid(frame, plan)
    film = cut_sheet(frame, plan, catalogue, lid)
    joints = choose_joints(frame, plan)
    weights = weigh(frame, film, lid, joints, catalogue, catalogue.find_pipe(plan.pipe.size))
    assert len(weights.bodies) == 2
    assert sum(body.mass_kg.value for body in weights.bodies.values()) == pytest.approx(weights.lid_kg.value)
    assert sum(body.mass_kg.high for body in weights.bodies.values()) == pytest.approx(weights.lid_kg.high)
    front, far = (weights.bodies[name].centre_m[0] for name in ("lid-1", "lid-2"))
    assert front == pytest.approx(-far, abs=0.02)
    assert far == pytest.approx(1.2, abs=0.05)


def test_one_body_is_the_whole_lid(catalogue, small_tent):
    _, weights = weigh_tent(small_tent, catalogue)
    (body,) = weights.bodies.values()
    assert body.mass_kg.value == pytest.approx(weights.lid_kg.value)
    assert body.centre_m == pytest.approx(weights.centre_m)
