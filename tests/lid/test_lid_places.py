"""Hinges, latches and props: how many, where, and never on a fitting."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from clochewright.lid import hang_lid, hinge_count, latch_count
from clochewright.lid.bare import Stretch, nearest_spot
from clochewright.lid.hang import HINGE_WIDTH_M, LATCH_WIDTH_M
from clochewright.plan import plan_from_si
from frame_samples import FOOT, tent


def plan_hinged(side="left"):
    return plan_from_si({"bed": {"length": 8 * FOOT, "width": 4 * FOOT}, "lid": {"hinge_side": side}})


@pytest.mark.parametrize(
    ("length_m", "count"), [(0.5, 2), (0.9, 2), (0.91, 3), (1.5, 3), (1.51, 4), (2.1, 4), (2.7, 5), (2.71, 6)]
)
def test_hinges_by_length(length_m, count):
    """Common practice, no source: 2 up to 0.9 m, 3 to 1.5 m, then one for each 0.6 m."""
    assert hinge_count(length_m) == count


@pytest.mark.parametrize(("length_m", "count"), [(0.6, 1), (0.9, 1), (0.91, 2), (3.0, 2)])
def test_latches_by_length(length_m, count):
    """Common practice, no source: one up to 0.9 m, two beyond."""
    assert latch_count(length_m) == count


def test_the_nearest_spot_is_the_wanted_one_where_pipe_is_bare():
    rail = (Stretch("P1", 0.0, 1.0), Stretch("P2", 1.2, 2.0))
    assert nearest_spot(rail, 0.4, 0.1).along_m == pytest.approx(0.4)
    assert nearest_spot(rail, 1.06, 0.1).along_m == pytest.approx(0.95)
    assert nearest_spot(rail, 1.16, 0.1).along_m == pytest.approx(1.25)
    assert nearest_spot(rail, 0.4, 0.1, taken_m=[0.42]).along_m == pytest.approx(0.32)
    assert nearest_spot(rail, 0.4, 1.5) is None


def test_hinges_stand_on_the_side_the_plan_says(small_tent):
    left, right = hang_lid(small_tent, plan_hinged("left")), hang_lid(small_tent, plan_hinged("right"))
    assert {hinge.position_m[1] for hinge in left.hinges} == {small_tent.width_m / 2}
    assert {latch.position_m[1] for latch in left.latches} == {-small_tent.width_m / 2}
    assert {hinge.position_m[1] for hinge in right.hinges} == {-small_tent.width_m / 2}


def mouths_on(frame, pipe_id, axis):
    """Where the pipe goes into its two sockets, along one axis."""
    pipe = next(pipe for pipe in frame.pipes if pipe.id == pipe_id)
    mouths = []
    for end in pipe.ends:
        fitting = frame.fitting(end.fitting)
        port = fitting.port(end.port)
        mouths.append(fitting.position_m[axis] + port.direction[axis] * port.centre_to_face_m)
    return sorted(mouths)


@given(length_ft=st.floats(3.0, 20.0), width_ft=st.floats(1.5, 8.0), bents=st.integers(2, 6))
def test_everything_sits_on_bare_pipe_and_nothing_on_another(length_ft, width_ft, bents):
    frame = tent(length_ft * FOOT, width_ft * FOOT, bents)
    if frame.longest_bay_m < 0.35:
        return
    lid = hang_lid(frame, plan_hinged())
    for fixings, width_m in ((lid.hinges, HINGE_WIDTH_M), (lid.latches, LATCH_WIDTH_M)):
        for fixing in fixings:
            low, high = mouths_on(frame, fixing.pipe, 0)
            assert low - 1e-9 <= fixing.position_m[0] - width_m / 2
            assert fixing.position_m[0] + width_m / 2 <= high + 1e-9
        places = [fixing.position_m[0] for fixing in fixings]
        assert all(b - a >= width_m - 1e-9 for a, b in itertools.pairwise(places))
    missing = [finding for finding in lid.findings if finding.key == "lid.no-room-for-hinge"]
    assert len(lid.hinges) + sum(finding.values["missing"] for finding in missing) == hinge_count(frame.length_m)
    for prop in lid.props:
        low, high = mouths_on(frame, prop.pipe, 1)
        assert low <= prop.head_m[1] <= high


def test_a_rail_with_no_bare_pipe_is_said():
    """Six bents on 3 ft leave no 3 in of bare rail anywhere."""
    lid = hang_lid(tent(3 * FOOT, 2 * FOOT, 6), plan_hinged())
    assert lid.hinges == ()
    assert "lid.no-room-for-hinge" in [finding.key for finding in lid.findings]


def test_props_at_both_ends_past_1_2_m():
    """Common practice, no source."""
    assert [prop.end for prop in hang_lid(tent(1.15, 0.9, 2), plan_hinged()).props] == ["front"]
    assert [prop.end for prop in hang_lid(tent(1.25, 0.9, 2), plan_hinged()).props] == ["front", "far"]


def test_prop_length_is_from_the_turned_pivot_to_the_pin(small_tent):
    """Turned by hand: a point at radius r and angle a goes to angle a + 60 deg; the pin is just under the pivot."""
    prop = hang_lid(small_tent, plan_hinged()).props[0]
    out = abs(small_tent.width_m / 2 - prop.head_m[1])
    radius, start = math.hypot(out, prop.head_m[2]), math.atan2(prop.head_m[2], out)
    turned = (radius * math.cos(start + math.radians(60)), radius * math.sin(start + math.radians(60)))
    assert prop.foot_m[:2] == prop.head_m[:2]
    assert prop.foot_m[2] < 0
    assert prop.length_m == pytest.approx(math.hypot(turned[0] - out, turned[1] - prop.foot_m[2]))


def test_every_hole_gives_its_opening(small_tent):
    """The bar's holes are as far from its pivot as the turned pivot is from the pin, and fit on the bar."""
    lid = hang_lid(small_tent, plan_hinged())
    line = lid.leaves[0].line
    for prop in lid.props:
        assert [hole.open_deg for hole in prop.holes] == pytest.approx([20, 40, 60])
        for hole in prop.holes:
            assert hole.from_pivot_m == pytest.approx(math.dist(line.turned(prop.head_m, hole.open_deg), prop.foot_m))
        assert prop.bar_m > prop.length_m


def test_a_falling_lid_is_always_warned_of(small_tent):
    (finding,) = [finding for finding in hang_lid(small_tent, plan_hinged()).findings if finding.key == "lid.falls"]
    assert "Consumer Product Safety" in finding.source
