"""The application: the house, its routes, its guards, and how errors are told."""

from __future__ import annotations

from collections.abc import AsyncIterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import asynccontextmanager
from http import HTTPStatus
from typing import Any

from fastapi import FastAPI, Request, Response
from fastapi.exceptions import RequestValidationError
from fastapi.responses import HTMLResponse, JSONResponse
from starlette.exceptions import HTTPException
from starlette.middleware.gzip import GZipMiddleware

from clochewright import __version__
from clochewright.errors import CatalogueError, ClochewrightError, FolderError, Mistake, PlanError
from clochewright.findings import word
from clochewright.plan import plan_from_text
from clochewright.web.api import add_api
from clochewright.web.doorkeys import DoorKeys
from clochewright.web.forms import FormError
from clochewright.web.fragments import HERE, Renderer
from clochewright.web.guards import Guards
from clochewright.web.house import House, sentences_of
from clochewright.web.live import Live
from clochewright.web.pages import add_pages
from clochewright.web.papers import Papers
from clochewright.web.plan_routes import add_plan_routes
from clochewright.web.settings import Settings
from clochewright.web.shelf import Shelf, ShelfError
from clochewright.web.static_files import add_static
from clochewright.web.units import units_of
from clochewright.web.weather_routes import add_weather
from clochewright.web.workshop import add_workshop

# What stands on the shelf on the first visit.
DEMO = HERE / "sorrel-yard.toml"


def build(settings: Settings) -> FastAPI:
    """The page for one folder of plans.

    Raises:
        FolderError: The folder can't be made or written.
    """
    shelf = Shelf(settings.folder)
    live, hands = Live(settings.folder, settings.wait_s), ThreadPoolExecutor(thread_name_prefix="hands")
    house = House(settings, shelf, live, Renderer(), DoorKeys(shelf.phones_file), hands)
    if not shelf.all_keys():
        text = DEMO.read_text(encoding="utf-8")
        shelf.begin(plan_from_text(text).name, text, word("web.change.begun"))

    @asynccontextmanager
    async def lifespan(_: FastAPI) -> AsyncIterator[None]:
        yield
        house.hands.shutdown()
        house.live.close()

    app = FastAPI(
        title="clochewright",
        version=__version__,
        description="Knock-down covers for raised beds: a plan in, the whole job out. Lengths in results are metres.",
        openapi_url="/api/openapi.json",
        docs_url=None,  # these pages load their scripts from elsewhere; /api is ours
        redoc_url=None,
        lifespan=lifespan,
    )
    app.state.house = house
    papers = Papers()
    add_pages(app, house)
    add_plan_routes(app, house, papers)
    add_workshop(app, house)
    add_weather(app, house)
    add_api(app, house, papers)
    add_static(app)
    _add_errors(app, house)
    app.add_middleware(GZipMiddleware, minimum_size=1000, compresslevel=5)
    app.add_middleware(Guards, settings=settings, keys=house.doorkeys)
    return app


def _add_errors(app: FastAPI, house: House) -> None:
    """Errors as pages, or as JSON under /api; never a trace."""

    def told(request: Request, status: int, sentences: tuple[str, ...], mistakes: tuple[Mistake, ...] = ()) -> Response:
        if request.url.path.startswith("/api"):
            found = [{"where": one.where, "what": one.what, "mend": one.mend} for one in mistakes]
            return JSONResponse({"detail": " ".join(sentences), "mistakes": found}, status)
        title = HTTPStatus(status).phrase
        values: dict[str, Any] = {"units": units_of(request) or "inch", "here": "/"}
        html = house.renderer.page("said.html", title=title, sentences=sentences, **values)
        return HTMLResponse(html, status)

    @app.exception_handler(FormError)
    async def on_form(request: Request, error: FormError) -> Response:
        return told(request, HTTPStatus.BAD_REQUEST, (str(error),))

    @app.exception_handler(ShelfError)
    async def on_shelf(request: Request, error: ShelfError) -> Response:
        return told(request, HTTPStatus.NOT_FOUND if error.missing else HTTPStatus.CONFLICT, sentences_of(error))

    @app.exception_handler(FolderError)
    async def on_folder(request: Request, error: FolderError) -> Response:
        return told(request, HTTPStatus.INSUFFICIENT_STORAGE, sentences_of(error))

    @app.exception_handler(ClochewrightError)
    async def on_mistakes(request: Request, error: ClochewrightError) -> Response:
        mistakes = error.mistakes if isinstance(error, PlanError | CatalogueError) else ()
        return told(request, HTTPStatus.UNPROCESSABLE_ENTITY, sentences_of(error), mistakes)

    @app.exception_handler(RequestValidationError)
    async def on_request(request: Request, error: RequestValidationError) -> Response:
        where = ", ".join(str(one["loc"][-1])[:40] for one in error.errors()[:3])
        return told(request, HTTPStatus.UNPROCESSABLE_ENTITY, (word("web.refused.form", what=where),))

    @app.exception_handler(HTTPException)
    async def on_http(request: Request, error: HTTPException) -> Response:
        key = {404: "missing", 405: "method"}.get(error.status_code)
        said = word(f"web.refused.{key}") if key else str(error.detail)
        return told(request, error.status_code, (said,))

    @app.exception_handler(Exception)
    async def on_broken(request: Request, error: Exception) -> Response:  # noqa: ARG001  uvicorn logs it
        return told(request, HTTPStatus.INTERNAL_SERVER_ERROR, (word("web.refused.broken"),))
