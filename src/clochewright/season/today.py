"""What to do tonight and tomorrow, from a forecast that is typed in."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

from clochewright.season import coefficients as c
from clochewright.season.balance import Tent, setting_of
from clochewright.season.coefficients import LEANS, leaning
from clochewright.season.crops import MARGIN_K
from clochewright.season.enclosure import opening_at
from clochewright.season.ground import lay_ground
from clochewright.season.nights import Band
from clochewright.season.setting import BY_THERMOMETER, LEAVE, OPEN, Forcing
from clochewright.season.sunlight import Light, light_of
from clochewright.site import (
    ZERO_K,
    Hours,
    SIGMA_W_m2_K4,
    clear_sky,
    middles,
    saturation_Pa,
    sky_radiation_W_m2,
    split_sunshine,
    sun_path,
    under_cloud,
    wind_factor_at,
)

Sky = Literal["clear", "broken", "overcast"]
CLOUD_SHARE: dict[Sky, float] = {"clear": 0.0, "broken": 0.5, "overcast": 1.0}
SETTLING_DAYS = 12
PROPS_DEG = (5.0, 10.0, 15.0, 20.0, 30.0, 45.0, 60.0)


@dataclass(frozen=True, slots=True)
class Forecast:
    """Tonight's low, tomorrow's high, sky and wind (10 m, open country), and the day of the year, 0 to 364."""

    low_degC: float
    high_degC: float
    sky: Sky
    wind_m_s: float
    day: int


@dataclass(frozen=True, slots=True)
class TodayAdvice:
    """What to do. Bands are by the low, likely and high balance.

    `blanket` is "needed", "to be safe" or "not needed" by where the crop's kill temperature and margin lie in the band;
    `open_from_h_count` and `shut_by_h_count` are hours of the day, None where it need not be opened; `prop_deg` is the
    least angle tried that holds the limit and `gap_m` the upright gap at the free edge, None where none does: then take
    it off (an end of the band that is infinite says the same).
    """

    inside_low_degC: Band
    inside_low_with_blanket_degC: Band
    blanket: Literal["needed", "to be safe", "not needed"]
    blanket_enough: bool
    shut_high_degC: Band
    open_from_h_count: Band | None
    shut_by_h_count: int | None
    prop_deg: Band | None
    gap_m: Band | None


def advise(tent: Tent, forecast: Forecast, kill_degC: float, limit_degC: float) -> TodayAdvice:
    """Advice for one night and the day after it, taking the days before to have been alike.

    Args:
        tent: the cover as it stands.
        forecast: what was typed in.
        kill_degC: air that kills the crop; a margin is added.
        limit_degC: air that it should stay under.
    """
    shut = [run_day(tent.but(lean=lean), forecast, LEAVE) for lean in LEANS]
    wrapped = [run_day(tent.but(lean=lean, blanket=True), forecast, LEAVE) for lean in LEANS]
    lows, warm, highs = (Band(*sorted(map(f, days))) for f, days in ((_low, shut), (_low, wrapped), (_high, shut)))
    need = kill_degC + MARGIN_K
    blanket: Literal["needed", "to be safe", "not needed"] = "not needed"
    if lows.low < need:
        blanket = "needed" if lows.likely < need else "to be safe"
    opens: Band | None = None
    shuts: int | None = None
    if highs.high > tent.gardener.open_at_degC:
        hours = sorted(_first_over(day, tent.gardener.open_at_degC) for day in shut)
        opens = Band(*hours)
        shuts = _shut_by(shut[1], tent.gardener.open_at_degC)
    props = _least_props(tent, forecast, limit_degC)
    gaps = None if props is None else Band(*(_gap_m(tent, deg) for deg in (props.low, props.likely, props.high)))
    return TodayAdvice(lows, warm, blanket, warm.low >= need, highs, opens, shuts, props, gaps)


def _gap_m(tent: Tent, prop_deg: float) -> float:
    return prop_deg if math.isinf(prop_deg) else opening_at(tent.enclosure, prop_deg)[1]


def _low(day: Hours) -> float:
    return float(day.min())


def _high(day: Hours) -> float:
    return float(day.max())


def _first_over(day: Hours, degC: float) -> float:
    over = np.flatnonzero(day > degC)
    return float(over[0]) if over.size else 24.0


def _shut_by(day: Hours, degC: float) -> int:
    """An hour before the shut cover would fall under the opening temperature: it keeps some of the day's heat."""
    over = np.flatnonzero(day > degC)
    return max(int(over[-1]), 13) if over.size else 15


