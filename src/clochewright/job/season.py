"""The season for a plan: place and weather as the plan says them, the cover as the frame has it."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path

import numpy as np

from clochewright.catalogue import find_crop
from clochewright.findings import Finding, Level, Mend, worst_first
from clochewright.frame import Frame
from clochewright.job.types import Job
from clochewright.lid import hang_lid
from clochewright.plan import Plan
from clochewright.season import (
    BEARINGS,
    INFRARED_FILM,
    MARGIN_K,
    NO_CROP_LIMIT_DEGC,
    PLAIN_FILM,
    Forecast,
    Gardener,
    Season,
    Tent,
    TodayAdvice,
    advise,
    enclose,
    season_study,
)
from clochewright.site import (
    SORREL_YARD,
    SORREL_YARD_NORMALS,
    Normals,
    Place,
    WeatherFile,
    dew_point_degC,
    draw_years,
    normals_of,
    read_weather,
)

WIND_SHARE = {"open": 0.75, "fenced": 0.4, "walled": 0.25}  # assumptions; hedges and fences let 0.3 to 0.5 through
STUDY_YEARS = 100  # drawn, for frosts; fewer give unsteady frost dates
YARD_NAME = SORREL_YARD.name  # brings its own weather
JUG_KG = 3.785  # one US gallon of water
PROP_DEG = 30.0  # how far it is opened where the lid has no prop of its own (assumption)


def open_weather(plan: Plan, folder: Path) -> WeatherFile | None:
    """The weather file that the plan names, looked for beside it in `folder`; None where it names none.

    Raises FolderError where it can't be read.
    """
    return read_weather(folder / plan.site.weather) if plan.site.weather else None


def knows_place(plan: Plan, weather: WeatherFile | None = None) -> bool:
    """Whether the plan says enough of its place for a season: a sound file, normals with a latitude, or Sorrel Yard."""
    if weather is not None:
        return weather.weather is not None
    return _is_sorrel_yard(plan) or (plan.site.normals is not None and plan.site.latitude_deg is not None)


def study_season(
    plan: Plan,
    frame: Frame,
    weather: WeatherFile | None = None,
    years: int = STUDY_YEARS,
    progress: Callable[[int, int], None] | None = None,
    few_years: int = 6,
) -> Season:
    """The whole study for a frame that stands; the plan must know its place.

    Args:
        plan: place, crops, gardener.
        frame: the solved frame.
        weather: the plan's weather file, read: its year for lift and heat, years drawn about it for frosts. Without one
            all years are drawn from the normals.
        years: how many years to draw.
        progress: told how many of how many years are done.
        few_years: years for what is only compared.

    Raises:
        CatalogueError: the plan names a crop that the table doesn't have.
    """
    crops = [find_crop(name) for name in plan.grow.crops]
    tent = tent_of(plan, frame, weather)
    told = progress or _untold
    if weather is not None and weather.weather is not None:
        hours = weather.weather
        drawn = draw_years(normals_of(hours, tent.place), tent.place, years)
        season = season_study(tent, hours, crops, told, few_years, drawn)
        return replace(season, findings=(*weather.findings, *season.findings))
    return season_study(tent, draw_years(_normals(plan), tent.place, years), crops, told, few_years)


def with_season(
    job: Job,
    weather: WeatherFile | None = None,
    progress: Callable[[int, int], None] | None = None,
    years: int = STUDY_YEARS,
) -> Job:
    """The job with its season: seconds of work, so it is asked for by itself.

    Args:
        job: the finished job.
        weather: the plan's weather file, read.
        progress: told how many of how many years are done.
        years: how many years to draw.

    Returns:
        The job with season and its findings; as it was where the cover can't be built or the plan says nothing of its
        place or crops; with a finding where it says too little.

    Raises:
        CatalogueError: the plan names a crop that the table doesn't have.
    """
    plan = job.plan
    if job.made is None or job.refused:
        return job
    if weather is not None and weather.weather is None:
        return _with_findings(job, weather.findings)
    if not knows_place(plan, weather):
        asked = bool(plan.grow.crops) or plan.site.latitude_deg is not None
        told = Finding(Level.NOTE, "season", "season.no-place", "site.normals", change=Mend("site.place", YARD_NAME))
        return _with_findings(job, (told,)) if asked else job
    season = study_season(plan, job.frame, weather, years, progress)
    return replace(_with_findings(job, season.findings), season=season)


def advise_today(job: Job, forecast: Forecast, weather: WeatherFile | None = None) -> TodayAdvice:
    """What to do tonight and tomorrow under this cover, for the tenderest and the most easily cooked of its crops.

    Args:
        job: the finished job, of a cover that stands.
        forecast: tonight and tomorrow, as typed in.
        weather: the plan's weather file, read; only its place matters here.
    """
    crops = [find_crop(name) for name in job.plan.grow.crops]
    kill_degC = max((crop.kill_degC for crop in crops), default=-MARGIN_K)  # frost itself, where no crop is named
    limit_degC = min((crop.limit_degC for crop in crops), default=NO_CROP_LIMIT_DEGC)
    return advise(tent_of(job.plan, job.frame, weather), forecast, kill_degC, limit_degC)


def wants_season(plan: Plan) -> bool:
    """Whether `with_season` would have something to add."""
    return bool(plan.site.weather or plan.grow.crops) or plan.site.latitude_deg is not None or knows_place(plan)


def _with_findings(job: Job, more: Sequence[Finding]) -> Job:
    return replace(job, findings=worst_first((*job.findings, *more)))


def _untold(_done: int, _whole: int) -> None:
    pass


def tent_of(plan: Plan, frame: Frame, weather: WeatherFile | None = None) -> Tent:
    """Everything that the season turns on, from the plan and the frame."""
    grow, warm = plan.grow, bool(plan.grow.crops) and not any(find_crop(name).is_cool for name in plan.grow.crops)
    gardener = Gardener(
        grow.opens,
        grow.open_at_degC if grow.open_at_degC is not None else (27.0 if warm else 20.0),
        grow.shut_at_degC if grow.shut_at_degC is not None else (21.0 if warm else 15.0),
        wax_from_degC=24.0 if warm else 18.0,
    )
    kind, props = plan.film.kind.casefold(), hang_lid(frame, plan).props
    return Tent(
        enclosure=enclose(frame, plan),
        place=place_of(plan, weather),
        left_faces_deg=BEARINGS[plan.site.left_faces],
        film=INFRARED_FILM if "infrared" in kind or "thermal" in kind else PLAIN_FILM,
        second=grow.second_layer,
        blanket=grow.night_blanket,
        water_kg=grow.water_jugs * JUG_KG,
        prop_deg=props[0].open_deg if props else PROP_DEG,
        gardener=gardener,
    )


def place_of(plan: Plan, weather: WeatherFile | None = None) -> Place:
    """The place: the plan's own figures over the weather file's, those over Sorrel Yard's."""
    site = plan.site
    start = weather.place if weather is not None and weather.place is not None else SORREL_YARD
    if site.latitude_deg is not None:
        longitude = site.longitude_deg if site.longitude_deg is not None else 0.0
        name, ahead = site.place or "your place", round(longitude / 15.0)
        start = Place(name, site.latitude_deg, longitude, ahead, site.altitude_m)
        if weather is not None and weather.place is not None:  # the file's clock is the one its rows go by
            start = replace(start, utc_offset_h_count=weather.place.utc_offset_h_count)
            if site.longitude_deg is None:
                start = replace(start, longitude_deg=weather.place.longitude_deg)
    if site.shade is not None:
        bearing = BEARINGS[site.shade.side]
        up_deg = math.degrees(math.atan2(site.shade.height_m, site.shade.distance_m))
        # A long wall is seen over most of its side of the sky: 60 degrees either way.
        start = replace(
            start, shade_from_deg=(bearing - 60) % 360, shade_to_deg=(bearing + 60) % 360, shade_height_deg=up_deg
        )
    return replace(start, wind_share=WIND_SHARE[site.shelter])


def _is_sorrel_yard(plan: Plan) -> bool:
    return plan.site.normals is None and (plan.site.place or "").strip().casefold() == YARD_NAME.casefold()


def _normals(plan: Plan) -> Normals:
    months = plan.site.normals
    if months is None:
        return SORREL_YARD_NORMALS
    means = [(high + low) / 2 for high, low in zip(months.high_degC, months.low_degC, strict=True)]
    dew = months.dew_degC or tuple(dew_point_degC(np.array(means), np.array(months.humidity_share)).tolist())
    return Normals(months.high_degC, months.low_degC, dew, months.wind_m_s, months.sun_h_count)
