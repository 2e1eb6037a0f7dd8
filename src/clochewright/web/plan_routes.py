"""Routes of one plan: its sheet, changing it, its versions, its drawings and papers."""

from __future__ import annotations

import time
from collections.abc import Callable, Collection, Iterator
from http import HTTPStatus
from typing import Literal

from fastapi import FastAPI, Request, Response
from fastapi.responses import HTMLResponse, JSONResponse, RedirectResponse, StreamingResponse

from clochewright.errors import FolderError, PlanError
from clochewright.findings import word
from clochewright.job import Job, Shape, cuts_csv, result_text, supplies_csv
from clochewright.plan import rewrite
from clochewright.web.fields import Wrong, ids_of, wrong_of
from clochewright.web.forms import FormError, one, typed_pairs
from clochewright.web.fragments import Pieces
from clochewright.web.house import House
from clochewright.web.pages import Form, around
from clochewright.web.papers import Papers
from clochewright.web.scene import scene, scene_ahead
from clochewright.web.sheet import Sheet, bodies_of, scene_address, sheet_with
from clochewright.web.shelf import KeptPlan, ShelfError
from clochewright.web.steps.cuts.step import cut_lines
from clochewright.web.units import units_of
from clochewright.web.working import Worked, work_in_full, work_season

CSV = "text/csv; charset=utf-8"
_AT_ONCE = frozenset({"body-cuts"})  # what a tapped pipe is looked up in, whether its step is open or shut


