"""What is cemented and what is screwed."""

from __future__ import annotations

from dataclasses import replace

import pytest

from clochewright.joints import choose_joints
from clochewright.plan import plan_from_si
from frame_samples import FOOT, INCH, tent

BED = {"length": 4 * FOOT, "width": 3 * FOOT}
PLAN = plan_from_si({"bed": BED})
ONE_PIECE = plan_from_si({"bed": BED, "store": {"wish": "one-piece"}})


def test_what_never_comes_apart_is_all_cement_and_every_socket_counted(small_tent):
    plan = choose_joints(small_tent, ONE_PIECE)
    assert plan.cemented == 2 * len(small_tent.pipes)
    assert plan.screws == 0
    assert {(joint.pipe, joint.fitting, joint.port) for joint in plan.joints} == {
        (pipe.id, end.fitting, end.port) for pipe in small_tent.pipes for end in pipe.ends
    }


def planned(wish="one-piece", **joints):
    return plan_from_si({"bed": BED, "joints": joints, "store": {"wish": wish}})


def test_dry_is_screwed_one_screw_each(small_tent):
    """Common practice, no source: one screw for each joint."""
    plan = choose_joints(small_tent, planned(seat="dry"))
    assert plan.cemented == 0
    assert plan.screws == plan.screwed == 2 * len(small_tent.pipes)


@pytest.mark.parametrize("seat_in", [0.6, 0.9996, 1.0])
def test_a_dry_pipe_that_goes_all_the_way_in_gets_no_cement(seat_in):
    """Sockets of metric pressure fittings are parallel: a dry pipe goes home in them as well."""
    frame = tent(4 * FOOT, 3 * FOOT, seat_m=seat_in * INCH)
    assert choose_joints(frame, planned(seat="dry")).cemented == 0
    assert choose_joints(frame, planned(seat="home")).screwed == 0


def test_a_role_may_sit_otherwise_than_the_rest(small_tent):
    plan = choose_joints(small_tent, planned(seat="home", seats=[{"role": "ridge", "seat": "dry"}]))
    ridges = {pipe.id for pipe in small_tent.pipes if pipe.role == "ridge"}
    assert ridges
    assert {joint.pipe for joint in plan.joints if joint.treatment == "screwed"} == ridges


def test_a_hoop_comes_out_of_its_sleeve(small_tent):
    first = small_tent.fittings[0]
    frame = replace(small_tent, fittings=(replace(first, kind="sleeve"), *small_tent.fittings[1:]))
    plan = choose_joints(frame, ONE_PIECE)
    screwed = [joint for joint in plan.joints if joint.treatment == "screwed"]
    assert {joint.fitting for joint in screwed} == {first.id}


def test_cautions_stay_with_what_they_warn_of(small_tent):
    cemented = choose_joints(small_tent, PLAN).findings
    assert any(finding.key == "joints.cement-fumes" and "F402" in finding.source for finding in cemented)
    dry = choose_joints(small_tent, planned(seat="dry")).findings
    assert not any(finding.key == "joints.cement-fumes" for finding in dry)
