"""The hours that stand for a season in pictures: one year, a cold night, a hot clear day."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from clochewright.season.balance import Years
from clochewright.season.coefficients import Lean
from clochewright.season.nights import night_cloud_share, night_lows, warmest_day
from clochewright.site import DAYS, Hours, Weather

Day = tuple[float, ...]
NIGHT_FROM_H, NIGHT_HOURS = 16, 17  # drawn from four in the afternoon to nine in the morning
SPRING_FROM_DAYS, SPRING_TO_DAYS = 150, 50  # before the warmest day: the time in which covers are watched
CLEAR_SHARE = 0.35  # of cloud, by which a night is clear enough to show what one does
NEAR_KILL_K = 1.0  # the night drawn falls this far under the killing temperature outside


@dataclass(frozen=True, slots=True)
class Stretch:
    """Hours on end: the day of the year they begin on, the clock hour, and air outside and inside.

    Inside by the low, likely and high balance, shut; `opened` as the plan's gardener opens it (empty at night).
    """

    day: int
    from_h: int
    outside_degC: Day
    low_degC: Day
    likely_degC: Day
    high_degC: Day
    opened_degC: Day = ()


@dataclass(frozen=True, slots=True)
class Pictures:
    """What is drawn: air inside of one middling year, opened as planned, shape (365, 24) [degC]; a night; a day."""

    year_degC: Hours
    cold_night: Stretch
    hot_day: Stretch


def pick(weather: Weather, shut: Mapping[Lean, Years], opened: Years, kill_degC: float) -> Pictures:
    """Pick the year nearest the middle, in it a clear spring night just cold enough to kill and a hot clear spring day.

    Args:
        weather: the years run.
        shut: all of them shut, by the three balances.
        opened: the same years as the plan's gardener opens it.
        kill_degC: a night at or below this kills.
    """
    means = weather.air_degC.mean(axis=1)
    y = int(np.argmin(np.abs(means - np.median(means))))
    middle = warmest_day(weather.air_degC)
    spring = (middle - np.arange(SPRING_TO_DAYS, SPRING_FROM_DAYS)) % DAYS
    lows = night_lows(opened.outside_degC)[y]
    cloud = night_cloud_share(weather.cloud_share)[y]
    frosty = spring[lows[spring] <= kill_degC]
    clear_frosty = frosty[cloud[frosty] < CLEAR_SHARE]
    nights = next(some for some in (clear_frosty, frosty, np.arange(1, DAYS)) if some.size)
    night = int(nights[np.argmin(np.abs(lows[nights] - (kill_degC - NEAR_KILL_K)))])
    peaks = shut["likely"].inside_degC[y].reshape(DAYS, 24).max(axis=1)
    sunny = weather.beam_W_m2[y].reshape(DAYS, 24).sum(axis=1)
    clear = spring[sunny[spring] >= np.percentile(sunny[spring], 70)]
    day = int(clear[np.argmax(peaks[clear])])
    first = ((night - 1) % DAYS) * 24 + NIGHT_FROM_H
    return Pictures(
        opened.inside_degC[y].reshape(DAYS, 24).copy(),
        _stretch(shut, opened, y, first, NIGHT_HOURS, with_opened=False),
        _stretch(shut, opened, y, day * 24, 24, with_opened=True),
    )


def _stretch(
    shut: Mapping[Lean, Years], opened: Years, y: int, first: int, hours: int, *, with_opened: bool
) -> Stretch:
    rows = (first + np.arange(hours)) % (DAYS * 24)

    def of(years: Hours) -> Day:
        return tuple(round(float(degC), 3) for degC in years[y, rows])

    low, likely, high = (of(shut[lean].inside_degC) for lean in ("low", "likely", "high"))
    ends = [sorted(three) for three in zip(low, likely, high, strict=True)]
    return Stretch(
        day=first // 24,
        from_h=first % 24,
        outside_degC=of(opened.outside_degC),
        low_degC=tuple(three[0] for three in ends),
        likely_degC=likely,
        high_degC=tuple(three[2] for three in ends),
        opened_degC=of(opened.inside_degC) if with_opened else (),
    )
