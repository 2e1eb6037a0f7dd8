"""The bundled files, squeezed once and kept: their names change with their content, so browsers may keep them."""

from __future__ import annotations

import gzip
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from fastapi import FastAPI, Request, Response

from clochewright.findings import word
from clochewright.web.fragments import HERE, STATIC
from clochewright.web.shelf import ShelfError

_TYPES = {
    ".css": "text/css; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".svg": "image/svg+xml",
    ".txt": "text/plain; charset=utf-8",
    ".woff2": "font/woff2",
}
_SQUEEZED_ALREADY = (".woff2",)
_A_YEAR, _A_DAY = "public, max-age=31536000, immutable", "public, max-age=86400"


@dataclass(frozen=True, slots=True)
class _File:
    plain: bytes
    squeezed: bytes | None
    media_type: str


def add_static(app: FastAPI) -> None:
    """Add these routes."""

    @app.get("/favicon.ico", include_in_schema=False)
    def show_icon(request: Request) -> Response:
        return _answer(request, _file(HERE / "icon.svg"), _A_DAY)

    @app.get("/static/{name}", include_in_schema=False)
    def show_file(request: Request, name: str) -> Response:
        if name == "icon.svg":
            return show_icon(request)
        # Only what lies in the folder itself is there to be asked for.
        there = {file.name: file for file in STATIC.iterdir()} if STATIC.is_dir() else {}
        if name not in there or there[name].suffix not in _TYPES:
            raise ShelfError(word("web.refused.missing"), missing=True)
        return _answer(request, _file(there[name]), _A_YEAR)


@cache
def _file(path: Path) -> _File:
    plain = path.read_bytes()
    squeezed = None if path.suffix in _SQUEEZED_ALREADY else gzip.compress(plain, 9, mtime=0)
    return _File(plain, squeezed, _TYPES[path.suffix])


def _answer(request: Request, file: _File, kept: str) -> Response:
    headers = {"cache-control": kept, "vary": "accept-encoding"}
    if file.squeezed is not None and "gzip" in request.headers.get("accept-encoding", ""):
        return Response(file.squeezed, media_type=file.media_type, headers={**headers, "content-encoding": "gzip"})
    return Response(file.plain, media_type=file.media_type, headers=headers)
