"""The foreman: runs the whole bench, answers the question, tries small changes, writes the result file."""

from clochewright.job.result import result, result_text
from clochewright.job.run import Watch, run, run_once
from clochewright.job.types import Answer, Job, Made

__all__ = ["Answer", "Job", "Made", "Watch", "result", "result_text", "run", "run_once"]
