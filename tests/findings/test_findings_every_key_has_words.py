"""Every finding that the source can make has its words, and its words ask for nothing that it doesn't bring."""

from __future__ import annotations

import ast
import string
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

HOUSE = Path(__file__).resolve().parents[2] / "src" / "clochewright"
PARTS = ("what", "why", "mend")
POSITIONS = {"key": 2, "values": 4}  # in Finding(level, step, key, where, values, ...)


@dataclass(frozen=True)
class Use:
    """One key in the source: where, and the names of the values beside it (None where they are not spelled out)."""

    at: str
    key: str
    values: frozenset[str] | None


def argument(call: ast.Call, name: str) -> ast.expr | None:
    for keyword in call.keywords:
        if keyword.arg == name:
            return keyword.value
    place = POSITIONS[name]
    return call.args[place] if is_finding(call) and len(call.args) > place else None


def is_finding(call: ast.Call) -> bool:
    name = call.func.attr if isinstance(call.func, ast.Attribute) else getattr(call.func, "id", "")
    return name == "Finding"


def texts(node: ast.expr | None) -> Iterator[str]:
    """The texts an expression can stand for: itself, or either side of a choice. What a name holds is not known."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.value
    elif isinstance(node, ast.IfExp):
        yield from texts(node.body)
        yield from texts(node.orelse)


def names_in(node: ast.expr | None) -> frozenset[str] | None:
    """The names of a mapping that is spelled out in full, as {...} or dict(...)."""
    if isinstance(node, ast.Dict):
        keys = [key.value if isinstance(key, ast.Constant) else None for key in node.keys]
        return None if None in keys else frozenset(str(key) for key in keys)
    if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "dict" and not node.args:
        names = [keyword.arg for keyword in node.keywords]
        return None if None in names else frozenset(str(name) for name in names)
    return None


def uses_in(source: str, at: str) -> list[Use]:
    """Keys given to Finding(...), and to any helper with a `key=` that looks like one ("room.two-words")."""
    found = []
    for call in ast.walk(ast.parse(source)):
        if not isinstance(call, ast.Call):
            continue
        for key in texts(argument(call, "key")):
            if is_finding(call) or "." in key:
                values = argument(call, "values")
                unsaid = is_finding(call) and values is None
                found.append(Use(f"{at}:{call.lineno}", key, frozenset() if unsaid else names_in(values)))
    return found


def fields(template: str) -> set[str]:
    return {name for _, name, _, _ in string.Formatter().parse(template) if name is not None}


def finding_tables(table: dict[str, Any], path: str = "") -> Iterator[tuple[str, dict[str, Any]]]:
    for name, value in table.items():
        if isinstance(value, dict) and set(value) & set(PARTS):
            yield f"{path}{name}", value
        elif isinstance(value, dict):
            yield from finding_tables(value, f"{path}{name}.")


def plain_texts(table: dict[str, Any], path: str = "") -> Iterator[tuple[str, Any]]:
    for name, value in table.items():
        if isinstance(value, dict):
            yield from plain_texts(value, f"{path}{name}.")
        else:
            yield f"{path}{name}", value


@pytest.fixture(scope="module")
def catalogue() -> dict[str, Any]:
    return tomllib.loads((HOUSE / "findings" / "words.toml").read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def uses() -> list[Use]:
    return [
        use
        for path in sorted(HOUSE.rglob("*.py"))
        for use in uses_in(path.read_text(encoding="utf-8"), str(path.relative_to(HOUSE)))
    ]


def test_every_key_has_words(catalogue: dict[str, Any], uses: list[Use]) -> None:
    known = dict(finding_tables(catalogue))
    wordless = [f"{use.at}: {use.key}" for use in uses if use.key not in known]
    assert not wordless, "no words in words.toml for:\n" + "\n".join(wordless)


def test_words_ask_only_for_values_that_are_there(catalogue: dict[str, Any], uses: list[Use]) -> None:
    known = dict(finding_tables(catalogue))
    short = []
    for use in uses:
        if use.values is None or use.key not in known:
            continue
        asked = set().union(*(fields(known[use.key][part]) for part in PARTS))
        if asked - use.values:
            short.append(f"{use.at}: the words of {use.key} ask for {sorted(asked - use.values)}")
    assert not short, "\n".join(short)


def test_every_entry_is_whole(catalogue: dict[str, Any]) -> None:
    for key, entry in finding_tables(catalogue):
        assert set(entry) == set(PARTS), f"{key} needs what, why and mend, and nothing else"
        assert entry["what"].strip(), f"{key} says nothing"
        assert entry["why"].strip(), f"{key} gives no reason"


def test_every_template_can_be_filled(catalogue: dict[str, Any]) -> None:
    for key, text in plain_texts(catalogue):
        assert isinstance(text, str), f"{key} is no text"
        assert "\n" not in text, f"{key} runs over a line"
        assert all(name.isidentifier() for name in fields(text)), f"{key} has an odd field: {fields(text)}"
        nouns = [spec for _, _, spec, _ in string.Formatter().parse(text) if spec]
        assert all(spec.count("|") == 1 for spec in nouns), f"{key} wants one noun and its plural: {nouns}"


def test_fields_carry_their_own_unit(catalogue: dict[str, Any]) -> None:
    """No unit stands behind a field that is shown with one: "{gap_m} m" would read "3 in m"."""
    measured = ("_m", "_kg", "_deg", "_m_s", "_degC", "_K", "_N", "_Pa", "_money")
    units = {"m", "mm", "in", "inches", "ft", "kg", "lb", "deg", "degrees", "°", "m/s", "mph", "N", "Pa", "F", "C", "K"}
    for key, text in plain_texts(catalogue):
        pieces = list(string.Formatter().parse(text))
        for (_, name, _, _), (after, _, _, _) in pairwise(pieces):
            next_word = after.split()[0].strip(".,;:") if after.split() else ""
            if name is not None and name.endswith(measured) and not name.endswith(("_N_m", "_kg_m")):
                assert next_word not in units - {"in"}, f"{key} writes a unit after {{{name}}}"


def test_the_search_sees_keys_in_every_dress() -> None:
    source = """
Finding(Level.STOP, "frame", "frame.third-place", "bed", {"gap_m": 1.0})
findings.Finding(level, step="frame", key="frame.by-name", values=dict(gap_m=1.0, mark="A"))
Finding(Level.NOTE, "frame", "frame.one" if wide else "frame.other", values={**more})
stop(key="frame.through-a-helper", values=values)
sorted(things, key="no key of ours")
Finding(Level.NOTE, "frame", key)
"""
    assert [(use.key, use.values) for use in uses_in(source, "here")] == [
        ("frame.third-place", frozenset({"gap_m"})),
        ("frame.by-name", frozenset({"gap_m", "mark"})),
        ("frame.one", None),
        ("frame.other", None),
        ("frame.through-a-helper", None),
    ]
