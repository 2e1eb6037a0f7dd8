"""The interface for programs, under /api: a plan in, a job out; plans of the shelf; steps; files."""

from __future__ import annotations

import json
from dataclasses import asdict
from typing import Annotated, Any, Literal

from fastapi import Body, Depends, FastAPI, Request, Response
from fastapi.responses import HTMLResponse
from pydantic import BaseModel

from clochewright.errors import Mistake, PlanError
from clochewright.findings import word
from clochewright.job import Job, cuts_csv, result_text, supplies_csv
from clochewright.plan import Plan, plan_from_si, plan_from_text
from clochewright.web.house import House
from clochewright.web.pages import around
from clochewright.web.papers import Papers
from clochewright.web.plan_routes import CSV, built, in_full
from clochewright.web.scene import scene
from clochewright.web.sheet import step_of
from clochewright.web.shelf import ShelfError
from clochewright.web.units import units_of
from clochewright.web.working import work_plan

TOML, JSON = "application/toml", "application/json"
_PLAN_IN: dict[str, Any] = {
    "requestBody": {
        "required": True,
        "content": {
            TOML: {"schema": {"type": "string"}, "example": '[bed]\nlength = "8 ft"\nwidth = "4 ft"\n'},
            JSON: {"schema": {"type": "object"}, "example": {"bed": {"length": "8 ft", "width": "4 ft"}}},
        },
    }
}


_PLAN_TOML: dict[str, Any] = {
    "requestBody": {"required": True, "content": {TOML: _PLAN_IN["requestBody"]["content"][TOML]}}
}


class MistakeOut(BaseModel):
    """One mistake in a plan: its key path, what is wrong, what to do."""

    where: str
    what: str
    mend: str


class Refusal(BaseModel):
    """Why something was not taken."""

    detail: str
    mistakes: list[MistakeOut] = []


class PlanOnShelf(BaseModel):
    """A plan of the shelf."""

    key: str
    name: str


class KeptOut(BaseModel):
    """A plan that was kept."""

    key: str
    version: int


async def body_text(request: Request) -> str:
    """The body as text.

    Raises:
        PlanError: It is none.
    """
    try:
        return (await request.body()).decode("utf-8-sig")
    except UnicodeDecodeError:
        raise PlanError((Mistake("", "the body is not plain text (UTF-8)."),)) from None


BodyText = Annotated[str, Depends(body_text)]
REFUSED: dict[int | str, dict[str, Any]] = {422: {"model": Refusal}, 404: {"model": Refusal}}


