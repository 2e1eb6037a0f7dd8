"""Changes values in the text of a plan; its notes and its layout stay."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from copy import deepcopy
from typing import Any

from clochewright.errors import Mistake, PlanError
from clochewright.measures import Units
from clochewright.plan.model import Plan
from clochewright.plan.paths import Loc, followed, is_there, key_at, put
from clochewright.plan.read import plan_from_text
from clochewright.plan.toml_text import in_file, tables_of, toml_value

_HEADER = re.compile(r"\s*\[\[?\s*[^\]]+\]\]?\s*(?:#.*)?")


def rewrite(text: str, changes: Sequence[tuple[str, Any]]) -> str:
    """The plan's text with some values changed, added or taken away.

    Args:
        text: The plan, in TOML.
        changes: Key paths (`cover.bay`, `own.fittings[0].hub`; the number after the last entry adds one) and values:
            text as the file has it, or SI numbers, which are written in the plan's units. None takes the key away.

    Returns:
        The new text; it reads without mistakes. A key that stood there as a note (`# bay = "4 ft"`) comes to life in
        its place; other new keys follow the last key of their section, new sections stand at the end.

    Raises:
        PlanError: A path is unknown, or the result is no plan.
    """
    for path, value in changes:
        text = _changed(text, path, value)
    plan_from_text(text)
    return text


def _changed(text: str, path: str, value: Any) -> str:
    loc = followed(Plan, path)
    tables = tables_of(text, "plan")
    key = key_at(Plan, loc)
    assert key is not None  # followed() has seen to it
    units: Units = "mm" if tables.get("units") == "mm" else "inch"
    value = in_file(key, value, units, path)
    wanted = deepcopy(tables)
    try:
        put(wanted, loc, value)
    except (LookupError, TypeError):
        raise PlanError((Mistake(path, "this plan has no such place.", "Count list entries from 0."),)) from None
    if wanted == tables:
        return text
    ways: list[Callable[[str, Loc, Any], str | None]] = [_in_the_document]
    if value is not None and not is_there(tables, loc):
        ways = [_by_waking, _by_lines, *ways]
    elif value is None:
        ways = [*ways, _by_cutting]
    else:
        ways = [_in_its_line, *ways]
    for way in ways:
        new = way(text, loc, value)
        if new is not None and _tables_or_none(new) == wanted:
            return new
    raise PlanError((Mistake(path, "this can't be changed without disturbing the rest.", "Change it by hand."),))


def _tables_or_none(text: str) -> dict[str, Any] | None:
    try:
        return tables_of(text, "plan")
    except PlanError:
        return None


def _in_the_document(text: str, loc: Loc, value: Any) -> str | None:
    """The change made by the TOML library that keeps layout; None if it can't."""
    import tomlkit  # only where something is rewritten: reading a plan does without

    try:
        document = tomlkit.parse(text)
        put(document, loc, value)
        return tomlkit.dumps(document)
    except Exception:  # whatever it trips over: the caller looks at what came out, or says it can't be done
        return None


def _by_waking(text: str, loc: Loc, value: Any) -> str | None:
    """A section that stands there as notes, its header among them, brought to life with this key."""
    if len(loc) < 2 or not all(isinstance(step, str) for step in loc):
        return None
    end = _line_end(text)
    lines = text.split(end)
    name = r"\.".join(re.escape(str(step)) for step in loc[:-1])
    asleep = [number for number, line in enumerate(lines) if re.fullmatch(rf"\s*#\s*\[{name}\]\s*", line)]
    if not asleep:
        return None
    start = asleep[0]
    lines[start] = lines[start].replace("#", "", 1).strip()
    return _by_lines(end.join(lines), loc, value)


