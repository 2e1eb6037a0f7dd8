"""The foreman: runs the whole bench, answers the question, tries small changes, writes the result file."""

from clochewright.job.answer import answer_in
from clochewright.job.build_told import BuildTold, StepTold, runs, tell_build
from clochewright.job.doubts import paired_pipes
from clochewright.job.easier import with_easier
from clochewright.job.further import look_further
from clochewright.job.result import result, result_text
from clochewright.job.run import Watch, begin_quick, run, run_once, run_quick
from clochewright.job.season import (
    advise_today,
    knows_place,
    open_weather,
    study_season,
    tent_of,
    wants_season,
    with_season,
)
from clochewright.job.season_told import SeasonTold, season_sources, show_gap, tell_season
from clochewright.job.shelf import open_shelf
from clochewright.job.standing import (
    CardLimit,
    SaidChange,
    SaidLimit,
    card_limits,
    handling_said,
    reach_load,
    said_changes,
    said_limits,
    show_ground,
    show_limit,
)
from clochewright.job.stronger import with_changes
from clochewright.job.tables import cuts_csv, supplies_csv
from clochewright.job.types import Answer, Begun, Job, Made, Shape, Trial
from clochewright.season import Band, CropVerdict, Forecast, Month, Season, TodayAdvice

__all__ = [
    "Answer",
    "Band",
    "Begun",
    "BuildTold",
    "CardLimit",
    "CropVerdict",
    "Forecast",
    "Job",
    "Made",
    "Month",
    "SaidChange",
    "SaidLimit",
    "Season",
    "SeasonTold",
    "Shape",
    "StepTold",
    "TodayAdvice",
    "Trial",
    "Watch",
    "advise_today",
    "answer_in",
    "begin_quick",
    "card_limits",
    "cuts_csv",
    "handling_said",
    "knows_place",
    "look_further",
    "open_shelf",
    "open_weather",
    "paired_pipes",
    "reach_load",
    "result",
    "result_text",
    "run",
    "run_once",
    "run_quick",
    "runs",
    "said_changes",
    "said_limits",
    "season_sources",
    "show_gap",
    "show_ground",
    "show_limit",
    "study_season",
    "supplies_csv",
    "tell_build",
    "tell_season",
    "tent_of",
    "wants_season",
    "with_changes",
    "with_easier",
    "with_season",
]
