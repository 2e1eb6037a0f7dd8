"""One month under the cover: lift, hours too hot, when to open and how far."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from clochewright.season.balance import Tent, Years
from clochewright.season.coefficients import Lean
from clochewright.season.enclosure import opening_at
from clochewright.season.gardener import Way
from clochewright.season.nights import Band, NightLift
from clochewright.season.today import Forecast, least_prop_deg
from clochewright.site import MONTH_DAYS, Hours, Weather, month_of_day

Leaning = Mapping[Lean, Years]


@dataclass(frozen=True, slots=True)
class Month:
    """One month: night lift, hours over the crop's limit by way of opening, days to open and at what hours.

    `prop_deg` is the least prop angle tried that holds the limit on its mean clear day (0 where it may stay shut) and
    `gap_m` the upright gap that it leaves at the free edge; None where none does.
    """

    month: int
    lift: NightLift
    hours_over_limit: dict[Way, Band]
    days_to_open: Band
    open_h_count: float | None
    shut_h_count: float | None
    prop_deg: float | None
    gap_m: float | None


def month_under(
    m: int, lift: NightLift, tent: Tent, weather: Weather, shut: Leaning, ways: Mapping[Way, Leaning], limit_degC: float
) -> Month:
    """One month, 0 to 11.

    Args:
        m: the month.
        lift: its night lift.
        tent: cover, place and gardener.
        weather: the years that it was run on.
        shut: all of them shut, by the three balances.
        ways: some of them by way of opening and balance.
        limit_degC: air that the crop should stay under.
    """
    hours = np.repeat(month_of_day() == m, 24)
    opens_degC = tent.gardener.open_at_degC
    days = Band(*sorted(_days_over(years, hours, opens_degC) for years in shut.values()))
    opens, shuts = _usual_hours(shut["likely"].inside_degC[:, hours], opens_degC)
    air = weather.air_degC[:, hours].reshape(weather.years, -1, 24)
    low_degC, high_degC = float(air.min(axis=2).mean()), float(air.max(axis=2).mean())
    middle = sum(MONTH_DAYS[:m]) + 14
    noon = Forecast(low_degC, high_degC, "clear", float(weather.wind_m_s[:, hours].mean()), middle)
    prop_deg = least_prop_deg(tent, noon, limit_degC)
    return Month(
        month=m + 1,
        lift=lift,
        hours_over_limit={way: hours_over(leaning, limit_degC, hours) for way, leaning in ways.items()},
        days_to_open=days,
        open_h_count=opens,
        shut_h_count=shuts,
        prop_deg=prop_deg,
        gap_m=None if prop_deg is None else opening_at(tent.enclosure, prop_deg)[1],
    )


def hours_over(leaning: Leaning, limit_degC: float, hours: NDArray[np.bool_] | None = None) -> Band:
    """Hours a year over a limit, of all hours or of some; a band by the three balances about the likely one."""

    def counted(years: Years) -> float:
        inside = years.inside_degC if hours is None else years.inside_degC[:, hours]
        return float(np.count_nonzero(inside > limit_degC) / len(inside))

    ends = [counted(years) for years in leaning.values()]
    return Band(min(ends), counted(leaning["likely"]), max(ends))


def _days_over(years: Years, hours: NDArray[np.bool_], degC: float) -> float:
    """Days on which it would be opened: the shut cover passes the opening temperature."""
    inside = years.inside_degC[:, hours]
    highs = inside.reshape(len(inside), -1, 24).max(axis=2)
    return float(np.count_nonzero(highs > degC) / len(inside))


def _usual_hours(inside_degC: Hours, degC: float) -> tuple[float | None, float | None]:
    """Middle hours at which the shut cover passes the opening temperature, up and down, on days that it does."""
    over = (inside_degC > degC).reshape(-1, 24)
    over = over[over.any(axis=1)]
    if not len(over):
        return None, None
    return float(np.median(over.argmax(axis=1))), float(np.median(24 - over[:, ::-1].argmax(axis=1)))
