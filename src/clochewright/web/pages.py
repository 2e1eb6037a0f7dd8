"""Pages of the house: the shelf, beginning a cover, two side by side, and the units lengths are shown in."""

from __future__ import annotations

from http import HTTPStatus
from typing import Annotated, Any

from fastapi import Depends, FastAPI, Request, Response
from fastapi.responses import HTMLResponse, RedirectResponse

from clochewright.errors import PlanError
from clochewright.findings import word
from clochewright.measures import Units
from clochewright.plan import plan_from_text
from clochewright.web.begin import KINDS, answers_in, begun_plan, kinds, questions, reasons
from clochewright.web.forms import FormError, Pairs, form_pairs, one
from clochewright.web.house import House, sentences_of
from clochewright.web.sheet import STEPS, Sheet
from clochewright.web.shelf import ShelfError
from clochewright.web.units import keep_units, units_of

Form = Annotated[Pairs, Depends(form_pairs)]
_TAPE = ("name", "length", "width", "board", "height")


def add_pages(app: FastAPI, house: House) -> None:
    """Add these routes."""
    renderer = house.renderer

    @app.get("/", include_in_schema=False)
    def show_shelf(request: Request) -> Response:
        plans = [_on_shelf(house, key) for key in house.shelf.all_keys()]
        return HTMLResponse(renderer.page("shelf.html", plans=plans, **around(request)))

    @app.get("/begin", include_in_schema=False)
    def ask_first(request: Request) -> Response:
        given = dict(request.query_params.items())
        asked = any(name in given for name in ("who", "when", "reach", "grows"))
        return _begin_page(house, request, given if asked else None, ())

    @app.post("/begin", include_in_schema=False)
    def begin(request: Request, form: Form) -> Response:
        given = dict(form)
        answers = answers_in(given)
        tape = {name: one(form, name, "").strip() for name in _TAPE}
        shape = next((kind for kind in KINDS if kind == given.get("shape")), None)
        if shape is None:
            return _begin_page(house, request, given, (word("web.begin.choose"),))
        ruled_out = reasons(shape, answers)
        if ruled_out:
            return _begin_page(house, request, given, ruled_out)
        try:
            text = begun_plan(answers, shape, tape)
            plan = house.check_text(f"begin {tape['name'][:80]}", text)
        except PlanError as error:
            return _begin_page(house, request, given, sentences_of(error))
        key = house.shelf.begin(plan.name, text, word("web.change.begun"))
        return RedirectResponse(f"/plan/{key}", HTTPStatus.SEE_OTHER)

    @app.get("/compare", include_in_schema=False)
    def compare(request: Request, a: str, b: str) -> Response:
        units = units_of(request)
        sheets = [house.sheet(house.shelf.read(key), units) for key in (a, b)]
        sides = [_side(sheet) for sheet in sheets]
        html = renderer.page("compare.html", sides=sides, groups=_groups(*sheets), **around(request))
        return HTMLResponse(html)

    @app.post("/units", include_in_schema=False)
    def choose_units(form: Form) -> Response:
        said, back = one(form, "units"), one(form, "back", "/")
        if said not in ("inch", "mm"):
            raise FormError("units")
        if not back.startswith("/") or back.startswith("//") or "\\" in back or not back.isprintable():
            back = "/"
        response = RedirectResponse(back, HTTPStatus.SEE_OTHER)
        units: Units = "inch" if said == "inch" else "mm"
        keep_units(response, units)
        return response


def around(request: Request, units: Units | None = None) -> dict[str, Any]:
    """What every page needs: the units shown, and where it is."""
    address = request.url.path if request.method == "GET" else "/"
    query = f"?{request.url.query}" if request.method == "GET" and request.url.query else ""
    return {"units": units or units_of(request) or "inch", "here": address + query}


def _on_shelf(house: House, key: str) -> dict[str, str]:
    """A plan's name and a line about it; one that can't be read is named by its key."""
    try:
        plan = plan_from_text(house.shelf.read(key).text)
    except (PlanError, ShelfError) as error:
        return {"key": key, "name": key, "about": sentences_of(error)[0]}
    shape = word(f"web.choice.cover.shape.{plan.cover.shape}").partition(":")[0]
    return {"key": key, "name": plan.name, "about": shape}


def _begin_page(house: House, request: Request, given: dict[str, str] | None, wrong: tuple[str, ...]) -> Response:
    answers = answers_in(given or {})
    choices = kinds(answers) if given is not None else ()
    free = next((kind.shape for kind in choices if not kind.reasons), "")
    wanted = (given or {}).get("shape", "")
    kept = {name: (given or {}).get(name, "")[:200] for name in _TAPE}
    shape = wanted if any(kind.shape == wanted and not kind.reasons for kind in choices) else free
    html = house.renderer.page(
        "begin.html",
        questions=questions(),
        kinds=choices,
        given={**answers, **kept, "shape": shape},
        wrong=wrong,
        none_left=given is not None and not free,
        **around(request),
    )
    return HTMLResponse(html, HTTPStatus.UNPROCESSABLE_ENTITY if wrong else HTTPStatus.OK)


def _side(sheet: Sheet) -> dict[str, str]:
    picture = f"/plan/{sheet.key}/drawing/three-quarter.svg?rev={sheet.rev}&units={sheet.units}"
    return {
        "key": sheet.key,
        "name": sheet.name,
        "answer": sheet.answer.text if sheet.answer is not None else "",
        "picture": picture if sheet.steps[1].shown is not None else "",
    }


def _groups(first: Sheet, second: Sheet) -> list[dict[str, Any]]:
    """The figures of each step, of both sheets."""
    groups = []
    for index, step in enumerate(STEPS):
        a, b = (
            {figure.label: figure.value for figure in shown.figures} if (shown := sheet.steps[index].shown) else {}
            for sheet in (first, second)
        )
        labels = dict.fromkeys([*a, *b])
        rows = [{"label": label, "a": a.get(label, "–"), "b": b.get(label, "–")} for label in labels]
        if rows:
            groups.append({"title": step.title, "rows": rows})
    return groups
