"""Routes of the season: what to do today, and the weather of a plan, from a file or twelve months."""

from __future__ import annotations

import hashlib
import re
import time
from http import HTTPStatus
from typing import Annotated, Any

from fastapi import Depends, FastAPI, Request, Response
from fastapi.responses import HTMLResponse, RedirectResponse
from starlette.datastructures import UploadFile
from starlette.exceptions import HTTPException

from clochewright.errors import PlanError
from clochewright.findings import Finding, say, word
from clochewright.measures import MONTH_NAMES, Units
from clochewright.plan import Plan, ask
from clochewright.site import WeatherFile, weather_from_text
from clochewright.web.fields import label_of
from clochewright.web.forms import one
from clochewright.web.guards import MOST_WEATHER_BYTES
from clochewright.web.house import House, sentences_of
from clochewright.web.pages import Form, around
from clochewright.web.shelf import KeptPlan
from clochewright.web.today import today_told
from clochewright.web.units import units_of

MOST_FILES = 50  # of weather in one folder, so that nobody fills the disk
COLUMNS = ("high", "low", "dew", "humidity", "wind", "sun")
PLACE = ("site.latitude", "site.longitude", "site.altitude")
YARD = "Sorrel Yard"
_BARE = re.compile(r"[-−+]?[0-9]+(?:\.[0-9]*)?")


async def one_file(request: Request) -> bytes | None:
    """The one file of a form, or None where there is none that can be taken."""
    try:
        async with request.form(max_fields=1, max_files=1) as form:
            file = form.get("file")
            return await file.read(MOST_WEATHER_BYTES + 1) if isinstance(file, UploadFile) else None
    except (HTTPException, UnicodeDecodeError, ValueError):
        return None


OneFile = Annotated[bytes | None, Depends(one_file)]


def add_weather(app: FastAPI, house: House) -> None:
    """Add these routes."""
    shelf, renderer = house.shelf, house.renderer

    @app.get("/plan/{key}/today", include_in_schema=False)
    def show_today(request: Request, key: str) -> Response:
        worked = house.work(shelf.read(key))
        units = _units(request, worked.plan)
        told = today_told(dict(request.query_params), worked.job, units, house.settings.folder, time.time())
        name = worked.plan.name if worked.plan is not None else key
        scripted = request.headers.get("hx-request") == "true"  # then only the answer is put in its place
        html = renderer.page("today.html", key=key, name=name, today=told, scripted=scripted, **around(request, units))
        return HTMLResponse(html)

    @app.get("/plan/{key}/weather", include_in_schema=False)
    def show_weather(request: Request, key: str) -> Response:
        return weather_page(request, shelf.read(key))

    @app.post("/plan/{key}/weather", include_in_schema=False)
    def bring_weather(request: Request, key: str, data: OneFile) -> Response:
        kept = shelf.read(key)
        if not data or len(data) > MOST_WEATHER_BYTES:
            return weather_page(request, kept, (word("web.weather.wrong-file"),))
        try:
            text = data.decode("utf-8-sig")
        except UnicodeDecodeError:
            text = data.decode("latin-1")
        if "\0" in text:
            return weather_page(request, kept, (word("web.weather.not-text"),))
        read = weather_from_text(text, word("web.weather.your-file"))
        if read.weather is None:
            return weather_page(request, kept, (), read)
        name = weather_name(data)
        if not (shelf.folder / name).exists() and _count(house) >= MOST_FILES:
            return weather_page(request, kept, (word("web.weather.too-many"),))
        shelf.keep_beside(name, data)
        pairs = [("site.weather", name), *((path, "") for path in ("site.place", *PLACE))]
        try:
            house.set_values(key, pairs, word("web.weather.brought", name=name))
        except PlanError as error:
            return weather_page(request, kept, sentences_of(error))
        return RedirectResponse(f"/plan/{key}#step-season", HTTPStatus.SEE_OTHER)

    @app.post("/plan/{key}/months", include_in_schema=False)
    def keep_months(request: Request, key: str, form: Form) -> Response:
        kept = shelf.read(key)
        if one(form, "yard", ""):
            pairs = [("site.place", YARD), ("site.weather", ""), ("site.normals", "")]
            what = word("web.weather.yard-kept")
        else:
            units = _units(request, house.work(kept).plan)
            given = {name: value.strip() for name, value in form}
            wrong = _gaps(given)
            if wrong:
                return weather_page(request, kept, wrong, given=given)
            pairs, what = _months(given, units), word("web.weather.kept")
        try:
            house.set_values(key, pairs, what)
        except PlanError as error:
            return weather_page(request, kept, sentences_of(error), given=dict(form))
        return RedirectResponse(f"/plan/{key}#step-season", HTTPStatus.SEE_OTHER)

    def weather_page(
        request: Request,
        kept: KeptPlan,
        wrong: tuple[str, ...] = (),
        read: WeatherFile | None = None,
        given: dict[str, str] | None = None,
    ) -> Response:
        plan = house.work(kept).plan
        units = _units(request, plan)
        findings = read.findings if read is not None else ()
        notes = [{"level": "stop", "level_word": word("web.level.stop"), "what": said, "why": "", "mend": ""}
                 for said in wrong] + [_note(finding, units) for finding in findings]  # fmt: skip
        html = renderer.page(
            "weather.html",
            key=kept.key,
            now=_now(plan),
            notes=notes,
            place=[_asked(plan, path, units, given) for path in PLACE],
            columns=[{"name": name, "label": _column(name, units)} for name in COLUMNS],
            rows=_rows(plan, units, given),
            **around(request, units),
        )
        return HTMLResponse(html, HTTPStatus.UNPROCESSABLE_ENTITY if notes else HTTPStatus.OK)


