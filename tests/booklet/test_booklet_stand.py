"""The card for the shed, on one page in large type, and the page behind it."""

from __future__ import annotations

import pytest

from clochewright.booklet import print_booklet
from clochewright.booklet.pages import booklet_pages
from clochewright.catalogue import load_catalogue, load_prices
from clochewright.job import run, run_quick, with_changes
from clochewright.measures import show_speed
from clochewright.plan import plan_from_si

PLANS = {
    "tent": {"bed": {"length_m": 2.4384, "width_m": 1.1684}},
    "wall": {
        "bed": {"length_m": 1.8, "width_m": 0.9},
        "units": "mm",
        "cover": {"shape": "lean-to"},
        "lean-to": {"wall_behind": True},
        "film": {"kind": "150 micron UV film"},
    },
}


@pytest.fixture(scope="module")
def shelf():
    return load_catalogue(), load_prices()


@pytest.fixture(scope="module")
def jobs(shelf):
    return {name: with_changes(run(plan_from_si(plan), *shelf), *shelf) for name, plan in PLANS.items()}


@pytest.mark.parametrize("name", PLANS)
def test_the_card_is_one_page_with_the_low_end_of_each_limit(jobs, read, name):
    job = jobs[name]
    card = booklet_pages(job, 174.0).data["stand"]["card"]
    (page,) = [text for text in read(print_booklet(job)) if text.startswith("Pin up in the shed")]
    for row in card:
        assert row["figure"] in page
        assert row["act"] in page
    assert "no structural approval" in page
    assert "local building department" in page
    shut = job.made.strength.limit("shut")
    assert show_speed(shut.low, job.plan.units) in [row["figure"] for row in card]
    off_bar = [leaf.wind[-1].off_pin_m_s.low for leaf in job.made.opening.leaves if leaf.prop is not None]
    if off_bar:  # what is propped open bears least
        assert card[0]["figure"] == show_speed(min(off_bar), job.plan.units)
        assert card[0]["label"].startswith("Propped open")
    assert any(row["label"] == "Settled snow blown against the wall" for row in card) == (name == "wall")


def test_pictures_changes_hands_and_reach_stand_behind_it(jobs, read):
    job = jobs["tent"]
    told = booklet_pages(job, 174.0)
    stand = told.data["stand"]
    assert [one["file"] in told.drawings for one in stand["pictures"]] == [True] * 4
    assert len(stand["changes"]) == len(job.made.strength.changes)
    assert {"A person leaning on the middle of the rail", "Opened by one corner"} <= {
        r["label"] for r in stand["hands"]
    }
    assert [row["label"] for row in stand["reach"]] == [
        "The widest bed for a frame like this",
        "The longest bay, from bent to bent",
    ]
    whole = " ".join(read(print_booklet(job)))
    assert whole.count("Bent by the wind") >= 1
    assert "What to change" in whole
    assert "EN 1993-1-8" in whole  # among the sources


def test_notes_that_the_page_tells_are_not_told_again_among_the_findings(jobs):
    data = booklet_pages(jobs["tent"], 174.0).data
    assert not any("estimate for a garden cover" in one["why"] for one in data["findings"])
    assert any("brittle" in what for one in data["stand"]["cautions"] for what in one["what"])


def test_where_strength_was_not_worked_out_there_is_no_card(jobs, shelf, read):
    quick = run_quick(jobs["tent"].plan, *shelf)
    assert booklet_pages(quick, 174.0).data["stand"] is None
    assert not any("Pin up in the shed" in text for text in read(print_booklet(quick)))
