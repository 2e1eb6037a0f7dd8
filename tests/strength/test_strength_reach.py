"""The widest bed and the longest bay: where they are said to end, the cover is asked for just what it bears."""

from __future__ import annotations

import pytest
from asking import ask, ask_si

from clochewright.strength import load_of, reach_limits, reach_note
from clochewright.strength.reach import longer, used, wider


def again(plan):
    return ask(plan)


BED = {"length_m": 2.4, "width_m": 1.2}
SITE = {"design_gust_m_s": 22.0, "ground_snow_Pa": 150.0}


@pytest.fixture(scope="module")
def tent():
    return ask_si(units="mm", bed=BED, site=SITE, pipe={"size": "32 mm PN 16"})


@pytest.fixture(scope="module")
def limits(tent):
    return {limit.key: limit for limit in reach_limits(tent, again)}


@pytest.mark.parametrize(("key", "resized"), [("width", wider), ("bay", longer)])
def test_at_its_end_the_cover_is_asked_for_just_what_it_bears(tent, limits, key, resized):
    load, size_m = load_of(tent.plan), limits[key].value
    assert used(again(resized(tent, size_m)), load).share == pytest.approx(1.0, abs=0.06)
    assert used(again(resized(tent, 0.85 * size_m)), load).share < 0.97
    assert used(again(resized(tent, 1.15 * size_m)), load).share > 1.03


@pytest.mark.parametrize("key", ["width", "bay"])
def test_bands_hold_the_likely_size(limits, key):
    limit = limits[key]
    assert limit.kind == f"{key}_m"
    assert 0 <= limit.low <= limit.value <= limit.high
    assert limit.governs.startswith(("in wind", "under snow"))


def test_sizes_are_what_the_other_plan_is_built_to(tent):
    assert again(wider(tent, 1.5)).plan.bed.outside_width_m == pytest.approx(1.5)
    other = again(longer(tent, 1.0))
    assert other.frame.longest_bay_m == pytest.approx(1.0, abs=1e-6)
    assert len(other.frame.stations_m) == len(tent.frame.stations_m)
    inside = ask_si(bed=BED | {"measured": "inside"})
    assert again(wider(inside, 1.5)).plan.bed.outside_width_m == pytest.approx(1.5)


def test_a_plan_without_a_place_is_asked_for_the_usual_wind_and_snow(tent):
    """60 mph: Bartok, University of Connecticut; 2 in of wet snow: common practice, no source."""
    assert load_of(tent.plan).named
    usual = load_of(ask_si(bed=BED).plan)
    assert not usual.named
    assert usual.gust_m_s == pytest.approx(60 * 0.44704, rel=0.002)
    assert usual.wet_m == pytest.approx(2 * 0.0254)


def test_more_wind_leaves_less_bed(tent, limits):
    windy = ask_si(units="mm", bed=BED, site=SITE | {"design_gust_m_s": 30.0}, pipe={"size": "32 mm PN 16"})
    less = {limit.key: limit for limit in reach_limits(windy, again)}
    assert less["width"].value < limits["width"].value
    assert less["bay"].value < limits["bay"].value


def test_the_note_tells_both(tent, limits):
    note = reach_note(tent.plan, tuple(limits.values()))
    assert note.key == "strength.reach"
    assert 0 <= limits["width"].value - note.values["width_m"] <= 0.01
    assert reach_note(tent.plan, (limits["width"],)).key == "strength.reach-width"
