"""`clochewright plan`: the whole job from a plan file into a folder, with a short summary."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from types import MappingProxyType
from typing import Literal

from rich.console import Console

from clochewright.cli.folder import write_folder
from clochewright.cli.summary import show_summary
from clochewright.cli.watching import watching
from clochewright.job import (
    Job,
    cuts_csv,
    look_further,
    open_shelf,
    open_weather,
    result_text,
    run,
    supplies_csv,
)
from clochewright.plan import read_plan

Paper = Literal["a4", "letter"]
PAPER: Mapping[str, Paper] = MappingProxyType({"inch": "letter", "mm": "a4"})


def plan_job(plan_file: Path, out: Path | None, paper: Paper | Literal["auto"], *, all_notes: bool = False) -> bool:
    """Run the job, write the folder, print the summary. False when the plan can't be built: nothing is written."""
    console = Console(highlight=False)
    plan = read_plan(plan_file)
    catalogue, prices = open_shelf(plan, plan_file.parent)
    weather = open_weather(plan, plan_file.parent)
    with watching(console) as watch:
        job = run(plan, catalogue, prices, watch)
        job = look_further(job, catalogue, prices, weather, watch, lambda done, whole: watch("season", done / whole))
        if out is not None and not job.refused:
            files = job_files(job, PAPER[plan.units] if paper == "auto" else paper, watch)
            write_folder(out, files, outdated=("drawings/sticks*.svg", "drawings/sticks*.dxf", "drawings/season-*.svg"))
    show_summary(console, job, None if job.refused else out, all_notes=all_notes)
    return not job.refused


def job_files(job: Job, paper: Paper, watch: Callable[[str], None]) -> dict[str, bytes]:
    """Every file of the output folder, by its path in it."""
    from clochewright.booklet import print_booklet

    files = data_and_drawings(job, watch)
    watch("booklet")
    return files | {"booklet.pdf": print_booklet(job, paper)}


def data_and_drawings(job: Job, watch: Callable[[str], None]) -> dict[str, bytes]:
    """All of it but the booklet."""
    from clochewright.drawings import LOADED_NAMES, draw_job, draw_season, write_dxf, write_svg

    watch("drawings")
    files = {
        "job.json": result_text(job).encode(),
        "cuts.csv": cuts_csv(job).encode(),
        "supplies.csv": supplies_csv(job).encode(),
    }
    for name, drawing in draw_job(job).items():
        files[f"drawings/{name}.svg"] = write_svg(drawing).encode()
        if name not in LOADED_NAMES:  # what is drawn larger than it is has no place in a file at true size
            files[f"drawings/{name}.dxf"] = write_dxf(drawing)
    for name, drawing in draw_season(job).items():  # graphs, which no saw or plotter wants
        files[f"drawings/{name}.svg"] = write_svg(drawing).encode()
    return files
