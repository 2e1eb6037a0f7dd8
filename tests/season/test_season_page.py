"""The page that sets our results beside measured ranges is as the program makes it, and its misses stand as misses."""

from __future__ import annotations

import importlib.util
import sys
from pathlib import Path

DOCS = Path(__file__).parents[2] / "docs"


def test_the_page_is_as_the_program_makes_it():
    spec = importlib.util.spec_from_file_location("make_season_page", DOCS / "make_season_page.py")
    made = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = made
    spec.loader.exec_module(made)
    page = (DOCS / "season-against-measurements.md").read_text(encoding="utf-8")
    assert page == made.page(), "run python docs/make_season_page.py"
    # a range that lies beside the measured one is called a miss
    assert "**miss**" in made.Row("x", "", "", 1.0, 2.0, (3.0, 4.0, 5.0)).line()
    assert "**miss**" not in made.Row("x", "", "", 1.0, 2.0, (0.0, 1.5, 3.0)).line()
