"""The booklet of every shape on both papers: it prints, it names what there is, and no page is mostly empty."""

from __future__ import annotations

import io
import itertools
from pathlib import Path

import pypdf
import pytest

from clochewright.booklet import print_booklet
from clochewright.booklet.figures import hoops_block, sizes_block
from clochewright.booklet.pages import booklet_pages
from clochewright.findings import word
from clochewright.job import open_shelf, run
from clochewright.measures import show_force, show_length
from clochewright.plan import read_plan

EXAMPLES = Path(__file__).parents[2] / "examples"
HALF_INCH = 'pipe = { size = "1/2 in" }\n'
PLANS = {
    "barn": 'bed = { length = "8 ft", width = "4 ft" }\ncover = { shape = "barn" }\n',
    "lean-to": 'bed = { length = "6 ft", width = "3 ft" }\ncover = { shape = "lean-to" }\n',
    "tunnel": 'bed = { length = "8 ft", width = "4 ft" }\ncover = { shape = "tunnel" }\n' + HALF_INCH,
    "sleeves inside": 'bed = { length = "8 ft", width = "4 ft" }\ncover = { shape = "tunnel" }\n'
    'hoops = { feet = "sleeves-inside" }\n' + HALF_INCH,
    "sleeves outside": 'bed = { length = "8 ft", width = "4 ft" }\ncover = { shape = "tunnel" }\n'
    'hoops = { feet = "sleeves-outside", crown = "none" }\n' + HALF_INCH,
    "crosses": 'bed = { length = "8 ft", width = "4 ft" }\ncover = { shape = "tunnel", height = "34 in" }\n'
    'hoops = { crown = "crosses", foot_angle = "75 deg" }\n' + HALF_INCH,
    "own": 'bed = { length = "8 ft", width = "4 ft" }\ncover = { shape = "own" }\npipe = { size = "3/4 in" }\n'
    '[profile]\npoints = [{ in = "3 in", up = "12 in" }, { in = "14 in", up = "22 in" }]\n',
    "sections": 'bed = { length = "20 ft", width = "4 ft" }\ncover = { sections = 2 }\nstock = { sticks = ["5 ft"] }\n',
    "dry": 'units = "mm"\nbed = { length = "2 m", width = "1 m" }\npipe = { size = "32 mm PN 16" }\n'
    'joints = { seat = "dry" }\nfilm = { kind = "150 micron UV film" }\n',
}
ON_PAGE = 0.55  # a page is filled at least so far down from the top, as a part of its height


@pytest.fixture(scope="module")
def jobs(job_of):
    """The job of a plan by its name, each run once."""
    done = {}

    def job(name):
        if name not in done:
            done[name] = job_of(f'name = "Sorrel Yard, {name}"\n{PLANS[name]}')
            assert done[name].made is not None, done[name].findings
        return done[name]

    return job


@pytest.mark.parametrize(("name", "paper"), list(itertools.product(PLANS, ("a4", "letter"))))
def test_every_shape_prints_on_both_papers(jobs, read, name, paper):
    job = jobs(name)
    pages = read(print_booklet(job, paper))
    whole = " ".join(pages)
    assert job.plan.name in pages[0]
    for number, text in enumerate(pages, start=1):
        assert f"page {number} of {len(pages)}" in text
    for cut in job.made.cutlist.cuts:
        assert f"{cut.mark} {show_length(cut.length_m, job.plan.units)}" in whole


def test_what_to_know_comes_first_then_what_is_carried_to_the_shop_and_the_saw(jobs, read):
    front, know, *rest = read(print_booklet(jobs("barn"), "a4"))
    assert word("booklet.label.no_approval") in front
    assert know.startswith(word("booklet.label.findings_head"))
    at = next(number for number, text in enumerate(rest) if text.startswith(word("booklet.label.shop_head")))
    assert at <= 2  # warnings and words take three pages at the most
    assert word("booklet.label.reading_head") in " ".join([know, *rest[:at]])
    shop, *rest = rest[at:]
    saw = next(number for number, text in enumerate(rest) if text.startswith(word("booklet.label.saw_head")))
    assert saw <= 1  # the shop takes two pages at the most
    assert word("booklet.label.tools_head") in " ".join([shop, *rest[:saw]])


def test_the_front_page_says_where_the_warnings_are(jobs, read):
    pages = read(print_booklet(jobs("barn"), "a4"))
    number = next(n for n, text in enumerate(pages, start=1) if text.startswith(word("booklet.label.findings_head")))
    assert f"page {number}." in pages[0]


