"""The season in words and round figures, the same on the page and in the booklet."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from clochewright.catalogue import find_crop
from clochewright.findings import word
from clochewright.measures import (
    MONTH_NAMES,
    Units,
    inch,
    show_angle,
    show_day,
    show_hour,
    show_length,
    show_temperature,
    show_temperature_difference,
)
from clochewright.plan import Plan
from clochewright.season import BEARINGS, Band, CropVerdict, Month, Season
from clochewright.sources import Grade

NO_GAIN_SHARE = 0.01  # less sun than this is not worth turning a bed for
MOST_OPEN_H_COUNT = 17.0  # open for longer than this, it may as well stay open


@dataclass(frozen=True, slots=True)
class MonthTold:
    """One month: night lift (all, clear, overcast), days to open, from when to when, hours too hot, how far to prop."""

    name: str
    lift: str
    clear: str
    cloudy: str
    days: str
    hours: str
    hot_shut: str
    hot_opened: str
    prop: str


@dataclass(frozen=True, slots=True)
class CropTold:
    """One crop: whether it is worth it, its days, and the weeks won at each end."""

    name: str
    worth: str
    worth_short: str
    sow: str
    sow_likely: str
    safe: str
    safe_bare: str
    hot: str
    ready: str
    ready_bare: str
    spring: str
    autumn: str


@dataclass(frozen=True, slots=True)
class WayTold:
    """One way of opening, and the hours a year too hot under it."""

    name: str
    hours: str
    planned: bool


@dataclass(frozen=True, slots=True)
class AddTold:
    """One addition: how much warmer it makes a night, and the killing nights then left in a year."""

    name: str
    lift: str
    nights: str


@dataclass(frozen=True, slots=True)
class SeasonTold:
    """Everything about one season that is read rather than looked at."""

    gist: str
    lift: str
    nights: str
    gain: str
    limit: str
    facing: str
    weather: str
    months: tuple[MonthTold, ...]
    crops: tuple[CropTold, ...]
    ways: tuple[WayTold, ...]
    adds: tuple[AddTold, ...]


def tell_season(season: Season, plan: Plan, units: Units) -> SeasonTold:
    """A season in words.

    Args:
        season: What the study found.
        plan: The plan it is for.
        units: What degrees, days and hours are shown in.
    """

    def apart(band: Band) -> str:
        return _banded(band, lambda K: show_temperature_difference(K, units))

    lift = apart(season.night_lift_K)
    nights = word(
        "season.told.nights",
        bare=f"{season.bare_killing_nights_count:.0f}",
        covered=_counted(season.killing_nights_count),
        degrees=show_temperature(season.kill_degC, units),
        crop=season.kill_crop or word("season.told.anything"),
    )
    limit = word(
        "season.told.limit",
        degrees=show_temperature(season.limit_degC, units),
        crop=season.limit_crop or word("season.told.plants"),
    )
    return SeasonTold(
        gist=word("season.told.gist", lift=lift),
        lift=lift,
        nights=nights,
        gain=_counted(season.frost_free_gain_days),
        limit=limit,
        facing=_facing(season, plan),
        weather=season.source,
        months=tuple(_month(month, season, units) for month in season.months),
        crops=tuple(_crop(verdict, units) for verdict in season.crops),
        ways=tuple(
            WayTold(word(f"season.way.{way}"), _counted(band), way == season.way)
            for way, band in season.hours_over_limit.items()
        ),
        adds=tuple(
            AddTold(word(f"season.add.{name}"), apart(added.lift_K), _counted(added.killing_nights_count))
            for name, added in season.adds.items()
        ),
    )


def season_sources(season: Season, units: Units) -> tuple[tuple[str, str, str, str], ...]:
    """What the season rests on from outside: figure, value, how sure, and the source."""
    rows = []
    for verdict in season.crops:
        crop = find_crop(verdict.crop)
        kill = show_temperature(crop.kill_degC, units)
        rows.append((word("season.source.kill-row", crop=crop.name), kill, str(Grade.PUBLISHED), crop.source))
    for key in ("sky", "film", "leak", "vent"):
        row, value, grade, source = (
            word(f"season.source.{key}-{part}") for part in ("row", "value", "grade", "source")
        )
        rows.append((row, value, grade, source))
    return tuple(rows)


def show_gap(gap_m: float, units: Units) -> str:
    """A gap under a propped lid: to the whole inch or centimetre, since nobody sets it finer."""
    step_m = float(inch) if units == "inch" else 0.01
    return show_length(round(gap_m / step_m) * step_m, units)


def _month(month: Month, season: Season, units: Units) -> MonthTold:
    def apart(band: Band | None) -> str:
        return "–" if band is None else _banded(band, lambda K: show_temperature_difference(K, units))

    opens = month.days_to_open.likely >= 0.5
    return MonthTold(
        name=MONTH_NAMES[month.month - 1],
        lift=apart(month.lift.all_nights),
        clear=apart(month.lift.clear),
        cloudy=apart(month.lift.cloudy),
        days=_counted(month.days_to_open) if opens else word("season.told.hardly"),
        hours=_open_hours(month, units) if opens else "–",
        hot_shut=_counted(month.hours_over_limit["never"]),
        hot_opened=_counted(month.hours_over_limit[season.way]),
        prop=_prop(month, units),
    )


def _open_hours(month: Month, units: Units) -> str:
    if month.open_h_count is None or month.shut_h_count is None:
        return "–"
    if month.shut_h_count - month.open_h_count >= MOST_OPEN_H_COUNT:
        return word("season.told.all-day")
    return word(
        "season.told.from-to", low=show_hour(month.open_h_count, units), high=show_hour(month.shut_h_count, units)
    )


def _prop(month: Month, units: Units) -> str:
    if month.prop_deg is None or month.gap_m is None:
        return word("season.told.take-off")
    if month.prop_deg == 0.0:
        return word("season.told.stays-shut")
    return word("season.told.prop", angle=show_angle(month.prop_deg), gap=show_gap(month.gap_m, units))


def _crop(verdict: CropVerdict, units: Units) -> CropTold:
    def day(when: int | None, never: str) -> str:
        return word(f"season.told.{never}") if when is None else show_day(when, units)

    def about(days: tuple[int | None, int | None]) -> str:
        first, last = days
        if crop.grow_best_low_degC is None:  # the table has no growth for it
            return word("season.told.no-figure")
        if first is None:
            return word("season.told.not-this-year")
        return _between(show_day(first, units), day(last, "later"))

    crop = find_crop(verdict.crop)
    never_warm = "no-figure" if crop.germ_least_degC is None else "never-warm"
    early, late = verdict.sow_from_days
    sow = day(verdict.sow_from_day, never_warm)
    if early is not None and late is not None and early != late:
        sow = word("season.told.sow", likely=sow, low=show_day(early, units), high=show_day(late, units))
    return CropTold(
        name=f"{verdict.crop[:1].upper()}{verdict.crop[1:]}",
        worth=word(f"season.told.worth-{verdict.worth_it}"),
        worth_short=word(f"season.told.worth-short-{verdict.worth_it}"),
        sow=sow,
        sow_likely=day(verdict.sow_from_day, never_warm),
        safe=day(verdict.safe_from_day, "never-safe"),
        safe_bare=day(verdict.safe_from_bare_day, "never-safe"),
        hot=day(verdict.too_hot_from_day, "never-hot"),
        ready=about(verdict.ready_days),
        ready_bare=about(verdict.ready_bare_days),
        spring=_counted(verdict.spring_weeks),
        autumn=_counted(verdict.autumn_weeks),
    )


def _facing(season: Season, plan: Plan) -> str:
    """Which way the bed would best look: the low side of a lean-to, the long sides of anything else."""
    best, gain = season.best_left_faces, season.best_left_gain_share
    opposite = next(name for name, deg in BEARINGS.items() if deg == (BEARINGS[best] + 180) % 360)
    if plan.cover.shape == "lean-to":
        low_side = opposite if plan.lean_to.high_side == "left" else best
        said = word("season.told.low-side", way=low_side)
    else:
        said = word("season.told.long-sides", first=best, second=opposite)
    more = word("season.told.as-it-is") if gain < NO_GAIN_SHARE else word("season.told.more-sun", percent=f"{gain:.0%}")
    return f"{said} {more}"


def _banded(band: Band, show: Callable[[float], str]) -> str:
    """Likely, then low to high; one figure where all read the same."""
    low, likely, high = show(band.low), show(band.likely), show(band.high)
    if low == high:
        return likely
    return word("season.told.band", likely=likely, low=low.partition(" ")[0], high=high)


def _counted(band: Band) -> str:
    return _banded(band, lambda count: f"{abs(round(count)) if round(count) == 0 else round(count)}")


def _between(low: str, high: str) -> str:
    return low if low == high else word("season.told.from-to", low=low, high=high)
