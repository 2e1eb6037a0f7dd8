"""Reads a plan: from a file, from text, or from values in SI. All mistakes come at once, in file order."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from clochewright.errors import FolderError, Mistake, PlanError
from clochewright.plan.fields import kind_of, shown
from clochewright.plan.keys import Key, keys_of, listed, nearest
from clochewright.plan.model import Plan, Units
from clochewright.plan.paths import Loc, key_at
from clochewright.plan.rules import broken_rules
from clochewright.plan.tidy import MOST_MISTAKES, Tidy, tidy
from clochewright.plan.toml_text import LARGEST_FILE_BYTES, tables_of

_ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth")


def read_plan(path: Path) -> Plan:
    """Reads a plan file.

    Args:
        path: The TOML file.

    Raises:
        FolderError: There is no such file, or it can't be opened.
        PlanError: It holds no plan, or one with mistakes; all of them are in `mistakes`.
    """
    where = shown(path.name)
    try:
        if path.is_dir():
            raise FolderError(f"{where} is a folder; give the plan file in it, such as {where}/plan.toml.")
        if path.exists() and not path.is_file():
            raise FolderError(f"{where} is not a file that can be read as a plan.")
        with path.open("rb") as file:
            data = file.read(LARGEST_FILE_BYTES + 1)
    except FolderError:
        raise
    except FileNotFoundError:
        raise FolderError(f"There is no plan file {where}; check its name and folder.") from None
    except PermissionError:
        raise FolderError(f"The plan file {where} may not be read; check who is allowed to open it.") from None
    except (OSError, ValueError):  # ValueError: a name with a zero byte in it
        raise FolderError(f"The plan file {where} can't be read.") from None
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        if len(data) <= LARGEST_FILE_BYTES:
            mend = "Save it from a text editor as UTF-8."
            raise PlanError((Mistake(where, "this file is not plain text (UTF-8).", mend),)) from None
        text = data.decode("utf-8", "replace")
    return plan_from_text(text, where)


@lru_cache(maxsize=16)  # a plan never changes, and whoever rewrites one has read it already
def plan_from_text(text: str, where: str = "plan") -> Plan:
    """Reads a plan from TOML text.

    Args:
        text: The plan.
        where: What to call it where a mistake has no key, such as the file's name.

    Raises:
        PlanError: It is no TOML, or has mistakes; all of them are in `mistakes`, each with its key path.
    """
    return _checked(tables_of(text, where), si=False)


def plan_from_si(values: Mapping[str, Any]) -> Plan:
    """The plan from values that are SI already, by the model's own names (`{"bed": {"length_m": 2.4, ...}}`).

    Takes what `plan_as_si` gives; text with units is read as well. Ranges and rules hold as for a file.

    Raises:
        PlanError: The values have mistakes.
    """
    return _checked(dict(values), si=True)


def _checked(tables: dict[str, Any], *, si: bool) -> Plan:
    found = tidy(tables, Plan, si=si)
    plan: Plan | None = None
    errors: list[ErrorDetails] = []
    try:
        plan = Plan.model_validate(found.tables, context={"si": si})
    except ValidationError as error:
        errors = error.errors(include_url=False)
    mistakes = list(found.found)
    for one in errors:
        loc: Loc = one["loc"]
        if not _told(found, one, loc):
            what, mend = _words(one, key_at(Plan, loc))
            mistakes.append((loc, Mistake(found.where(loc), what, _with_ordinal(mend, loc))))
    sections, units = _sound_parts(plan, found, errors, si)
    for broken in broken_rules(sections, units):
        where = found.where(broken.loc)
        mistakes.append((broken.loc, Mistake(where, broken.what, _with_ordinal(broken.mend, broken.loc))))
    if mistakes or plan is None:
        mistakes.sort(key=lambda pair: found.place(pair[0]))
        told = [mistake for _, mistake in mistakes[:MOST_MISTAKES]]
        more = found.more + len(mistakes) - len(told)
        if more:
            told.append(Mistake("", f"There are {more} more mistakes.", "Mend these first."))
        raise PlanError(tuple(told))
    return plan


def _told(found: Tidy, error: ErrorDetails, loc: Loc) -> bool:
    """Whether this mistake is already told: as bad text, or as a key that stands in the wrong place."""
    if error["type"] == "missing" and loc in found.moved:
        return True
    return any(loc[:end] in found.told for end in range(1, len(loc) + 1))


def _sound_parts(plan: Plan | None, found: Tidy, errors: list[ErrorDetails], si: bool) -> tuple[dict[str, Any], Units]:
    """The sections that have no mistake in themselves, by attribute, and the plan's units."""
    if plan is not None:
        return {key.attribute: getattr(plan, key.attribute) for key in keys_of(Plan).values()}, plan.units
    spoilt = {str(error["loc"][0]) for error in errors if error["loc"]}
    sections: dict[str, Any] = {}
    for key in keys_of(Plan).values():
        if key.section is None or key.many or key.name in spoilt:
            continue
        given = found.tables.get(key.name)
        sections[key.attribute] = (
            key.section.model_validate(given, context={"si": si}) if given is not None else key.field.get_default()
        )
    units = found.tables.get("units")
    return sections, "mm" if units == "mm" else "inch"


