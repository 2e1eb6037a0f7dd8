"""The keys of a plan as forms show them: fields, the rows they stand in, their labels, and what was typed wrong."""

from __future__ import annotations

import re
from collections.abc import Container, Iterable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any

from clochewright.errors import PlanError
from clochewright.findings import word
from clochewright.measures import Units
from clochewright.plan import Plan, ask, group_of, is_group, tables_of
from clochewright.web.lately import Lately

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


Form = tuple[tuple[Field, ...], tuple[Row, ...]]
_FORMS: Lately[tuple[tuple[str, ...], Units, Units, tuple[str, ...]], Form] = Lately(1000)


def form_of(plan: Plan, text: str, paths: Iterable[str], units: Units) -> Form:
    """Keys as their form shows them: those that stand alone, and those that are filled in together.

    Args:
        plan: The plan.
        text: Its text, whose own words are shown where they are in these units.
        paths: The keys.
        units: What lengths are shown in.
    """
    tables, paths = tables_of(text, "plan"), tuple(paths)
    # most forms stand as they stood: what one shows hangs on the units and the sections of the plan that it is about
    sections = tuple(repr(tables.get(name)) for name in dict.fromkeys(map(_section_of, paths)))
    return _FORMS.made(
        (paths, units, plan.units, sections), lambda: _form([_field(plan, tables, path, units) for path in paths])
    )


def form_with(form: Form, wrong: Mapping[str, Wrong]) -> Form:
    """The form with what was typed last and why it is wrong, by path."""
    alone, rows = form
    return _told(alone, wrong), tuple(replace(row, fields=_told(row.fields, wrong)) for row in rows)


def _form(fields: Iterable[Field]) -> Form:
    alone: list[Field] = []
    together: dict[str, list[Field]] = {}
    for field in fields:
        group = _group_of(field.path)
        (together.setdefault(group, []) if group else alone).append(field)
    return tuple(alone), tuple(_row(path, tuple(some), together) for path, some in together.items())


def _row(path: str, fields: tuple[Field, ...], rows: Container[str]) -> Row:
    name, _, number = path.rstrip("]").rpartition("[")
    is_new = f"{name}[{int(number) + 1}]" not in rows if path.endswith("]") else not any(field.text for field in fields)
    return Row(path, id_of(path).replace("field-", "row-"), fields, is_new)


def _told(fields: Iterable[Field], wrong: Mapping[str, Wrong]) -> tuple[Field, ...]:
    return tuple(
        replace(field, text=wrong[field.path].typed, wrong=wrong[field.path].why) if field.path in wrong else field
        for field in fields
    )


def _field(plan: Plan, tables: Mapping[str, Any], path: str, units: Units) -> Field:
    asked = ask(plan, path, units)
    own = _written(tables, path) if units == plan.units and asked.control == "text" else None
    choices = tuple((choice, choice_of(path, choice)) for choice in asked.choices)
    if asked.control == "yes-no":
        choices = (("yes", word("web.choice.yes")), ("no", word("web.choice.no")))
    label = label_of(path)
    told = _help_beyond(label, asked.help, asked.choices)
    shown = asked.text if own is None else own
    return Field(path, id_of(path), label, asked.control, shown, told, choices, asked.optional, asked.example)


_group_of = lru_cache(maxsize=1000)(group_of)


@lru_cache(maxsize=1000)
def _section_of(path: str) -> str:
    return re.split(r"[.[]", path, maxsplit=1)[0]


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


def _written(tables: Mapping[str, Any], path: str) -> str | None:
    """What the file has at a path, where that is text."""
    here: Any = tables
    try:
        for part in path.split("."):
            name, *numbers = part.replace("]", "").split("[")
            here = here[name]
            for number in numbers:
                here = here[int(number)]
    except (LookupError, TypeError):
        return None
    return here if isinstance(here, str) else None


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