def weather_name(data: bytes) -> str:
    """What a weather file is called in the folder: by its content, so that the same one is kept once."""
    kind = "epw" if data.lstrip(b"\xef\xbb\xbf").upper().startswith(b"LOCATION") else "csv"
    return f"weather-{hashlib.sha256(data).hexdigest()[:12]}.{kind}"


def _count(house: House) -> int:
    return sum(1 for kind in ("epw", "csv") for _ in house.shelf.folder.glob(f"weather-*.{kind}"))


def _units(request: Request, plan: Plan | None) -> Units:
    return units_of(request) or (plan.units if plan is not None else "inch")


def _now(plan: Plan | None) -> str:
    """What the plan's season rests on now."""
    if plan is not None and plan.site.weather:
        return word("web.weather.now-file", name=plan.site.weather)
    if plan is not None and plan.site.normals is not None:
        return word("web.weather.now-months")
    yard = plan is not None and (plan.site.place or "").strip().casefold() == YARD.casefold()
    return word(f"web.weather.now-{'yard' if yard else 'none'}")


def _note(finding: Finding, units: Units) -> dict[str, str]:
    words = say(finding, units)
    level = word(f"web.level.{finding.level}")
    what = f"{finding.where}: {words.what}"
    return {"level": str(finding.level), "level_word": level, "what": what, "why": words.why, "mend": words.mend}


def _asked(plan: Plan | None, path: str, units: Units, given: dict[str, str] | None) -> dict[str, str]:
    asked = ask(plan, path, units) if plan is not None else None
    text = (given or {}).get(path, asked.text if asked is not None else "")
    return {"path": path, "label": label_of(path), "text": text, "example": asked.example if asked is not None else ""}


def _unit(column: str, units: Units) -> str:
    if column in ("high", "low", "dew"):
        return "F" if units == "inch" else "C"
    return {"humidity": "%", "sun": "h"}.get(column, "mph" if units == "inch" else "m/s")


def _column(name: str, units: Units) -> str:
    unit = _unit(name, units)
    return f"{label_of(f'site.normals.{name}')}, {'°' if unit in 'FC' else ''}{unit}"


def _rows(plan: Plan | None, units: Units, given: dict[str, str] | None) -> list[dict[str, Any]]:
    written: dict[str, list[str]] = {}
    for name in COLUMNS:
        text = ask(plan, f"site.normals.{name}", units).text if plan is not None else ""
        written[name] = text.split(", ") if text else [""] * 12
    rows = []
    for m, month in enumerate(MONTH_NAMES):
        cells = [
            {
                "name": f"{name}-{m}",
                "label": _column(name, units),
                "text": (given or {}).get(f"{name}-{m}", written[name][m] if m < len(written[name]) else ""),
            }
            for name in COLUMNS
        ]
        rows.append({"name": month, "cells": cells})
    return rows


def _gaps(given: dict[str, str]) -> tuple[str, ...]:
    """What is left out of columns that were begun."""
    said = []
    for name in COLUMNS:
        empty = [MONTH_NAMES[m] for m in range(12) if not given.get(f"{name}-{m}")]
        if 0 < len(empty) < 12:
            label = label_of(f"site.normals.{name}")
            said.append(word("web.weather.gaps", column=label, months=", ".join(empty)))
    return tuple(said)


def _months(given: dict[str, str], units: Units) -> list[tuple[str, str]]:
    """The pairs that the typed months come to; a bare number takes its column's unit."""
    pairs = [("site.weather", ""), *((path, given.get(path, "")) for path in PLACE)]
    lists = {}
    for name in COLUMNS:
        cells = [given.get(f"{name}-{m}", "") for m in range(12)]
        lists[name] = ", ".join(f"{cell} {_unit(name, units)}" if _BARE.fullmatch(cell) else cell for cell in cells)
    if not any(given.get(f"{name}-{m}") for name in COLUMNS for m in range(12)):
        return [*pairs, ("site.normals", "")]
    return [*pairs, *((f"site.normals.{name}", text if text.strip(", ") else "") for name, text in lists.items())]
