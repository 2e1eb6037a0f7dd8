"""Pictures of a season: the year hour by hour, a cold night, a hot clear day, and the weeks won."""

from __future__ import annotations

from clochewright.drawings.marks import Drawing
from clochewright.drawings.season.hours import draw_day, draw_night
from clochewright.drawings.season.weeks import MOST_CROPS, draw_weeks
from clochewright.drawings.season.year import draw_year
from clochewright.job import Job

WIDTH_MM = 180.0
__all__ = ["draw_season"]


def draw_season(job: Job, width_mm: float = WIDTH_MM, most_crops: int = MOST_CROPS) -> dict[str, Drawing]:
    """Every picture of the job's season by its name, "season-..."; none where it has no season.

    Args:
        job: The finished job.
        width_mm: Width of the sheets of paper [mm].
        most_crops: For how many crops the weeks won are drawn.
    """
    season, units = job.season, job.plan.units
    if season is None:
        return {}
    return {
        "season-weeks": draw_weeks(season, units, width_mm, most_crops),
        "season-year": draw_year(season, units, width_mm),
        "season-night": draw_night(season, units, width_mm),
        "season-day": draw_day(season, units, width_mm),
    }
