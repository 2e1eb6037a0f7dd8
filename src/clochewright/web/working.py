"""From a plan's text to its job: quickly in this process, or in full in the bench's own (see bench_process)."""

from __future__ import annotations

import hashlib
import logging
from dataclasses import dataclass
from pathlib import Path

from clochewright.errors import CatalogueError, FolderError, Mistake, PlanError
from clochewright.findings import word
from clochewright.job import Job, Watch, open_shelf, run, run_quick
from clochewright.plan import Plan, plan_from_text


@dataclass(frozen=True, slots=True)
class Worked:
    """What came of a plan's text: a plan and its job, or the mistakes that stand in the way.

    `rev` names the text (and the files it names); `full` says that nothing is left to look for.
    """

    rev: str
    plan: Plan | None
    job: Job | None
    mistakes: tuple[Mistake, ...] = ()
    full: bool = True


def nothing_watched(step: str) -> None:
    """Watch nothing."""


def rev_of(text: str, folder: Path) -> str:
    """A short name for a text together with the price files and part lists that lie beside it."""
    digest = hashlib.sha256(text.encode("utf-8", "replace"))
    if "file" in text:
        for beside in sorted([*folder.glob("*.csv"), *folder.glob("*.toml")]):
            if beside.name in text and beside.is_file():
                told = beside.stat()
                digest.update(f"{beside.name} {told.st_mtime_ns} {told.st_size}".encode())
    return digest.hexdigest()[:20]


def work_quickly(text: str, folder: Path) -> Worked:
    """The job in a hurry; `full` where nothing more can come of it."""
    return _worked(text, folder, in_full=False, watch=nothing_watched)


def work_in_full(text: str, folder: Path, watch: Watch = nothing_watched) -> Worked:
    """The job with all its patience; `watch` is told each step, and may raise to stop it."""
    return _worked(text, folder, in_full=True, watch=watch)


def work_plan(plan: Plan, folder: Path) -> Job:
    """The whole job of a plan that stands in no file.

    Raises:
        PlanError: It names a file outside the folder.
        CatalogueError: It names what the catalogue doesn't have.
        FolderError: A file it names can't be read.
    """
    check_files(plan, folder)
    return run(plan, *open_shelf(plan, folder))


def check_files(plan: Plan, folder: Path) -> None:
    """Refuse a plan that names a file outside its folder: whoever sends a plan may not have this machine's files read.

    Raises:
        PlanError: It does.
    """
    mistakes = []
    for path, name in (("prices.file", plan.prices.file), ("own.file", plan.own.file)):
        if name and not _is_beside(folder, name):
            mistakes.append(Mistake(path, word("web.refused.outside"), word("web.refused.outside-mend")))
    if mistakes:
        raise PlanError(tuple(mistakes))


def _is_beside(folder: Path, name: str) -> bool:
    if "\0" in name or name.startswith(".") or Path(name).name != name or "\\" in name or ":" in name:
        return False
    return not (folder / name).is_symlink()


def _worked(text: str, folder: Path, *, in_full: bool, watch: Watch) -> Worked:
    rev = rev_of(text, folder)
    plan: Plan | None = None
    try:
        plan = plan_from_text(text)
        check_files(plan, folder)
        catalogue, prices = open_shelf(plan, folder)
        if in_full:
            return Worked(rev, plan, run(plan, catalogue, prices, watch))
        job = run_quick(plan, catalogue, prices, watch)
        return Worked(rev, plan, job, full=job.made is None)
    except (PlanError, CatalogueError) as wrong:
        return Worked(rev, plan, None, wrong.mistakes)
    except FolderError as wrong:
        return Worked(rev, plan, None, (Mistake("", str(wrong)),))
    except (ArithmeticError, LookupError, AssertionError, ValueError, TypeError):
        # A mistake in the program: told, so that the sheet still opens and the plan can be changed or taken back.
        logging.getLogger(__name__).exception("the bench broke on a plan")
        return Worked(rev, plan, None, (Mistake("", word("web.refused.broken")),))
