"""The build pages: each step with its picture, taking down, stored parts, labels with codes."""

from __future__ import annotations

import pytest

from clochewright.booklet import print_booklet
from clochewright.booklet.labels import step_told
from clochewright.booklet.pages import booklet_pages
from clochewright.catalogue import load_catalogue, load_prices
from clochewright.job import run
from clochewright.plan import plan_from_si


@pytest.fixture(scope="module")
def job():
    plan = plan_from_si({"name": "Sorrel Yard, bed 9", "bed": {"length_m": 2.4384, "width_m": 1.2192}})
    return run(plan, load_catalogue(), load_prices())


@pytest.fixture(scope="module")
def pages(job):
    return booklet_pages(job, 174.0)


def test_every_step_has_its_picture_and_its_words(job, pages):
    steps = pages.data["building"]["steps"]
    assert [step["number"] for step in steps] == [str(step.number) for step in job.made.assembly.steps]
    for step in steps:
        assert step["picture"]["file"] in pages.drawings
        assert step["picture"]["alt"]
        assert step["texts"]


def test_parts_made_alike_have_a_box_each(job, pages):
    for step, shown in zip(job.made.assembly.steps, pages.data["building"]["steps"], strict=True):
        if step.kind == "cement" and len(step.parts) > 1:
            assert shown["parts"] == list(step.parts)


def test_taking_down_undoes_every_step_on_the_bed(job, pages):
    assert len(pages.data["building"]["down"]) == len(job.made.assembly.down)
    assert pages.data["building"]["packing"]["file"] in pages.drawings


def test_each_part_has_its_label_and_each_screwed_joint_its_pair(job, pages):
    labels, order = pages.data["labels"], job.made.assembly
    assert [label["mark"] for label in labels["parts"]] == [part.id for part in order.stored]
    assert sorted(int(pair["number"]) for pair in labels["pairs"]) == sorted(
        place.number for place in order.screws.places
    )
    parts = {part.id for part in order.stored}
    assert all(pair["pipe"].split()[0] in parts and pair["fitting"] in parts for pair in labels["pairs"])


def test_a_code_holds_the_words_of_the_step_that_adds_the_part(job, pages):
    steps = {step.number: step for step in job.made.assembly.steps}
    for label in pages.data["labels"]["parts"]:
        number = int(label["code"].removeprefix("code-").removesuffix(".svg"))
        assert label["mark"] in steps[number].parts
        assert label["code"] in pages.drawings
    told = step_told("Sorrel Yard, bed 9", steps[number], len(steps))
    assert told.startswith(f"Sorrel Yard, bed 9. Step {number} of {len(steps)}: {steps[number].title}")
    assert len(told) <= 240


def test_joints_meet_where_the_frame_joins_them(job, pages):
    # The pair of labels of a joint names the two parts that the frame's own pipe and fitting belong to.
    owner = {piece: part.id for part in job.made.assembly.stored for piece in (*part.pipes, *part.fittings)}
    numbers = {place.joint: place.number for place in job.made.assembly.screws.places}
    pairs = {int(pair["number"]): pair for pair in pages.data["labels"]["pairs"]}
    for joint in job.made.joints.joints:
        if joint.id in numbers:
            pair = pairs[numbers[joint.id]]
            assert pair["pipe"].split()[0] == owner[joint.pipe]
            assert pair["fitting"] == owner[joint.fitting]


def test_the_pages_are_printed(job, read):
    text = " ".join(read(print_booklet(job)))
    for head in (
        "Building it",
        "Taking it down",
        "Stored",
        "When it comes out again next year",
        "Labels for the joints",
    ):
        assert head in text
    for step in job.made.assembly.steps:
        assert step.title in text
