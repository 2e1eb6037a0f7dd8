"""The job sheet: its steps in order, and everything its templates need of a plan as typed data."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from clochewright.errors import Mistake
from clochewright.findings import Finding, say, word
from clochewright.job import Answer, Job, answer_in
from clochewright.measures import Units
from clochewright.plan import Plan
from clochewright.web.fields import Field, Row, Wrong, choice_of, form_of, form_with, label_of
from clochewright.web.shelf import KeptPlan
from clochewright.web.steps.bed.step import STEP as BED
from clochewright.web.steps.buying.step import STEP as BUYING
from clochewright.web.steps.cuts.step import STEP as CUTS
from clochewright.web.steps.film.step import STEP as FILM
from clochewright.web.steps.fittings.step import STEP as FITTINGS
from clochewright.web.steps.kit import Seen, Shown, Step
from clochewright.web.steps.lid.step import STEP as LID
from clochewright.web.steps.parts.step import STEP as PARTS
from clochewright.web.steps.season.step import STEP as SEASON
from clochewright.web.steps.shape.step import STEP as SHAPE
from clochewright.web.steps.stand.step import STEP as STAND
from clochewright.web.working import Worked

STEPS: tuple[Step, ...] = (BED, SHAPE, FITTINGS, CUTS, BUYING, PARTS, FILM, LID, STAND, SEASON)


@dataclass(frozen=True, slots=True)
class Note:
    """A finding in words, with the one change that mends it, if there is one."""

    level: str
    level_word: str
    what: str
    why: str
    mend: str
    source: str
    change_path: str = ""
    change_value: str = ""
    change_label: str = ""


@dataclass(frozen=True, slots=True)
class StepSheet:
    """One step on the sheet: its fields, its findings, and what it shows; `shown` is None while nothing is built."""

    step: Step
    fields: tuple[Field, ...]
    rows: tuple[Row, ...]
    notes: tuple[Note, ...]
    shown: Shown | None

    @property
    def gist(self) -> str:
        """The line beside its heading."""
        return self.shown.gist if self.shown is not None else word("web.gist.refused")


@dataclass(frozen=True, slots=True)
class Sheet:
    """A whole job sheet."""

    key: str
    name: str
    rev: str
    units: Units
    answer: Answer | None
    mistakes: tuple[Mistake, ...]
    steps: tuple[StepSheet, ...]
    can_undo: bool
    can_redo: bool
    built: bool
    full: bool
    growing: bool
    version: int

    @property
    def state(self) -> str:
        """Names what this sheet shows, so that a browser can say what it has."""
        stage = "f" if self.full else "p" if self.growing else "q"
        flags = f"{stage}{'u' if self.can_undo else ''}{'r' if self.can_redo else ''}"
        return f"{self.rev}-{self.units}-{flags}-{self.version}"

    @property
    def scene_at(self) -> str:
        """Where the view in space has this sheet's scene from."""
        return scene_address(self.key, self.rev, self.units)


def scene_address(key: str, rev: str, units: Units) -> str:
    """Where the scene of a plan's text is; a browser takes another address for another scene."""
    return f"/plan/{key}/scene.json?rev={rev}&units={units}"


def make_sheet(kept: KeptPlan, worked: Worked, units: Units, *, full: bool | None = None) -> Sheet:
    """The sheet of a plan.

    Args:
        kept: The plan on the shelf.
        worked: What came of it.
        units: What lengths are shown in; the plan's own are left alone.
        full: Whether nothing more will come of it; what `worked` says if left out.
    """
    plan, job = worked.plan, worked.job
    seen = Seen(job, job.made, units) if job is not None and job.made is not None else None
    found: dict[str, list[Finding]] = {step.key: [] for step in STEPS}
    for finding in job.findings if job is not None else ():
        found[home_of(finding).key].append(finding)
    return Sheet(
        key=kept.key,
        name=plan.name if plan is not None else kept.key,
        rev=worked.rev,
        units=units,
        answer=answer_in(job, job.answer, units) if job is not None else None,
        mistakes=worked.mistakes,
        steps=tuple(_step(step, found[step.key], kept.text, plan, job, seen, units) for step in STEPS),
        can_undo=kept.can_undo,
        can_redo=kept.can_redo,
        built=job is not None and not job.refused,
        full=worked.full if full is None else full,
        growing=worked.growing,
        version=kept.version,
    )


def sheet_with(sheet: Sheet, wrong: Mapping[str, Wrong]) -> Sheet:
    """The sheet with what was typed last and why it is wrong, by path; what it shows is the plan as it is."""
    parts = []
    for part in sheet.steps:
        fields, rows = form_with((part.fields, part.rows), wrong)
        parts.append(replace(part, fields=fields, rows=rows))
    return replace(sheet, steps=tuple(parts))


def step_of(key: str) -> Step | None:
    """The step of that key, or None."""
    return next((step for step in STEPS if step.key == key), None)


def bodies_of(steps: str) -> tuple[str, ...]:
    """The ids of the bodies of steps told by their keys with blanks between; what is no step is passed over."""
    return tuple(f"body-{key}" for key in steps.split() if step_of(key) is not None)


def _step(
    step: Step,
    found: Sequence[Finding],
    text: str,
    plan: Plan | None,
    job: Job | None,
    seen: Seen | None,
    units: Units,
) -> StepSheet:
    fields, rows = form_of(plan, text, step.fields(plan), units) if plan is not None else ((), ())
    notes = tuple(make_note(job, one, units) for one in found if one.key not in step.told) if job else ()
    return StepSheet(step, fields, rows, notes, step.show(seen) if seen is not None else None)


def home_of(finding: Finding) -> Step:
    """The step that a finding stands in: its key's, else where it is about, else whose bench it is from; else shape."""
    for step in STEPS:
        if finding.key in step.finding_keys:
            return step
    for step in STEPS:
        if any(finding.where == where or finding.where.startswith(f"{where}.") for where in step.finding_wheres):
            return step
    return next((step for step in STEPS if finding.step in step.finding_steps), SHAPE)


def make_note(job: Job, finding: Finding, units: Units) -> Note:
    """A finding in words."""
    words = say(finding, units, job.plan.prices.currency)
    note = Note(
        str(finding.level), word(f"web.level.{finding.level}"), words.what, words.why, words.mend, finding.source
    )
    if finding.change is None:
        return note
    path, value = finding.change.path, finding.change.value
    shown = "" if value is None else str(value)
    label = word("web.change.set", label=label_of(path), value=choice_of(path, shown))
    if value is None:
        label = word("web.change.unset", label=label_of(path))
    return replace(note, change_path=path, change_value=shown, change_label=label)