def _by_lines(text: str, loc: Loc, value: Any) -> str | None:
    """A new key or section put where a person would put it."""
    end = _line_end(text)
    lines = text.split(end)
    if isinstance(value, dict):
        return _with_section(lines, loc, value, end)
    last = loc[-1]
    if isinstance(last, int):
        return None
    span = _span(lines, loc[:-1])
    if span is None:
        return _with_section(lines, loc[:-1], {last: value}, end) if len(loc) > 1 else None
    line = f"{last} = {toml_value(value)}"
    note = re.compile(rf"\s*#\s*{re.escape(last)}\s*=.*")
    for number in range(*span):
        if note.fullmatch(lines[number]):
            lines[number] = line
            return end.join(lines)
    lines.insert(_last_key(lines, span), line)
    return end.join(lines)


def _in_its_line(text: str, loc: Loc, value: Any) -> str | None:
    """A value put in the place of another on the same line: the usual change, and quick."""
    end = _line_end(text)
    lines = text.split(end)
    span = _span(lines, loc[:-1])
    if span is None or not isinstance(loc[-1], str):
        return None
    own = re.compile(rf"(\s*{re.escape(loc[-1])}\s*=\s*)(?:\"[^\"\\]*\"|'[^']*'|[A-Za-z0-9_.+-]+)(\s*(?:#.*)?)")
    found = [(number, match) for number in range(*span) if (match := own.fullmatch(lines[number]))]
    if len(found) != 1:
        return None
    number, match = found[0]
    lines[number] = f"{match.group(1)}{toml_value(value)}{match.group(2)}"
    return end.join(lines)


def _by_cutting(text: str, loc: Loc, value: Any) -> str | None:  # noqa: ARG001
    """An entry of a list taken out with its header; notes that follow it stay."""
    end = _line_end(text)
    lines = text.split(end)
    span = _span(lines, loc) if isinstance(loc[-1], int) else None
    if span is None:
        return None
    del lines[span[0] - 1 : _last_key(lines, span)]
    return end.join(lines)


def _last_key(lines: list[str], span: tuple[int, int]) -> int:
    """The line after the last key of a section."""
    place = span[0]
    for number in range(*span):
        if lines[number].strip() and not lines[number].lstrip().startswith("#"):
            place = number + 1
    return place


def _line_end(text: str) -> str:
    return "\r\n" if "\r\n" in text else "\n"


def _span(lines: list[str], loc: Loc) -> tuple[int, int] | None:
    """The lines of a section below its header; None if it has no header of its own."""
    headers = [number for number, line in enumerate(lines) if _HEADER.fullmatch(line)]
    if not loc:
        return 0, headers[0] if headers else len(lines)
    names = [str(step) for step in loc if isinstance(step, str)]
    index = loc[-1] if isinstance(loc[-1], int) else None
    opening, closing = (r"\[\[", r"\]\]") if index is not None else (r"\[", r"\]")
    own = re.compile(rf"\s*{opening}\s*" + r"\s*\.\s*".join(map(re.escape, names)) + rf"\s*{closing}\s*(?:#.*)?")
    found = [number for number in headers if own.fullmatch(lines[number])]
    if len(found) <= (index or 0):
        return None
    start = found[index or 0]
    return start + 1, next((number for number in headers if number > start), len(lines))


def _with_section(lines: list[str], loc: Loc, values: dict[str, Any], end: str) -> str:
    """The text with a new section at its end; a further entry of a list stands after the one before it."""
    name = ".".join(step for step in loc if isinstance(step, str))
    header = f"[[{name}]]" if isinstance(loc[-1], int) else f"[{name}]"
    body = [f"{key} = {toml_value(value)}" for key, value in values.items()]
    last = loc[-1]
    before = _span(lines, (*loc[:-1], last - 1)) if isinstance(last, int) and last > 0 else None
    if before is not None:
        place = _last_key(lines, before)
        return end.join([*lines[:place], "", header, *body, *lines[place:]])
    kept = end.join(lines).rstrip()
    return end.join(([kept, ""] if kept else []) + [header, *body, ""])