def _with_ordinal(mend: str, loc: Loc) -> str:
    """Adds which of a list of tables is meant, since people count from one."""
    for place, step in enumerate(loc):
        key = key_at(Plan, loc[:place])
        if isinstance(step, int) and key is not None and key.section is not None:
            ordinal = _ORDINALS[step] if step < len(_ORDINALS) else f"{step + 1}th"
            name = ".".join(str(s) for s in loc[:place])
            return f"{mend} (It is the {ordinal} [[{name}]].)".lstrip()
    return mend


def _words(error: ErrorDetails, key: Key | None) -> tuple[str, str]:
    """What pydantic found, in plain words, and what to do about it."""
    kind, value, ctx = error["type"], error.get("input"), error.get("ctx", {})
    name = key.name if key else "it"
    if kind == "plan":
        return str(ctx["what"]), str(ctx["mend"])
    if kind == "missing":
        return "this is missing.", _how_to_give(key)
    if kind == "literal_error" and key is not None:
        near = nearest(value, key.choices) if isinstance(value, str) else None
        guess = f"Did you mean {near}? " if near else ""
        choices = listed(tuple(f'"{choice}"' for choice in key.choices))
        return f"{_said(value)} is no choice here.", f"{guess}It can be {choices}."
    if kind == "string_type":
        return f"this should be text, not {kind_of(value)}.", f'Put it in quotes: {name} = "..."'
    if kind == "string_too_long":
        return "this is too long.", f"Give at most {ctx['max_length']} characters."
    if kind in _LIMITS:
        words, limit = _LIMITS[kind]
        return f"{_said(value)} is {words}.", f"Give {'at least' if limit in ('ge', 'gt') else 'at most'} {ctx[limit]}."
    if kind.startswith("int_") or kind == "finite_number":
        return f"{_said(value)} is no whole number.", f"Write it without quotes: {name} = 2"
    if kind in ("model_type", "model_attributes_type"):
        section = ".".join(step for step in error["loc"] if isinstance(step, str))
        if isinstance(error["loc"][-1], int):
            return f"this should be a section, not {kind_of(value)}.", f"Write each one under its own [[{section}]]."
        return f"this should be a section, not {kind_of(value)}.", f"Write [{section}], its keys on the lines below."
    if kind in ("tuple_type", "list_type"):
        if key is not None and key.section is not None:
            section = ".".join(str(step) for step in error["loc"])
            return "this can be given more than once.", f"Write it with two brackets: [[{section}]]"
        return f"this should be a list, not {kind_of(value)}.", f'Put it in brackets: {name} = ["...", "..."]'
    return f"{_said(value)} can't be used here.", key.description if key else ""


# pydantic's name of a broken limit: our words, and where the limit stands
_LIMITS = {
    "greater_than": ("too small", "gt"),
    "greater_than_equal": ("too small", "ge"),
    "less_than": ("too large", "lt"),
    "less_than_equal": ("too large", "le"),
}


def _said(value: object) -> str:
    """The user's value in a sentence."""
    return f"“{shown(value)}”" if isinstance(value, str) else shown(value)


def _how_to_give(key: Key | None) -> str:
    """How a missing key or section is given."""
    if key is None:
        return ""
    if key.section is not None:
        needed = [k.name for k in keys_of(key.section).values() if k.field.is_required()]
        return f"Write a section [{key.name}] with {listed(needed, 'and')}."
    example = key.quantity.examples[0] if key.quantity else key.choices[0] if key.choices else "..."
    return f'{key.description} Write it as {key.name} = "{example}".'
