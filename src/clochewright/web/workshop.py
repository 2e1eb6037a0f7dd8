"""The workshop: cut list and build steps on a phone, ticks that stay, and what was really cut."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from http import HTTPStatus
from typing import Any

from fastapi import FastAPI, Request, Response
from fastapi.responses import HTMLResponse, RedirectResponse

from clochewright.errors import PlanError
from clochewright.findings import word
from clochewright.plan import Plan
from clochewright.web.forms import FormError, one
from clochewright.web.house import House
from clochewright.web.network import own_address
from clochewright.web.pages import Form, around
from clochewright.web.plan_routes import is_scripted
from clochewright.web.sheet import Sheet
from clochewright.web.shelf import KeptPlan
from clochewright.web.steps.cuts.step import CutLine, CutsShown
from clochewright.web.steps.parts.step import BuildLine, PartsShown
from clochewright.web.units import units_of

_A_STEP = re.compile(r"build-\d{1,3}-[0-9a-f]{8}")
_MOST_ALIKE = 50


def add_workshop(app: FastAPI, house: House) -> None:
    """Add these routes."""
    shelf, renderer = house.shelf, house.renderer

    def workshop_page(request: Request, kept: KeptPlan, wrong: str = "") -> Response:
        sheet = house.sheet(kept, units_of(request))
        plan = house.work(kept).plan
        html = renderer.page(
            "workshop.html",
            sheet=sheet,
            wrong=wrong,
            lan=house.settings.lan,
            **_bench(house, sheet, plan),
            **around(request, sheet.units),
        )
        return HTMLResponse(html, HTTPStatus.UNPROCESSABLE_ENTITY if wrong else HTTPStatus.OK)

    @app.get("/workshop/{key}", include_in_schema=False)
    def show_workshop(request: Request, key: str) -> Response:
        return workshop_page(request, shelf.read(key))

    @app.get("/workshop/{key}/phone", include_in_schema=False)
    def show_code(request: Request, key: str) -> Response:
        shelf.read(key)
        link = code = ""
        if house.settings.lan:
            link = phone_link(house, key)
            import segno  # only for phones; the page is up sooner without

            code = segno.make(link, error="m").svg_data_uri(scale=8, border=2)
        return HTMLResponse(renderer.page("phone.html", key=key, link=link, code=code, **around(request)))

    @app.post("/workshop/{key}/tick", include_in_schema=False)
    def tick(request: Request, key: str, form: Form) -> Response:
        cut, piece, done = one(form, "cut"), one(form, "piece"), one(form, "done", "no")
        if not (piece.isascii() and piece.isdecimal() and len(piece) <= 4):
            raise FormError("piece")
        sheet = house.sheet(shelf.read(key), None)
        counts = {line.id: line.count for line in _cuts_of(sheet) or ()}
        counts |= {line.id: len(line.boxes) for line in _build_of(sheet)}
        if not sheet.full and _A_STEP.fullmatch(
            cut
        ):  # the order is being worked out anew
            counts.setdefault(cut, _MOST_ALIKE)
        if int(piece) >= counts.get(cut, 0):
            raise FormError("cut")
        with shelf.bench(key) as bench:
            bench.tick(cut, int(piece), done=done == "yes")
        if is_scripted(request):
            return Response(status_code=HTTPStatus.NO_CONTENT)
        return RedirectResponse(f"/workshop/{key}#cut-{cut}", HTTPStatus.SEE_OTHER)

    @app.post("/workshop/{key}/reading", include_in_schema=False)
    def keep_reading(request: Request, key: str, form: Form) -> Response:
        what, reading = one(form, "what").strip(), one(form, "reading", "").strip()
        kept = shelf.read(key)
        plan = house.work(kept).plan
        if plan is None:
            return workshop_page(request, kept, word("web.refused.not-built"))
        row = next((index for index, built in enumerate(plan.built) if built.what == what), len(plan.built))
        pairs = [(f"built[{row}].what", what), (f"built[{row}].reading", reading)]
        said = word("web.change.reading", what=what[:40], reading=reading[:40])
        if not reading:
            if row == len(plan.built):
                return RedirectResponse(f"/workshop/{key}", HTTPStatus.SEE_OTHER)
            pairs, said = [(f"built[{row}]", "")], word("web.change.taken-back", what=what[:40])
        try:
            house.set_values(key, pairs, said)
        except PlanError as error:
            return workshop_page(request, shelf.read(key), str(error))
        return RedirectResponse(f"/workshop/{key}", HTTPStatus.SEE_OTHER)


def phone_link(house: House, key: str) -> str:
    """The address of a plan's workshop for one phone; its key works once."""
    return f"http://{own_address()}:{house.settings.port}/workshop/{key}?key={house.doorkeys.issue()}"


def _cuts_of(sheet: Sheet) -> tuple[CutLine, ...] | None:
    """The cut list of a sheet, or None where nothing can be cut."""
    shown = next(part.shown for part in sheet.steps if part.step.key == "cuts")
    return shown.cuts if isinstance(shown, CutsShown) and sheet.built else None


def _build_of(sheet: Sheet) -> tuple[BuildLine, ...]:
    """The steps of the build; none where nothing can be built."""
    shown = next(part.shown for part in sheet.steps if part.step.key == "parts")
    return shown.steps if isinstance(shown, PartsShown) and sheet.built else ()


def _bench(house: House, sheet: Sheet, plan: Plan | None) -> dict[str, Any]:
    lines, steps = _cuts_of(sheet), _build_of(sheet)
    if lines is None or plan is None:
        return {"cuts": None, "cut_done": 0, "cut_all": 0, "build": (), "build_done": 0, "build_all": 0}
    readings = {built.what: built.reading_m for built in plan.built}
    from clochewright.measures import show_length

    with house.shelf.bench(sheet.key) as bench:
        ticked = {name: bench.ticked(name) for name in (*(cut.id for cut in lines), *(step.id for step in steps))}
    cuts = [
        {
            "line": line,
            "pieces": [{"number": n, "done": n in ticked[line.id]} for n in range(line.count)],
            "reading": show_length(readings[line.mark], sheet.units) if line.mark in readings else "",
        }
        for line in lines
    ]
    build = [
        {
            "line": line,
            "step": line.step,
            "pieces": [{"number": n, "name": name, "done": n in ticked[line.id]} for n, name in enumerate(line.boxes)],
        }
        for line in steps
    ]
    return {
        "cuts": cuts,
        "cut_done": _done(cuts),
        "cut_all": sum(line.count for line in lines),
        "build": build,
        "build_done": _done(build),
        "build_all": sum(len(line.boxes) for line in steps),
    }


def _done(ticked: Sequence[Mapping[str, Any]]) -> int:
    return sum(piece["done"] for row in ticked for piece in row["pieces"])
