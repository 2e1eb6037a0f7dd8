"""What is cemented and what is screwed."""

from __future__ import annotations

from clochewright.joints import choose_joints
from clochewright.plan import plan_from_si
from frame_samples import FOOT, INCH, tent

PLAN = plan_from_si({"bed": {"length": 4 * FOOT, "width": 3 * FOOT}})


def test_home_is_cemented_and_every_socket_counted(small_tent):
    plan = choose_joints(small_tent, PLAN)
    assert plan.cemented == 2 * len(small_tent.pipes)
    assert plan.screws == 0
    assert {(joint.pipe, joint.fitting, joint.port) for joint in plan.joints} == {
        (pipe.id, end.fitting, end.port) for pipe in small_tent.pipes for end in pipe.ends
    }


def test_dry_is_screwed_one_screw_each():
    """Common practice, no source: one screw for each joint."""
    dry = tent(4 * FOOT, 3 * FOOT, seat_m=0.6 * INCH)
    plan = choose_joints(dry, PLAN)
    assert plan.cemented == 0
    assert plan.screws == plan.screwed == 2 * len(dry.pipes)


def test_a_saw_cut_short_of_home_is_still_cemented():
    assert choose_joints(tent(4 * FOOT, 3 * FOOT, seat_m=1 * INCH - 0.0004), PLAN).screwed == 0
    assert choose_joints(tent(4 * FOOT, 3 * FOOT, seat_m=1 * INCH - 0.0006), PLAN).cemented == 0


def test_cautions_stay_with_what_they_warn_of(small_tent):
    cemented = choose_joints(small_tent, PLAN).findings
    assert any(finding.key == "joints.cement-fumes" and "F402" in finding.source for finding in cemented)
    dry = choose_joints(tent(4 * FOOT, 3 * FOOT, seat_m=0.6 * INCH), PLAN).findings
    assert not any(finding.key == "joints.cement-fumes" for finding in dry)
