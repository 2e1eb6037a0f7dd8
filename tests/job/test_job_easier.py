"""Easier ways to open a lid: each is what running the plan again gives."""

from __future__ import annotations

from pathlib import Path

import pytest

from clochewright.job import open_shelf, run_quick, with_easier
from clochewright.plan import plan_with, read_plan

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture(scope="module")
def bed():
    path = EXAMPLES / "sorrel-yard-bed-4.toml"
    plan = read_plan(path)
    shelf = open_shelf(plan, path.parent)
    return plan, shelf, with_easier(run_quick(plan, *shelf), *shelf)


def ways(job):
    return {way.key: way for way in job.made.opening.alternatives}


@pytest.mark.parametrize("key", ["front", "halves", "panel"])
def test_a_change_of_plan_is_what_its_run_gives(bed, key):
    plan, shelf, job = bed
    way = ways(job)[key]
    again = run_quick(plan_with(plan, list(way.change.items())), *shelf).made.opening.first
    # The whole bench lets joints ask for other seats, which moves a few millimetres of pipe.
    assert way.force_N == pytest.approx(again.reach.most_N, rel=0.02)
    assert way.mass_kg == pytest.approx(again.mass_kg.value, rel=0.02)
    assert way.reached_deg == again.reach.reached_deg


def test_all_that_was_asked_for_is_worked_out(bed):
    _, _, job = bed
    assert {"cord", "strut", "counterweight", "pole", "front", "far", "halves", "panel", "slide", "lift-off"} <= set(
        ways(job)
    )
    works = [way for way in job.made.opening.alternatives if way.works]
    assert works == sorted(works, key=lambda way: way.force_N)
    assert all(way.force_N <= job.plan.lid.force_limit_N for way in works)
    assert "strength.opens-easier" in [finding.key for finding in job.findings]


def test_a_light_lid_in_reach_is_left_alone(bed):
    plan, shelf, _ = bed
    job = run_quick(plan_with(plan, [("lid.force_limit", 300.0)]), *shelf)
    assert with_easier(job, *shelf) is job


def test_a_slid_panel_weighs_on_its_slope(bed):
    """By hand: on 45 deg, weight times (sin 45 + 0.4 cos 45); its hinge line lies a hub off the slope."""
    _, _, job = bed
    slide = ways(job)["slide"]
    assert slide.force_N == pytest.approx(slide.mass_kg * 9.80665 * 1.4 * 0.70711, rel=0.02)


def test_seated_nobody_is_asked_to_lift_it_off(bed):
    plan, shelf, _ = bed
    job = run_quick(plan_with(plan, [("lid.opened_by", "seated")]), *shelf)
    found = ways(with_easier(job, *shelf))
    assert not found["lift-off"].works
    assert not found["lift-off-panel"].works
