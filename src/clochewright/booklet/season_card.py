"""The season card: by month, by crop, the weeks won, and the cautions; and behind it the pictures of a season."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from clochewright.booklet.words import capital
from clochewright.findings import word
from clochewright.job import Job, tell_season
from clochewright.measures import MONTH_NAMES

_MONTH_HEADS = ("month", "lift", "days", "hours", "hot-shut", "hot-opened", "prop")
_CROP_HEADS = ("crop", "worth", "sow", "safe", "ready", "spring", "autumn")
_ADD_HEADS = ("add", "add-lift", "add-nights")
_CAUTIONS = ("heat", "living", "thermometer")
_DEGREES = {"inch": "°F", "mm": "°C"}
_PICTURES = ("season-year", "season-night", "season-day")


def season_page(job: Job, files: Mapping[str, dict[str, str]]) -> dict[str, Any] | None:
    """What the card shows; None where the job has no season.

    Args:
        job: The finished job.
        files: The season's drawings by name, each with its file and its words.
    """
    if job.season is None:
        return None
    told = tell_season(job.season, job.plan, job.plan.units)
    months = [
        [month.name, _bare(month.lift), month.days, month.hours, month.hot_shut, month.hot_opened, month.prop]
        for month in told.months
    ]
    crops = [
        [
            crop.name,
            crop.worth_short,
            _short(crop.sow_likely),
            _short(word("booklet.season.beside", covered=crop.safe, bare=crop.safe_bare)),
            _short(word("booklet.season.beside", covered=crop.ready, bare=crop.ready_bare)),
            crop.spring,
            crop.autumn,
        ]
        for crop in told.crops
    ]
    return {
        "head": word("booklet.season.head"),
        "lead": word("booklet.season.lead", gist=capital(told.gist), way=word(f"season.way.{job.season.way}")),
        "month_heads": _heads(_MONTH_HEADS, degrees=_DEGREES[job.plan.units]),
        "months": months,
        "crop_heads": _heads(_CROP_HEADS),
        "crops": crops,
        "weeks": files["season-weeks"],
        "cautions": {
            "what": [word(f"booklet.season.caution-{name}") for name in _CAUTIONS],
            "why": word("booklet.season.caution-why"),
            "source": word("booklet.season.caution-source"),
        },
        "pictures_head": word("booklet.season.pictures-head"),
        "pictures": [files[name] for name in _PICTURES],
        "lines": [told.nights, told.limit, told.facing, told.weather],
        "add_heads": _heads(_ADD_HEADS),
        "adds": [[add.name, add.lift, add.nights] for add in told.adds],
        "ways": [[way.name, way.hours] for way in told.ways],
        "way_heads": _heads(("way", "way-hours")),
    }


def _bare(text: str) -> str:
    """Without the degrees, which stand in the column's head."""
    for sign in _DEGREES.values():
        text = text.replace(f" {sign}", "")
    return text


def _short(text: str) -> str:
    """Months by their first three letters, so that a crop takes one line."""
    for name in MONTH_NAMES:
        text = text.replace(name, name[:3])
    return text


def _heads(names: tuple[str, ...], **values: str) -> list[str]:
    return [word(f"booklet.season.{name}", **values) for name in names]
