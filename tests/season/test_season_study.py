"""The study: months, frosts, crops, opening, and advice for today."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from season_samples import TENT, cover, greensboro, sorrel_years

from clochewright.catalogue import find_crop
from clochewright.findings import say
from clochewright.season import Forecast, Gardener, Tent, advise, enclosure_of, season_study
from clochewright.season.nights import frost_free, killing_weeks, night_lows, warmest_day
from clochewright.site import SORREL_YARD, Weather, draw_years, normals_of


@pytest.fixture(scope="module")
def season():
    tent = Tent(TENT, SORREL_YARD, gardener=Gardener("morning-and-evening"))
    return season_study(tent, sorrel_years(6), [find_crop("lettuce"), find_crop("tomatoes")], few_years=2)


def test_nights_belong_to_the_morning_they_end_in():
    hours = np.full((1, 8760), 10.0)
    hours[0, 24 * 9 + 22] = 1.0  # 22:00 of day 9 is in the night that ends on day 10
    hours[0, 24 * 20 + 12] = -5.0  # noon is in no night
    lows = night_lows(hours)
    assert lows[0, 10] == 1.0
    assert lows.min() == 1.0


def test_frost_dates_by_hand():
    """Frost on days 100 and 120 and again on 280, midsummer 200: 79 days free before it, 80 after."""
    lows = np.full((2, 365), 5.0)
    lows[0, [100, 120, 280, 300]] = -1.0
    before, after = frost_free(lows, 0.0, 200)
    assert (before[0], after[0]) == (79, 80)
    assert (before[1], after[1]) == (182, 183)  # a year without frost
    assert killing_weeks(lows, 0.0)[100 // 7] == 0.5


def test_warmest_day_is_in_july_and_turns_with_the_year():
    hours = 10 - 10 * np.cos(2 * np.pi * (np.arange(8760) / 24 - 20) / 365)
    assert warmest_day(hours[np.newaxis]) == pytest.approx(202, abs=2)
    assert warmest_day(np.roll(hours, 24 * 182)[np.newaxis]) == pytest.approx(202 + 182 - 365, abs=2)


def test_the_year_runs_as_a_year_does(season):
    days = season.opening_days_count
    assert days[0] < 3
    assert days[6] > 28
    shut = [month.hours_over_limit["never"].likely for month in season.months]
    opened = [month.hours_over_limit["morning-and-evening"].likely for month in season.months]
    assert all(a <= b for a, b in zip(opened, shut, strict=True))
    assert shut[6] > shut[3] > shut[0]
    band = season.night_lift_K
    assert band.low < band.likely < band.high
    for month in season.months:
        assert month.lift.all_nights.low <= month.lift.all_nights.likely <= month.lift.all_nights.high
        assert 0 <= month.lift.colder_inside_share.likely <= 1


def test_every_addition_warms(season):
    assert set(season.adds) == {"film", "fleece", "blanket", "water"}
    for added in season.adds.values():
        assert added.lift_K.low <= added.lift_K.likely <= added.lift_K.high
        assert added.lift_K.likely > 0
        assert added.killing_nights_count.likely <= season.killing_nights_count.likely
    assert season.killing_nights_count.likely < season.bare_killing_nights_count


def test_what_is_there_already_is_not_offered_again():
    tent = cover(second="fleece", blanket=True)
    assert set(season_study(tent, sorrel_years(1), [], few_years=1).adds) == {"water"}


def test_the_gap_at_the_prop_is_the_chord_of_its_angle(season):
    """A lid 1.2 m deep, opened by an angle about its hinge: 2 d sin(a / 2), plain geometry."""
    assert season.months[0].prop_deg == season.months[0].gap_m == 0.0  # in January it may stay shut
    held = [month for month in season.months if month.prop_deg]
    assert held
    for month in held:
        assert month.gap_m == pytest.approx(2 * 1.2 * np.sin(np.radians(month.prop_deg / 2)))
    spring = [month.prop_deg for month in season.months[2:5]]
    assert all(a is None or b is None or a <= b for a, b in pairwise(spring))


def test_pictures_show_a_night_that_kills_outside_and_a_day_that_cooks_shut(season):
    night, day = season.pictures.cold_night, season.pictures.hot_day
    assert season.pictures.year_degC.shape == (365, 24)
    assert season.kill_degC - 4 < min(night.outside_degC) <= season.kill_degC
    assert all(a <= b <= c for a, b, c in zip(night.low_degC, night.likely_degC, night.high_degC, strict=True))
    assert night.opened_degC == ()
    assert max(day.likely_degC) > season.limit_degC
    assert max(day.opened_degC) < max(day.likely_degC) - 3
    assert (len(night.likely_degC), len(day.opened_degC)) == (17, 24)


def test_frosts_of_a_single_year_are_judged_over_years_drawn_about_it():
    read = greensboro()
    drawn = draw_years(normals_of(read.weather, read.place), read.place, 3)
    told = []
    season = season_study(
        cover(place=read.place), read.weather, [find_crop("lettuce")], lambda *n: told.append(n), frost_weather=drawn
    )
    assert season.years == 3
    assert told[-1] == (len(told), len(told))
    assert "723170TYA.CSV" in season.source
    assert "drawn" in season.source


def test_crops_are_judged_in_their_own_season(season):
    lettuce, tomato = season.crops
    assert lettuce.sow_from_day < tomato.sow_from_day  # 1.7 against 10 degC of soil
    assert lettuce.safe_from_day < tomato.safe_from_day  # -4 against 0 degC of air
    for crop in season.crops:
        assert crop.safe_from_day <= crop.safe_from_bare_day
        assert len(crop.bare_week_share) == len(crop.covered_week_share) == 52
        assert crop.spring_weeks.low <= crop.spring_weeks.likely <= crop.spring_weeks.high
        assert crop.ready_days[0] < crop.ready_days[1]
        assert crop.sow_from_days[0] <= crop.sow_from_day <= crop.sow_from_days[1]
    assert tomato.ready_days[0] > tomato.safe_from_day + 40


def test_findings_have_their_words_and_cautions_are_there(season):
    keys = {finding.key for finding in season.findings}
    assert {"season.uncalibrated", "season.heat-first", "season.living-things", "season.few-years"} <= keys
    for finding in season.findings:
        assert say(finding, "inch").what


def test_progress_is_told_to_the_end():
    told = []
    season_study(cover(), sorrel_years(2), [], lambda done, whole: told.append((done, whole)), few_years=1)
    assert [done for done, _ in told] == list(range(1, len(told) + 1))
    assert told[-1][0] == told[-1][1]


def warm_weather():
    """A place where no night kills: the drawn years 15 K warmer."""
    base = sorrel_years(2)
    moved = {name: getattr(base, name) for name in base.__slots__}
    moved |= {"air_degC": base.air_degC + 25.0, "dew_degC": base.dew_degC + 20.0}
    return Weather(**moved)


def test_where_no_night_kills_it_is_said_not_to_be_worth_it():
    season = season_study(cover(gardener=Gardener()), warm_weather(), [find_crop("kale")], few_years=1)
    assert season.crops[0].worth_it == "no"
    assert "season.not-worth-it" in {finding.key for finding in season.findings}


def test_a_low_side_faces_the_sun():
    """A lean-to that is high on the left catches most with its back to the north; plain geometry, 44 deg north."""
    lean_to = enclosure_of([(-0.6, 0.0), (0.6, 0.0), (0.6, 0.8), (-0.6, 0.25)], 2.4, 2.3, 1.1, 0.3)
    season = season_study(cover(enclosure=lean_to, left_faces_deg=180.0), sorrel_years(2), [], few_years=1)
    assert season.best_left_faces == "north"
    assert season.best_left_gain_share > 0.03


def test_today_a_cold_clear_night_wants_the_blanket_and_a_mild_one_does_not():
    tent = cover(gardener=Gardener())
    cold = advise(tent, Forecast(-4.0, 10.0, "clear", 1.0, 100), 0.0, 27.0)
    mild = advise(tent, Forecast(10.0, 18.0, "overcast", 3.0, 140), 0.0, 27.0)
    assert cold.blanket == "needed"
    assert mild.blanket == "not needed"
    assert cold.inside_low_with_blanket_degC.likely > cold.inside_low_degC.likely + 0.5
    assert cold.inside_low_degC.low < cold.inside_low_degC.likely < cold.inside_low_degC.high


def test_today_a_bright_spring_day_wants_opening():
    tent = cover(gardener=Gardener())
    bright = advise(tent, Forecast(5.0, 18.0, "clear", 2.0, 120), 0.0, 27.0)
    assert bright.open_from_h_count is not None
    assert 6 <= bright.open_from_h_count.likely <= 11
    assert bright.prop_deg is not None
    assert bright.prop_deg.likely > 0
    dull = advise(tent, Forecast(-2.0, 2.0, "overcast", 3.0, 10), -4.0, 27.0)
    assert dull.open_from_h_count is None
    hot = advise(tent, Forecast(18.0, 34.0, "clear", 2.0, 190), 0.0, 27.0)
    assert hot.prop_deg is None
