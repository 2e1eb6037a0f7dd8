"""The film on the page: the same laths and drawings as in the booklet."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from page_server import DEMO

from clochewright.drawings import draw_pattern
from clochewright.job import open_shelf, run_quick
from clochewright.plan import read_plan
from clochewright.web.steps.film.step import STEP
from clochewright.web.steps.kit import Seen

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))


@pytest.fixture(params=EXAMPLES, ids=lambda path: path.stem)
def seen(request):
    plan = read_plan(request.param)
    job = run_quick(plan, *open_shelf(plan, request.param.parent))
    return Seen(job, job.made, plan.units)


def test_every_drawing_of_the_film_stands_in_its_step(seen):
    assert set(STEP.show(seen).drawings) == set(draw_pattern(seen.job))


def test_laths_are_told_as_the_pieces_they_are_sawn_to(seen):
    for told, lath in zip(STEP.show(seen).laths, seen.made.film.laths, strict=True):
        assert told.lengths == tuple(map(seen.length, lath.pieces_m))
        assert bool(told.lies) == bool(lath.runs_m)


def test_their_drawings_are_there(site):
    page = site.get(f"/plan/{DEMO}").text
    film = page[page.index('id="body-film"') : page.index('id="body-lid"')]
    pictures = re.findall(r'src="(/plan/[^"]+\.svg[^"]*)"', film)
    assert len(pictures) == 4
    assert all(site.get(address.replace("&amp;", "&")).status_code == 200 for address in pictures)
