"""The frame under load on paper: bent as it was worked out, so many times as large as it says; heavy where it works."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import numpy as np
import pytest

from clochewright.catalogue import load_catalogue, load_prices
from clochewright.drawings import Line, Text, draw_loaded, write_svg
from clochewright.drawings.loaded import WEIGHTS
from clochewright.drawings.pens import PENS
from clochewright.drawings.projection import VIEWS
from clochewright.drawings.sheet import box_around
from clochewright.job import run, run_quick
from clochewright.plan import plan_from_si

SHAPES = {
    "tent": {},
    "barn": {"cover": {"shape": "barn"}},
    "lean-to": {"cover": {"shape": "lean-to"}, "units": "mm", "film": {"kind": "150 micron UV film"}},
    "tunnel": {"cover": {"shape": "tunnel"}, "pipe": {"size": "3/4 in"}},
}
NAMES = ["bent-wind", "worked-wind", "bent-snow", "worked-snow"]


@pytest.fixture(scope="module")
def jobs():
    catalogue, prices = load_catalogue(), load_prices()
    bed = {"bed": {"length_m": 2.7432, "width_m": 1.2192}}
    return {name: run(plan_from_si(bed | plan), catalogue, prices) for name, plan in SHAPES.items()}


def length_on_paper(line):
    return sum(math.dist(a, b) for a, b in zip(line.points, line.points[1:], strict=False))


@pytest.mark.parametrize("shape", SHAPES)
def test_both_loads_have_both_pictures_on_their_paper(jobs, shape):
    drawn = draw_loaded(jobs[shape])
    assert list(drawn) == NAMES
    for drawing in drawn.values():
        box = box_around(drawing.marks)
        assert box.left_mm >= 0
        assert box.bottom_mm >= 0
        assert box.right_mm <= drawing.width_mm + 1e-6
        assert box.top_mm <= drawing.height_mm + 1e-6


@pytest.mark.parametrize("shape", SHAPES)
def test_movement_is_drawn_as_many_times_as_large_as_is_said(jobs, shape):
    """The farthest that a point is drawn from where it stands, over how far it goes in the same view."""
    job = jobs[shape]
    for bent in job.made.strength.shapes:
        drawing = draw_loaded(job)[f"bent-{'wind' if bent.case == 'shut' else 'snow'}"]
        lines = {pen: {m.part: m.points for m in drawing.marks if isinstance(m, Line) and m.pen == pen and m.part}
                 for pen in ("unbent", "bent")}  # fmt: skip
        assert lines["bent"].keys() == bent.lines_m.keys()
        times = []
        for pipe, moved in bent.lines_m.items():
            shifts = VIEWS["three-quarter"].project(np.array(moved) - np.array(bent.rest_m[pipe]))[:, :2]
            drawn = np.array(lines["bent"][pipe]) - np.array(lines["unbent"][pipe])
            far = int(np.linalg.norm(shifts, axis=1).argmax())
            if np.linalg.norm(shifts[far]) > 1e-3:
                times.append(np.linalg.norm(drawn[far]) / (np.linalg.norm(shifts[far]) * 1000 / drawing.scale))
        said = re.search(r"drawn (in its true size|(\S+) times (as large|smaller))", drawing.alt_text)
        assert said is not None
        factor = float(said[2] or 1.0)
        assert times == pytest.approx([1 / factor if said[3] == "smaller" else factor] * len(times), rel=1e-3)


@pytest.mark.parametrize("shape", SHAPES)
def test_the_harder_a_pipe_works_the_heavier_its_line(jobs, shape):
    job = jobs[shape]
    for bent in job.made.strength.shapes:
        drawing = draw_loaded(job)[f"worked-{'wind' if bent.case == 'shut' else 'snow'}"]
        pens = {m.part: m.pen for m in drawing.marks if isinstance(m, Line) and m.pen.startswith("worked") and m.part}
        for pipe, share in bent.shares.items():
            assert pens[pipe] == [pen for least, pen in WEIGHTS if share >= least][-1]
    widths = [PENS[pen].width_mm for _, pen in WEIGHTS]
    assert widths == sorted(widths)
    assert widths[0] * 3 < widths[1] < widths[2] / 1.5


def test_the_hardest_are_named_with_their_share(jobs):
    job = jobs["tunnel"]
    bent = next(shape for shape in job.made.strength.shapes if shape.case == "wet")
    pipe, share = max(bent.shares.items(), key=lambda item: item[1])
    told = [mark.text for mark in draw_loaded(job)["worked-snow"].marks if isinstance(mark, Text)]
    assert any(text.startswith(job.made.cutlist.mark_of[pipe]) and f"{100 * share:.0f} %" in text for text in told)


def test_the_loaded_frame_joins_up_at_its_fittings(jobs):
    """Where two pipes meet in a fitting, their drawn lines meet, bent or not."""
    bent = jobs["barn"].made.strength.shapes[0]
    for lines in (bent.rest_m, bent.lines_m):
        ends = [point for line in lines.values() for point in (line[0], line[-1])]
        alone = [p for n, p in enumerate(ends) if min(math.dist(p, q) for m, q in enumerate(ends) if m != n) > 1e-9]
        assert alone == []


def test_it_says_what_it_is_and_has_words_for_those_who_cant_see_it(jobs):
    for drawing in draw_loaded(jobs["lean-to"]).values():
        assert "no structural approval" in drawing.alt_text
        assert "Hardest worked" in write_svg(drawing)
        assert "mph" not in drawing.alt_text


def test_what_was_not_worked_out_has_no_picture(jobs):
    job = jobs["tent"]
    quick = run_quick(job.plan, load_catalogue(), load_prices())
    assert draw_loaded(quick) == {}
    assert draw_loaded(replace(job, made=None)) == {}