def add_plan_routes(app: FastAPI, house: House, papers: Papers) -> None:
    """Add these routes."""
    shelf, renderer = house.shelf, house.renderer

    def rendered(
        request: Request, kept: KeptPlan, wrong: dict[str, Wrong] | None, later: Collection[str] = ()
    ) -> tuple[Sheet, Pieces]:
        """A plan's sheet and its pieces, with what was typed wrong told in them; those without it are kept."""
        sheet = house.sheet(kept, units_of(request))
        pieces = renderer.pieces(sheet, later=later)
        if not wrong:
            return sheet, pieces
        sheet = sheet_with(sheet, wrong)
        return sheet, renderer.pieces_told(sheet, pieces)

    def sheet_page(request: Request, kept: KeptPlan, wrong: dict[str, Wrong] | None = None) -> Response:
        sheet, pieces = rendered(request, kept, wrong)
        pieces = {**pieces, "progress": renderer.progress(sheet, house.live.step_of(sheet.rev))}
        html = renderer.page("sheet.html", sheet=sheet, pieces=pieces, **around(request, sheet.units))
        return HTMLResponse(html, HTTPStatus.UNPROCESSABLE_ENTITY if wrong else HTTPStatus.OK)

    def changed(request: Request, kept: KeptPlan, form: Form, wrong: dict[str, Wrong] | None = None) -> str:
        """The pieces that changed, for a browser with scripts."""
        later = frozenset(bodies_of(one(form, "shut", ""))) - _AT_ONCE
        wanted = {*ids_of([value for name, value in form if name == "path"]), *bodies_of(one(form, "due", ""))}
        sheet, pieces = rendered(request, kept, wrong, later)
        at_work = house.live.step_of(sheet.rev)
        return renderer.changed(sheet, pieces, one(form, "state", ""), at_work, wanted=wanted, later=later)

    def drawn_first(
        request: Request, key: str, form: Form, shape: Callable[[], tuple[str, Shape] | None], rest: Callable[[], str]
    ) -> Response:
        """An answer whose scene and cut list go ahead while the rest is made: a browser with a view shows them."""
        rev_and_shape = shape() if one(form, "view", "") == "yes" else None
        if rev_and_shape is None:
            return HTMLResponse(rest())
        rev, drawn = rev_and_shape
        units = units_of(request) or drawn.plan.units

        cutlist = renderer.page("cuts/cutlist.html", cuts=cut_lines(drawn, units))
        ahead = scene_ahead(drawn, rev, units, scene_address(key, rev, units), cutlist)
        made = house.hands.submit(rest)  # a change is made even where whoever asked for it has gone by now

        def told() -> Iterator[str]:
            yield ahead
            yield made.result()

        return StreamingResponse(told(), media_type=HTMLResponse.media_type)

    def answered(request: Request, form: Form, key: str, change: Callable[[], KeptPlan]) -> Response:
        """Make a change and answer it: pieces for a browser with scripts, the sheet again for one without."""
        kept = change()
        if not is_scripted(request):
            return RedirectResponse(f"/plan/{key}", HTTPStatus.SEE_OTHER)
        return drawn_first(
            request, key, form, lambda: house.live.shape(kept.text), lambda: changed(request, kept, form)
        )

    @app.get("/plan/{key}", include_in_schema=False)
    def show_sheet(request: Request, key: str) -> Response:
        return sheet_page(request, shelf.read(key))

    @app.get("/plan/{key}/rest", include_in_schema=False)
    def show_rest(request: Request, key: str, state: str = "", due: str = "") -> Response:
        return HTMLResponse(changed(request, shelf.read(key), (("state", state), ("due", due))))

    @app.post("/plan/{key}/set", include_in_schema=False)
    @app.post("/plan/{key}/mend", include_in_schema=False)
    def set_values(request: Request, key: str, form: Form) -> Response:
        pairs = typed_pairs(form)
        if not is_scripted(request):
            try:
                house.set_values(key, pairs)
            except PlanError as error:
                return sheet_page(request, shelf.read(key), wrong_of(error, dict(pairs)))
            return RedirectResponse(f"/plan/{key}", HTTPStatus.SEE_OTHER)

        def rest() -> str:
            try:
                return changed(request, house.set_values(key, pairs), form)
            except PlanError as error:
                return changed(request, shelf.read(key), form, wrong_of(error, dict(pairs)))
            except FolderError as error:  # the disk is full, or may not be written: told where it was typed
                path, typed = pairs[0]
                return changed(request, shelf.read(key), form, {path: Wrong(str(error), typed)})

        return drawn_first(request, key, form, lambda: house.shape_with(key, pairs), rest)

    @app.post("/plan/{key}/undo", include_in_schema=False)
    def undo(request: Request, key: str, form: Form) -> Response:
        return answered(request, form, key, lambda: shelf.undo(key))

    @app.post("/plan/{key}/redo", include_in_schema=False)
    def redo(request: Request, key: str, form: Form) -> Response:
        return answered(request, form, key, lambda: shelf.redo(key))

    @app.get("/plan/{key}/versions", include_in_schema=False)
    def show_versions(request: Request, key: str) -> Response:
        now = shelf.read(key).version
        versions = [
            {
                "number": version.number,
                "what": version.what,
                "when": time.strftime("%d %B %Y, %H:%M", time.localtime(version.when_s)),
                "stamp": time.strftime("%Y-%m-%dT%H:%M:%SZ", time.gmtime(version.when_s)),
                "now": version.number == now,
            }
            for version in shelf.versions(key)
        ]
        html = renderer.page("versions.html", key=key, name=_name(house, key), versions=versions, **around(request))
        return HTMLResponse(html)

    @app.post("/plan/{key}/restore", include_in_schema=False)
    def restore(request: Request, key: str, form: Form) -> Response:
        number = one(form, "version")
        if not (number.isascii() and number.isdecimal() and len(number) < 10):
            raise FormError("version")
        what = word("web.change.restored", number=str(int(number)))
        return answered(request, form, key, lambda: shelf.restore(key, int(number), what))

    @app.post("/plan/{key}/copy", include_in_schema=False)
    def copy(key: str, form: Form) -> Response:
        kept = shelf.read(key)
        sizes = [(f"bed.{name}", size) for name in ("length", "width") if (size := one(form, name, "").strip())]
        text = rewrite(kept.text, [("name", one(form, "name").strip()), *sizes])
        plan = house.check_text(f"copy of {key}", text)
        new = shelf.begin(plan.name, text, word("web.change.copied", name=_name(house, key)))
        return RedirectResponse(f"/plan/{new}", HTTPStatus.SEE_OTHER)

    @app.get("/plan/{key}/scene.json", include_in_schema=False)
    def show_scene(request: Request, key: str) -> Response:
        worked = house.work(shelf.read(key))
        job = built(worked, standing=True)
        return JSONResponse(scene(job.shape, worked.rev, units_of(request) or job.plan.units))

    @app.get("/plan/{key}/drawing/{name}.svg", include_in_schema=False)
    def show_drawing(request: Request, key: str, name: str, rev: str = "") -> Response:
        # a picture asked for as an edit comes in is of the plan that its sheet was of
        kept = shelf.read(key)
        worked = house.live.kept(rev) or house.work(kept)
        job = built(worked, standing=True)
        svg = papers.drawing(job, worked.rev, worked.stage, units_of(request) or job.plan.units, name)
        if svg is None:
            raise ShelfError(word("web.refused.no-drawing"), missing=True)
        return Response(svg, media_type="image/svg+xml")

    @app.get("/plan/{key}/booklet.pdf", include_in_schema=False)
    def show_booklet(key: str, paper: Literal["a4", "letter"] | None = None) -> Response:
        worked = in_full(house, shelf.read(key))
        job = built(worked)
        paper = paper or ("letter" if job.plan.units == "inch" else "a4")
        pdf = papers.booklet(job, worked.rev, worked.stage, paper)
        return Response(pdf, media_type="application/pdf", headers=_as_file(f"{key}.pdf", inline=True))

    @app.get("/plan/{key}/plan.toml", include_in_schema=False)
    def show_plan(key: str) -> Response:
        kept = shelf.read(key)
        return Response(kept.text, media_type="application/toml", headers=_as_file(f"{key}.toml"))

    @app.get("/plan/{key}/job.json", include_in_schema=False)
    def show_job(key: str) -> Response:
        job = built(in_full(house, shelf.read(key)), standing=False)
        return Response(result_text(job), media_type="application/json")

    @app.get("/plan/{key}/cuts.csv", include_in_schema=False)
    def show_cuts(key: str) -> Response:
        job = built(in_full(house, shelf.read(key)))
        return Response(cuts_csv(job), media_type=CSV, headers=_as_file(f"{key}-cuts.csv"))

    @app.get("/plan/{key}/supplies.csv", include_in_schema=False)
    def show_supplies(key: str) -> Response:
        job = built(in_full(house, shelf.read(key)))
        return Response(supplies_csv(job), media_type=CSV, headers=_as_file(f"{key}-supplies.csv"))


