"""Draws years of weather from twelve monthly normals, each day leaning on the day before."""

from __future__ import annotations

import numpy as np

from clochewright.site.sun import clear_sky, middles, split_sunshine, sun_path, under_cloud
from clochewright.site.types import DAYS, HOURS, MONTH_DAYS, Hours, Normals, Place, Weather, month_of_day

# How much of one day's warmth is left on the next, and the same for cloud. Assumptions, within what a typical year of
# hourly records at two stations showed (0.65 for temperature).
WARMTH_KEPT, CLOUD_KEPT = 0.65, 0.35
CLOUD_SPREAD = 1.8  # wide: most days are rather clear or rather overcast (assumption)
WIND_SPREAD = 0.40  # of the logarithm of a day's wind (assumption)
HOTTEST_H = 15.0  # local standard time (common practice, no source)


def draw_years(normals: Normals, place: Place, years: int, seed: int = 1) -> Weather:
    """Draw years of hourly weather; the same seed draws the same years.

    Day means stray from the normals with spread and memory; clear days swing more than overcast ones; a day runs as a
    cosine from dawn to mid-afternoon and back; sunshine is the clear sky's less what cloud takes of the bright hours.
    Frost dates of such years stand and fall with `spread_K`.
    """
    rng = np.random.default_rng(seed)
    north = 1.0 if place.latitude_deg >= 0 else -1.0
    day = np.arange(DAYS)
    mean = _daily(np.add(normals.high_degC, normals.low_degC) / 2.0)
    swing = _daily(np.subtract(normals.high_degC, normals.low_degC))
    # Winter days stray more than summer days; a third more and less is an assumption.
    spread = normals.spread_K * (1.0 + 0.33 * north * np.cos(2 * np.pi * (day - 15) / DAYS))
    stray = spread * _remembering(rng, years, WARMTH_KEPT)
    cloud = _cloud(_remembering(rng, years, CLOUD_KEPT), 1.0 - _sun_share(normals, place))
    wind = _daily(np.asarray(normals.wind_m_s)) * np.exp(
        WIND_SPREAD * rng.standard_normal((years, DAYS)) - WIND_SPREAD**2 / 2
    )
    swing_today = swing * (1.0 + 0.7 * (cloud.mean(axis=0) - cloud))
    air = _hours_of_air(mean + stray, swing_today, place)
    dew = np.repeat(_daily(np.asarray(normals.dew_degC)) + 0.8 * stray, 24, axis=1)
    hour = (np.arange(HOURS) % 24) + 1.0
    breeze = 1.0 + 0.35 * np.cos(2 * np.pi * (hour - HOTTEST_H) / 24.0)  # calmer nights (assumption)
    cloud_h = np.repeat(cloud, 24, axis=1)
    sun = sun_path(place, middles(HOURS))
    clear = clear_sky(sun, place.altitude_m)[0]
    level = under_cloud(clear, cloud_h)
    beam, diffuse = split_sunshine(level, sun)
    return Weather(
        air_degC=air,
        dew_degC=np.minimum(dew, air),
        wind_m_s=np.repeat(wind, 24, axis=1) * breeze,
        cloud_share=cloud_h,
        global_W_m2=level,
        beam_W_m2=beam,
        diffuse_W_m2=diffuse,
        sky_W_m2=None,
        source=f"{years} years drawn from monthly normals, seed {seed}",
    )


def _daily(monthly: Hours) -> Hours:
    """Twelve means as a value for each day: straight lines between mid-months whose monthly means are the normals'."""
    ends = np.cumsum(MONTH_DAYS)
    mids = ends - np.asarray(MONTH_DAYS) / 2.0
    months = month_of_day()
    knots = np.asarray(monthly, dtype=np.float64).copy()
    for _ in range(5):
        days = np.interp(np.arange(DAYS) + 0.5, mids, knots, period=float(DAYS))
        knots += monthly - np.bincount(months, days) / np.asarray(MONTH_DAYS)
    return np.asarray(np.interp(np.arange(DAYS) + 0.5, mids, knots, period=float(DAYS)), dtype=np.float64)


def _remembering(rng: np.random.Generator, years: int, kept: float) -> Hours:
    """Days of mean 0 and spread 1, each with `kept` of the day before; shape (years, 365)."""
    fresh = rng.standard_normal((years, DAYS))
    out = np.empty_like(fresh)
    out[:, 0] = fresh[:, 0]
    for d in range(1, DAYS):
        out[:, d] = kept * out[:, d - 1] + np.sqrt(1.0 - kept**2) * fresh[:, d]
    return out


def _sun_share(normals: Normals, place: Place) -> Hours:
    """Bright sunshine as a share of the day's length, by day."""
    path = sun_path(place, np.arange(DAYS * 144, dtype=np.float64) / 6.0)
    long = (path.altitude_deg > 0).reshape(DAYS, -1).sum(axis=1) / 6.0
    share = _daily(np.asarray(normals.sun_h_count)) / np.maximum(long, 0.5)
    return np.asarray(np.clip(share, 0.05, 0.95), dtype=np.float64)


def _cloud(drawn: Hours, mean_share: Hours) -> Hours:
    """Cloud cover by day between 0 and 1, its mean over the years the normals'."""
    z = np.linspace(-3.0, 3.0, 61)
    weight = np.exp(-(z**2) / 2)
    weight /= weight.sum()
    low, high = np.full(DAYS, -12.0), np.full(DAYS, 12.0)
    for _ in range(40):
        middle = (low + high) / 2
        got = (1.0 / (1.0 + np.exp(-(middle[:, np.newaxis] + CLOUD_SPREAD * z)))) @ weight
        low, high = np.where(got < mean_share, middle, low), np.where(got < mean_share, high, middle)
    return np.asarray(1.0 / (1.0 + np.exp(-((low + high) / 2 + CLOUD_SPREAD * drawn))), dtype=np.float64)


def _hours_of_air(mean: Hours, swing: Hours, place: Place) -> Hours:
    """Hour by hour from each dawn's low to each afternoon's high, along half cosines; read at each hour's end."""
    lows, highs = mean - swing / 2, mean + swing / 2
    path = sun_path(place, middles(HOURS))
    up = (path.altitude_deg > 0).reshape(DAYS, 24)
    dawn = np.where(up.any(axis=1) & ~up.all(axis=1), up.argmax(axis=1), 6).astype(float)
    dawn = np.clip(dawn, 2.0, 9.0)
    clock = np.tile(np.arange(24) + 1.0, DAYS)
    day = np.repeat(np.arange(DAYS), 24)
    after, before = (day + 1) % DAYS, (day - 1) % DAYS
    rise = (clock - dawn[day]) / (HOTTEST_H - dawn[day])
    fall = (clock - HOTTEST_H) / (24.0 + dawn[after] - HOTTEST_H)
    early = (clock + 24.0 - HOTTEST_H) / (24.0 + dawn[day] - HOTTEST_H)
    share = np.where(clock < dawn[day], early, np.where(clock <= HOTTEST_H, rise, fall))
    eased = (1.0 - np.cos(np.pi * share)) / 2.0
    start = np.where(clock < dawn[day], highs[:, before], np.where(clock <= HOTTEST_H, lows[:, day], highs[:, day]))
    end = np.where(clock < dawn[day], lows[:, day], np.where(clock <= HOTTEST_H, highs[:, day], lows[:, after]))
    return np.asarray(start + (end - start) * eased, dtype=np.float64)
