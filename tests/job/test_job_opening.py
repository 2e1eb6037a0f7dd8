"""The lid between its steps: hinges and latches by the greater of practice and strength; the result file's lid."""

from __future__ import annotations

from pathlib import Path

import pytest

from clochewright.job import open_shelf, result, run_quick
from clochewright.lid import hinge_count, latch_count
from clochewright.plan import plan_with, read_plan

PATH = Path(__file__).parents[2] / "examples" / "sorrel-yard-long-bed.toml"


def built(**more):
    plan = plan_with(read_plan(PATH), list(more.items()))
    return run_quick(plan, *open_shelf(plan, PATH.parent))


def test_practice_is_enough_in_usual_wind():
    made = built().made
    (leaf,) = made.lid.leaves
    assert len(leaf.hinges) == hinge_count(leaf.line.length_m)
    assert len(leaf.latches) == latch_count(leaf.line.length_m)


def test_strength_asks_for_more_in_a_storm():
    """In the strongest gusts each hinge and latch bears no more than it can, by their number or by straps."""
    made = built(**{"site.design_gust": 90.0}).made
    (leaf,) = made.lid.leaves
    assert len(leaf.hinges) > hinge_count(leaf.line.length_m)
    assert len(leaf.latches) > latch_count(leaf.line.length_m)
    held = made.opening.hold_down
    assert held.worst.share <= 1
    assert held.straps > 0
    groups = {row.group for row in made.supplies.rows}
    assert {"hold-down strap", "strap screws", "prop pin", "check cord"} <= groups


def test_without_straps_it_is_said_what_is_missing():
    job = built(**{"site.design_gust": 90.0, "hold-down.by": "nothing-more"})
    assert "strength.held-too-little" in [finding.key for finding in job.findings]
    assert job.made.opening.hold_down.straps == 0


def test_the_result_file_has_the_lid():
    job = built()
    lid = result(job)["lid"]
    assert set(lid) >= {"hinges", "latches", "prop", "opening", "rest_angle_deg"}
    leaf = job.made.opening.first
    assert lid["rest_angle_deg"] == leaf.rest_deg
    for row, told in zip(lid["opening"], leaf.angles, strict=True):
        assert (row["angle_deg"], row["lift_force_N"]) == (told.angle_deg, told.lift_force_N)
        assert row["prop_force_N"] == told.prop_force_N
    assert lid["prop"]["holes"][-1]["from_pivot_m"] == pytest.approx(lid["prop"]["length_m"])
    assert lid["leaves"][0]["over_centre_deg"] == leaf.over_centre_deg


def test_hoops_in_sleeves_have_no_lid():
    lid = result(built(**{"hoops.feet": "sleeves-inside"}))["lid"]
    assert (lid["hinges"], lid["opening"], lid["prop"], lid["rest_angle_deg"]) == ([], [], None, None)
