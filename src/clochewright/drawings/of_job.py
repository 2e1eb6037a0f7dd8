"""Every drawing that one job needs, by name."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from types import MappingProxyType

from clochewright.drawings.loaded import draw_loaded
from clochewright.drawings.marks import Drawing
from clochewright.drawings.members import BedBox
from clochewright.drawings.of_build import draw_build
from clochewright.drawings.of_lid import draw_lid
from clochewright.drawings.pattern import draw_pattern
from clochewright.drawings.projection import VIEWS
from clochewright.drawings.season import draw_season
from clochewright.drawings.stick_diagram import draw_sticks
from clochewright.drawings.stick_sheet import stick_sheets
from clochewright.drawings.views import draw_views
from clochewright.job import Job

_ENDLESS_MM = 1e6
_BUILD_MM = (112.0, 74.0)  # small enough for a step's lettering to be read on a phone
_PLAN_HEIGHT_MM = 150.0  # a long bed is flat, but its readings are tall


def draw_job(job: Job) -> dict[str, Drawing]:
    """The four views, the film's pattern and rolls, the lid, the frame under load, and all cutting diagrams.

    Those are "sticks", or "sticks-1" and so on. Empty for a job without a frame.
    """
    drawn: dict[str, Drawing] = {}
    for group in (*VIEWS, "film", "lid", "loaded"):
        drawn |= DRAWERS[group](job)
    return drawn | _stick_sheets(job)


def group_of(name: str) -> str | None:
    """The group in `DRAWERS` that a drawing is made with, by its name; None where there is none of that name."""
    return next((group for group, names in _NAMES.items() if name.startswith(names)), None)


def _view(name: str, job: Job) -> dict[str, Drawing]:
    if job.made is None:
        return {}
    bed, units = job.plan.bed, job.plan.units
    box = BedBox(bed.outside_length_m, bed.outside_width_m, bed.height_m, bed.board_m)
    return draw_views(job.frame, job.made.cutlist, box, units, heights_mm={"plan": _PLAN_HEIGHT_MM}, names=(name,))


def _sticks(job: Job) -> dict[str, Drawing]:
    """The cutting diagrams on one endless sheet."""
    if job.made is None:
        return {}
    return {"sticks": stick_sheets(draw_sticks(job.made.cutlist, job.plan.units), _ENDLESS_MM)[0]}


def _stick_sheets(job: Job) -> dict[str, Drawing]:
    """The cutting diagrams on as many sheets of paper as they take."""
    if job.made is None:
        return {}
    sheets = stick_sheets(draw_sticks(job.made.cutlist, job.plan.units))
    names = ["sticks"] if len(sheets) == 1 else [f"sticks-{number}" for number in range(1, len(sheets) + 1)]
    return dict(zip(names, sheets, strict=True))


# A screen asks for one drawing at a time: what belongs together is drawn together, and nothing else.
DRAWERS: Mapping[str, Callable[[Job], dict[str, Drawing]]] = MappingProxyType(
    {
        **{name: partial(_view, name) for name in VIEWS},
        "film": draw_pattern,
        "lid": draw_lid,
        "loaded": draw_loaded,
        "sticks": _sticks,
        "season": draw_season,
        "build": partial(draw_build, paper_mm=_BUILD_MM),
    }
)
_NAMES: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        **{name: (name,) for name in VIEWS},
        "film": ("pattern", "fold", "rolls", "lath"),
        "lid": ("lid-",),
        "loaded": ("bent-", "worked-"),
        "sticks": ("sticks",),
        "season": ("season-",),
        "build": ("step-", "packing"),
    }
)
