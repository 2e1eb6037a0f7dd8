"""Writes a plan to start from: what is known stands there, everything else is a note with its default."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterator, Mapping
from typing import Any

from pydantic import BaseModel

from clochewright.plan.keys import Key, keys_of, listed
from clochewright.plan.model import Plan, Question, Shape, Units
from clochewright.plan.paths import Loc, followed, is_there, path_text, put
from clochewright.plan.read import plan_from_text
from clochewright.plan.toml_text import in_file, toml_value

_NOTE_WIDTH = 96

# What says nothing about the other shapes is left out of their starters.
_ONLY_FOR: Mapping[Loc, tuple[Shape, ...]] = {
    ("bed", "tape"): (),  # six readings, for a bed that is known to be out of square
    ("cover", "apex"): ("tent", "barn"),
    ("cover", "pitch"): ("tent", "barn"),
    ("cover", "height"): ("tent", "barn", "tunnel"),
    ("barn",): ("barn",),
    ("lean-to",): ("lean-to",),
    ("hoops",): ("tunnel",),
    ("profile",): ("own",),
    ("panel",): ("tent", "barn", "lean-to", "own"),
}
_METRIC_FILM = "150 micron UV film"

_HEAD = """\
A plan for a bed cover.
Lines that begin with # are notes. A choice behind a # stands at its usual value: take the # away to change it.
Sizes are written in quotes with their unit: "8 ft", "5 ft 6 1/2 in", "46 1/2 in", "1200 mm", "1.2 m".
"""


def starter_plan(
    *,
    length: str,
    width: str,
    name: str = "Bed cover",
    shape: Shape = "tent",
    units: Units = "inch",
    pipe: str | None = None,
    question: Question = "cost",
    more: Mapping[str, Any] | None = None,
) -> str:
    """A commented plan in TOML.

    Args:
        length: Length of the bed, as text with its unit.
        width: Width of the bed, likewise.
        name: What to call the cover.
        shape: The cover's shape; tables that say nothing about it are left out. "own" wants its `profile.points` in
            `more`.
        units: How lengths are shown, and how the defaults in the notes are written.
        pipe: Pipe size as sold; the model's default if left out.
        question: What the builder wants to know first.
        more: Other values by key path, such as `{"car.inside_length": "7 ft", "cover.line": "middle"}`.

    Returns:
        The text; it reads back without mistakes.

    Raises:
        PlanError: The values given make no plan, or a key path is unknown.
    """
    tables: dict[str, Any] = {}
    given = {"name": name, "units": units, "question": question, "bed.length": length, "bed.width": width,
             "cover.shape": shape, "pipe.size": pipe, "film.kind": _METRIC_FILM if units == "mm" else None,
             **(more or {})}  # fmt: skip
    for path, value in given.items():
        if value is not None:
            put(tables, followed(Plan, path), value)
    text = "\n".join([*_notes(_HEAD), "", *_section(Plan, (), tables, units)])
    text = text.rstrip("\n") + "\n"
    plan_from_text(text, "starter plan")
    return text


def _section(section: type[BaseModel], loc: Loc, tables: dict[str, Any], units: Units) -> Iterator[str]:
    """The lines of one section: its own keys first, then the sections under it; only what matters for the shape."""
    shape = tables["cover"]["shape"]
    keys = [
        key
        for name, key in keys_of(section).items()
        if is_there(tables, (*loc, name)) or shape in _ONLY_FOR.get((*loc, name), (shape,))
    ]
    for key in keys:
        if key.section is None:
            yield from _key(key, (*loc, key.name), tables, units)
    for key in keys:
        if key.section is not None:
            yield from _under(key, (*loc, key.name), tables, units)


def _under(key: Key, loc: Loc, tables: dict[str, Any], units: Units) -> Iterator[str]:
    """A section under another one: live, or as notes where nothing is given and it can't be empty."""
    assert key.section is not None
    name = ".".join(str(step) for step in loc)
    header = f"[[{name}]]" if key.many else f"[{name}]"
    yield from _notes(key.description or (key.section.__doc__ or "").partition("\n")[0])
    if key.many:
        given = _value(tables, loc)
        for item in given or ():
            yield header
            yield from (f"{inner} = {toml_value(value)}" for inner, value in in_file(key, item, units, name).items())
            yield ""
        if not given:
            yield from _as_notes(header, key.section, units)
    elif is_there(tables, loc) or not any(k.field.is_required() for k in keys_of(key.section).values()):
        yield header
        yield from _section(key.section, loc, tables, units)
    else:
        yield from _as_notes(header, key.section, units)


def _as_notes(header: str, section: type[BaseModel], units: Units) -> Iterator[str]:
    """A whole section that is not in use, as notes."""
    yield f"# {header}"
    for key in keys_of(section).values():
        if key.section is None:
            yield f"# {key.name} = {toml_value(_usual(key, units))}"
    yield ""


def _key(key: Key, loc: Loc, tables: dict[str, Any], units: Units) -> Iterator[str]:
    """One key: what it means, and its value, or its usual value as a note."""
    choices = listed(tuple(f'"{choice}"' for choice in key.choices)) if len(key.choices) > 1 else ""
    yield from _notes(f"{key.description} {choices and f'({choices})'}")
    if is_there(tables, loc):
        yield f"{key.name} = {toml_value(in_file(key, _value(tables, loc), units, path_text(loc)))}"
    else:
        yield f"# {key.name} = {toml_value(_usual(key, units))}"
    yield ""


def _usual(key: Key, units: Units) -> Any:
    """The default as the file has it, or an example where there is none."""
    default = None if key.field.is_required() else key.field.get_default()
    if default not in (None, ()):
        return in_file(key, default, units, key.name)
    examples = key.field.examples or (key.quantity.examples if key.quantity else key.choices) or ("",)
    example = next((one for one in examples if _is_metric(one) == (units == "mm")), examples[0])
    return [example] if key.many and not isinstance(example, list) else example


def _is_metric(example: Any) -> bool:
    return bool(re.search(r"[0-9] (mm|cm|m)\b", str(example)))


def _value(tables: dict[str, Any], loc: Loc) -> Any:
    here: Any = tables
    for step in loc:
        here = here.get(step) if isinstance(here, dict) else None
    return here


def _notes(text: str) -> Iterator[str]:
    for line in text.strip().splitlines():
        yield from (f"# {part}" for part in textwrap.wrap(line, _NOTE_WIDTH, break_on_hyphens=False))
