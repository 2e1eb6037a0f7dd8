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
    """One file: as it is, and squeezed by each way that a browser may take, the tightest first."""

    plain: bytes
    squeezed: tuple[tuple[str, bytes], ...]
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
    squeezed: list[tuple[str, bytes]] = []
    if path.suffix not in _SQUEEZED_ALREADY:
        tight = path.with_name(f"{path.name}.br")  # made with the bundle
        squeezed = [("br", tight.read_bytes())] if tight.exists() else []
        squeezed.append(("gzip", gzip.compress(plain, 9, mtime=0)))
    return _File(plain, tuple(squeezed), _TYPES[path.suffix])


def _answer(request: Request, file: _File, kept: str) -> Response:
    headers = {"cache-control": kept, "vary": "accept-encoding"}
    taken = {way.partition(";")[0].strip() for way in request.headers.get("accept-encoding", "").split(",")}
    for way, content in file.squeezed:
        if way in taken:
            return Response(content, media_type=file.media_type, headers={**headers, "content-encoding": way})
    return Response(file.plain, media_type=file.media_type, headers=headers)
