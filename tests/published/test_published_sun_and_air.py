"""Sun, clear sky, moist air and sky radiation against reference libraries, FAO-56 and worked values."""

from __future__ import annotations

import importlib.util
import math
from pathlib import Path

import numpy as np
import pandas as pd
import psychrolib
import pvlib
import pytest

from clochewright.site import (
    HOURS,
    SORREL_YARD,
    Place,
    air_mass,
    clear_sky,
    dew_point_degC,
    middles,
    saturation_Pa,
    sky_emissivity,
    sky_radiation_W_m2,
    sky_temperature_degC,
    split_sunshine,
    sun_path,
)

PLACES = [SORREL_YARD, Place("far north", 60.2, 24.9, 2.0), Place("south", -33.9, 151.2, 10.0, 40.0)]


def index_of(place):
    start = pd.Timestamp("2023-01-01 00:30") - pd.Timedelta(hours=place.utc_offset_h_count)
    return pd.date_range(start, periods=HOURS, freq="h", tz="UTC")


@pytest.mark.parametrize("place", PLACES, ids=lambda place: place.name)
def test_the_sun_stands_where_pvlib_has_it(place):
    """By pvlib 0.16: NREL solar position algorithm, true (not refracted) altitude."""
    theirs = pvlib.solarposition.get_solarposition(index_of(place), place.latitude_deg, place.longitude_deg)
    ours = sun_path(place, middles(HOURS))
    assert np.abs(ours.altitude_deg - theirs["elevation"].to_numpy()).max() < 0.03
    low = theirs["elevation"].to_numpy() < 80  # near the zenith a bearing means little
    off = (ours.bearing_deg - theirs["azimuth"].to_numpy() + 180) % 360 - 180
    assert np.abs(off[low]).max() < 0.05


@pytest.mark.parametrize("altitude_m", [0.0, 150.0, 1500.0])
def test_clear_sky_is_pvlibs(altitude_m):
    """As pvlib.clearsky.ineichen and Kasten-Young air mass, at the same haze."""
    sun = sun_path(SORREL_YARD, middles(HOURS))
    zenith = 90 - sun.altitude_deg
    up = sun.altitude_deg > 0
    relative = pvlib.atmosphere.get_relative_airmass(zenith)
    assert np.allclose(air_mass(sun.altitude_deg)[up], relative[up], rtol=1e-3)
    mass = relative * np.exp(-altitude_m / 8435.2)
    with np.errstate(divide="ignore", invalid="ignore"):
        theirs = pvlib.clearsky.ineichen(zenith, np.nan_to_num(mass, nan=40.0), 3.0, altitude_m, sun.beyond_air_W_m2)
    for ours, name in zip(clear_sky(sun, altitude_m), ("ghi", "dni", "dhi"), strict=True):
        assert np.abs(ours - np.asarray(theirs[name]))[up].max() < 1.0, name


def test_sunshine_is_split_as_pvlib_splits_it():
    """As pvlib.irradiance.erbs; the two take the sun outside the air 0.4 % apart."""
    sun = sun_path(SORREL_YARD, middles(HOURS))
    level = clear_sky(sun)[0] * np.tile([0.3, 0.6, 0.9, 1.0], HOURS // 4)
    day_of_year = np.repeat(np.arange(1, 366), 24)
    theirs = pvlib.irradiance.erbs(level, 90 - sun.altitude_deg, day_of_year)
    beam, diffuse = split_sunshine(level, sun)
    high = sun.altitude_deg > 5
    assert np.abs(diffuse - np.asarray(theirs["dhi"]))[high].max() < 8.0
    assert np.abs(beam - np.asarray(theirs["dni"]))[high].max() < 15.0


def test_saturation_is_fao_56_and_within_a_part_in_a_hundred_of_psychrolib():
    """FAO Irrigation and Drainage Paper 56, annex 2 table 2.3 (from memory): 20 degC 2.338, 30 degC 4.243 kPa."""
    for degC, kPa in ((1.0, 0.657), (20.0, 2.338), (30.0, 4.243)):
        assert float(saturation_Pa(np.array(degC))) == pytest.approx(kPa * 1000, rel=1e-3)
    psychrolib.SetUnitSystem(psychrolib.SI)
    for degC in (-20.0, -10.0, -5.0, -1.0, 1.0, 10.0, 25.0, 40.0):
        assert float(saturation_Pa(np.array(degC))) == pytest.approx(psychrolib.GetSatVapPres(degC), rel=0.01)
    # over ice at -10 degC, not over water: 260 against 286 Pa
    assert float(saturation_Pa(np.array(-10.0))) == pytest.approx(260.0, abs=2.0)


def test_dew_point_is_psychrolibs():
    psychrolib.SetUnitSystem(psychrolib.SI)
    for degC, share in ((20.0, 0.5), (30.0, 0.8), (5.0, 0.9)):
        theirs = psychrolib.GetTDewPointFromRelHum(degC, share)
        assert float(dew_point_degC(np.array(degC), np.array(share))) == pytest.approx(theirs, abs=0.05)


def test_sky_formulas_give_the_worked_values():
    """Air 0, dew point -5 degC, clear: Clark-Allen -17.0, Berdahl-Martin -24.7 degC, worked by hand."""
    air, dew, clear = np.array(0.0), np.array(-5.0), np.array(0.0)
    # Clark & Allen by hand: 0.787 + 0.764 ln(268.15 / 273) = 0.7733
    assert float(sky_emissivity(dew, clear, "clark-allen")) == pytest.approx(0.787 + 0.764 * math.log(268.15 / 273))
    for book, degC in (("clark-allen", -17.0), ("berdahl-martin", -24.7)):
        assert float(sky_temperature_degC(sky_radiation_W_m2(air, dew, clear, book))) == pytest.approx(degC, abs=0.15)
    # cloud term at N = 10: 1 + 0.224 - 0.35 + 0.28 = 1.154; copies with 0.0028 or +0.0035 give another
    overcast = float(sky_emissivity(dew, np.array(1.0), "clark-allen"))
    assert overcast == pytest.approx(0.7733 * 1.154, abs=2e-3)
    between = float(sky_emissivity(dew, clear, "between"))
    assert between == pytest.approx((0.7733 + 0.711 - 0.028 + 0.001825) / 2, abs=1e-3)


def test_pvlib_is_no_part_of_what_runs():
    """The reference library is for tests: nothing under src asks for it."""
    spec = importlib.util.find_spec("clochewright")
    house = Path(spec.submodule_search_locations[0])
    assert not [p for p in house.rglob("*.py") if "import pvlib" in p.read_text(encoding="utf-8")]
