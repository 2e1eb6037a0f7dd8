"""Laths, rolls on laths, and screws, by hand."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from clochewright.catalogue import load_catalogue
from clochewright.film.fixing import CLEAR_M, joints_along, lay_laths, roll_on_lath
from clochewright.film.screws import fit_screw
from clochewright.frame import raise_frame
from clochewright.lid import hang_lid
from clochewright.plan import plan_from_si
from frame_samples import INCH

CATALOGUE = load_catalogue()
LATH = CATALOGUE.goods("lath", "inch")[0]
SCREWS = CATALOGUE.goods("lath screws", "inch")


def test_a_lath_no_longer_than_its_stick_has_no_joint():
    assert joints_along(2.4, 2.4, []) == ()


def test_a_joint_stands_clear_of_a_hinge():
    assert joints_along(3.0, 2.4, []) == (2.4,)
    assert joints_along(3.0, 2.4, [2.45]) == (pytest.approx(2.45 - CLEAR_M),)
    assert joints_along(3.0, 2.4, [2.45, 2.30]) == (pytest.approx(2.30 - CLEAR_M),)


def test_no_stump_is_left_at_the_end():
    assert joints_along(2.45, 2.4, []) == (pytest.approx(2.25),)


@given(length=st.floats(0.5, 20.0), hinges=st.lists(st.floats(0.0, 20.0), max_size=6))
def test_no_piece_is_longer_than_its_stick(length, hinges):
    ends = (0.0, *joints_along(length, 2.4, hinges), length)
    pieces = [b - a for a, b in itertools.pairwise(ends)]
    assert all(0 < piece <= 2.4 + 1e-9 for piece in pieces)
    assert len(pieces) <= math.ceil(length / 2.0) + len(hinges)


@pytest.mark.parametrize("sections", [1, 2])
def test_joints_of_a_whole_cover_stand_clear_of_its_hinges_and_latches(sections):
    plan = plan_from_si({"bed": {"length_m": 5.8, "width_m": 1.2}, "cover": {"sections": sections}})
    frame = raise_frame(plan, CATALOGUE)
    lid = hang_lid(frame, plan)
    laths = lay_laths(frame, plan, 2.4, lid)
    assert len(laths) == 4 * sections
    for lath in laths:
        sign = {"left": 1, "right": -1}.get(lath.side)
        if sign is None:
            continue
        assert lath.joints_m
        middle = (lath.cover - (sections + 1) / 2) * (lath.length_m + 0.006)
        places = [f.position_m[0] - middle + lath.length_m / 2 for f in (*lid.hinges, *lid.latches)
                  if f.position_m[1] * sign > 0]  # fmt: skip
        assert all(abs(joint - place) >= CLEAR_M - 0.002 for joint in lath.joints_m for place in places)
        assert all(min(abs(screw - joint) for joint in lath.joints_m) >= 0.049 for screw in lath.screws_m)


def test_turns_round_a_lath_by_laying_film_round_it_turn_by_turn():
    """Geometry: a roll grown turn by turn, each a film's thickness further out, takes up the overhang."""
    rolled = roll_on_lath(0.3048, LATH, 152e-6)
    around, laid, turns = 2 * 1.75 * INCH, 0.0, 0
    while laid + around + 2 * math.pi * 152e-6 * (turns + 0.5) <= 0.3048:
        laid += around + 2 * math.pi * 152e-6 * (turns + 0.5)
        turns += 1
    share = (0.3048 - laid) / (around + 2 * math.pi * 152e-6 * (turns + 0.5))
    assert rolled.turns_count == pytest.approx(turns + share, rel=1e-3)
    assert rolled.half_turns == 6  # 12 in round 3 1/2 in: three whole turns, and no half one more
    assert rolled.thickness_m == pytest.approx(0.25 * INCH + 7 * 152e-6)


def test_an_inside_point_stops_in_the_bore():
    """1 in Sch 40 by ASTM D1785: 1.315 in outside, 0.133 in wall; lath 1/4 in, and 5/8 in is on sale."""
    pipe = CATALOGUE.find_pipe("1 in")
    fit, said = fit_screw(0.25 * INCH, pipe, SCREWS, "inside")
    assert fit.length_m == pytest.approx(0.625 * INCH)
    inside = fit.length_m - 0.25 * INCH
    assert 0.133 * INCH < inside < (1.315 - 0.133) * INCH
    assert said[0].key == "film.screw-inside"


def test_a_through_point_comes_out_on_the_far_side():
    pipe = CATALOGUE.find_pipe("1 in")
    fit, said = fit_screw(0.25 * INCH, pipe, SCREWS, "through")
    assert fit.length_m == pytest.approx(1.75 * INCH)
    assert fit.length_m - 0.25 * INCH > 1.315 * INCH
    assert said[0].key == "film.screw-through"


def test_a_screw_nobody_sells_is_said():
    fit, said = fit_screw(0.25 * INCH, CATALOGUE.find_pipe("2 in"), SCREWS, "through")
    assert not fit.fits
    assert said[0].key == "film.no-screw"
