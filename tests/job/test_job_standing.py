"""What the cover stands, in words: rounded so that a limit stays one, in the units that gardeners use."""

from __future__ import annotations

import pytest

from clochewright.job import card_limits, handling_said, said_limits, show_ground, show_limit
from clochewright.strength import Check, Limit, Strength


def limit(key, kind, value, low, high):
    return Limit("shut", kind, value, low, high, "the rafter", "source", key)


def test_figures_are_rounded_down_to_what_a_hand_measures():
    assert show_limit("snow_depth_m", 0.0759, "inch") == "2 in"
    assert show_limit("snow_depth_m", 0.0999, "mm") == "9 cm"
    assert show_limit("snow_depth_m", 2.4, "mm") == "over 100 cm"
    assert show_limit("gust_m_s", 26.8224, "inch") == "60 mph"  # 1 mile is 1609.344 m
    assert show_limit("width_m", 1.53, "inch") == "5 ft"


def test_the_low_end_is_the_one_to_act_on_with_its_wind_in_words():
    """17 m/s of gusts is a mean of about 10.6 m/s by the factor 1.6: force 5, fresh breeze (Met Office sheet 6)."""
    (said,) = said_limits(Strength((limit("shut", "gust_m_s", 30.0, 17.0, 40.0),)), "mm")
    assert (said.likely, said.safe, said.best) == ("30 m/s", "17 m/s", "40 m/s")
    assert said.force == "force 5, fresh breeze"
    assert "small trees in leaf sway" in said.outdoors
    assert said.band == "17 m/s to be safe, 40 m/s at best"


def test_where_no_size_stands_it_says_none():
    nothing, some = (limit("width", "width_m", *values) for values in ((0.0, 0.0, 0.0), (1.2, 0.0, 1.5)))
    said = said_limits(Strength((nothing, some)), "mm")
    assert (said[0].likely, said[0].band) == ("none that we tried", "")
    assert said[1].band == "1500 mm at best; to be safe, none at all"


def test_the_card_has_either_loose_or_unlatched():
    lows = {"loose": 8.0, "unlatched": 9.0, "shut": 15.0, "slides": 7.0}
    gusts = [limit(key, "gust_m_s", 20.0, low, 30.0) for key, low in lows.items()]
    assert [one.said.key for one in card_limits(Strength(tuple(gusts)), "inch")] == ["unlatched", "shut"]
    assert [one.said.key for one in card_limits(Strength((gusts[0], gusts[2])), "inch")] == ["loose", "shut"]


def test_the_card_rises_and_no_weaker_cover_is_credited_with_more_than_the_one_shut_and_latched():
    lows = {"unlatched": 12.0, "shut": 7.5, "open-end": 9.3, "hot": 4.8}
    card = card_limits(Strength(tuple(limit(key, "gust_m_s", 20.0, low, 30.0) for key, low in lows.items())), "mm")
    assert [(row.said.key, row.said.safe) for row in card] == [("hot", "4.8 m/s"), ("shut", "7.5 m/s")]
    assert len(card[1].same) == 2
    assert "latch it" in card[1].same[1]


def test_what_gives_a_long_way_is_not_told_to_the_inch():
    checks = (Check("opened by one corner", 2.08, 2.4, "the hoop"), Check("carried", 0.2, 0.003, "the post"))
    far, near = handling_said(Strength(checks=checks), "inch")
    assert far == ("Opened by one corner", "208 % of what it bears", "gives over 19 in; the hoop")
    assert near[2] == "the post"


@pytest.mark.parametrize(
    ("kind", "value", "units", "shown"),
    [
        ("stress", 2.758e9, "inch", "400,000 psi"),  # 1 psi is 6894.757 Pa
        ("stress", 49.6e6, "mm", "49.6 MPa"),
        ("density", 400.0, "inch", "25 lb/ft³"),  # 1 lb/ft³ is 16.01846 kg/m³
        ("share", 0.01, "mm", "1 %"),
        ("factor", 0.85, "mm", "0.85"),
    ],
)
def test_figures_it_rests_on_are_told_in_the_plans_units(kind, value, units, shown):
    assert show_ground(kind, value, units) == shown
