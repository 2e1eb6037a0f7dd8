"""What takes seconds, after the bench is done: what would make it stronger, what easier to open, and the season."""

from __future__ import annotations

from collections.abc import Callable

from clochewright.catalogue import Catalogue, Prices
from clochewright.job.easier import with_easier
from clochewright.job.run import Watch, no_watch
from clochewright.job.season import with_season
from clochewright.job.stronger import with_changes
from clochewright.job.types import Job
from clochewright.site import WeatherFile


def look_further(
    job: Job,
    catalogue: Catalogue,
    prices: Prices,
    weather: WeatherFile | None = None,
    watch: Watch = no_watch,
    progress: Callable[[int, int], None] | None = None,
) -> Job:
    """All of the job: the same on the page, in the booklet, in the result file and on the command line.

    Args:
        job: what `run` made.
        catalogue: what the changes are made of.
        prices: what they cost.
        weather: the plan's weather file, read.
        watch: told each step as it begins.
        progress: told how many of how many years of the season are done.

    Raises:
        CatalogueError: the plan names what the catalogue doesn't have.
    """
    job = with_changes(job, catalogue, prices, watch)
    job = with_easier(job, catalogue, prices, watch)
    return with_season(job, weather, progress)
