"""Every drawing of what opens: its sweep, the hand's force, the bar, where to hold it, and the drilling templates."""

from __future__ import annotations

from clochewright.drawings.bar_sheet import draw_bar
from clochewright.drawings.force_plot import draw_force
from clochewright.drawings.grips import draw_grips
from clochewright.drawings.marks import Drawing
from clochewright.drawings.swing import WIDTH_MM, draw_swing
from clochewright.drawings.template import HEIGHT_MM, draw_templates
from clochewright.job import Job
from clochewright.strength import Opening

_OPENS_DEG = 1.0  # what opens less has no curve of its force


def draw_lid(
    job: Job, opening: Opening | None = None, width_mm: float = WIDTH_MM, template_height_mm: float = HEIGHT_MM
) -> dict[str, Drawing]:
    """The drawings of the leaf that stands for all that are alike; none where nothing opens.

    Args:
        job: The finished job.
        opening: What opening it asks; the job's own if left out.
        width_mm: Width of the sheets of paper [mm].
        template_height_mm: Greatest height of a template at full size [mm].

    Returns:
        "lid-swing", "lid-force" where it opens at all, "lid-bar" where a bar props it, "lid-grips", and
        "lid-template-1" and so on.
    """
    if job.made is None:
        return {}
    work = (opening or job.made.opening).first
    if work is None:
        return {}
    leaf = job.made.lid.leaves[0]
    drawn = {"lid-swing": draw_swing(job, leaf, work, width_mm)}
    if work.rest_deg >= _OPENS_DEG:
        drawn["lid-force"] = draw_force(job, leaf, work, width_mm)
    if leaf.props:
        drawn["lid-bar"] = draw_bar(leaf.props[0], job.plan.units, width_mm)
    drawn["lid-grips"] = draw_grips(job, leaf, work, width_mm)
    templates = draw_templates(job, leaf, work, width_mm, template_height_mm)
    return drawn | {f"lid-template-{number}": one for number, one in enumerate(templates, start=1)}
