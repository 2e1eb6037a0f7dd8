"""The output folder of a plan that knows its place, and the bar that follows its season."""

from __future__ import annotations

import json
from pathlib import Path

from rich.console import Console

from clochewright.cli.plan_command import data_and_drawings
from clochewright.cli.watching import STEPS, watching
from clochewright.job import open_shelf, run, with_season
from clochewright.plan import plan_from_text

PLAN = 'bed = { length = "8 ft", width = "4 ft" }\nsite = { place = "Sorrel Yard" }\ngrow = { crops = ["kale"] }\n'


def test_the_folder_has_the_seasons_pictures_and_figures():
    plan = plan_from_text(PLAN)
    job = with_season(run(plan, *open_shelf(plan, Path())), years=2)
    files = data_and_drawings(job, lambda _: None)
    assert {f"drawings/season-{name}.svg" for name in ("weeks", "year", "night", "day")} <= files.keys()
    assert not [name for name in files if name.startswith("drawings/season") and name.endswith(".dxf")]
    assert json.loads(files["job.json"])["season"]["crops"][0]["crop"] == "kale"


def test_the_bar_moves_within_a_long_step():
    with watching(Console(force_terminal=True, quiet=True)) as watch:
        for share in (0.0, 0.5, 1.0):
            watch("season", share)
        watch(STEPS[-1])
