"""The whole season in one study: lift, heat, opening, frosts, crops, and what would add to it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from clochewright.catalogue import Crop
from clochewright.findings import Finding, Level
from clochewright.season.balance import Progress, Tent, Years, no_progress, run_years
from clochewright.season.coefficients import LOW_SUN_CAUGHT, leaning
from clochewright.season.crops import MARGIN_K, CropVerdict, judge
from clochewright.season.gardener import WAYS, Gardener, Way
from clochewright.season.nights import Band, NightLift, frost_free, lifts_by_month, night_lows, warmest_day
from clochewright.season.sunlight import light_of, sun_inside
from clochewright.season.today import Forecast, least_prop_deg
from clochewright.site import DAYS, MONTH_DAYS, Hours, Weather, month_of_day

FEW_YEARS = 8  # for what is only compared: ways of opening, second layers
BEARINGS = {"north": 0.0, "north-east": 45.0, "east": 90.0, "south-east": 135.0,
            "south": 180.0, "south-west": 225.0, "west": 270.0, "north-west": 315.0}  # fmt: skip
MODEL_ONLY = "heat balance of this program; its nights are not calibrated against a logged trial"


@dataclass(frozen=True, slots=True)
class Month:
    """One month: night lift, hours over the crop's limit by way of opening, days to open and at what hours.

    `prop_deg` is the least prop angle tried that holds the limit on its mean clear day, None where none does.
    """

    month: int
    lift: NightLift
    hours_over_limit: dict[Way, float]
    days_to_open: Band
    open_h_count: float | None
    shut_h_count: float | None
    prop_deg: float | None


@dataclass(frozen=True, slots=True)
class Season:
    """The season under one cover.

    `adds_K` is what each addition gives to the year's mean night lift over the plain cover, each by itself, all shut;
    `best_left_faces` the way the left long side would best face for sun from October to March (the half year about
    midwinter), with what that brings over the plan's way. `typical` are the hours of the first year, for pictures.
    """

    years: int
    source: str
    way: Way
    limit_degC: float
    months: tuple[Month, ...]
    night_lift_K: Band
    hours_over_limit: dict[Way, float]
    opening_days_count: tuple[float, ...]
    frost_free_gain_days: Band
    crops: tuple[CropVerdict, ...]
    adds_K: dict[str, float]
    best_left_faces: str
    best_left_gain_share: float
    typical: Years
    findings: tuple[Finding, ...]


def season_study(
    tent: Tent,
    weather: Weather,
    crops: Sequence[Crop],
    progress: Progress = no_progress,
    few_years: int = FEW_YEARS,
) -> Season:
    """Study a season over all years of the weather.

    Args:
        tent: cover, place and gardener.
        weather: one year from a file, or many drawn ones; frost dates want at least 100.
        crops: one to three crops of the table; the tenderest and the most easily cooked set the limits.
        progress: told how many of how many years are done.
        few_years: years for what is only compared.

    Returns:
        Everything, as ranges.
    """
    few = weather.year(0, min(few_years, weather.years))
    extras = {"film": tent.but(second="film"), "fleece": tent.but(second="fleece"), "blanket": tent.but(blanket=True),
              "water": tent.but(water_kg=max(tent.water_kg, 20.0 * tent.enclosure.floor_m2))}  # fmt: skip
    counted = _Counted(progress, 4 * weather.years + (len(WAYS) + len(extras)) * few.years)
    shut_tent = tent.but(gardener=_with_way(tent.gardener, "never"))
    shut = {lean: run_years(shut_tent.but(lean=lean), weather, progress=counted.part()) for lean in ("low", "high")}
    ways = {
        way: run_years(tent.but(gardener=_with_way(tent.gardener, way)), few, progress=counted.part()) for way in WAYS
    }
    likely = run_years(shut_tent, weather, progress=counted.part())
    opened = run_years(tent, weather, progress=counted.part())
    limit_degC = min((crop.limit_degC for crop in crops), default=30.0)
    lifts = lifts_by_month(shut["low"], likely, shut["high"], weather.cloud_share)
    plain = _mean_lift(ways["never"])
    adds = {
        name: _mean_lift(run_years(extra.but(gardener=shut_tent.gardener), few, progress=counted.part())) - plain
        for name, extra in extras.items()
    }
    months = tuple(_month(m, lifts[m], tent, weather, likely, shut, ways, limit_degC) for m in range(12))
    # At night the cover is shut, so what opening costs is the heat of the day: crops are judged as it is opened.
    shift = [_shifted(opened, likely, shut[lean]) for lean in ("low", "high")]
    verdicts = tuple(judge(crop, shift[0], opened, shift[1]) for crop in crops)
    over = {way: float((years.inside_degC > limit_degC).sum()) / few.years for way, years in ways.items()}
    best, gain = best_bearing(tent, few)
    gained = _gained(opened, shift, crops)
    return Season(
        years=weather.years,
        source=weather.source,
        way=tent.gardener.way,
        limit_degC=limit_degC,
        months=months,
        night_lift_K=_over_year(lifts),
        hours_over_limit=over,
        opening_days_count=tuple(month.days_to_open.likely for month in months),
        frost_free_gain_days=gained,
        crops=verdicts,
        adds_K=adds,
        best_left_faces=best,
        best_left_gain_share=gain,
        typical=opened,
        findings=_findings(weather, verdicts, lifts, over, tent, limit_degC, gained),
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


def _with_way(gardener: Gardener, way: Way) -> Gardener:
    return Gardener(**{**{name: getattr(gardener, name) for name in Gardener.__dataclass_fields__}, "way": way})


def _mean_lift(years: Years) -> float:
    lift = night_lows(years.inside_degC) - night_lows(years.outside_degC)
    return float(lift.mean())


def _shifted(opened: Years, likely: Years, leaning_to: Years) -> Years:
    """The opened run with its air moved by what the lean moves the shut one: saves running it again."""
    moved = opened.inside_degC + (leaning_to.inside_degC - likely.inside_degC) * (1.0 - opened.open_share)
    return Years(moved, opened.outside_degC, opened.soil_degC, opened.open_share, opened.sums_J_m2, opened.most_rounds)


def _month(
    m: int, lift: NightLift, tent: Tent, weather: Weather, likely: Years, shut: dict[str, Years],
    ways: dict[Way, Years], limit_degC: float,
) -> Month:  # fmt: skip
    hours = np.repeat(month_of_day() == m, 24)
    over = {
        way: float((years.inside_degC[:, hours] > limit_degC).sum()) / years.inside_degC.shape[0]
        for way, years in ways.items()
    }
    leans = (shut["low"], likely, shut["high"])
    days = Band(*sorted(_days_over(years, hours, tent.gardener.open_at_degC) for years in leans))
    opens, shuts = _usual_hours(likely.inside_degC[:, hours], tent.gardener.open_at_degC)
    high_degC = float(weather.air_degC[:, hours].reshape(weather.years, -1, 24).max(axis=2).mean())
    low_degC = float(weather.air_degC[:, hours].reshape(weather.years, -1, 24).min(axis=2).mean())
    middle = sum(MONTH_DAYS[:m]) + 14
    noon = Forecast(low_degC, high_degC, "clear", float(weather.wind_m_s[:, hours].mean()), middle)
    return Month(m + 1, lift, over, days, opens, shuts, least_prop_deg(tent, noon, limit_degC))


def _days_over(years: Years, hours: Hours, degC: float) -> float:
    """Days of a month on which it would be opened: the shut cover passes the opening temperature."""
    inside = years.inside_degC[:, hours]
    highs = inside.reshape(inside.shape[0], -1, 24).max(axis=2)
    return float(np.count_nonzero(highs > degC) / len(inside))


def _usual_hours(inside_degC: Hours, degC: float) -> tuple[float | None, float | None]:
    """Middle hours at which the shut cover passes the opening temperature, up and down, on days that it does."""
    over = (inside_degC > degC).reshape(-1, 24)
    over = over[over.any(axis=1)]
    if not len(over):
        return None, None
    return float(np.median(over.argmax(axis=1))), float(np.median(24 - over[:, ::-1].argmax(axis=1)))


def _over_year(lifts: Sequence[NightLift]) -> Band:
    share = np.asarray(MONTH_DAYS) / DAYS
    ends = ("low", "likely", "high")
    return Band(*(float(sum(share * [getattr(lift.all_nights, end) for lift in lifts])) for end in ends))


def _gained(opened: Years, shift: Sequence[Years], crops: Sequence[Crop]) -> Band:
    """Days by which the time without a killing night grows, middle year: for the tenderest crop, or frost as such."""
    kill_degC = max((crop.kill_degC for crop in crops), default=0.0) + (MARGIN_K if crops else 0.0)
    middle = warmest_day(opened.outside_degC)
    bare = sum(frost_free(night_lows(opened.outside_degC), kill_degC, middle))
    gains = [
        float(np.median(sum(frost_free(night_lows(years.inside_degC), kill_degC, middle)) - bare))
        for years in (shift[0], opened, shift[1])
    ]
    return Band(*sorted(gains))


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


def _findings(
    weather: Weather, verdicts: Sequence[CropVerdict], lifts: Sequence[NightLift], over: Mapping[Way, float],
    tent: Tent, limit_degC: float, gained: Band,
) -> tuple[Finding, ...]:  # fmt: skip
    found = [
        Finding(Level.NOTE, "season", "season.uncalibrated", "grow", {}, MODEL_ONLY),
        Finding(Level.NOTE, "season", "season.heat-first", "grow", {}, "common practice, no source"),
        Finding(Level.NOTE, "season", "season.living-things", "grow", {}, "common practice, no source"),
    ]
    if weather.years < 100:
        found.append(Finding(Level.NOTE, "season", "season.few-years", "site", {"years": weather.years}))
    if min(lift.all_nights.low for lift in lifts) < 0:
        source = "Oregon State University Extension, on clear calm nights under a single film"
        found.append(Finding(Level.NOTE, "season", "season.colder-inside", "grow", {}, source))
    if over[tent.gardener.way] > 100:
        values = {"hours": round(over[tent.gardener.way]), "limit_degC": limit_degC, "shut": round(over["never"])}
        found.append(Finding(Level.WARN, "season", "season.cooks", "grow.opens", values))
    for worth, level in (("no", Level.WARN), ("maybe", Level.NOTE)):
        crops = ", ".join(verdict.crop for verdict in verdicts if verdict.worth_it == worth)
        if crops:
            told = {"crops": crops, "days": round(gained.likely), "most_days": round(gained.high)}
            found.append(
                Finding(
                    level,
                    "season",
                    "season.not-worth-it" if worth == "no" else "season.may-not-be-worth-it",
                    "grow.crops",
                    told,
                    MODEL_ONLY,
                )
            )
    return tuple(found)