def least_prop_deg(tent: Tent, forecast: Forecast, limit_degC: float) -> float | None:
    """The least prop angle tried that keeps the cover under the limit through the day, opened at 8; 0 if shut does."""
    if float(run_day(tent, forecast, LEAVE).max()) <= limit_degC:
        return 0.0
    for prop in PROPS_DEG:
        if float(run_day(tent.but(prop_deg=prop), forecast, OPEN).max()) <= limit_degC:
            return prop
    return None


def _least_props(tent: Tent, forecast: Forecast, limit_degC: float) -> Band | None:
    props = [least_prop_deg(tent.but(lean=lean), forecast, limit_degC) for lean in LEANS]
    angles = [math.inf if prop is None else prop for prop in props]
    return None if math.isinf(angles[1]) else Band(min(angles), angles[1], max(angles))


def run_day(tent: Tent, forecast: Forecast, code: int) -> Hours:
    """Air inside for the 24 hours of a day that comes again and again; `code` is done at 8, and it is shut at 18."""
    from clochewright.season.kernel import march  # compiled on first use

    forcing = day_forcing(tent, forecast, code)
    ground = lay_ground(tent.enclosure, float(forcing.air_degC.mean()), tent.lean)
    soil = np.full(ground.holds.size + 1, float(forcing.air_degC.mean()))
    inside = march(setting_of(tent), ground, forcing, soil, -24 * SETTLING_DAYS, 24, 4)[0]
    return np.asarray(inside[-24:], dtype=np.float64)


def day_forcing(tent: Tent, forecast: Forecast, code: int) -> Forcing:
    """The day's weather from its low and high: a cosine from dawn to mid-afternoon and back, dew point at the low."""
    place, room = tent.place, tent.enclosure
    clock = np.arange(24) + 1.0
    share = np.where(clock <= 6, (clock + 9) / 15, np.where(clock <= 15, (clock - 6) / 9, (clock - 15) / 15))
    eased = (1 - np.cos(np.pi * share)) / 2
    rising = (clock > 6) & (clock <= 15)
    span = forecast.high_degC - forecast.low_degC
    air = np.where(rising, forecast.low_degC + span * eased, forecast.high_degC - span * eased)
    cloud = np.full(24, CLOUD_SHARE[forecast.sky])
    dew = np.minimum(np.full(24, forecast.low_degC - 1.0), air)
    hours = slice(forecast.day * 24, forecast.day * 24 + 24)
    sun = sun_path(place, middles(8760)[hours])
    level = under_cloud(clear_sky(sun, place.altitude_m)[0], cloud)
    beam, diffuse = split_sunshine(level, sun)
    light: Light = light_of(room, place, tent.left_faces_deg, leaning(c.LOW_SUN_CAUGHT, tent.lean))
    spread = diffuse * light.open_sky_share
    bed = beam * light.beam[hours] + spread * light.diffuse_factor + level * light.ground_factor
    film = beam * light.film_beam[hours] + spread * light.film_diffuse_factor
    sky = sky_radiation_W_m2(air, dew, cloud, c.SKY[tent.lean])
    seen = room.sky_share * light.open_sky_share
    around = seen * sky + (1 - seen) * SIGMA_W_m2_K4 * (air + ZERO_K) ** 4
    hand = np.zeros(24)
    hand[8], hand[18] = float(code), 2.0 if code != BY_THERMOMETER else float(LEAVE)
    covered = np.where((np.arange(24) >= 18) | (np.arange(24) < 8), 1.0, 0.0) * float(tent.blanket)
    wind = np.full(24, forecast.wind_m_s * wind_factor_at(max(room.height_m, 0.3), place.wind_share))
    return Forcing(air, 0.622 * saturation_Pa(dew) / 101_325.0, wind, around, bed, film, hand, covered)
