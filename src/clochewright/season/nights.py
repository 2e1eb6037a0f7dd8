"""Reads nights and frosts out of the hours."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from clochewright.season.balance import Years
from clochewright.site import DAYS, Hours, month_of_day

NIGHT_FROM_H, NIGHT_LONG_H = 18, 14  # a night runs from 18:00 to 8:00 and belongs to the morning it ends in
CLEAR_SHARE, CLOUDY_SHARE = 0.3, 0.8  # a night is clear below this mean cloud, overcast above that


@dataclass(frozen=True, slots=True)
class Band:
    """A figure that is not known better than this."""

    low: float
    likely: float
    high: float


@dataclass(frozen=True, slots=True)
class NightLift:
    """How much warmer the coldest hour of a night is inside than out, mean over a month's nights.

    Negative where it is colder under the film. A kind of night that never came has None.
    """

    all_nights: Band
    clear: Band | None
    cloudy: Band | None
    colder_inside_share: Band


def night_lows(degC: Hours) -> Hours:
    """The coldest hour of each night, shape (years, 365), from hours of shape (years, 8760)."""
    turned = np.roll(degC, 24 - NIGHT_FROM_H, axis=1).reshape(-1, DAYS, 24)
    return np.asarray(turned[:, :, :NIGHT_LONG_H].min(axis=2), dtype=np.float64)


def night_cloud_share(cloud_share: Hours) -> Hours:
    """Mean cloud of each night, shape (years, 365)."""
    turned = np.roll(cloud_share, 24 - NIGHT_FROM_H, axis=1).reshape(-1, DAYS, 24)
    return np.asarray(turned[:, :, :NIGHT_LONG_H].mean(axis=2), dtype=np.float64)


def lifts_by_month(low: Years, likely: Years, high: Years, cloud_share: Hours) -> tuple[NightLift, ...]:
    """Night lift of each month, from runs with the three leans over the same weather."""
    cloud = night_cloud_share(cloud_share)
    lifts = [night_lows(years.inside_degC) - night_lows(years.outside_degC) for years in (low, likely, high)]
    months = np.broadcast_to(month_of_day(), cloud.shape)
    out = []
    for m in range(12):
        here = months == m
        clear, cloudy = here & (cloud < CLEAR_SHARE), here & (cloud > CLOUDY_SHARE)
        colder = [float((lift[here] < 0).mean()) for lift in lifts]
        out.append(
            NightLift(
                _band(lifts, here),
                _band(lifts, clear) if clear.any() else None,
                _band(lifts, cloudy) if cloudy.any() else None,
                Band(min(colder), colder[1], max(colder)),
            )
        )
    return tuple(out)


def _band(lifts: list[Hours], where: NDArray[np.bool_]) -> Band:
    low, likely, high = (float(lift[where].mean()) for lift in lifts)
    return Band(min(low, likely), likely, max(high, likely))


def warmest_day(outside_degC: Hours) -> int:
    """The middle of the warm season, which parts spring from autumn: day of the year, 0 to 364."""
    days = outside_degC.reshape(-1, DAYS, 24).mean(axis=(0, 2))
    angle = 2 * np.pi * np.arange(DAYS) / DAYS
    return round(float(-np.angle(np.sum(days * np.exp(-1j * angle))) / (2 * np.pi) * DAYS)) % DAYS


def frost_free(lows_degC: Hours, kill_degC: float, middle_day: int) -> tuple[Hours, Hours]:
    """The last killing night before the middle of the warm season and the first after it, by year.

    Args:
        lows_degC: night lows, shape (years, 365).
        kill_degC: a night at or below this kills.
        middle_day: the warmest day.

    Returns:
        Days before the middle (0 if killed on it, DAYS // 2 if there never is one), and days after it.
    """
    half = DAYS // 2
    turned = np.roll(lows_degC, half - middle_day, axis=1) <= kill_degC
    before, after = turned[:, half - 1 :: -1], turned[:, half:]
    return _first(before), _first(after)


def _first(kills: NDArray[np.bool_]) -> Hours:
    days = np.where(kills.any(axis=1), kills.argmax(axis=1), kills.shape[1])
    return np.asarray(days, dtype=np.float64)


def killing_weeks(lows_degC: Hours, kill_degC: float) -> tuple[float, ...]:
    """For each of 52 weeks the share of years in which at least one night of it kills."""
    kills = lows_degC[:, : 52 * 7].reshape(-1, 52, 7) <= kill_degC
    return tuple(float(share) for share in kills.any(axis=2).mean(axis=0))
