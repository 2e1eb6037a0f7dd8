"""A season under it: frost held off, heat let out, weeks won, and what to do today."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

from clochewright.catalogue import load_crops
from clochewright.findings import word
from clochewright.job import SeasonTold, knows_place, season_sources, tell_season, wants_season
from clochewright.measures import Units
from clochewright.plan import Plan
from clochewright.web.steps.kit import Figure, Seen, Shown, SourceRow, Step

State = Literal["unasked", "following", "refused", "shown"]
_FIELDS = (
    "grow.crops", "grow.opens", "grow.open_at", "grow.shut_at", "grow.second_layer", "grow.night_blanket",
    "grow.water_jugs", "site.place", "site.latitude", "site.longitude", "site.altitude", "site.weather",
    "site.left_faces", "site.shelter", "site.shade.side", "site.shade.height", "site.shade.distance",
    "site.normals.high", "site.normals.low", "site.normals.dew", "site.normals.humidity", "site.normals.wind",
    "site.normals.sun",
)  # fmt: skip
_FIRST = ("grow.crops", "grow.opens", "site.place", "site.weather")
PICTURES = ("season-weeks", "season-year", "season-night", "season-day")


@dataclass(frozen=True, slots=True)
class Picture:
    """One picture: its name, and what it shows in words."""

    name: str
    title: str
    alt: str


@dataclass(frozen=True, slots=True)
class SeasonShown(Shown):
    """The season in words and pictures; `told` is None while there is none, and `state` says why."""

    state: State = "unasked"
    told: SeasonTold | None = None
    pictures: tuple[Picture, ...] = ()
    crops: str = ""
    degrees: str = ""


def _fields(plan: Plan) -> tuple[str, ...]:
    """Four to begin with; the rest once there is a season to set them for."""
    return _FIELDS if wants_season(plan) else _FIRST


def _state(seen: Seen) -> State:
    plan = seen.plan
    if seen.job.season is not None:
        return "shown"
    if any(finding.step in ("season", "site") for finding in seen.job.findings):
        return "refused"
    return "following" if plan.site.weather or (wants_season(plan) and knows_place(plan)) else "unasked"


def _figures(told: SeasonTold, seen: Seen) -> Iterator[Figure]:
    yield seen.figure("lift", told.lift, "lift-note")
    yield seen.figure("frost-free", told.gain, "frost-free-note")
    yield seen.figure("killing-nights", told.nights)
    yield seen.figure("limit", told.limit)
    yield seen.figure("facing", told.facing)
    yield seen.figure("weather", told.weather)


def _sources(seen: Seen) -> tuple[SourceRow, ...]:
    season = seen.job.season
    return () if season is None else tuple(SourceRow(*row) for row in season_sources(season, seen.units))


def _pictures(seen: Seen) -> tuple[Picture, ...]:
    from clochewright.drawings import draw_season  # heavy, and only here once there is a season

    shown = replace(seen.job, plan=seen.plan.model_copy(update={"units": seen.units}))
    drawn = draw_season(shown)
    return tuple(Picture(name, drawn[name].title, drawn[name].alt_text) for name in PICTURES)


def degrees_of(units: Units) -> str:
    """The sign of the degrees shown."""
    return "°F" if units == "inch" else "°C"


def _show(seen: Seen) -> SeasonShown:
    state, season = _state(seen), seen.job.season
    crops = ", ".join(crop.name for crop in load_crops())
    degrees = degrees_of(seen.units)
    if season is None:
        return SeasonShown(word(f"web.gist.season-{state}"), state=state, crops=crops, degrees=degrees)
    told = tell_season(season, seen.plan, seen.units)
    return SeasonShown(
        told.gist, tuple(_figures(told, seen)), _sources(seen), state, told, _pictures(seen), crops, degrees
    )


STEP = Step("season", _fields, _show, finding_steps=("season", "site"), finding_wheres=("grow",))
