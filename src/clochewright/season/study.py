"""The whole season in one study: lift, heat, opening, frosts, crops, and what would add to it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from clochewright.catalogue import Crop
from clochewright.findings import Finding
from clochewright.season.balance import Progress, Tent, Years, no_progress, run_years
from clochewright.season.coefficients import LEANS, LOW_SUN_CAUGHT, Lean, leaning
from clochewright.season.crops import MARGIN_K, CropVerdict, judge
from clochewright.season.gardener import WAYS, Gardener, Way
from clochewright.season.months import Month, hours_over, month_under
from clochewright.season.nights import (
    Band,
    NightLift,
    frost_free,
    killing_weeks,
    lifts_by_month,
    night_lows,
    warmest_day,
)
from clochewright.season.pictures import Pictures, pick
from clochewright.season.said import season_findings
from clochewright.season.sunlight import light_of, sun_inside
from clochewright.site import DAYS, MONTH_DAYS, Weather

LEAN_YEARS = 40  # for the three balances beside each other
FEW_YEARS = 4  # for what is only compared: ways of opening, second layers
BEARINGS = {"north": 0.0, "north-east": 45.0, "east": 90.0, "south-east": 135.0,
            "south": 180.0, "south-west": 225.0, "west": 270.0, "north-west": 315.0}  # fmt: skip
NO_CROP_LIMIT_DEGC = 30.0  # air that most plants still stand, where no crop is named (assumption)
JUGS_KG_M2 = 20.0  # water that is tried as an addition, per m2 of floor
GROW_FROM_DEGC = 4.4  # 40 degF, from which cool crops grow, where no crop is named
Addition = Literal["film", "fleece", "blanket", "water"]
Leaning = Mapping[Lean, Years]


@dataclass(frozen=True, slots=True)
class Added:
    """What one addition does by itself, all shut: to the year's mean night lift, and killing nights left in a year."""

    lift_K: Band
    killing_nights_count: Band


@dataclass(frozen=True, slots=True)
class Season:
    """The season under one cover.

    `years` are those that frosts and crops are judged over. `kill_degC` is the tenderest crop's killing temperature
    with its margin, `grow_from_degC` where the hardiest begins to grow, `limit_degC` what the coolest stands;
    `kill_crop` and `limit_crop` name them, empty where no crop is given. `bare_week_share` and `covered_week_share`
    give the chance of a killing night by week of the year; `killing_nights_count` is how many nights a year kill under
    the plain cover, `bare_killing_nights_count` how many without one; `adds` what each addition does. `best_left_faces`
    is the way the left long side would best face for sun in the half year about midwinter, with what that brings over
    the plan's way.
    """

    years: int
    source: str
    way: Way
    kill_degC: float
    kill_crop: str
    grow_from_degC: float
    limit_degC: float
    limit_crop: str
    months: tuple[Month, ...]
    night_lift_K: Band
    hours_over_limit: dict[Way, Band]
    opening_days_count: tuple[float, ...]
    frost_free_gain_days: Band
    bare_week_share: tuple[float, ...]
    covered_week_share: tuple[float, ...]
    crops: tuple[CropVerdict, ...]
    killing_nights_count: Band
    bare_killing_nights_count: float
    adds: dict[Addition, Added]
    best_left_faces: str
    best_left_gain_share: float
    pictures: Pictures
    findings: tuple[Finding, ...]


