"""A panel's own pipes as beams in suction, against figures worked out by hand."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from clochewright.catalogue import load_catalogue, pipe_section
from clochewright.cuts import cut_lengths
from clochewright.film import cut_sheet
from clochewright.frame import covers, raise_frame
from clochewright.joints import choose_joints
from clochewright.lid import hang_lid
from clochewright.plan import plan_from_si
from clochewright.strength import ALL_BANDS, Asked, material, prove
from clochewright.strength.air import DIRECTIONALITY, gust_pressure_Pa
from clochewright.strength.opening.wind_loads import worst_suction
from clochewright.strength.panels import beams_of, rail_moment_m2
from clochewright.weights import weigh

WISH = {"bed": {"length_m": 1.8, "width_m": 0.9}, "cover": {"shape": "lean-to"}, "lid": {"opens": "slope"}}


def asked(more=()) -> Asked:
    plan = plan_from_si(WISH | dict(more))
    catalogue = load_catalogue(pipe=plan.pipe.size)
    frame = raise_frame(plan, catalogue)
    lid, joints = hang_lid(frame, plan), choose_joints(frame, plan)
    film, pipe = cut_sheet(frame, plan, catalogue, lid), catalogue.find_pipe(plan.pipe.size)
    weights = weigh(frame, film, lid, joints, catalogue, pipe)
    return Asked(frame, plan, lid, joints, film, weights, pipe, cut_lengths(frame, plan.units)[1])


@pytest.mark.parametrize(
    ("held_m", "moment_m2"),
    [
        # beam formulas, from memory: q l^2 / 8 in the middle of a span, q a^2 / 2 at the root of an overhang
        ([0.0, 2.0], 4.0 / 8),
        ([1.0], 1.0 / 2),
        ([0.5, 1.5], max(0.25 / 2, 1.0 / 8)),
        ([0.2, 0.8, 1.8], max(0.04 / 2, 1.0 / 8)),
    ],
)
def test_a_rail_of_two_metres_by_hand(held_m, moment_m2):
    assert rail_moment_m2(0.0, 2.0, held_m) == pytest.approx(moment_m2)


def test_the_beams_of_a_slope_by_hand():
    ask = asked()
    (leaf,) = ask.lid.leaves
    corners = [f.position_m for f in ask.frame.fittings if f.role == "panel corner"]
    low, high = min(corners, key=lambda at: at[2]), max(corners, key=lambda at: at[2])
    deep_m = math.hypot(high[1] - low[1], high[2] - low[2])
    ends = min(at[0] for at in corners), max(at[0] for at in corners)
    (middle,) = {round(f.position_m[0], 9) for f in ask.frame.fittings if f.role == "panel rafter foot"}
    rafter, hinged, free = beams_of(ask.frame, leaf)
    # the middle rafter carries half of each bay beside it: half the panel's length
    assert ends[0] < middle < ends[1]
    assert rafter.moment_per_Pa_m3 == pytest.approx((ends[1] - ends[0]) / 2 * deep_m**2 / 8, rel=1e-6)
    latches = sorted(latch.position_m[0] for latch in leaf.latches)
    past_m = max(latches[0] - ends[0], ends[1] - latches[-1])
    span_m = max([b - a for a, b in pairwise(latches)], default=0.0)
    assert free.moment_per_Pa_m3 == pytest.approx(deep_m / 2 * max(past_m**2 / 2, span_m**2 / 8), rel=1e-5)
    assert hinged.moment_per_Pa_m3 < free.moment_per_Pa_m3  # more hinges than latches


def test_two_panels_side_by_side_stand_more_than_one():
    limits = []
    for count in (1, 2):
        strength = prove(asked({"panel": {"count": count}}), ALL_BANDS)
        limit = strength.limit("panel-shut")
        assert limit is not None
        assert limit.low < limit.value < limit.high
        limits.append(limit.value)
        keys = {finding.key for finding in strength.findings}
        shut = strength.limit("shut")
        assert shut is not None
        assert ("strength.panel-first" if limit.value < shut.value else "strength.panel") in keys
    assert limits[1] > limits[0]


def test_the_pressure_at_the_limit_bends_the_worst_pipe_as_far_as_it_bears():
    """Back from the gust: its pressure on the worst suction, M = p m, and the stress M r / I (statics)."""
    ask = asked()
    limit = prove(ask, ALL_BANDS).limit("panel-shut")
    (leaf,) = ask.lid.leaves
    worst = max(beam.moment_per_Pa_m3 for beam in beams_of(ask.frame, leaf))
    suction = worst_suction(covers(ask.frame)[0][0], ask.plan.bed.height_m, "US")
    pressure_Pa = suction * gust_pressure_Pa("US", limit.value, ask.plan.site.exposure, DIRECTIONALITY.value)
    section = pipe_section(ask.pipe.outside_diameter.value, ask.pipe.wall.low)
    stress_Pa = pressure_Pa * worst * (ask.pipe.outside_diameter.value / 2) / section.I_m4
    assert stress_Pa == pytest.approx(material.allowable_stress(material.ROOM_DEGC, material.GUST_S).value)


def test_a_cover_that_opens_as_a_whole_has_no_such_limit():
    assert prove(asked({"lid": {"opens": "cover"}}), ALL_BANDS).limit("panel-shut") is None