@pytest.mark.parametrize(
    ("name", "paper"), list(itertools.product(sorted(p.stem for p in EXAMPLES.glob("*.toml")), ("a4", "letter")))
)
def test_no_page_of_an_example_is_mostly_empty(name, paper):
    plan = read_plan(EXAMPLES / f"{name}.toml")
    job = run(plan, *open_shelf(plan, EXAMPLES))
    reader = pypdf.PdfReader(io.BytesIO(print_booklet(job, paper)))
    for number, page in enumerate(reader.pages[:-1], start=1):
        lines = []

        def visit(text, page_matrix, matrix, *_, lines=lines):
            if text.strip():
                lines.append(page_matrix[1] * matrix[4] + page_matrix[3] * matrix[5] + page_matrix[5])

        words = page.extract_text(visitor_text=visit)
        if {word("booklet.label.notes"), word("booklet.label.offcut_lines")} & set(words.splitlines()):
            continue  # the rest of the page is lines to write on
        if word("drawings.lid.template.ruler", length="50 mm") in words:
            continue  # a template at full size is as large as what it is for
        height = float(page.mediabox.height)
        lowest = min(y for y in lines if y > 0.07 * height)  # above the foot
        assert 1 - lowest / height > ON_PAGE, (number, words[:60])


def test_the_hoops_are_told_at_the_bench(jobs):
    job = jobs("tunnel")
    block = hoops_block(job.frame, job.pipe, "inch")
    values = {row["label"]: row["value"] for row in block["rows"]}
    hoop = job.frame.hoop
    pipe = next(pipe for pipe in job.frame.pipes if pipe.role == "hoop")
    assert values["Cut"] == show_length(pipe.cut_length_m, "inch")
    assert values["Radius"] == show_length(hoop.least_radius_m, "inch")
    assert values["Stretch"] == f"{hoop.strain_share * 100:.1f} %"
    assert "50 °F" in block["caution"]["what"][0]
    assert hoops_block(jobs("barn").frame, job.pipe, "inch") is None


def test_half_hoops_are_told_apart_and_their_push_is_given(jobs):
    job = jobs("crosses")
    rows = {row["label"]: row for row in hoops_block(job.frame, job.pipe, "inch")["rows"]}
    assert "half hoops" in rows["Cut"]["note"]
    assert rows["Push"]["value"] == show_force(abs(job.frame.hoop.push_N), "inch")


def test_the_hoop_is_among_the_chief_figures(jobs):
    figures = {one["label"]: one for one in booklet_pages(jobs("tunnel"), 174.0).data["figures"]}
    assert show_length(jobs("tunnel").frame.hoop.least_radius_m, "inch") in figures["Hoop"]["note"]
    assert "Diagonals" not in {one["label"] for one in booklet_pages(jobs("sleeves inside"), 174.0).data["figures"]}


def test_three_sizes_of_what_a_tape_can_check(jobs):
    job = jobs("barn")
    block = sizes_block(job.made, "inch")
    assert block["dry"]
    assert "Do not trim" in block["lead"]
    length = job.made.dry.size("length")
    row = block["rows"][0]
    assert row["planned"] == show_length(length.finished_m, "inch")
    assert row["dry"] == f"{show_length(length.dry_low_m, 'inch')} to {show_length(length.dry_high_m, 'inch')}"


def test_parallel_sockets_read_the_same_dry(jobs):
    assert not sizes_block(jobs("dry").made, "mm")["dry"]
    assert word("booklet.label.curing_head") not in str(booklet_pages(jobs("dry"), 174.0).data["joints"])
    assert booklet_pages(jobs("dry"), 174.0).data["joints"]["curing"] is None


def test_the_marks_to_cut_last_are_marked(jobs):
    job = jobs("barn")
    rows = booklet_pages(job, 174.0).data["saw"]["cuts"]
    assert {row["mark"] for row in rows if row["last"]} == {late.mark for late in job.made.spreads.matter_most}
    assert job.made.spreads.matter_most


def test_a_frame_without_a_base_has_no_diagonals_to_push(jobs):
    order = booklet_pages(jobs("sleeves inside"), 174.0).data["joints"]["order"]
    assert word("booklet.joints.sleeves") in order
    assert not any("diagonals" in step for step in order)
