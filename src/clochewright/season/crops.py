"""Judges a crop in this bed: when to sow, when it is safe, when it cooks, when it is ready, and what is won."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from clochewright.catalogue import Crop
from clochewright.season.balance import Years
from clochewright.season.nights import Band, frost_free, killing_weeks, night_lows, warmest_day
from clochewright.site import DAYS, Hours

Worth = Literal["yes", "maybe", "no"]
MARGIN_K = 1.5  # over the table's kill temperature, which holds for hardened plants and a short dip
SAFE_SHARE = 0.9  # a date is safe where no later night kills in 9 years of 10
WORTH_WEEKS = 1.0  # less than this is not worth the building (assumption)
HOT_HOURS_A_DAY = 2.0  # a week with more hours over the limit than this is too hot (assumption)


@dataclass(frozen=True, slots=True)
class CropVerdict:
    """One crop under this cover.

    Days count from 1 January, 0 to 364; None where it never comes. `sow_from_day` is when the soil of a middling year
    is warm enough, `sow_from_days` the same in a forward and in a late year of ten. `spring_weeks` and `autumn_weeks`
    are weeks won at each end by the likely balance: in a poor year of ten, in the middle, in a good one; the
    `_of_model` ones are the middle year by the low, likely and high balance. `bare` is without a cover, its soil
    taken to be as warm. `bare_week_share` and `covered_week_share` give the chance of a killing night by week of the
    year.
    """

    crop: str
    sow_from_day: int | None
    sow_from_days: tuple[int | None, int | None]
    safe_from_day: int | None
    safe_from_bare_day: int | None
    too_hot_from_day: int | None
    ready_days: tuple[int | None, int | None]
    ready_bare_days: tuple[int | None, int | None]
    spring_weeks: Band
    autumn_weeks: Band
    spring_weeks_of_model: Band
    autumn_weeks_of_model: Band
    bare_week_share: tuple[float, ...]
    covered_week_share: tuple[float, ...]
    worth_it: Worth


def judge(crop: Crop, low: Years, likely: Years, high: Years) -> CropVerdict:
    """Judge one crop by runs with the three leans, opened as the plan says.

    Args:
        crop: the crop.
        low: the low balance, perhaps of the first years only.
        likely: the likely balance.
        high: the high balance, of as many years as the low one.
    """
    kill_degC = crop.kill_degC + MARGIN_K
    bare_degC = night_lows(likely.outside_degC)
    middle = warmest_day(likely.outside_degC)
    bare = frost_free(bare_degC, kill_degC, middle)
    covered = frost_free(night_lows(likely.inside_degC), kill_degC, middle)
    won = [(covered[side] - bare[side]) / 7.0 for side in (0, 1)]
    in_years = [Band(*(float(q) for q in np.percentile(won[side], (10, 50, 90)))) for side in (0, 1)]
    few = len(low.inside_degC)
    ends = [frost_free(night_lows(years.inside_degC), kill_degC, middle) for years in (low, high)]
    of_model = [
        Band(*sorted(float(np.median(end[side][:few] - bare[side][:few])) / 7.0 for end in (ends[0], covered, ends[1])))
        for side in (0, 1)
    ]
    sows = _sow_from(likely.soil_degC, crop.germ_least_degC, middle)
    sow = sows[1]
    safe = _safe_from(covered[0], middle)
    start = _latest(sow, safe, middle)
    bare_start = _latest(sow, _safe_from(bare[0], middle), middle)
    ready, ready_bare = _ready(likely.inside_degC, crop, start), _ready(likely.outside_degC, crop, bare_start)
    return CropVerdict(
        crop=crop.name,
        sow_from_day=sow,
        sow_from_days=(sows[0], sows[2]),
        safe_from_day=safe,
        safe_from_bare_day=_safe_from(bare[0], middle),
        too_hot_from_day=_too_hot_from(likely.inside_degC, crop.limit_degC, middle),
        ready_days=ready,
        ready_bare_days=ready_bare,
        spring_weeks=in_years[0],
        autumn_weeks=in_years[1],
        spring_weeks_of_model=of_model[0],
        autumn_weeks_of_model=of_model[1],
        bare_week_share=killing_weeks(bare_degC, kill_degC),
        covered_week_share=killing_weeks(night_lows(likely.inside_degC), kill_degC),
        worth_it=_worth(in_years, of_model, ready[0], ready_bare[0]),
    )


def _worth(in_years: list[Band], of_model: list[Band], ready: int | None, ready_bare: int | None) -> Worth:
    """Yes from one week won by the likely balance; no where not even the kindest balance wins one."""
    sooner = (ready_bare - ready) % DAYS / 7.0 if ready is not None and ready_bare is not None else 0.0
    sooner = 0.0 if sooner > 26.0 else sooner
    if in_years[0].likely + in_years[1].likely >= WORTH_WEEKS or sooner >= WORTH_WEEKS:
        return "yes"
    return "maybe" if of_model[0].high + of_model[1].high >= WORTH_WEEKS else "no"


def _latest(sow: int | None, safe: int | None, middle: int) -> int | None:
    """The later of two days of spring, None where neither is known."""
    return max((day for day in (sow, safe) if day is not None), default=None, key=lambda day: (day - middle) % DAYS)


def _sow_from(soil_degC: Hours, least_degC: float | None, middle: int) -> tuple[int | None, ...]:
    """First day on which the soil's week is warm enough: in a forward year of ten, a middling and a late one."""
    if least_degC is None:
        return None, None, None
    start = (middle + DAYS // 2) % DAYS  # the coldest time, from which spring is looked for
    days = np.roll(soil_degC.reshape(-1, DAYS, 24).mean(axis=2), -start, axis=1)
    weeks = np.apply_along_axis(lambda row: np.convolve(row, np.ones(7) / 7, "valid"), 1, days)
    firsts = [int(np.argmax(row >= least_degC)) if (row >= least_degC).any() else DAYS for row in weeks]
    return tuple(
        None if found >= DAYS else (start + int(found)) % DAYS for found in np.percentile(firsts, (10, 50, 90))
    )


def _safe_from(before: Hours, middle: int) -> int | None:
    """The day after which no spring night kills in 9 years of 10; None where even midsummer is not safe."""
    nearest = float(np.percentile(before, 100 * (1 - SAFE_SHARE)))
    return None if nearest < 1 else int(middle - nearest) % DAYS


def _too_hot_from(inside_degC: Hours, limit_degC: float, middle: int) -> int | None:
    over = (inside_degC > limit_degC).reshape(-1, DAYS, 24).sum(axis=2).mean(axis=0)
    start = (middle + DAYS // 2) % DAYS
    weeks = np.convolve(np.roll(over, -start), np.ones(7) / 7, "valid")
    hot = weeks > HOT_HOURS_A_DAY
    return (start + int(hot.argmax())) % DAYS if hot.any() else None


def degree_days(inside_degC: Hours, base_degC: float, cap_degC: float | None = None) -> Hours:
    """Warmth of each day over a base [K day], the mean of its hours' excess; above a cap no more is counted.

    Args:
        inside_degC: hours, whole days of them, on the last axis.
        base_degC: below this nothing grows.
        cap_degC: above this no more is gained.
    """
    top = np.inf if cap_degC is None else cap_degC
    excess = np.maximum(np.minimum(inside_degC, top) - base_degC, 0.0)
    return np.asarray(excess.reshape(*inside_degC.shape[:-1], -1, 24).mean(axis=-1), dtype=np.float64)


def _ready(inside_degC: Hours, crop: Crop, start: int | None) -> tuple[int | None, int | None]:
    """When the warmth that a packet's days stand for has come together, counted at the crop's best temperature."""
    if start is None or crop.grow_best_low_degC is None or crop.grow_best_high_degC is None:
        return None, None
    best = (crop.grow_best_low_degC + crop.grow_best_high_degC) / 2
    cap_degC = crop.warmth_cap_degC or crop.grow_most_degC
    warmth = degree_days(inside_degC, crop.warmth_base_degC, cap_degC).mean(axis=0)
    gathered = np.cumsum(np.roll(warmth, -start))
    out = []
    for days in (crop.days_low_count, crop.days_high_count):
        needed = days * max(best - crop.warmth_base_degC, 1.0)
        reached = gathered >= needed
        out.append((start + int(reached.argmax())) % DAYS if reached.any() else None)
    return out[0], out[1]
