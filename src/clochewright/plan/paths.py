"""Key paths, such as bed.length or own.fittings[2].kind: told, taken apart, followed into tables."""

from __future__ import annotations

import re
from itertools import pairwise
from typing import Any

from pydantic import BaseModel

from clochewright.errors import Mistake, PlanError
from clochewright.plan.fields import shown
from clochewright.plan.keys import Key, keys_of, nearest

Loc = tuple[str | int, ...]

_BARE_KEY = re.compile(r"[A-Za-z0-9_-]{1,60}")
_STEP = re.compile(r"([A-Za-z0-9_-]{1,60})((?:\[[0-9]{1,4}\])*)")


def path_text(loc: Loc) -> str:
    """A path as text; entries of a list are counted from 0."""
    text = ""
    for step in loc:
        if isinstance(step, int):
            text += f"[{step}]"
        else:
            name = step if _BARE_KEY.fullmatch(step) else f'"{shown(step)}"'
            text += f".{name}" if text else name
    return text


def key_at(model: type[BaseModel], loc: Loc) -> Key | None:
    """The model's key at a path of file names; None where the path leaves the model."""
    section: type[BaseModel] | None = model
    key: Key | None = None
    for step in loc:
        if isinstance(step, int):
            continue
        key = keys_of(section).get(step) if section is not None else None
        if key is None:
            return None
        section = key.section
    return key


def followed(model: type[BaseModel], path: str, *, by_attribute: bool = False) -> Loc:
    """A path taken apart, each step by its name in the file (or by its attribute); either is taken.

    Raises:
        PlanError: It is no path, or no key of the model.
    """
    steps: list[str | int] = []
    section: type[BaseModel] | None = model
    for part in path.split("."):
        match = _STEP.fullmatch(part)
        known = {} if section is None else keys_of(section)
        key = None
        if match is not None:
            key = known.get(match.group(1)) or next((k for k in known.values() if k.attribute == match.group(1)), None)
        if match is None or key is None:
            near = nearest(part, known)
            raise PlanError((Mistake(shown(path), "there is no such key.", f"Did you mean {near}?" if near else ""),))
        steps.append(key.attribute if by_attribute else key.name)
        steps += [int(number) for number in re.findall(r"[0-9]+", match.group(2))]
        section = key.section
    return tuple(steps)


def is_there(tables: Any, loc: Loc) -> bool:
    """Whether something stands at the path."""
    here = tables
    for step in loc:
        if isinstance(step, int):
            if not isinstance(here, list) or step >= len(here):
                return False
        elif not isinstance(here, dict) or step not in here:
            return False
        here = here[step]
    return True


def put(tables: Any, loc: Loc, value: Any) -> None:
    """Sets what stands at the path, making tables and lists on the way; None takes it away.

    Args:
        tables: Tables and lists, plain or those of a document that keeps its layout.
        loc: The path; the number after the last of a list adds to it.
        value: What to put there.

    Raises:
        LookupError: A list is shorter than the path says.
        TypeError: Something on the way is neither table nor list.
    """
    here = tables
    for step, following in pairwise(loc):
        if isinstance(step, str) and isinstance(here, dict) and here.get(step) is None:
            if value is None:
                return
            here[step] = [] if isinstance(following, int) else {}
        elif isinstance(step, int) and isinstance(here, list) and step == len(here) and value is not None:
            here.append({})
        here = here[step]
    last = loc[-1]
    if isinstance(last, int) and isinstance(here, list):
        if value is None:
            del here[last : last + 1]
        elif last == len(here):
            here.append(value)
        else:
            here[last] = value
    elif isinstance(last, str) and isinstance(here, dict):
        if value is not None:
            here[last] = value
        elif last in here:
            del here[last]
    else:
        raise TypeError(path_text(loc))
