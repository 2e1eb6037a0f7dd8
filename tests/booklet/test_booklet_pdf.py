"""The booklet as a PDF: its pages, its words, its paper, its bytes."""

from __future__ import annotations

import io
import os
import re
import subprocess
import sys
from itertools import product
from pathlib import Path

import pypdf
import pytest

from clochewright.booklet import print_booklet
from clochewright.booklet.standing import TOLD
from clochewright.cuts import readings
from clochewright.findings import Level, say, word
from clochewright.measures import show_length, show_money

PAPERS = ("a4", "letter")
# ISO 216 and ANSI/ASME Y14.1 [mm].
SIZES_MM = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
POINT_MM = 25.4 / 72


@pytest.fixture(scope="module")
def printed(bed, metric, refused):
    jobs = {"bed": bed, "metric": metric, "refused": refused}
    return {(name, paper): print_booklet(jobs[name], paper) for name, paper in product(jobs, PAPERS)}


@pytest.fixture(scope="module")
def texts(printed, read):
    return {key: read(pdf) for key, pdf in printed.items()}


@pytest.mark.parametrize("paper", PAPERS)
def test_the_sheet_is_the_paper_asked_for(printed, paper):
    pdf = printed["bed", paper]
    assert pdf.startswith(b"%PDF-")
    for page in pypdf.PdfReader(io.BytesIO(pdf)).pages:
        size = (float(page.mediabox.width) * POINT_MM, float(page.mediabox.height) * POINT_MM)
        assert size == pytest.approx(SIZES_MM[paper], abs=0.1)


def test_no_other_paper(bed):
    with pytest.raises(ValueError, match="a4"):
        print_booklet(bed, "napkin")


@pytest.mark.parametrize("key", list(product(("bed", "metric"), PAPERS)))
def test_pages_are_numbered_and_named(texts, key):
    pages = texts[key]
    assert 9 <= len(pages) <= 60
    name = {"bed": "Sorrel Yard, bed 9", "metric": "Sorrel Yard, bed 2"}[key[0]]
    for number, text in enumerate(pages, start=1):
        assert f"page {number} of {len(pages)}" in text
        assert name in text


@pytest.mark.parametrize("key", list(product(("bed", "metric"), PAPERS)))
def test_every_page_says_something(texts, key):
    """Nothing but a foot would be an empty page; a page of drawings has its dimensions, the last labels have lines."""
    assert all(len(text) > 120 or word("booklet.label.notes") in text for text in texts[key])


@pytest.mark.parametrize("paper", PAPERS)
def test_the_front_page_answers_and_sizes(texts, bed, paper):
    front = texts["bed", paper][0]
    for expected in (
        bed.plan.name,
        bed.answer.text,
        word("booklet.label.no_approval"),
        show_length(bed.frame.height_m, "inch", style="long"),
        *(show_length(m, "inch") for m in readings(bed.made.dry, bed.made.spreads).find("diagonal").joined_m),
        show_money(bed.made.supplies.total, "$"),
    ):
        assert expected in front


def test_every_cut_and_every_supply_is_there(texts, bed):
    whole = " ".join(texts["bed", "a4"])
    for cut in bed.made.cutlist.cuts:
        assert f"{cut.mark} {show_length(cut.length_m, 'inch')}" in whole
    for row in bed.made.supplies.rows:
        assert f"{row.what}" in whole
    assert show_money(bed.made.supplies.total, "$") in whole


def test_every_finding_is_told_once(texts, bed):
    whole = " ".join(texts["bed", "a4"])
    for finding in bed.findings:
        if finding.key in TOLD:
            continue  # the limits' own pages tell them in figures
        what = say(finding, "inch", "$").what
        twice = finding.key == "lid.falls"  # with the lid, and on the shed door
        assert whole.count(what) == (2 if twice else 1), what


def test_invented_prices_are_called_invented(texts, bed, metric):
    note = next(f for f in bed.findings if f.key == "supplies.invented-prices")
    assert say(note, "inch").what in " ".join(texts["bed", "a4"])
    assert "invented" not in " ".join(texts["metric", "a4"])
    assert any(row.price is None for row in metric.made.supplies.rows)
    assert word("booklet.shop.no-price") in " ".join(texts["metric", "a4"])


def test_a_dry_frame_needs_no_cement(texts):
    assert word("booklet.label.curing_head") in " ".join(texts["bed", "a4"])
    assert word("booklet.label.curing_head") not in " ".join(texts["metric", "a4"])


def test_a_metric_booklet_has_no_inches(texts, metric):
    """The sources may speak of inches: they are other people's words. The figures may not."""
    whole = " ".join(texts["metric", "a4"]).split(word("booklet.label.sources_list"))[0].replace(metric.pipe.key, "")
    whole = whole.replace(word("drawings.lid.template.ruler", length="2 in"), "")  # either ruler tells a wrong print
    # a mark such as H3 before "in" is no length
    inches = re.findall(r"(?<![A-Z\d])\d+ in\b|°F|\blb\b|\boz\b", whole)
    assert not inches
    assert show_length(metric.frame.diagonal_m, "mm") in whole


@pytest.mark.parametrize("paper", PAPERS)
def test_a_refused_plan_is_short_and_says_why(texts, refused, paper):
    pages = texts["refused", paper]
    assert len(pages) <= 2
    whole = " ".join(pages)
    stops = [finding for finding in refused.findings if finding.level is Level.STOP]
    assert stops
    for finding in stops:
        words = say(finding, "inch")
        assert words.what in whole
        assert words.mend in whole
    assert word("booklet.label.shop_head") not in whole


@pytest.mark.parametrize("paper", PAPERS)
def test_the_same_job_gives_the_same_bytes(printed, bed, paper):
    assert print_booklet(bed, paper) == printed["bed", paper]


def test_another_run_gives_the_same_bytes(printed):
    """In a process of its own, where sets and tables may come in another order."""
    here = Path(__file__).parent
    code = (
        f"import sys; sys.path.insert(0, {str(here)!r}); import conftest as c; from clochewright.booklet import *\n"
        "cat = c.load_catalogue()\n"
        "job = c.run(c.plan_from_text(c.BED, 'plan'), cat, c.load_prices(None, cat))\n"
        "sys.stdout.buffer.write(print_booklet(job, 'a4'))"
    )
    environment = {**os.environ, "PYTHONHASHSEED": "7"}
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, check=True, env=environment)
    assert done.stdout == printed["bed", "a4"]


def test_the_cut_list_is_large(printed, bed):
    """16 pt, to be read at arm's length with muddy hands: common practice, no source."""
    sizes = {}

    def visit(text, _, matrix, __, size):
        text = " ".join(text.split())
        sizes[text] = max(size * abs(matrix[0]), sizes.get(text, 0))

    reader = pypdf.PdfReader(io.BytesIO(printed["bed", "a4"]))
    page = next(page for page in reader.pages if page.extract_text().startswith(word("booklet.label.saw_head")))
    page.extract_text(visitor_text=visit)
    for cut in bed.made.cutlist.cuts:
        shown = show_length(cut.length_m, "inch")
        assert any(size >= 16 for text, size in sizes.items() if shown in text), shown


@pytest.mark.parametrize("name", ["bed", "metric", "refused"])
def test_it_is_tagged_for_screen_readers(printed, name):
    """What PDF/UA-1 (ISO 14289-1) asks of the file: marks, a language, a title that is shown, and its own name."""
    root = pypdf.PdfReader(io.BytesIO(printed[name, "a4"])).trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    assert str(root["/Lang"]).startswith("en")
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert b"pdfuaid:part" in root["/Metadata"].get_object().get_data()
