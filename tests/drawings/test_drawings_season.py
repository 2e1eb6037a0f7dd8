"""Pictures of a season: they say what they show, tell their bands apart in grey, and keep within their paper."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from clochewright.drawings import Area, Line, draw_season, write_svg
from clochewright.drawings.pens import PENS
from clochewright.drawings.season.year import bands_of
from clochewright.drawings.sheet import box_around
from clochewright.job import open_shelf, run, with_season
from clochewright.plan import plan_from_text

PLAN = """
units = "{units}"
[bed]
length = "8 ft"
width = "3 ft 10 in"
[site]
place = "Sorrel Yard"
[grow]
crops = [{crops}]
"""
NAMES = ["season-weeks", "season-year", "season-night", "season-day"]


@cache
def job(units="inch", crops='"lettuce", "tomato"'):
    plan = plan_from_text(PLAN.format(units=units, crops=crops))
    return with_season(run(plan, *open_shelf(plan, Path())), years=3)


@pytest.fixture(scope="module")
def pictures():
    return draw_season(job())


def test_a_job_without_a_season_has_none():
    plan = plan_from_text('[bed]\nlength = "8 ft"\nwidth = "4 ft"\n')
    assert draw_season(run(plan, *open_shelf(plan, Path()))) == {}


@pytest.mark.parametrize("units", ["inch", "mm"])
@pytest.mark.parametrize("crops", ['"lettuce", "tomato"', ""])
def test_every_picture_lies_on_its_paper_and_says_what_it_shows(units, crops):
    drawn = draw_season(job(units, crops))
    assert list(drawn) == NAMES
    for name, drawing in drawn.items():
        box = box_around(drawing.marks)
        assert box.left_mm >= 0, name
        assert box.bottom_mm >= 0, name
        assert box.right_mm <= drawing.width_mm, name
        assert box.top_mm <= drawing.height_mm, name
        root = ET.fromstring(write_svg(drawing))
        words = [child.text for child in root if child.tag.endswith(("title", "desc"))]
        assert words == [drawing.title, drawing.alt_text]
        assert re.search(r"\d", drawing.alt_text), name
        degrees = "°F" if units == "inch" else "°C"
        if name != "season-weeks":
            assert degrees in drawing.alt_text


def test_every_hour_of_the_year_is_in_one_band_and_drawn_once(pictures):
    season = job().season
    bands = bands_of(season)
    air = season.pictures.year_degC
    assert ((bands == 0) == (air <= season.kill_degC)).all()
    assert ((bands == 3) == (air > season.limit_degC)).all()
    drawing = pictures["season-year"]
    legend_top = max(y for mark in drawing.marks if isinstance(mark, Area) and mark.pen == "air-kills"
                     for _, y in mark.points if y < 20)  # fmt: skip
    whole = next(m for m in drawing.marks if isinstance(m, Area) and m.pen == "air-grows" and m.points[0][1] > 20)
    hour_mm2 = area(whole) / 8760
    for band, pen in ((0, "air-kills"), (1, "air-cold"), (3, "air-hot")):
        drawn = sum(area(m) for m in drawing.marks if isinstance(m, Area) and m.pen == pen
                    and min(y for _, y in m.points) > legend_top)  # fmt: skip
        assert drawn / hour_mm2 == pytest.approx((bands == band).sum(), rel=1e-6, abs=1e-3), pen


def area(mark):
    xs, ys = zip(*mark.points, strict=True)
    return (max(xs) - min(xs)) * (max(ys) - min(ys))


def test_bands_are_told_apart_in_grey(pictures):
    """Lightness (ITU-R BT.601 luma) steps by at least a tenth; too hot is hatched besides."""
    luma = [grey(PENS[pen].tint) for pen in ("air-kills", "air-cold", "air-grows")]
    assert luma == sorted(luma)
    assert np.diff(luma).min() > 0.1
    assert abs(grey(PENS["air-hot"].tint) - grey(PENS["air-grows"].tint)) > 0.1
    assert any(isinstance(m, Line) and m.pen == "hot-hatch" for m in pictures["season-year"].marks)
    assert grey(PENS["week-bare"].tint) - grey(PENS["week-covered"].tint) > 0.4
    dashes = {PENS[pen].dash_mm for pen in ("air-outside", "air-inside", "air-opened", "air-level")}
    assert len(dashes) == 4  # lines are told apart without colour as well


def grey(tint):
    red, green, blue = (int(tint[k : k + 2], 16) / 255 for k in (1, 3, 5))
    return 0.299 * red + 0.587 * green + 0.114 * blue


def test_bars_are_as_high_as_the_chance(pictures):
    crop = max(job().season.crops, key=lambda one: sum(one.bare_week_share))
    bars = [m for m in pictures["season-weeks"].marks if isinstance(m, Area) and m.pen == "week-covered"]
    top = max(max(y for _, y in m.points) for m in bars)
    first_row = [m for m in bars if min(y for _, y in m.points) > top - 27]
    assert len(first_row) == sum(share > 0 for share in crop.covered_week_share)
    heights = [m.points[2][1] - m.points[0][1] for m in first_row]
    shares = [share for share in crop.covered_week_share if share > 0]
    assert np.array(heights) / max(heights) == pytest.approx(np.array(shares) / max(shares))


def test_a_field_of_many_rectangles_is_one_path(pictures):
    text = write_svg(pictures["season-year"])
    assert text.count("<path") < 200
    assert len(text) < 120_000
