"""The foreman: runs the whole bench, answers the question, tries small changes, writes the result file."""

from clochewright.job.answer import answer_in
from clochewright.job.doubts import paired_pipes
from clochewright.job.result import result, result_text
from clochewright.job.run import Watch, run, run_once, run_quick
from clochewright.job.shelf import open_shelf
from clochewright.job.stronger import with_changes
from clochewright.job.tables import cuts_csv, supplies_csv
from clochewright.job.types import Answer, Job, Made, Trial

__all__ = [
    "Answer",
    "Job",
    "Made",
    "Trial",
    "Watch",
    "answer_in",
    "cuts_csv",
    "open_shelf",
    "paired_pipes",
    "result",
    "result_text",
    "run",
    "run_once",
    "run_quick",
    "supplies_csv",
    "with_changes",
]
