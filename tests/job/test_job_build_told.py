"""The build in words."""

from __future__ import annotations

import pytest

from clochewright.catalogue import load_catalogue, load_prices
from clochewright.job import run, tell_build
from clochewright.job.build_told import duration, runs
from clochewright.plan import plan_from_si


@pytest.fixture(scope="module")
def job():
    plan = plan_from_si({"bed": {"length_m": 2.4384, "width_m": 1.2192}})
    return run(plan, load_catalogue(), load_prices())


@pytest.fixture(scope="module")
def told(job):
    return tell_build(job, "inch")


def test_every_step_and_every_stored_part_is_told(job, told):
    order = job.made.assembly
    assert [step.number for step in told.steps] == [step.number for step in order.steps]
    assert [part.id for part in told.stored] == [part.id for part in order.stored]


def test_moves_are_numbered_as_the_picture_numbers_its_joints(job, told):
    # of parts made alike only the first is drawn and told; a turn belongs to the move before it
    for step, said in zip(job.made.assembly.steps, told.steps, strict=True):
        if step.kind == "cement":
            slides = [move for move in step.moves if move.kind != "turn" and set(move.moving) & set(step.new)]
            assert len(said.moves) == len(slides)
            assert all(text.startswith(move.text) for text, move in zip(said.moves, slides, strict=True))


def test_what_stands_grows_until_all_of_it_does(job, told):
    on_the_bed = [len(said.later) for step, said in zip(job.made.assembly.steps, told.steps, strict=True)
                  if step.kind == "assemble"]  # fmt: skip
    assert on_the_bed == sorted(on_the_bed, reverse=True)
    assert on_the_bed[-1] == 0


def test_cement_brings_its_caution_and_its_times(told):
    # F402 as its abstract has it: ventilation and no ignition; times from the tables beside joints/curing.py.
    cement = [step for step in told.steps if any("Cement" in text for text in step.moves)]
    assert cement
    for step in cement:
        assert "no flame" in step.caution
    timed = [step for step in cement if any("minutes" in one.text and "hour" in one.text for one in step.beside)]
    assert timed == cement[:1]  # told once, where cement is first used


def test_alone_is_told_so():
    plan = plan_from_si({"bed": {"length_m": 2.4384, "width_m": 1.2192}, "people": 1})
    told = tell_build(run(plan, load_catalogue(), load_prices()), "inch")
    assert any("Alone" in step.caution for step in told.steps)


def test_screws_are_told_by_where_they_sit(job, told):
    said = " ".join(row.text for row in told.screws)
    assert job.made.assembly.screws.name in said
    numbers = sorted(place.number for place in job.made.assembly.screws.places)
    assert numbers == list(range(1, len(numbers) + 1))


@pytest.mark.parametrize(
    ("numbers", "said"), [([1, 2, 3, 7], "1 to 3, 7"), ([4, 5], "4, 5"), ([9, 1, 2], "1, 2, 9"), ([], "")]
)
def test_numbers_that_follow_each_other_are_a_run(numbers, said):
    assert runs(numbers) == said


@pytest.mark.parametrize(
    ("time_s", "said"), [(900, "15 minutes"), (3600, "1 hour"), (57600, "16 hours"), (259200, "3 days")]
)
def test_times_read_as_people_say_them(time_s, said):
    assert duration(time_s) == said