def season_study(
    tent: Tent,
    weather: Weather,
    crops: Sequence[Crop],
    progress: Progress = no_progress,
    few_years: int = FEW_YEARS,
    frost_weather: Weather | None = None,
) -> Season:
    """Study a season over all years of the weather.

    Args:
        tent: cover, place and gardener.
        weather: one year from a file, or many drawn ones.
        crops: the crops; the tenderest and the most easily cooked set the limits.
        progress: told how many of how many years are done.
        few_years: years for what is only compared.
        frost_weather: many years for frosts and crops, where `weather` is a single one.

    Returns:
        Everything, as ranges.
    """
    few, some = (weather.year(0, min(count, weather.years)) for count in (few_years, LEAN_YEARS))
    many = weather if frost_weather is None else frost_weather
    some_frosts = many.year(0, min(LEAN_YEARS, many.years))
    extras = _extras(tent)
    runs = weather.years + 3 * some.years
    runs += 0 if frost_weather is None else many.years + 3 * some_frosts.years
    counted = _Counted(progress, runs + len(LEANS) * (len(WAYS) - 1 + len(extras)) * few.years)
    shut_tent = tent.but(gardener=replace(tent.gardener, way="never"))
    shut = _three(shut_tent, some, counted)
    opened = run_years(tent, weather, progress=counted.part())
    plain = {lean: _first(shut[lean], few.years) for lean in LEANS}
    ways: dict[Way, Leaning] = {
        way: plain if way == "never" else _three(tent.but(gardener=_with_way(tent.gardener, way)), few, counted)
        for way in WAYS
    }
    kill_degC = max((crop.kill_degC + MARGIN_K for crop in crops), default=0.0)
    limit_degC = min((crop.limit_degC for crop in crops), default=NO_CROP_LIMIT_DEGC)
    lifts = lifts_by_month(shut["low"], shut["likely"], shut["high"], some.cloud_share)
    adds = {
        name: _added(_three(extra.but(gardener=shut_tent.gardener), few, counted), plain, kill_degC)
        for name, extra in extras.items()
    }
    months = tuple(month_under(m, lifts[m], tent, some, shut, ways, limit_degC) for m in range(12))
    # At night the cover is shut, so what opening costs is the heat of the day: crops are judged as it is opened.
    frosty, frosty_opened = shut, opened
    if frost_weather is not None:
        frosty = _three(shut_tent, some_frosts, counted)
        frosty_opened = run_years(tent, many, progress=counted.part())
    low, high = (_shifted(frosty_opened, frosty["likely"], frosty[lean]) for lean in ("low", "high"))
    verdicts = tuple(judge(crop, low, frosty_opened, high) for crop in crops)
    gained = _gained(frosty_opened, (low, high), kill_degC)
    over = {way: hours_over(three, limit_degC) for way, three in ways.items()}
    best, gain = best_bearing(tent, few)
    return Season(
        years=many.years,
        source=weather.source if frost_weather is None else f"{weather.source}; frosts: {many.source}",
        way=tent.gardener.way,
        kill_degC=kill_degC,
        kill_crop=max(crops, key=lambda crop: crop.kill_degC).name if crops else "",
        grow_from_degC=min((crop.warmth_base_degC for crop in crops), default=GROW_FROM_DEGC),
        limit_degC=limit_degC,
        limit_crop=min(crops, key=lambda crop: crop.limit_degC).name if crops else "",
        months=months,
        night_lift_K=_over_year(lifts),
        hours_over_limit=over,
        opening_days_count=tuple(month.days_to_open.likely for month in months),
        frost_free_gain_days=gained,
        bare_week_share=killing_weeks(night_lows(frosty_opened.outside_degC), kill_degC),
        covered_week_share=killing_weeks(night_lows(frosty_opened.inside_degC), kill_degC),
        crops=verdicts,
        killing_nights_count=_killing_nights(plain, kill_degC),
        bare_killing_nights_count=float((night_lows(few.air_degC) <= kill_degC).sum()) / few.years,
        adds=adds,
        best_left_faces=best,
        best_left_gain_share=gain,
        pictures=pick(some, shut, opened, kill_degC),
        findings=season_findings(many.years, verdicts, lifts, over, tent, limit_degC, gained),
    )


class _Counted:
    """Adds the years of several runs up into one count."""

    def __init__(self, progress: Progress, whole: int) -> None:
        self.progress, self.whole, self.done = progress, whole, 0

    def part(self) -> Progress:
        def told(_done: int, _whole: int) -> None:
            self.done += 1
            self.progress(self.done, self.whole)

        return told