def is_scripted(request: Request) -> bool:
    """Whether the page's script asks, which puts pieces in their place by itself."""
    return request.headers.get("hx-request") == "true"


def in_full(house: House, kept: KeptPlan) -> Worked:
    """The job with all its patience, waited for: for papers, which are not printed twice."""
    worked, folder = house.work(kept), house.settings.folder
    if not worked.full and not worked.growing:
        worked = work_in_full(kept.text, folder)
    return work_season(worked, folder)


def built(worked: Worked, *, standing: bool | None = None) -> Job:
    """The job of a plan that can be built.

    Args:
        worked: What came of the plan.
        standing: True asks only for a frame that stands, False for any job at all.

    Raises:
        PlanError: The plan has mistakes.
        ShelfError: It can't be built.
    """
    if worked.job is None:
        raise PlanError(worked.mistakes)
    job = worked.job
    if standing is not False and (job.made is None or (standing is None and job.refused)):
        raise ShelfError(word("web.refused.not-built"))
    return job


def _name(house: House, key: str) -> str:
    plan = house.work(house.shelf.read(key)).plan
    return plan.name if plan is not None else key


def _as_file(name: str, *, inline: bool = False) -> dict[str, str]:
    """A name for the download; keys are plain letters, so that nothing needs quoting."""
    return {"content-disposition": f'{"inline" if inline else "attachment"}; filename="{name}"'}
