"""Every drawing that one job needs, by name."""

from __future__ import annotations

from clochewright.drawings.loaded import draw_loaded
from clochewright.drawings.marks import Drawing
from clochewright.drawings.members import BedBox
from clochewright.drawings.of_lid import draw_lid
from clochewright.drawings.pattern import draw_pattern
from clochewright.drawings.stick_diagram import draw_sticks
from clochewright.drawings.stick_sheet import stick_sheets
from clochewright.drawings.views import draw_views
from clochewright.job import Job

_PLAN_HEIGHT_MM = 150.0  # a long bed is flat, but its readings are tall


def draw_job(job: Job) -> dict[str, Drawing]:
    """The four views, the film's pattern and rolls, the lid, the frame under load, and all cutting diagrams.

    Those are "sticks", or "sticks-1" and so on. Empty for a job without a frame.
    """
    if job.made is None:
        return {}
    bed, units = job.plan.bed, job.plan.units
    box = BedBox(bed.outside_length_m, bed.outside_width_m, bed.height_m, bed.board_m)
    drawings = draw_views(job.frame, job.made.cutlist, box, units, heights_mm={"plan": _PLAN_HEIGHT_MM})
    sheets = stick_sheets(draw_sticks(job.made.cutlist, units))
    names = ["sticks"] if len(sheets) == 1 else [f"sticks-{number}" for number in range(1, len(sheets) + 1)]
    return drawings | draw_pattern(job) | draw_lid(job) | draw_loaded(job) | dict(zip(names, sheets, strict=True))
