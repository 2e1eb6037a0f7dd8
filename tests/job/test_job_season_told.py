"""A season in words: round figures, both units, and what the table of crops doesn't know is said to be unknown."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from clochewright.job import Band, open_shelf, run, season_sources, show_gap, tell_season, with_season
from clochewright.plan import plan_from_text

PLAN = """
bed = { length = "8 ft", width = "3 ft 10 in" }
cover = { shape = "lean-to" }
lean-to = { high_side = "left" }
site = { place = "Sorrel Yard", left_faces = "south" }
grow = { crops = ["tomato", "basil"], opens = "wax-opener" }
"""


@cache
def job():
    plan = plan_from_text(PLAN)
    return with_season(run(plan, *open_shelf(plan, Path())), years=3)


@pytest.fixture
def told():
    return tell_season(job().season, job().plan, "inch")


def test_the_low_side_of_a_lean_to_faces_the_sun(told):
    """High on the left, and the left looks south: the wrong way round at 44 deg north."""
    assert told.facing.startswith("The low side would best face south. That brings ")
    assert "more sun" in told.facing


def test_both_units_tell_the_same(told):
    metric = tell_season(job().season, job().plan, "mm")
    assert told.limit.startswith("90 °F")  # 32 degC: tomato stops setting fruit (Iowa State Extension)
    assert metric.limit.startswith("32 °C")
    assert [month.days for month in told.months] == [month.days for month in metric.months]


def test_what_the_table_does_not_know_is_said(told):
    tomato, basil = told.crops
    assert (basil.sow, basil.ready) == ("no figure", "no figure")
    assert "no figure" not in (tomato.sow, tomato.ready)


def test_one_way_of_opening_is_the_plans(told):
    assert [way.name for way in told.ways if way.planned] == ["by a wax opener"]


def test_a_band_whose_ends_read_the_same_is_one_figure():
    season = replace(job().season, night_lift_K=Band(1.0, 1.01, 1.02), frost_free_gain_days=Band(-0.4, -0.2, 0.3))
    told = tell_season(season, job().plan, "mm")
    assert told.lift == "1 °C"
    assert told.gain == "0"  # never "-0"


def test_gaps_are_told_as_one_sets_them():
    assert show_gap(0.10193, "inch") == "4 in"
    assert show_gap(0.10193, "mm") == "100 mm"


def test_sources_name_each_crop_and_the_model():
    rows = season_sources(job().season, "inch")
    assert [row[0] for row in rows[:2]] == ["tomato is killed at", "basil is killed at"]
    assert rows[1][1] == "36 °F"  # 2 degC: a grower's record, central Virginia, 2012
    assert all(all(row) for row in rows)
