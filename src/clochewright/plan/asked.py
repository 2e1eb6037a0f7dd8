"""One value of a plan as a form asks for it: what stands there, what may be written, and what was typed, read back."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Literal

from clochewright.errors import Mistake, PlanError
from clochewright.measures import Units
from clochewright.plan.fields import shown
from clochewright.plan.keys import Key, keys_of
from clochewright.plan.measured import Measured
from clochewright.plan.model import Plan
from clochewright.plan.paths import followed, key_at, path_text
from clochewright.plan.toml_text import in_file

Control = Literal["text", "number", "choice", "yes-no", "list"]

_YES_NO = {"yes": True, "true": True, "on": True, "no": False, "false": False, "off": False}


@dataclass(frozen=True, slots=True)
class Asked:
    """One key of the plan for a form.

    `text` is what holds now, as a person writes it ("" where nothing does); `optional` says that it may be left empty.
    """

    path: str
    control: Control
    text: str
    help: str
    choices: tuple[str, ...]
    optional: bool
    example: str


def ask(plan: Plan, path: str, units: Units) -> Asked:
    """What a form shows for one key.

    Args:
        plan: The plan as it stands.
        path: Key path as in the file, such as `cover.bay` or `stock.on_hand[0].length`; a place just past the end of a
            list, or in a section that is left out, shows empty.
        units: How quantities are written.

    Raises:
        PlanError: There is no such key.
    """
    key = _key(path)
    value = _value(plan, path)
    example = key.field.examples or (key.quantity.examples if key.quantity else ("",))
    if key.many and key.section is None and key.field.examples:
        example = [_listed(one) for one in key.field.examples]
    metric = next((str(one) for one in example if units == "mm" and str(one).endswith(("m", "C", "m/s"))), None)
    return Asked(
        path,
        _control(key),
        "" if value is None else _as_text(key, value, units, path),
        key.description,
        key.choices,
        not key.field.is_required(),
        metric or str(example[0]),
    )


def group_of(path: str) -> str:
    """What a key is filled in together with: its entry of a list, or its section where that may be left out; else "".

    A section with one key only needs no form of its own.

    Raises:
        PlanError: There is no such key.
    """
    steps = followed(Plan, path)
    numbered = [place for place, step in enumerate(steps) if isinstance(step, int)]
    if numbered:
        return path_text(steps[: numbered[-1] + 1])
    section = key_at(Plan, steps[:-1])
    alone = section is None or section.section is None or len(keys_of(section.section)) < 2
    return "" if alone or not _may_be_left_out(section) else path_text(steps[:-1])


def is_group(path: str) -> bool:
    """Whether a path names an entry of a list or a section that may be left out: what is taken away as a whole."""
    return path.endswith("]") or _may_be_left_out(key_at(Plan, followed(Plan, path)))


def _may_be_left_out(key: Key | None) -> bool:
    return key is not None and key.section is not None and key.field.default is None


def typed(path: str, text: str) -> Any:
    """What was typed for a key, as a plan file holds it; None for nothing, which takes the key away.

    Raises:
        PlanError: There is no such key, or a number was wanted and this is none.
    """
    key, text = _key(path), text.strip()
    control = _control(key)
    if not text:
        return None
    if control == "number":
        digits = text.isascii() and text.isdecimal() and len(text) <= 6
        if not digits:
            raise PlanError((Mistake(path, f"“{shown(text)}” is no whole number.", "Write one such as 2."),))
        return int(text)
    if control == "yes-no":
        answer = _YES_NO.get(text.casefold())
        if answer is None:
            raise PlanError((Mistake(path, f"“{shown(text)}” is neither yes nor no.", "Say yes or no."),))
        return answer
    if control == "list":
        parts = [part.strip() for part in text.split(",") if part.strip()]
        return parts if key.quantity is None else _with_the_last_unit(parts)
    return text


def _listed(example: Sequence[str]) -> str:
    """A list as one may type it: a long one with its unit at the end only."""
    if len(example) < 5:
        return ", ".join(example)
    return ", ".join([*(one.partition(" ")[0] for one in example[:-1]), example[-1]])


def _with_the_last_unit(parts: list[str]) -> list[str]:
    """A list in which only the last has a unit has that unit throughout: 0, 1.5, 7 C."""
    last = re.fullmatch(r"[-−+]?[0-9.]+(\s*[^0-9\s.].*)", parts[-1]) if parts else None
    if last is None:
        return parts
    return [f"{part}{last.group(1)}" if re.fullmatch(r"[-−+]?[0-9.]+", part) else part for part in parts]


def _key(path: str) -> Key:
    key = key_at(Plan, followed(Plan, path))
    assert key is not None  # followed() has seen to it
    if key.section is not None and not is_group(path):
        raise PlanError((Mistake(path, "this is a section, not a value.", "Name a key in it."),))
    return key


def _control(key: Key) -> Control:
    if key.many and key.section is None:
        return "list"
    if key.quantity is not None:
        return "text"
    if key.choices:
        return "choice"
    annotation = str(key.field.annotation)
    if re.search(r"\bbool\b", annotation):
        return "yes-no"
    return "number" if re.search(r"\bint\b", annotation) else "text"


def _value(plan: Plan, path: str) -> Any:
    here: Any = plan
    for step in followed(Plan, path, by_attribute=True):
        if here is None:
            return None
        if isinstance(step, str):
            here = getattr(here, step)
        elif step < len(here):
            here = here[step]
        else:
            return None
    return here


def _as_text(key: Key, value: Any, units: Units, path: str) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if key.section is not None:
        return ""
    if isinstance(key.quantity, Measured) and value == key.field.default:
        return key.quantity.tell(value, units)  # nobody wrote it, so nothing is lost by a round figure
    written = in_file(key, value, units, path)
    return ", ".join(map(str, written)) if isinstance(written, list) else str(written)
