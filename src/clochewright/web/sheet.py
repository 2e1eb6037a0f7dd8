"""The job sheet: its steps in order, and everything its templates need of a plan as typed data."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any

from clochewright.errors import Mistake, PlanError
from clochewright.findings import Finding, say, word
from clochewright.job import Answer, Job, answer_in
from clochewright.measures import Units
from clochewright.plan import Asked, Plan, ask, group_of, is_group
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


_KNOWN: dict[tuple[str, Units], tuple[object, Asked]] = {}
_MOST_KNOWN = 4000

# Words that tell nothing beside a label, without an s at their end.
_SMALL_WORDS = frozenset(
    {"a", "an", "are", "bed", "how", "i", "it", "many", "of", "shown", "the", "thi", "to", "what", "who"}
)


@dataclass(frozen=True, slots=True)
class Wrong:
    """What is wrong with what was typed, and what was typed."""

    why: str
    typed: str


@dataclass(frozen=True, slots=True)
class Field:
    """One key of the plan as its form shows it; `wrong` says what is wrong with what was typed."""

    path: str
    id: str
    label: str
    control: str
    text: str
    help: str
    choices: tuple[tuple[str, str], ...]
    optional: bool
    example: str
    wrong: str = ""


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
class Row:
    """Keys filled in together: one entry of a list, such as a piece of pipe on hand, or a section that may be left out.

    The last entry of a list, and a section that is left out, is `new`, and empty.
    """

    path: str
    id: str
    fields: tuple[Field, ...]
    new: bool

    @property
    def list(self) -> str:
        """The path of the list it is an entry of, or of the section."""
        return self.path.rpartition("[")[0] if self.path.endswith("]") else self.path

    @property
    def wrong(self) -> bool:
        """Whether something typed in it is wrong."""
        return any(field.wrong for field in self.fields)


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


def make_sheet(
    kept: KeptPlan, worked: Worked, units: Units, wrong: Mapping[str, Wrong] | None = None, *, full: bool | None = None
) -> Sheet:
    """The sheet of a plan.

    Args:
        kept: The plan on the shelf.
        worked: What came of it.
        units: What lengths are shown in; the plan's own are left alone.
        wrong: What was typed last and is wrong, by path.
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
        steps=tuple(_step(step, found[step.key], kept.text, plan, job, seen, units, wrong or {}) for step in STEPS),
        can_undo=kept.can_undo,
        can_redo=kept.can_redo,
        built=job is not None and not job.refused,
        full=worked.full if full is None else full,
        growing=worked.growing,
        version=kept.version,
    )


def step_of(key: str) -> Step | None:
    """The step of that key, or None."""
    return next((step for step in STEPS if step.key == key), None)


def _step(
    step: Step,
    found: Sequence[Finding],
    text: str,
    plan: Plan | None,
    job: Job | None,
    seen: Seen | None,
    units: Units,
    wrong: Mapping[str, Wrong],
) -> StepSheet:
    fields: list[Field] = []
    rows: dict[str, list[Field]] = {}
    for path in step.fields(plan) if plan is not None else ():
        assert plan is not None
        made = make_field(plan, text, path, units, wrong.get(path))
        group = _group_of(path)
        (rows.setdefault(group, []) if group else fields).append(made)
    notes = tuple(make_note(job, one, units) for one in found if one.key not in step.told) if job else ()
    boxes = tuple(_row(plan, path, tuple(some), rows) for path, some in rows.items()) if plan is not None else ()
    return StepSheet(step, tuple(fields), boxes, notes, step.show(seen) if seen is not None else None)


# What hangs on a key alone is worked out once: a sheet asks for over a hundred keys at every edit.
_group_of = lru_cache(maxsize=1000)(group_of)


def _row(plan: Plan, path: str, fields: tuple[Field, ...], rows: Mapping[str, object]) -> Row:
    name, _, number = path.rstrip("]").rpartition("[")
    if path.endswith("]"):
        new = f"{name}[{int(number) + 1}]" not in rows
    else:
        new = not any(ask(plan, field.path, plan.units).text for field in fields)
    return Row(path, id_of(path).replace("field-", "row-"), fields, new)


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


