"""Laths, rolls on laths, and screws, by hand."""

from __future__ import annotations

import dataclasses
import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from clochewright.catalogue import load_catalogue
from clochewright.film import cut_sheet
from clochewright.film.fixing import CLEAR_M, joints_along, lay_laths, roll_on_lath
from clochewright.film.screws import fit_screw
from clochewright.film.seat import about_seat, free_runs, seat_of
from clochewright.frame import raise_frame
from clochewright.lid import hang_lid
from clochewright.measures import show_drill
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
def test_laths_end_clear_of_fittings_hinges_latches_and_pivots(sections):
    plan = plan_from_si({"bed": {"length_m": 5.8, "width_m": 1.2}, "cover": {"sections": sections}})
    frame = raise_frame(plan, CATALOGUE)
    lid = hang_lid(frame, plan)
    laths = lay_laths(frame, plan, 2.4, lid)
    assert len(laths) == 4 * sections
    for lath in laths:
        sign = {"left": 1, "right": -1}.get(lath.side)
        if sign is None:
            continue
        middle = (lath.cover - (sections + 1) / 2) * (lath.length_m + 0.006)
        fixed = [(f.position_m[0], 0.038 if f in lid.hinges else 0.025) for f in (*lid.hinges, *lid.latches)
                 if f.position_m[1] * sign > 0]  # fmt: skip
        hubs = [(f.position_m[0], f.hub_diameter_m / 2) for f in frame.fittings
                if f.position_m[1] * sign > 0.5 and f.position_m[2] < 0.05]  # fmt: skip
        assert fixed
        assert hubs
        assert lath.runs_m
        for start, stop in lath.runs_m:
            start, stop = start - lath.length_m / 2 + middle, stop - lath.length_m / 2 + middle
            assert 0.08 <= stop - start <= 2.4
            assert all(place + half <= start + 0.002 or place - half >= stop - 0.002 for place, half in (*fixed, *hubs))
        inside = [any(start + 0.03 < screw < stop - 0.03 for start, stop in lath.runs_m) for screw in lath.screws_m]
        assert all(inside)


def test_free_runs_by_hand():
    """A metre of bare rail with a 76 mm hinge at 300 mm: 10 mm clear on both sides, 252 to 348 mm is kept."""
    assert free_runs([(0.0, 1.0)], [(0.3, 0.076)]) == (pytest.approx((0.0, 0.252)), pytest.approx((0.348, 1.0)))
    assert free_runs([(0.0, 1.0), (1.1, 1.15)], []) == ((0.0, 1.0),)  # 50 mm is too short for a piece
    assert free_runs([(0.0, 0.2)], [(0.1, 0.076)]) == ()


@pytest.mark.parametrize("size", ["3/4 in", "1 in", "1-1/4 in"])
def test_the_roll_hangs_clear_of_the_rim_and_would_not_fit_under_the_rail(size):
    """By hand: the hub's radius less the pipe's is all there is under a rail; lath and film are more."""
    plan = plan_from_si({"bed": {"length_m": 2.4384, "width_m": 1.1684}, "pipe": {"size": size}})
    frame = raise_frame(plan, CATALOGUE)
    film = cut_sheet(frame, plan, CATALOGUE)
    hub = max(f.hub_diameter_m for f in frame.fittings) / 2
    gap = hub - frame.pipe_outside_diameter_m / 2
    assert film.seat.edge_up_m == pytest.approx(gap)
    assert film.lath_roll.thickness_m > gap
    layers = film.lath_roll.half_turns // 2 + 1  # on the lower edge: one for each whole turn, and the film itself
    assert film.seat.clear_m == pytest.approx(gap - layers * film.thickness.value)
    assert film.seat.clear_m > 0.001
    assert film.seat.edge_up_m + film.seat.screw_up_m == pytest.approx(hub)  # level into the middle of the rail
    assert film.seat.proud_m == pytest.approx(film.lath_roll.thickness_m - gap)  # flush with the bed's outside


def test_a_rail_hard_by_the_rim_is_said():
    rolled = roll_on_lath(0.3048, LATH, 152e-6)
    plan = plan_from_si({"bed": {"length_m": 2.4384, "width_m": 1.1684}})
    seat = seat_of(raise_frame(plan, CATALOGUE), rolled, 0.0)
    low = dataclasses.replace(seat, edge_up_m=0.001, clear_m=0.001 - rolled.edge_m)
    assert about_seat(seat, ()) == ()
    (finding,) = about_seat(low, ())
    assert finding.key == "film.lath-on-rim"
    assert finding.values["up_m"] == pytest.approx(rolled.edge_m)  # to be a millimetre clear


@given(overhang=st.floats(0.06, 0.6))
def test_the_half_turns_never_ask_for_more_film_than_there_is(overhang):
    rolled = roll_on_lath(overhang, LATH, 152e-6)
    assert rolled.takes_m <= overhang - 0.010 + 1e-9
    assert overhang - rolled.takes_m < 0.010 + 1.75 * INCH + 0.004  # and no half turn more would go


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
    three = 3 * around + sum(2 * math.pi * 152e-6 * (turn + 0.5) for turn in range(3))
    assert rolled.takes_m == pytest.approx(three)


def test_an_inside_point_stops_in_the_bore():
    """1 in Sch 40 by ASTM D1785: 1.315 in outside, 0.133 in wall; lath 1/4 in, and 5/8 in is on sale."""
    pipe = CATALOGUE.find_pipe("1 in")
    fit, said = fit_screw(0.25 * INCH, pipe, SCREWS, "inside")
    assert fit.length_m == pytest.approx(0.625 * INCH)
    assert show_drill(fit.pilot_m, "inch") == "1/8 in"  # three quarters of a No. 8's 0.164 in
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
