"""Every drawing that one job needs, by name."""

from __future__ import annotations

from clochewright.drawings.marks import Drawing
from clochewright.drawings.members import BedBox
from clochewright.drawings.stick_diagram import draw_sticks
from clochewright.drawings.views import draw_views
from clochewright.job import Job


def draw_job(job: Job) -> dict[str, Drawing]:
    """The four views and one cutting diagram a stick ("stick-01", ...); empty for a job without a frame."""
    if job.made is None:
        return {}
    bed, units = job.plan.bed, job.plan.units
    box = BedBox(bed.outside_length_m, bed.outside_width_m, bed.height_m, bed.board_m)
    drawings = draw_views(job.frame, job.made.cutlist, box, units)
    sticks = draw_sticks(job.made.cutlist, units)
    return drawings | {f"stick-{number:02}": drawing for number, drawing in enumerate(sticks, 1)}
