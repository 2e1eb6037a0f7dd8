"""Runs the server, and tells on the terminal where the page is."""

from __future__ import annotations

import gc
import socket
import threading
import webbrowser
from dataclasses import replace

from clochewright.errors import FolderError
from clochewright.findings import word
from clochewright.web.network import own_names
from clochewright.web.settings import Settings


def run_server(settings: Settings, *, open_browser: bool = False) -> None:
    """Serve the page until it is interrupted.

    Raises:
        FolderError: The folder can't be made or written, or the port is taken.
    """
    # A look for rings of forgotten objects holds up an edit as long as the edit itself takes. Jobs and sheets hang
    # together in one direction only and are let go without it: it is had seldom, and not over what is loaded at first.
    gc.set_threshold(20_000, 50, 100)

    import uvicorn

    from clochewright.web.app import build

    listening = _listen(settings)
    settings = replace(settings, port=listening.getsockname()[1])
    if settings.lan:
        settings = replace(settings, names=(*settings.names, *own_names()))
    app = build(settings)
    gc.freeze()
    address = f"http://127.0.0.1:{settings.port}/"
    print(word("web.serve.here", address=address, folder=str(settings.folder)), flush=True)
    if settings.lan:
        from clochewright.web.workshop import phone_link

        link = phone_link(app.state.house, app.state.house.shelf.all_keys()[0])
        print(word("web.serve.phone", link=link), flush=True)
    if open_browser:
        threading.Timer(0.6, webbrowser.open, (address,)).start()
    server = uvicorn.Server(
        uvicorn.Config(
            app,
            log_level="warning",
            proxy_headers=False,  # nobody stands in front of us, so nobody's word is taken for who asks
            server_header=False,
            timeout_keep_alive=30,
            h11_max_incomplete_event_size=16 * 1024,
            ws="none",
        )
    )
    server.run(sockets=[listening])


def _listen(settings: Settings) -> socket.socket:
    """The socket, opened before anything heavy is loaded, so that a taken port is told at once."""
    # TCP by name: asyncio sends small answers at once (TCP_NODELAY) only where the socket says what it is; left at 0,
    # head and body of an answer wait 40 ms for each other
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    try:
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        listening.bind(("0.0.0.0" if settings.lan else "127.0.0.1", settings.port))
        listening.listen(128)
    except OSError as wrong:
        listening.close()
        reason = (wrong.strerror or str(wrong)).lower()
        raise FolderError(word("web.serve.taken", port=str(settings.port), why=reason)) from None
    return listening
