"""The page under test, served on this machine's loopback, and the browser that looks at it."""

from __future__ import annotations

import json
import os
import shutil
import threading
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import uvicorn
from playwright.sync_api import expect

import clochewright.web
from clochewright.web import Settings, build_app

HERE = Path(clochewright.web.__file__).parent
DEMO = (HERE / "sorrel-yard.toml").read_text(encoding="utf-8")
AXE = HERE / "ui" / "node_modules" / "axe-core" / "axe.min.js"
SIZES: dict[str, dict[str, Any]] = {
    "desktop": {"viewport": {"width": 1280, "height": 800}},
    "phone": {"viewport": {"width": 390, "height": 844}, "has_touch": True, "is_mobile": True},
}
PATIENCE_MS = 120_000  # for the bench, on a machine with much else to do, the plans of other tests among it
FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--use-angle=swiftshader",
    "--enable-unsafe-swiftshader",
]


def chromium() -> str:
    """Where the machine's Chromium is: the one that CLOCHEWRIGHT_CHROMIUM names, else the one on the path."""
    named = os.environ.get("CLOCHEWRIGHT_CHROMIUM")
    found = named or next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)
    if found is None:
        raise RuntimeError("These tests need Chromium: install it, or name one in CLOCHEWRIGHT_CHROMIUM.")
    return found


class Site:
    """A page with a shelf of its own; it can be stopped and started again on the same folder."""

    def __init__(self, folder: Path) -> None:
        self.folder, self.port = folder, 0
        self.start()

    def start(self) -> None:
        """Serve, on the port that was served before if there was one."""
        self.app = build_app(Settings(self.folder))
        config = uvicorn.Config(
            self.app, host="127.0.0.1", port=self.port, log_level="error", proxy_headers=False, ws="none"
        )
        self.server = uvicorn.Server(config)
        self.thread = threading.Thread(target=self.server.run, daemon=True)
        self.thread.start()
        while not self.server.started:
            if not self.thread.is_alive():
                raise RuntimeError("the page did not start")
            self.thread.join(0.01)
        self.port = self.server.servers[0].sockets[0].getsockname()[1]

    def stop(self) -> None:
        """Stop serving."""
        self.server.should_exit = True
        self.thread.join(10)

    @property
    def address(self) -> str:
        """Where it is."""
        return f"http://127.0.0.1:{self.port}"

    def plan(self, name: str, *changes: tuple[str, str]) -> str:
        """The address of the sheet of a fresh plan: the demo's with a name of its own and some words replaced."""
        text = DEMO.replace('"Sorrel Yard, Bed 4"', json.dumps(name))
        for old, new in changes:
            assert old in text
            text = text.replace(old, new)
        return f"{self.address}/plan/{self.app.state.house.shelf.begin(name, text, 'begun')}"

    def text(self, sheet: str) -> str:
        """What the plan's file says now."""
        return (self.folder / f"{sheet.rpartition('/')[2]}.toml").read_text(encoding="utf-8")


def is_here(url: str) -> bool:
    """Whether a request stays on this machine."""
    parts = urlsplit(url)
    return parts.scheme in ("data", "blob") or parts.hostname in ("127.0.0.1", "localhost")


def worked_out(tab: Any) -> None:
    """Wait until nothing more comes of the plan."""
    expect(tab.locator("#progress progress")).to_have_count(0, timeout=PATIENCE_MS)


def serious_faults(tab: Any) -> list[str]:
    """What axe-core finds on the page as it stands that is serious or worse."""
    if not tab.evaluate("typeof axe === 'object'"):
        tab.evaluate(AXE.read_text(encoding="utf-8"))
    found = tab.evaluate("axe.run(document, {resultTypes: ['violations']})")
    return [
        f"{fault['id']}: {node['target']} {node['failureSummary']}"
        for fault in found["violations"]
        if fault["impact"] in ("serious", "critical")
        for node in fault["nodes"]
    ]
