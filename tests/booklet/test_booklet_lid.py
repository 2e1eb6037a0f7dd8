"""The lid's pages: hardware where it was placed, figures as worked out, templates at full size on either paper."""

from __future__ import annotations

import io
import math
import re

import pypdf
import pytest

from clochewright.booklet import print_booklet
from clochewright.booklet.pages import booklet_pages
from clochewright.catalogue import load_catalogue, load_prices
from clochewright.job import run_quick
from clochewright.measures import read_length, show_force
from clochewright.plan import plan_from_si

BED = {"bed": {"length_m": 2.4384, "width_m": 1.1684, "height_m": 0.2794}}
PLANS = {
    "tent": {},
    "metric barn": {"cover": {"shape": "barn"}, "units": "mm", "film": {"kind": "150 micron UV film"}},
    "panel": {"cover": {"shape": "lean-to"}, "lid": {"opens": "slope"}},
    "halves": {"lid": {"opens": "halves"}},
    "hinged at an end": {"lid": {"hinge_side": "far"}},
}
POINT_MM = 25.4 / 72
STEP_M = {"inch": 0.0254 / 16, "mm": 0.001}


@pytest.fixture(scope="module")
def jobs():
    catalogue, prices = load_catalogue(), load_prices()
    return {name: run_quick(plan_from_si(BED | plan), catalogue, prices) for name, plan in PLANS.items()}


@pytest.fixture(scope="module")
def pages(jobs):
    return {name: booklet_pages(job, 174.0) for name, job in jobs.items()}


@pytest.mark.parametrize("name", PLANS)
def test_every_hinge_and_latch_has_a_row_with_its_place(jobs, pages, name):
    lid, rows = jobs[name].made.lid, pages[name].data["lid"]["fixings"]
    edges = {one.id: leaf.body.hinge_line_m for leaf in lid.leaves for one in leaf.hinges}
    edges |= {one.id: leaf.body.free_line_m for leaf in lid.leaves for one in leaf.latches}
    assert [row[0] for row in rows] == [
        one.id for leaf in lid.leaves for one in (*leaf.hinges, *leaf.latches)
    ]  # fmt: skip
    places = {one.id: one.position_m for one in (*lid.hinges, *lid.latches)}
    for mark, place, *_ in rows:
        wanted_m = math.dist(places[mark], edges[mark][0])
        assert float(read_length(place)) == pytest.approx(wanted_m, abs=STEP_M[jobs[name].plan.units])


def test_the_bar_and_the_wind_have_a_row_for_every_opening(jobs, pages):
    for name, made in pages.items():
        work = jobs[name].made.opening.leaves[0]
        assert len(made.data["lid"]["bar_rows"]) == len(work.prop.holes)
        assert len(made.data["lid"]["wind_rows"]) == len(work.wind)
        for row, hole in zip(made.data["lid"]["bar_rows"], work.prop.holes, strict=True):
            assert row[2] == show_force(hole.force_N, jobs[name].plan.units)


def test_cautions_stand_with_the_lid(pages):
    said = " ".join(one["what"][0] for one in pages["tent"].data["lid"]["cautions"])
    assert "falls shut" in said
    assert "Keep fingers out" in said
    order = " ".join(pages["tent"].data["lid"]["order"])
    places = [
        order.index(part) for part in ("Mark the middle", "Tape the card", "Screw the hinges", "pivot", "Tie a cord")
    ]
    assert places == sorted(places)


def test_a_panel_is_hung_on_its_frame_and_asks_for_no_hole_in_a_board(pages):
    lid = pages["panel"].data["lid"]
    assert any("Lay the panel on its frame" in step for step in lid["order"])
    assert {row[4] for row in lid["fixings"]} == {"none"}


def test_what_does_not_open_has_no_lid_page(jobs):
    wanted = plan_from_si(
        BED | {"cover": {"shape": "tunnel"}, "pipe": {"size": "3/4 in"}, "hoops": {"feet": "sleeves-inside"}}
    )
    job = run_quick(wanted, load_catalogue(), load_prices())
    assert booklet_pages(job, 174.0).data["lid"] is None
    assert print_booklet(job).startswith(b"%PDF-")


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("name", ["tent", "panel"])
def test_templates_are_printed_at_full_size(jobs, name, paper):
    """Two inches are 50.8 mm exactly (agreement of 1959); a point is 1/72 in (PDF, ISO 32000-1, 8.3.2.3)."""
    found = 0
    for page in pypdf.PdfReader(io.BytesIO(print_booklet(jobs[name], paper))).pages:
        if "Drilling template" not in page.extract_text():
            continue
        found += 1
        drawn = page.get_contents().get_data().decode("latin-1")
        scale = float(re.search(r"q ([0-9.]+) 0 0 -[0-9.]+ [0-9.]+ [0-9.]+ cm", drawn).group(1))
        level = re.findall(r"([0-9.]+) ([0-9.]+) m ([0-9.]+) \2 l", drawn)
        lengths_mm = [abs(float(b) - float(a)) * scale * POINT_MM for a, _, b in level]
        assert any(length == pytest.approx(50.8, abs=0.01) for length in lengths_mm)
        assert any(length == pytest.approx(50.0, abs=0.01) for length in lengths_mm)
    assert found == len(booklet_pages(jobs[name], 174.0).data["lid"]["templates"])
