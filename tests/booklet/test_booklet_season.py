"""The season card: one page by the bed, its figures those of the result file, its cautions with it."""

from __future__ import annotations

import io
from dataclasses import replace

import pypdf
import pytest

from clochewright.booklet import print_booklet
from clochewright.booklet.pages import booklet_pages
from clochewright.job import result, with_season

BED = """
name = "Sorrel Yard, bed 6"
units = "{units}"
bed = {{ length = "8 ft", width = "4 ft" }}
site = {{ place = "Sorrel Yard" }}
grow = {{ crops = [{crops}], opens = "{opens}" }}
"""
SIX = '"lettuce", "tomato", "Brussels sprouts", "Chinese cabbage", "muskmelon", "basil"'


@pytest.fixture(scope="module")
def grown(job_of):
    """A job with its season, by units, crops and who opens it."""
    kept = {}

    def make(units="inch", crops='"lettuce", "tomato"', opens="morning-and-evening"):
        wanted = (units, crops, opens)
        if wanted not in kept:
            text = BED.format(units=units, crops=crops, opens=opens)
            kept[wanted] = with_season(job_of(text), years=3)
        return kept[wanted]

    return make


def test_a_job_without_a_season_has_no_card(bed):
    assert booklet_pages(bed, 174.0).data["season"] is None


def test_the_card_tells_months_crops_and_cautions(grown):
    job = grown()
    card = booklet_pages(job, 174.0).data["season"]
    assert [row[0] for row in card["months"]] == [
        "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
        "December"]  # fmt: skip
    assert all(len(row) == len(card["month_heads"]) for row in card["months"])
    assert all(len(row) == len(card["crop_heads"]) for row in card["crops"])
    assert [row[0] for row in card["crops"]] == ["Lettuce", "Tomato"]
    cautions = " ".join(card["cautions"]["what"])
    for said in ("Heat kills faster than cold", "animal or a child", "thermometer"):
        assert said in cautions
    assert len(card["adds"]) == 4
    assert len(card["ways"]) == 5


def test_its_figures_are_those_of_the_result_file(grown):
    job = grown()
    card, season = booklet_pages(job, 174.0).data["season"], result(job)["season"]
    for row, month in zip(card["months"], season["months"], strict=True):
        assert row[1].startswith(f"{round(month['night_lift_K']['likely'] * 1.8)} ".replace("-0", "0"))
        assert row[4].startswith(f"{round(month['hours_over_limit']['never'])}")


def test_every_outside_figure_of_the_season_has_its_source(grown):
    rows = booklet_pages(grown(), 174.0).data["sources"]["rows"]
    figures = [row["figure"] for row in rows]
    assert "tomato is killed at" in figures
    assert "Heat from a clear sky" in figures


@pytest.mark.parametrize(
    ("paper", "units", "crops", "opens"),
    [
        ("letter", "inch", '"lettuce", "tomato"', "morning-and-evening"),
        ("a4", "mm", '"lettuce", "tomato"', "wax-opener"),
        ("a4", "mm", "", "never"),
        ("letter", "inch", SIX, "thermometer"),
        ("a4", "mm", SIX, "lunchtime"),
        ("letter", "mm", SIX, "lunchtime"),
    ],
)
def test_the_card_is_one_page(grown, paper, units, crops, opens):
    job = grown(units, crops, opens)
    pages = pypdf.PdfReader(io.BytesIO(print_booklet(job, paper))).pages
    texts = [page.extract_text() for page in pages]
    card = next(n for n, text in enumerate(texts) if "A season under it" in text and "December" in text)
    assert "common practice, no source" in texts[card]
    assert "Weeks won" in texts[card]
    assert "season in pictures" in texts[card + 1]


def test_a_cover_that_is_not_worth_it_says_so_on_the_card(grown):
    job = grown()
    verdicts = tuple(replace(verdict, worth_it="no") for verdict in job.season.crops)
    shown = booklet_pages(replace(job, season=replace(job.season, crops=verdicts)), 174.0)
    assert {row[1] for row in shown.data["season"]["crops"]} == {"no"}
    assert "not worth it here" in shown.drawings["season-weeks.svg"]
