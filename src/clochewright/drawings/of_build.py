"""The pictures of one job's build, by name."""

from __future__ import annotations

from clochewright.drawings.build_steps import draw_build_steps
from clochewright.drawings.marks import Drawing
from clochewright.drawings.members import BedBox
from clochewright.drawings.packing import draw_packing
from clochewright.drawings.step_scene import BuildPictures
from clochewright.job import Job

_PACKING_SHARE = 0.52  # height to width


def draw_build(job: Job, paper_mm: tuple[float, float] = (174.0, 76.0)) -> dict[str, Drawing]:
    """A picture for each step of the build ("step-1" and so on), and the stored parts ("packing").

    Args:
        job: The finished job; one that can't be built has no pictures.
        paper_mm: Width and greatest height of a step's picture, its row of pieces left out [mm].
    """
    if job.made is None:
        return {}
    order = job.made.assembly
    bed, units = job.plan.bed, job.plan.units
    box = BedBox(bed.outside_length_m, bed.outside_width_m, bed.height_m, bed.board_m)
    build = BuildPictures(job.frame, job.made.cutlist, job.made.joints, order, box, units)
    drawings = draw_build_steps(build, paper_mm)
    if order.packing is not None and order.packing.packed:
        drawings["packing"] = draw_packing(order.packing, units, (paper_mm[0], _PACKING_SHARE * paper_mm[0]))
    return drawings
