"""Between a plan's text and its tables: TOML, its mistakes told in words for people who don't know TOML."""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Mapping
from decimal import Decimal
from functools import lru_cache
from typing import Any

from pydantic_core import PydanticCustomError

from clochewright.errors import Mistake, PlanError
from clochewright.measures import Units
from clochewright.plan.fields import shown
from clochewright.plan.keys import Key, keys_of

LARGEST_FILE_BYTES = 1_000_000
_DEEPEST_KEY = 20

_PLACE = re.compile(r"\s*\(at (?:line (\d+), column \d+|end of document)\)\.?$")
_PAIR = re.compile(r"\s*([A-Za-z0-9_.-]+|\"[^\"]*\")\s*=\s*(.*?)\s*")
_TOO_DEEP = re.compile(rf"^[^\"'#=\n]*(?:\.[^\"'#=.\n]*){{{_DEEPEST_KEY}}}", re.MULTILINE)


@lru_cache(maxsize=16)  # an edit on the page reads the text before it and the text after it several times
def tables_of(text: str, where: str) -> dict[str, Any]:
    """The tables of a plan text, for all who ask: nobody changes them.

    Args:
        text: The plan, in TOML.
        where: What to call it in messages, such as its file's name.

    Raises:
        PlanError: It is too long or no TOML; the one mistake names the line.
    """
    if len(text) > LARGEST_FILE_BYTES:
        raise _wrong(where, "this is far too long for a plan (over 1 MB).", "A plan is a page of text; is this it?")
    if _TOO_DEEP.search(text):  # also spares the reader, which is slow on keys of thousands of parts
        raise _wrong(where, "a key here has far too many dots.", "Keys look like bed.length.")
    try:
        return tomllib.loads(text + "\n")  # so that a last line is told apart from what never ends
    except tomllib.TOMLDecodeError as error:
        raise _not_toml(text, where, str(error)) from None
    except RecursionError:
        raise _wrong(where, "brackets are nested far too deep.", "A list is one pair of brackets.") from None
    except ValueError:  # an integer past Python's limit for reading
        raise _wrong(where, "a number in this plan is absurdly long.", "Give sizes as text with a unit.") from None


def _wrong(where: str, what: str, mend: str) -> PlanError:
    return PlanError((Mistake(where, what, mend),))


def _not_toml(text: str, where: str, message: str) -> PlanError:
    place = _PLACE.search(message)
    lines = re.split(r"\r?\n", text)
    number = int(place.group(1)) if place and place.group(1) else len(lines)
    line = lines[number - 1] if number <= len(lines) else ""
    what, mend = _words(message, line)
    return _wrong(f"{where}, line {number}", what, mend)


def _words(message: str, line: str) -> tuple[str, str]:
    """What is wrong in a line, and what to do; `message` is the TOML reader's own."""
    here = f"“{shown(line.strip())}” can't be read" if line.strip() else "the plan can't be read here"
    pair = _PAIR.fullmatch(line)
    if "overwrite" in message or "twice" in message or "mutate" in message or "already" in message:
        what = f"“{shown(line.strip())}” is given twice."
        return what, "Keep one of them; a list of tables is written [[like.this]], with two brackets."
    if "at end of document" in message or "Unclosed" in message or "Unterminated" in message:
        return f"{here}: something is opened and not closed.", "Look for a missing quote or bracket in the lines above."
    if pair:
        return f"{here}.", _pair_mend(pair.group(1), pair.group(2))
    if line.strip().startswith("["):
        return f"{here}.", "A section's name stands alone on its line in square brackets, like [bed]."
    return f"{here}.", 'A line is a section like [bed], a key like length = "8 ft", or a # comment.'


def _pair_mend(key: str, value: str) -> str:
    """What to do about a `key = value` line that is no TOML."""
    if not value:
        return f"Give a value after {key} =, or put # before the line to leave it out."
    if value[0] in "“”‘’„":
        return "Use straight quotes, as a plain text editor types them, not curly ones."
    inside = value[1:] if value[0] in "\"'" else value
    if inside.endswith('"') and inside != value:
        inside = inside[:-1]
    if '"' in inside:  # an inch mark, which TOML takes for the end of the text
        plain = " ".join(inside.replace('"', " in ").split())
        return f'Write in for the inch mark: {key} = "{shown(plain)}".'
    if value[0] == '"' and value.count('"') == 1:
        return f'Close the quotes: {key} = "{shown(inside)}".'
    if value[0] not in "\"'":
        return f'Put it in quotes: {key} = "{shown(inside)}".'
    return "Look for a missing quote, or a quote too many."


def toml_value(value: Any) -> str:
    """A value as a plan file has it: text (in single quotes if that spares marks), numbers, true or false, lists."""
    if isinstance(value, str):
        if '"' in value and "'" not in value and value.isprintable():
            return f"'{value}'"
        return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, (list, tuple)):
        return f"[{', '.join(toml_value(item) for item in value)}]"
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key} = {toml_value(item)}" for key, item in value.items()) + " }" if value else "{}"
    return str(value)


def in_file(key: Key, value: Any, units: Units, where: str) -> Any:
    """A value as the file has it: quantities given in SI become text, attributes become the file's names.

    Raises:
        PlanError: A number in SI is out of its range; `where` is the path to tell.
    """
    if isinstance(value, (list, tuple)):
        return [in_file(key, item, units, where) for item in value]
    if key.section is not None and isinstance(value, Mapping):
        keys = keys_of(key.section)
        known = keys | {inner.attribute: inner for inner in keys.values()}
        given = {name: item for name, item in value.items() if item is not None}
        return {
            known[name].name if name in known else name: (
                in_file(known[name], item, units, f"{where}.{name}") if name in known else item
            )
            for name, item in given.items()
        }
    if key.quantity is not None and isinstance(value, (int, float, Decimal)) and not isinstance(value, bool):
        try:
            return key.quantity.write(key.quantity.read(value, si=True), units)
        except PydanticCustomError as error:
            told = error.context or {}
            raise PlanError((Mistake(where, str(told.get("what")), str(told.get("mend"))),)) from None
    return value
