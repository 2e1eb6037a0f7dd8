"""From a plan's text to its job: quickly in this process, or in full in the bench's own (see bench_process)."""

from __future__ import annotations

import hashlib
import logging
import os
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

from clochewright.errors import CatalogueError, ClochewrightError, FolderError, Mistake, PlanError
from clochewright.findings import word
from clochewright.job import (
    Begun,
    Job,
    Watch,
    begin_quick,
    look_further,
    open_shelf,
    open_weather,
    run,
    run_quick,
)
from clochewright.plan import Plan, plan_from_text

Progress = Callable[[int, int], None]
BROKEN = (ArithmeticError, LookupError, AssertionError, ValueError, TypeError)  # by a mistake in the program


@dataclass(frozen=True, slots=True)
class Worked:
    """What came of a plan's text: a plan and its job, or the mistakes that stand in the way.

    `rev` names the text (and the files it names); `full` says that nothing is left to look for, `growing` that only
    what makes it stronger and the season are.
    """

    rev: str
    plan: Plan | None
    job: Job | None
    mistakes: tuple[Mistake, ...] = ()
    full: bool = True
    growing: bool = False

    @property
    def stage(self) -> str:
        """How far it has come: quick, then growing, then full."""
        return "full" if self.full else "growing" if self.growing else "quick"


def nothing_watched(step: str) -> None:
    """Watch nothing."""


def nothing_counted(done: int, whole: int) -> None:
    """Count nothing."""


def rev_of(text: str, folder: Path) -> str:
    """A short name for a text together with the price files, part lists and weather files that lie beside it."""
    digest = hashlib.sha256(text.encode("utf-8", "replace"))
    if "file" in text or "weather" in text:
        with os.scandir(folder) as beside:
            named = [file for file in beside if file.name.endswith((".csv", ".toml", ".epw")) and file.name in text]
        for file in sorted(named, key=lambda file: file.name):
            if file.is_file():
                told = file.stat()
                digest.update(f"{file.name} {told.st_mtime_ns} {told.st_size}".encode())
    return digest.hexdigest()[:20]


def begin_quickly(text: str, folder: Path) -> Begun | None:
    """What can be drawn of a job in a hurry; None where nothing stands, which is told by `work_quickly`."""
    try:
        plan = plan_from_text(text)
        check_files(plan, folder)
        begun = begin_quick(plan, *open_shelf(plan, folder))
    except (ClochewrightError, *BROKEN):
        return None
    return begun if isinstance(begun, Begun) else None


def work_quickly(text: str, folder: Path, begun: Begun | None = None) -> Worked:
    """The job in a hurry, from where it was begun; `full` where nothing more can come of it."""
    return _worked(text, folder, in_full=False, watch=nothing_watched, begun=begun)


def work_in_full(text: str, folder: Path, watch: Watch = nothing_watched) -> Worked:
    """The job with all its patience; `watch` is told each step, and may raise to stop it."""
    return _worked(text, folder, in_full=True, watch=watch)


def work_season(
    worked: Worked, folder: Path, progress: Progress = nothing_counted, watch: Watch = nothing_watched
) -> Worked:
    """What makes it stronger and the season, added to what the bench made in full.

    `watch` is told each step, `progress` how many of how many years are done; either may raise to stop it.
    """
    plan, job = worked.plan, worked.job
    if not worked.growing or plan is None or job is None:
        return worked
    try:
        shelf = open_shelf(plan, folder)
        job = look_further(job, *shelf, open_weather(plan, folder), watch, progress)
        return replace(worked, job=job, full=True, growing=False)
    except FolderError as wrong:
        return Worked(worked.rev, plan, None, (Mistake("site.weather", str(wrong)),))


def work_plan(plan: Plan, folder: Path) -> Job:
    """The whole job of a plan that stands in no file, what makes it stronger and its season with it.

    Raises:
        PlanError: It names a file outside the folder.
        CatalogueError: It names what the catalogue doesn't have.
        FolderError: A file it names can't be read.
    """
    check_files(plan, folder)
    shelf = open_shelf(plan, folder)
    return look_further(run(plan, *shelf), *shelf, open_weather(plan, folder))


def check_files(plan: Plan, folder: Path) -> None:
    """Refuse a plan that names a file outside its folder: whoever sends a plan may not have this machine's files read.

    Raises:
        PlanError: It does.
    """
    mistakes = []
    named = (("prices.file", plan.prices.file), ("own.file", plan.own.file), ("site.weather", plan.site.weather))
    for path, name in named:
        if name and not _is_beside(folder, name):
            mistakes.append(Mistake(path, word("web.refused.outside"), word("web.refused.outside-mend")))
        elif path == "site.weather" and name and not (folder / name).is_file():
            mistakes.append(Mistake(path, word("web.refused.no-weather"), word("web.refused.no-weather-mend")))
    if mistakes:
        raise PlanError(tuple(mistakes))


def _is_beside(folder: Path, name: str) -> bool:
    if "\0" in name or name.startswith(".") or Path(name).name != name or "\\" in name or ":" in name:
        return False
    return not (folder / name).is_symlink()


def _worked(text: str, folder: Path, *, in_full: bool, watch: Watch, begun: Begun | None = None) -> Worked:
    rev = rev_of(text, folder)
    plan: Plan | None = None
    try:
        plan = plan_from_text(text)
        check_files(plan, folder)
        catalogue, prices = open_shelf(plan, folder)
        if in_full:
            job = run(plan, catalogue, prices, watch)
            growing = job.made is not None and not job.refused
            return Worked(rev, plan, job, full=not growing, growing=growing)
        job = run_quick(plan, catalogue, prices, watch, begun)
        return Worked(rev, plan, job, full=job.made is None)
    except (PlanError, CatalogueError) as wrong:
        return Worked(rev, plan, None, wrong.mistakes)
    except FolderError as wrong:
        return Worked(rev, plan, None, (Mistake("", str(wrong)),))
    except BROKEN:
        # A mistake in the program: told, so that the sheet still opens and the plan can be changed or taken back.
        logging.getLogger(__name__).exception("the bench broke on a plan")
        return Worked(rev, plan, None, (Mistake("", word("web.refused.broken")),))
