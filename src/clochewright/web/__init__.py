"""The page: the whole job live in a browser, kept in a folder of plan files, and the JSON interface under it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from clochewright.web.settings import Settings

if TYPE_CHECKING:
    from fastapi import FastAPI

__all__ = ["Settings", "build_app", "serve"]


def build_app(settings: Settings) -> FastAPI:
    """The page as an ASGI application; see Settings for what it may be told."""
    from clochewright.web.app import build  # here, so that the bench's own process does without

    return build(settings)


def serve(settings: Settings, *, open_browser: bool = False) -> None:
    """Serve the page until it is interrupted.

    Raises:
        FolderError: The folder can't be made or written, or the port is taken.
    """
    from clochewright.web.serving import run_server

    run_server(settings, open_browser=open_browser)