def make_field(plan: Plan, text: str, path: str, units: Units, wrong: Wrong | None = None) -> Field:
    """One key as its form shows it, in the file's own words where they are in these units."""
    asked = _asked(plan, path, units)
    written = asked.text
    if units == plan.units and asked.control == "text":
        own = _written(text, path)
        written = own if own is not None else written
    choices = tuple((choice, choice_of(path, choice)) for choice in asked.choices)
    if asked.control == "yes-no":
        choices = (("yes", word("web.choice.yes")), ("no", word("web.choice.no")))
    return Field(
        path,
        id_of(path),
        label_of(path),
        asked.control,
        wrong.typed if wrong is not None else written,
        _help_beyond(label_of(path), asked.help, asked.choices),
        choices,
        asked.optional,
        asked.example,
        wrong.why if wrong is not None else "",
    )


def _asked(plan: Plan, path: str, units: Units) -> Asked:
    """What a form shows for a key, kept until its section of a plan is another: most stand as they stood."""
    section = getattr(plan, re.split(r"[.[]", path, maxsplit=1)[0].replace("-", "_"), None)
    known = _KNOWN.get((path, units))
    if known is None or known[0] != section or section is None:
        if len(_KNOWN) > _MOST_KNOWN:
            _KNOWN.clear()
        known = _KNOWN[(path, units)] = (section, ask(plan, path, units))
    return known[1]


@lru_cache(maxsize=1000)
def _help_beyond(label: str, told: str, choices: tuple[str, ...]) -> str:
    """A key's help where it says more than its label, or than the choices that stand there anyway."""
    words = {word.rstrip("s") for word in re.findall(r"[a-z-]+", told.lower())}
    if words <= _SMALL_WORDS | {word.rstrip("s") for word in re.findall(r"[a-z-]+", label.lower())}:
        return ""
    return "" if choices and all(choice.rstrip("s") in words for choice in choices) else told


def id_of(path: str) -> str:
    """The id of a field's element."""
    return "field-" + path.replace(".", "-").replace("[", "-").replace("]", "")


def ids_of(paths: Iterable[str]) -> tuple[str, ...]:
    """The ids of the elements that these keys are typed in: their fields, and the rows that those stand in."""
    rows = [id_of(group).replace("field-", "row-") for group in map(_group, paths) if group]
    return (*map(id_of, paths), *rows)


def bodies_of(steps: str) -> tuple[str, ...]:
    """The ids of the bodies of steps told by their keys with blanks between; what is no step is passed over."""
    return tuple(f"body-{key}" for key in steps.split() if step_of(key) is not None)


def _group(path: str) -> str:
    try:
        return path if is_group(path) else group_of(path)
    except PlanError:  # typed by hand; it is told elsewhere
        return ""


@lru_cache(maxsize=1000)
def label_of(path: str) -> str:
    """A key's label."""
    return _word_or(f"web.field.{_without_numbers(path)}", path)


def choice_of(path: str, choice: str) -> str:
    """A choice in words."""
    return _word_or(f"web.choice.{_without_numbers(path)}.{choice}", choice)


def _word_or(key: str, otherwise: str) -> str:
    try:
        return word(key)
    except KeyError:
        return otherwise


def _without_numbers(path: str) -> str:
    return ".".join(part.partition("[")[0] for part in path.split("."))


def _written(text: str, path: str) -> str | None:
    """What the file has at a path, where that is text."""
    here: Any = _tables(text)
    try:
        for part in path.split("."):
            name, *numbers = part.replace("]", "").split("[")
            here = here[name]
            for number in numbers:
                here = here[int(number)]
    except (LookupError, TypeError):
        return None
    return here if isinstance(here, str) else None


@lru_cache(maxsize=64)
def _tables(text: str) -> Mapping[str, Any]:
    return tomllib.loads(text)


def wrong_of(error: PlanError, typed: Mapping[str, str]) -> dict[str, Wrong]:
    """What is wrong, by the path that was typed; what stands elsewhere in the plan is told at the first of them."""
    first = next(iter(typed))
    wrong: dict[str, Wrong] = {}
    for mistake in error.mistakes:
        path = mistake.where if mistake.where in typed else first
        said = f"{mistake.what} {mistake.mend}".strip()
        said = said[:1].upper() + said[1:]
        if mistake.where and mistake.where not in typed:
            said = f"{label_of(mistake.where)}: {said}"
        before = wrong.get(path)
        wrong[path] = Wrong(f"{before.why} {said}" if before else said, typed[path])
    return wrong