def add_api(app: FastAPI, house: House, papers: Papers) -> None:
    """Add these routes."""
    shelf = house.shelf

    @app.get("/api", include_in_schema=False)
    def show_api(request: Request) -> Response:
        rows = [
            {"method": method.upper(), "path": path, "what": told.get("summary", "")}
            for path, methods in app.openapi()["paths"].items()
            for method, told in methods.items()
        ]
        html = house.renderer.page("api.html", rows=rows, port=house.settings.port, **around(request))
        return HTMLResponse(html)

    @app.post("/api/job", summary="A plan in, its job out", responses=REFUSED, openapi_extra=_PLAN_IN)
    def work_out(request: Request, text: BodyText) -> Response:
        """The plan as TOML text or, with content-type application/json, as JSON with the same keys."""
        plan = _plan_in(request, text)
        return Response(result_text(work_plan(plan, house.settings.folder)), media_type=JSON)

    @app.get("/api/plans", summary="The plans on the shelf")
    def list_plans() -> list[PlanOnShelf]:
        """Every plan's key and name; a plan that can't be read goes by its key."""
        found = []
        for key in shelf.all_keys():
            try:
                name = plan_from_text(shelf.read(key).text).name
            except (PlanError, ShelfError):
                name = key
            found.append(PlanOnShelf(key=key, name=name))
        return found

    @app.post(
        "/api/plans",
        summary="A new plan",
        status_code=201,
        responses=REFUSED,
        openapi_extra=_PLAN_TOML,
    )
    def begin_plan(text: BodyText) -> KeptOut:
        """The plan as TOML text. Its key is made from its name."""
        plan = house.check_text("new by a program", text)
        key = shelf.begin(plan.name, text, word("web.change.sent"))
        return KeptOut(key=key, version=shelf.read(key).version)

    @app.get("/api/plans/{key}", summary="One plan's text", responses=REFUSED, response_class=Response)
    def get_plan(key: str) -> Response:
        """The plan file, as TOML."""
        return Response(shelf.read(key).text, media_type=TOML)

    @app.put("/api/plans/{key}", summary="Replace one plan", responses=REFUSED, openapi_extra=_PLAN_TOML)
    def put_plan(key: str, text: BodyText) -> KeptOut:
        """The new plan as TOML text; the old one stays among its versions."""
        return KeptOut(key=key, version=house.set_text(key, text, word("web.change.sent")).version)

    @app.patch("/api/plans/{key}", summary="Change values of one plan", responses=REFUSED)
    def patch_plan(
        key: str, changes: Annotated[dict[str, str | int | bool | None], Body(examples=[{"cover.bay": "3 ft"}])]
    ) -> KeptOut:
        """Values by key path, written as in the plan file; null takes a key away."""
        pairs = [(path, _written(value)) for path, value in changes.items()]
        if not pairs or len(pairs) > 200:
            raise PlanError((Mistake("", "there is nothing to change, or far too much.", "Give up to 200 values."),))
        return KeptOut(key=key, version=house.set_values(key, pairs, word("web.change.sent")).version)

    @app.get("/api/plans/{key}/job", summary="One plan's job", responses=REFUSED, response_class=Response)
    def get_job(key: str) -> Response:
        """The whole result file."""
        return Response(result_text(_job(house, key)), media_type=JSON)

    @app.get("/api/plans/{key}/steps/{step}", summary="One step of one plan's sheet", responses=REFUSED)
    def get_step(request: Request, key: str, step: str) -> dict[str, Any]:
        """What the sheet shows in this step, in words: bed, shape, fittings, cuts, buying or film."""
        wanted = step_of(step)
        if wanted is None:
            raise ShelfError(word("web.refused.missing"), missing=True)
        sheet = house.sheet(shelf.read(key), units_of(request))
        if sheet.mistakes:
            raise PlanError(sheet.mistakes)
        part = next(part for part in sheet.steps if part.step is wanted)
        return {
            "step": step,
            "title": wanted.title,
            "gist": part.gist,
            "shown": asdict(part.shown) if part.shown is not None else None,
            "fields": [asdict(field) for field in (*part.fields, *(f for row in part.rows for f in row.fields))],
            "findings": [asdict(note) for note in part.notes],
            "how": wanted.how,
            "full": sheet.full,
        }

    @app.get("/api/plans/{key}/files/{name}", summary="One file of a plan", responses=REFUSED, response_class=Response)
    def get_file(request: Request, key: str, name: str, paper: Literal["a4", "letter"] = "a4") -> Response:
        """plan.toml, job.json, cuts.csv, supplies.csv, scene.json, booklet.pdf, or a drawing such as plan.svg."""
        if name == "plan.toml":
            return Response(shelf.read(key).text, media_type=TOML)
        worked = in_full(house, shelf.read(key))
        if name == "job.json":
            return Response(result_text(built(worked, standing=False)), media_type=JSON)
        job = built(worked)
        if name == "cuts.csv":
            return Response(cuts_csv(job), media_type=CSV)
        if name == "supplies.csv":
            return Response(supplies_csv(job), media_type=CSV)
        units = units_of(request) or job.plan.units
        if name == "scene.json":
            return Response(json.dumps(scene(job.shape, worked.rev, units)), media_type=JSON)
        if name == "booklet.pdf":
            return Response(papers.booklet(job, worked.rev, worked.stage, paper), media_type="application/pdf")
        svg = papers.drawing(job, worked.rev, worked.stage, units, name.removesuffix(".svg"))
        if svg is None or not name.endswith(".svg"):
            raise ShelfError(word("web.refused.no-drawing"), missing=True)
        return Response(svg, media_type="image/svg+xml")


def _plan_in(request: Request, text: str) -> Plan:
    if request.headers.get("content-type", "").partition(";")[0].strip().casefold() != JSON:
        return plan_from_text(text)
    try:
        values = json.loads(text)
    except (ValueError, RecursionError):
        raise PlanError((Mistake("", f"{word('web.refused.json')}."),)) from None
    if not isinstance(values, dict):
        raise PlanError((Mistake("", "a plan is one JSON object with keys such as bed."),))
    return plan_from_si(values)


def _job(house: House, key: str) -> Job:
    return built(in_full(house, house.shelf.read(key)), standing=False)


def _written(value: str | int | bool | None) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return "" if value is None else str(value)
