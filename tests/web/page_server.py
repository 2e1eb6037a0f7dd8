"""A page served on this machine's loopback for a test, in a folder of its own, and a client that talks to it."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import httpx
import uvicorn

from clochewright.web import Settings, build_app

DEMO = "sorrel-yard-bed-4"
SCRIPTED = {"hx-request": "true"}


@contextmanager
def page_at(folder: Path, **settings: object) -> Iterator[httpx.Client]:
    """Serve the page on a free port until the block ends."""
    app = build_app(Settings(folder, **settings))  # type: ignore[arg-type]
    server = uvicorn.Server(
        uvicorn.Config(app, host="127.0.0.1", port=0, log_level="error", proxy_headers=False, ws="none")
    )
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    while not server.started:
        if not thread.is_alive():
            raise RuntimeError("the page did not start")
        thread.join(0.01)
    port = server.servers[0].sockets[0].getsockname()[1]
    try:
        with httpx.Client(base_url=f"http://127.0.0.1:{port}", timeout=20, trust_env=False) as client:
            yield client
    finally:
        server.should_exit = True
        thread.join(10)


def state_of(html: str) -> str:
    """What a page or its pieces say that they show."""
    return html.partition('name="state" value="')[2].partition('"')[0]


def pieces_of(html: str) -> set[str]:
    """The ids of the pieces in an answer."""
    return {part.rpartition('id="')[2] for part in html.split('" hx-swap-oob="true"')[:-1]}
