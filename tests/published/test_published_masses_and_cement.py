"""Pipe and fittings by weight, and cement by the joint, as makers' tables have them."""

from __future__ import annotations

import pytest

from clochewright.catalogue import Prices, load_catalogue
from clochewright.cuts import cut
from clochewright.film import cut_sheet
from clochewright.joints import choose_joints
from clochewright.lid import hang_lid
from clochewright.plan import plan_from_si
from clochewright.supplies import list_supplies
from clochewright.weights import weigh
from clochewright.weights.weigh import ring_mass
from frame_samples import FOOT, INCH, tent

POUND = 0.45359237
PLAN = plan_from_si({"bed": {"length_m": 8 * FOOT, "width_m": 4 * FOOT}})
ONE_PIECE = plan_from_si({"bed": {"length_m": 8 * FOOT, "width_m": 4 * FOOT}, "store": {"wish": "one-piece"}})


@pytest.fixture(scope="module")
def catalogue():
    return load_catalogue()


@pytest.mark.parametrize(
    ("pipe_key", "low_lb_ft", "high_lb_ft"),
    [("1/2 in Sch 40", 0.161, 0.170), ("3/4 in Sch 40", 0.214, 0.226), ("1 in Sch 40", 0.315, 0.333)],
)
def test_pipe_by_weight(catalogue, small_tent, pipe_key, low_lb_ft, high_lb_ft):
    """Two pipe makers' tables of Schedule 40, lb/ft; they differ, and the band is from one to the other."""
    film = cut_sheet(small_tent, PLAN, catalogue)
    lid, joints = hang_lid(small_tent, PLAN), choose_joints(small_tent, PLAN)
    weights = weigh(small_tent, film, lid, joints, catalogue, catalogue.pipe(pipe_key))
    feet = sum(pipe.cut_length_m for pipe in small_tent.pipes) / FOOT
    assert weights.pipe_kg.low == pytest.approx(low_lb_ft * POUND * feet, rel=1e-3)
    assert weights.pipe_kg.high == pytest.approx(high_lb_ft * POUND * feet, rel=1e-3)


@pytest.mark.parametrize(
    ("pipe_in", "hub_in", "face_in", "pounds"),
    [(0.84, 1.125, 1.25, 0.05), (1.05, 1.344, 1.5, 0.07), (1.315, 1.625, 1.8125, 0.12), (1.9, 2.25, 2.344, 0.25)],
)
def test_a_ring_of_pvc_weighs_like_a_tabled_elbow(pipe_in, hub_in, face_in, pounds):
    """One fitting maker's catalogue, as transcribed in a public parts data set: 90 degree elbows of Schedule 40.

    The table is rounded to 0.01 lb, so half of that is allowed on top of the ring's own band.
    """
    sizes = {"pipe_m": pipe_in * INCH, "hub_m": hub_in * INCH, "stop_m": (face_in - 0.9) * INCH, "depth_m": 0.9 * INCH}
    frame = tent(4 * FOOT, 3 * FOOT, **sizes)
    elbow = next(fitting for fitting in frame.fittings if fitting.kind == "elbow-90")
    mass = ring_mass(elbow, pipe_in * INCH)
    assert mass.low - 0.005 * POUND <= pounds * POUND <= mass.high + 0.005 * POUND


def test_cement_and_primer_by_the_joint(catalogue):
    """A pipe maker's plastics technical manual, p. 96: 125 joints of 1 in a US quart; primer goes twice as far.

    One joint is one socket. A quarter more for small opened cans is common practice, no source. Of the cans there are
    (quarter, half, one and two pints) the rest that is bought too much is less than two of the smallest, 4 fl oz each.
    """
    frame = tent(8 * FOOT, 4 * FOOT, 3)
    film, joints = cut_sheet(frame, PLAN, catalogue), choose_joints(frame, ONE_PIECE)
    cuts = cut(frame, units="inch", kerf_m=0.003, sticks=[(10 * FOOT, 7.2)])
    supplies = list_supplies(frame, cuts, film, hang_lid(frame, PLAN), joints, PLAN, catalogue, Prices())
    ounces = {"4 oz can": 4, "half pint can": 8, "pint can": 16, "quart can": 32}
    for group, per_quart in (("cement", 125), ("primer", 250)):
        need = 2 * len(frame.pipes) / per_quart * 1.25 * 32
        got = sum(ounces[row.unit] * row.quantity for row in supplies.rows if row.group == group)
        assert need <= got < need + 4
