"""The plan's question is answered by what came out: yes, no, or only if, each reached by a plan."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from clochewright.job import Job, open_shelf, run, run_once
from clochewright.plan import plan_from_si, plan_with
from clochewright.strength import ALL_BANDS

BED = {"bed": {"length_m": 2.4384, "width_m": 1.1684}, "stock": {"sticks_m": [3.048]}}
HERE = Path(__file__).parent


def job_of(folder: Path = HERE, **more: Any) -> Job:
    plan = plan_from_si({**BED, **more})
    return run(plan, *open_shelf(plan, folder))


def answer(job: Job) -> tuple[str, str]:
    return job.answer.question, job.answer.verdict


def longest_cut_m(job: Job) -> float:
    assert job.made is not None
    return max(cut.length_m for cut in job.made.cutlist.cuts)


def test_a_car_that_takes_whole_sticks():
    job = job_of(question="fits-the-car", car={"inside_length_m": 3.1})
    assert answer(job) == ("fits-the-car", "yes")


def test_a_car_that_takes_them_cut():
    job = job_of(question="fits-the-car", car={"inside_length_m": 2.0})
    assert answer(job) == ("fits-the-car", "only-if")
    assert job.made is not None
    pieces_m = [piece for first in job.made.cutlist.first_cuts for piece in first.pieces_m]
    assert pieces_m
    assert max(pieces_m) <= 2.0
    assert str(sum(len(first.positions_m) for first in job.made.cutlist.first_cuts)) in job.answer.text


def test_a_car_that_is_shorter_than_the_longest_cut():
    job = job_of(question="fits-the-car", car={"inside_length_m": 0.9})
    assert longest_cut_m(job) > 0.9
    assert answer(job) == ("fits-the-car", "no")


def test_a_car_of_unknown_length():
    assert answer(job_of(question="fits-the-car")) == ("fits-the-car", "only-if")


@pytest.mark.parametrize("change", [-1e-4, 1e-4])
def test_the_car_s_answer_turns_where_the_stick_s_length_is(change):
    job = job_of(question="fits-the-car", car={"inside_length_m": 3.048 + change})
    assert job.answer.verdict == ("yes" if change > 0 else "only-if")


def total(job: Job) -> Decimal:
    assert job.made is not None
    return job.made.supplies.total


def test_cost_without_a_budget():
    job = job_of(question="cost")
    assert answer(job) == ("cost", "yes")
    assert f"{total(job):.2f}" in job.answer.text


def test_cost_within_the_budget():
    enough = total(job_of(question="cost"))
    assert answer(job_of(question="cost", prices={"budget": enough})) == ("cost", "yes")


def test_cost_a_little_over_the_budget_names_a_change_that_really_saves_enough():
    full = total(job_of(question="cost"))
    thin = total(job_of(question="cost", film={"kind": "4 mil one-season film"}))
    bare = total(job_of(question="cost", cover={"braces": "none"}))
    saves = max(full - thin, full - bare)
    assert saves > 0
    over = job_of(question="cost", prices={"budget": full - saves})
    assert answer(over) == ("cost", "only-if")
    assert f"{saves:.2f}" in over.answer.text
    assert answer(job_of(question="cost", prices={"budget": full - saves - Decimal("0.01")})) == ("cost", "no")


def test_cost_far_over_the_budget():
    assert answer(job_of(question="cost", prices={"budget": Decimal("5")})) == ("cost", "no")


def test_cost_when_prices_are_missing(tmp_path):
    (tmp_path / "prices.csv").write_text("item,pack,price\npipe:1 in Sch 40,10 ft,7\n", encoding="utf-8")
    job = job_of(tmp_path, question="cost", prices={"file": "prices.csv"})
    assert answer(job) == ("cost", "only-if")
    assert job.made is not None
    missing = sum(row.price is None for row in job.made.supplies.rows)
    assert missing > 5
    assert str(missing) in job.answer.text


def test_whether_it_can_stay_out_hangs_on_the_latches():
    job = job_of(question="stays-out")
    assert answer(job) == ("stays-out", "only-if")
    assert job.made is not None
    assert f"{len(job.made.lid.latches)} latches" in job.answer.text


@pytest.mark.parametrize("question", ["fits-the-car", "cost", "stays-out"])
def test_what_cannot_be_built_is_no_answer_but_no(question):
    job = job_of(question=question, cover={"apex": "flat", "pitch_deg": 30.0})
    assert job.refused
    assert answer(job) == (question, "no")
    assert job.made is None


# A bed whose pieces just miss going on one stick fewer (found by trying beds, inch by inch).
TIGHT = {"bed": {"length_m": 78 * 0.0254, "width_m": 25 * 0.0254}, "stock": {"sticks_m": [3.048]}}


def test_an_inset_that_saves_a_stick_is_offered_and_does_when_it_is_taken():
    plan = plan_from_si(TIGHT)
    shelf = open_shelf(plan, HERE)
    job = run(plan, *shelf)
    (offer,) = [finding for finding in job.findings if finding.key == "job.inset-saves"]
    assert offer.change is not None
    changed = run_once(plan_with(plan, [(offer.change.path, offer.change.value)]), *shelf)
    assert job.made is not None
    assert changed.made is not None
    assert not changed.refused
    before, after = len(job.made.cutlist.stock.sticks), len(changed.made.cutlist.stock.sticks)
    assert before - after == offer.values["sticks"] == 1
    assert changed.made.cutlist.stock.cost < job.made.cutlist.stock.cost


def test_an_offer_changes_nothing_by_itself():
    plan = plan_from_si(TIGHT)
    shelf = open_shelf(plan, HERE)
    job, once = run(plan, *shelf), run_once(plan, *shelf, bands=ALL_BANDS)
    assert job.plan == plan
    assert job.frame == once.frame
    assert job.made is not None
    assert once.made is not None
    assert job.made.cutlist == once.made.cutlist
    assert job.made.strength.limits == once.made.strength.limits


def test_no_offer_where_nothing_could_be_saved():
    job = job_of()
    assert not [finding for finding in job.findings if finding.key == "job.inset-saves"]