def _three(tent: Tent, weather: Weather, counted: _Counted) -> dict[Lean, Years]:
    return {lean: run_years(tent.but(lean=lean), weather, progress=counted.part()) for lean in LEANS}


def _with_way(gardener: Gardener, way: Way) -> Gardener:
    return replace(gardener, way=way)


def _extras(tent: Tent) -> dict[Addition, Tent]:
    """What could be added to the cover as it is planned, each by itself."""
    extras: dict[Addition, Tent] = {}
    if tent.second == "none":
        extras |= {"film": tent.but(second="film"), "fleece": tent.but(second="fleece")}
    if not tent.blanket:
        extras["blanket"] = tent.but(blanket=True)
    extras["water"] = tent.but(water_kg=tent.water_kg + JUGS_KG_M2 * tent.enclosure.floor_m2)
    return extras


def _first(years: Years, count: int) -> Years:
    return Years(
        years.inside_degC[:count],
        years.outside_degC[:count],
        years.soil_degC[:count],
        years.open_share[:count],
        years.sums_J_m2[:count],
        years.most_rounds,
    )


def _added(three: Leaning, plain: Leaning, kill_degC: float) -> Added:
    gains = [_mean_lift(three[lean]) - _mean_lift(plain[lean]) for lean in LEANS]
    return Added(Band(min(gains), gains[1], max(gains)), _killing_nights(three, kill_degC))


def _killing_nights(three: Leaning, kill_degC: float) -> Band:
    """Killing nights a year, fewest first: the warm balance has the fewest."""
    nights = [float((night_lows(three[lean].inside_degC) <= kill_degC).sum()) / len(three[lean].inside_degC)
              for lean in LEANS]  # fmt: skip
    return Band(min(nights), nights[1], max(nights))


def _mean_lift(years: Years) -> float:
    lift = night_lows(years.inside_degC) - night_lows(years.outside_degC)
    return float(lift.mean())


def _shifted(opened: Years, likely: Years, leaning_to: Years) -> Years:
    """The opened run with its air moved by what the lean moves the shut one: saves running it again."""
    opened = _first(opened, len(likely.inside_degC))
    moved = opened.inside_degC + (leaning_to.inside_degC - likely.inside_degC) * (1.0 - opened.open_share)
    return Years(moved, opened.outside_degC, opened.soil_degC, opened.open_share, opened.sums_J_m2, opened.most_rounds)


def _over_year(lifts: Sequence[NightLift]) -> Band:
    share = np.asarray(MONTH_DAYS) / DAYS
    ends = ("low", "likely", "high")
    return Band(*(float(sum(share * [getattr(lift.all_nights, end) for lift in lifts])) for end in ends))


def _gained(opened: Years, shift: Sequence[Years], kill_degC: float) -> Band:
    """Days by which the time without a killing night grows in the middle year; the band by the three balances."""
    middle = warmest_day(opened.outside_degC)

    def gain_days(years: Years) -> float:
        bare, covered = (sum(frost_free(night_lows(air), kill_degC, middle)) for air in (
            years.outside_degC, years.inside_degC))  # fmt: skip
        return float(np.median(covered - bare))

    likely = gain_days(opened)
    ends = [gain_days(years) for years in shift]
    return Band(min(*ends, likely), likely, max(*ends, likely))


def best_bearing(tent: Tent, weather: Weather) -> tuple[str, float]:
    """The way for the left long side to face for most sun in the half year about midwinter, and what it wins."""
    away = (np.arange(DAYS) + 10 + (0 if tent.place.latitude_deg >= 0 else DAYS // 2)) % DAYS
    winter = np.repeat((away < 91) | (away > DAYS - 91), 24)

    def caught(bearing_deg: float) -> float:
        light = light_of(tent.enclosure, tent.place, bearing_deg, leaning(LOW_SUN_CAUGHT, "likely"))
        return float(sun_inside(light, weather)[0][:, winter].sum())

    sums = {name: caught(bearing) for name, bearing in BEARINGS.items()}
    best = max(sums, key=lambda name: sums[name])
    return best, sums[best] / caught(tent.left_faces_deg) - 1.0
