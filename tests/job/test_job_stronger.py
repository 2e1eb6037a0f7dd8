"""Changes that make a cover stand more: each is a real run, and what is told is what such a plan comes to."""

from __future__ import annotations

from pathlib import Path

import pytest

from clochewright.job import open_shelf, run, run_once, with_changes
from clochewright.plan import plan_with, read_plan
from clochewright.strength import LIKELY

HERE = Path(__file__).parents[2] / "examples"


@pytest.fixture(scope="module")
def tent():
    plan = read_plan(HERE / "sorrel-yard-bed-4.toml")
    shelf = open_shelf(plan, HERE)
    return plan, shelf, with_changes(run(plan, *shelf), *shelf)


def test_a_change_is_what_its_plan_comes_to(tent):
    """One more bent: the gust, the snow and the cost told are those of that very plan."""
    plan, shelf, job = tent
    told = next(gain for gain in job.made.strength.changes if gain.key == "bent")
    bents = len(job.frame.stations_m) + 1
    other = run_once(plan_with(plan, [("cover.bents", bents)]), *shelf, bands=LIKELY)
    assert other.made is not None
    assert told.gust_m_s == pytest.approx(other.made.strength.limit("shut").value, rel=0.01)
    assert told.wet_snow_m == pytest.approx(other.made.strength.limit("wet").value, rel=0.01)
    cost = float(other.made.supplies.total) - float(job.made.supplies.total)
    assert told.cost_money == pytest.approx(cost, abs=0.01)
    before = job.made.strength.limit("shut").value
    assert told.gust_share == pytest.approx(told.gust_m_s / before - 1, rel=0.05)


def test_changes_are_ranked_and_worth_it(tent):
    changes = tent[2].made.strength.changes
    assert changes
    worth = [(gain.gust_share + gain.snow_share) / max(gain.cost_money, 1.0) for gain in changes]
    assert worth == sorted(worth, reverse=True)
    assert all(max(gain.gust_share, gain.snow_share) > 0 for gain in changes)
    assert any(finding.key == "strength.what-helps" for finding in tent[2].findings)


def test_the_plan_itself_is_left_alone(tent):
    plan, _, job = tent
    assert job.plan == plan
    assert len(job.frame.stations_m) == 3


def test_a_change_that_one_key_makes_is_offered_to_be_written(tent):
    """Written as text, as the page does it, the key gives the plan that was tried."""
    plan, shelf, job = tent
    offered = {gain.key: gain.change for gain in job.made.strength.changes if gain.change is not None}
    assert "bent" in offered
    for change in offered.values():
        changed = plan_with(plan, [(change.path, change.value)])
        assert changed != plan
        assert not run_once(changed, *shelf).refused


def test_how_far_it_reaches_is_told_with_a_finding(tent):
    job = tent[2]
    assert {"width", "bay"} <= {limit.key for limit in job.made.strength.limits}
    assert any(finding.key == "strength.reach" for finding in job.findings)
