"""The heat balance: energy closes, steps don't matter, a second writing of it agrees, and things move the right way."""

from __future__ import annotations

import numpy as np
import pytest
from peer_balance import Peer
from season_samples import SHUT, TENT, cover, greensboro, sorrel_years

from clochewright.season import LEANS, WAYS, Gardener, night_lows, run_years
from clochewright.season.balance import forcings, ground_of, setting_of
from clochewright.season.ground import soil_at_start_degC
from clochewright.season.kernel import compiled, march
from clochewright.season.setting import STORED, SUN_IN, WATER_OUT


@pytest.fixture(scope="module")
def weather():
    return sorrel_years(1)


def lift(years):
    return float((night_lows(years.inside_degC) - night_lows(years.outside_degC)).mean())


@pytest.fixture(scope="module")
def plain(weather):
    return run_years(cover(), weather)


@pytest.mark.parametrize("lean", LEANS)
@pytest.mark.parametrize(
    "changes",
    [{}, {"second": "film"}, {"blanket": True}, {"water_kg": 60.0}, {"extra_hole_m2": 0.1},
     *({"gardener": Gardener(way)} for way in WAYS[1:])],
    ids=str,
)  # fmt: skip
def test_energy_closes_over_a_year(weather, lean, changes):
    """What goes in less what goes out is what is stored, within 0.1 % of what goes in."""
    years = run_years(cover(lean=lean, **changes), weather)
    sums = years.sums_J_m2[0]
    assert abs(sums[SUN_IN] - sums[SUN_IN + 1 : STORED].sum() - sums[STORED]) < 1e-3 * sums[SUN_IN]
    assert sums[SUN_IN] > 1e9
    assert np.isfinite(years.inside_degC).all()


@pytest.mark.parametrize("way", ["never", "morning-and-evening", "wax-opener"])
def test_halving_the_step_moves_the_night_by_less_than_a_twentieth_of_a_degree(weather, way):
    tent = cover(gardener=Gardener(way))
    lifts = [lift(run_years(tent, weather, steps)) for steps in (2, 4, 8)]
    assert abs(lifts[1] - lifts[0]) < 0.05
    assert abs(lifts[2] - lifts[1]) < 0.05


@pytest.mark.parametrize("second", ["none", "film"])
def test_a_second_writing_of_it_solved_by_scipy_agrees(weather, second):
    """SciPy's LSODA on the equations written again: six days of April, hour by hour."""
    tent = cover(second=second)
    setting, ground, forcing = setting_of(tent), ground_of(tent, weather), forcings(tent, weather)[0]
    first, hours = 24 * 95, 24 * 6
    turned = forcing._replace(**{name: np.roll(getattr(forcing, name), -first) for name in forcing._fields})
    soil = soil_at_start_degC(turned.air_degC, ground.deep_degC)
    theirs, _ = Peer(setting, ground, turned).solve(soil, hours, 1e-6)
    ours = march(setting, ground, turned, np.append(soil, 0.0), 0, hours, 16)[0]
    assert np.abs(theirs - ours).mean() < 0.05
    assert np.abs(theirs - ours)[20:28].max() < 0.2


def test_shut_days_are_hot_and_every_way_of_opening_cools_them(weather, plain):
    over = {way: (run_years(cover(gardener=Gardener(way)), weather).inside_degC > 27).sum() for way in WAYS}
    assert over["never"] == (plain.inside_degC > 27).sum()
    assert over["morning-and-evening"] < over["lunchtime"] < over["never"]
    assert over["wax-opener"] < over["lunchtime"]
    assert over["thermometer"] < over["lunchtime"]


def test_what_is_added_warms_the_night(weather, plain):
    for changes in ({"second": "film"}, {"second": "fleece"}, {"blanket": True}, {"water_kg": 60.0}):
        assert lift(run_years(cover(**changes), weather)) > lift(plain) + 0.2, changes


def test_low_likely_and_high_stand_in_order_and_cover_the_sky_formulas(weather):
    lifts = [lift(run_years(cover(lean=lean), weather)) for lean in LEANS]
    assert lifts[0] < lifts[1] < lifts[2]
    assert lifts[2] - lifts[0] > 1.5  # the choice of the sky formula alone moves a clear night by 1.5 K


def test_a_clear_calm_night_can_be_colder_inside(plain, weather):
    """Oregon State, on an old report of 1973: the air under a single film can be colder than outside."""
    colder = night_lows(plain.inside_degC) < night_lows(plain.outside_degC)
    clear = weather.cloud_share.reshape(1, 365, 24).mean(axis=2) < 0.2
    assert colder[clear].mean() > colder[~clear].mean()
    assert colder[clear].any()


def test_cloudy_nights_lift_more_than_clear_ones(plain, weather):
    lifts = night_lows(plain.inside_degC) - night_lows(plain.outside_degC)
    cloud = weather.cloud_share.reshape(1, 365, 24).mean(axis=2)
    autumn = np.zeros((1, 365), dtype=bool)
    autumn[:, 270:] = True
    assert lifts[autumn & (cloud > 0.8)].mean() > lifts[autumn & (cloud < 0.3)].mean()


def test_an_infrared_column_is_taken_where_there_is_one(weather):
    rows = np.full_like(weather.air_degC, 200.0)
    cold = type(weather)(**{name: getattr(weather, name) for name in weather.__slots__ if name != "sky_W_m2"},
                         sky_W_m2=rows)  # fmt: skip
    assert lift(run_years(cover(), cold)) < lift(run_years(cover(), weather)) - 0.5


def test_a_real_file_runs():
    read = greensboro()
    years = run_years(cover(place=read.place), read.weather)
    assert -1.0 < lift(years) < 3.3
    assert years.sums_J_m2[0, WATER_OUT] > 0


def test_shade_shelter_and_facing_matter(weather):
    base = run_years(cover(), weather).sums_J_m2[0, SUN_IN]
    place = cover().place
    walled = type(place)(**{**{n: getattr(place, n) for n in place.__slots__}, "shade_from_deg": 120.0,
                            "shade_to_deg": 240.0, "shade_height_deg": 40.0})  # fmt: skip
    assert run_years(cover(place=walled), weather).sums_J_m2[0, SUN_IN] < 0.9 * base
    turned = run_years(cover(left_faces_deg=90.0), weather).sums_J_m2[0, SUN_IN]
    assert turned != pytest.approx(base, rel=1e-4)


def test_gardener_and_floor_are_as_given():
    assert SHUT.way == "never"
    assert TENT.floor_m2 == pytest.approx(2.3 * 1.1)
    # two walls of 0.15 x 2.4, two slopes of sqrt(0.6^2 + 0.5^2) x 2.4, two ends of 1.2 x 0.15 + 0.6 x 0.5
    assert TENT.film_m2 == pytest.approx(0.72 + 2 * 2.4 * np.hypot(0.6, 0.5) + 2 * 0.48)
    assert TENT.volume_m3 == pytest.approx(0.48 * 2.4)


def test_the_kernel_runs_where_its_compiled_form_can_be_kept_nowhere():
    """A function without a file can't be kept in a cache: it is compiled all the same."""
    made = {}
    exec(compile("def twice(x):\n    return 2.0 * x\n", "<nowhere>", "exec"), made)
    assert compiled(made["twice"])(1.5) == 3.0
