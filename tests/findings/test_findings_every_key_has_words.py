"""Every finding that the source can make has its words, and its words ask for nothing that it doesn't bring."""

from __future__ import annotations

import ast
import fnmatch
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


@dataclass(frozen=True)
class Use:
    """One key in the source: where, and the names of the values beside it (None where they are not spelled out)."""

    at: str
    key: str
    values: frozenset[str] | None


@dataclass(frozen=True)
class Maker:
    """Something that makes findings when it is called: Finding itself, or a helper that passes a key on to it.

    `key_place` is the key's place among the arguments. Values come as a mapping at `values_place`, or, where
    `loose_values` is set, as keywords other than the `own` ones.
    """

    key_place: int
    values_place: int | None
    loose_values: bool = False
    own: frozenset[str] = frozenset()


FINDING = Maker(key_place=2, values_place=4)  # Finding(level, step, key, where, values, ...)


def called(call: ast.Call) -> str:
    return call.func.attr if isinstance(call.func, ast.Attribute) else getattr(call.func, "id", "")


def argument(call: ast.Call, name: str, place: int | None) -> ast.expr | None:
    for keyword in call.keywords:
        if keyword.arg == name:
            return keyword.value
    return call.args[place] if place is not None and len(call.args) > place else None


def helpers_in(tree: ast.Module) -> dict[str, Maker]:
    """Functions that hand a parameter of theirs to Finding as its key."""
    found = {}
    for function in ast.walk(tree):
        if not isinstance(function, ast.FunctionDef):
            continue
        names = [parameter.arg for parameter in (*function.args.posonlyargs, *function.args.args)]
        for call in ast.walk(function):
            if isinstance(call, ast.Call) and called(call) == "Finding":
                key = getattr(argument(call, "key", FINDING.key_place), "id", "")
                values = getattr(argument(call, "values", FINDING.values_place), "id", "")
                if key in names:
                    loose = function.args.kwarg is not None and function.args.kwarg.arg == values
                    place = names.index(values) if values in names else None
                    own = frozenset(names) | {parameter.arg for parameter in function.args.kwonlyargs}
                    found[function.name] = Maker(names.index(key), place, loose, own)
    return found


def texts(node: ast.expr | None) -> Iterator[str]:
    """The texts an expression can stand for: itself, either side of a choice, or a pattern like "lid.no-room-for-*"."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.value
    elif isinstance(node, ast.IfExp):
        yield from texts(node.body)
        yield from texts(node.orelse)
    elif isinstance(node, ast.JoinedStr):
        yield "".join(str(part.value) if isinstance(part, ast.Constant) else "*" for part in node.values)


def names_in(node: ast.expr | None) -> frozenset[str] | None:
    """The names of a mapping that is spelled out in full, as {...} or dict(...)."""
    if isinstance(node, ast.Dict):
        keys = [key.value if isinstance(key, ast.Constant) else None for key in node.keys]
        return None if None in keys else frozenset(str(key) for key in keys)
    if isinstance(node, ast.Call) and called(node) == "dict" and not node.args:
        return loose_names(node, frozenset())
    return None


def loose_names(call: ast.Call, own: frozenset[str]) -> frozenset[str] | None:
    names = [keyword.arg for keyword in call.keywords]
    return None if None in names else frozenset(str(name) for name in names) - own


def values_beside(call: ast.Call, maker: Maker) -> frozenset[str] | None:
    if maker.loose_values:
        return loose_names(call, maker.own)
    values = argument(call, "values", maker.values_place)
    return frozenset() if values is None and maker is FINDING else names_in(values)


def uses_in(tree: ast.Module, at: str, makers: dict[str, Maker]) -> list[Use]:
    """Keys given to Finding, to its helpers, and to anything else as a `key=` that looks like one ("room.words")."""
    found = []
    for call in ast.walk(tree):
        if not isinstance(call, ast.Call):
            continue
        maker = makers.get(called(call))
        for key in texts(argument(call, "key", maker.key_place if maker else None)):
            if "." in key:
                found.append(Use(f"{at}:{call.lineno}", key, values_beside(call, maker) if maker else None))
    return found


def all_uses(sources: dict[str, str]) -> list[Use]:
    trees = {at: ast.parse(source, at) for at, source in sources.items()}
    makers = {name: maker for tree in trees.values() for name, maker in helpers_in(tree).items()}
    return [use for at, tree in trees.items() for use in uses_in(tree, at, {**makers, "Finding": FINDING})]


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
    tables: dict[str, Any] = {}
    for file in sorted((HOUSE / "findings" / "texts").glob("*.toml")):
        add(tables, tomllib.loads(file.read_text(encoding="utf-8")), file.name)
    return tables


def add(tables: dict[str, Any], more: dict[str, Any], where: str) -> None:
    """Join two files' tables; a key that both say is an error."""
    for name, value in more.items():
        if isinstance(value, dict) and isinstance(tables.get(name), dict) and not set(value) & set(PARTS):
            add(tables[name], value, f"{where}: {name}")
        else:
            assert name not in tables, f"{where} says {name} once more"
            tables[name] = value


@pytest.fixture(scope="module")
def uses() -> list[Use]:
    files = sorted(HOUSE.rglob("*.py"))
    return all_uses({str(path.relative_to(HOUSE)): path.read_text(encoding="utf-8") for path in files})


def test_every_key_has_words(catalogue: dict[str, Any], uses: list[Use]) -> None:
    known = [key for key, _ in finding_tables(catalogue)]
    assert uses
    wordless = [f"{use.at}: {use.key}" for use in uses if not fnmatch.filter(known, use.key)]
    assert not wordless, "no words in texts/ for:\n" + "\n".join(wordless)


def test_every_entry_is_said_somewhere(catalogue: dict[str, Any], uses: list[Use]) -> None:
    silent = [
        key for key, _ in finding_tables(catalogue) if not any(fnmatch.fnmatchcase(key, use.key) for use in uses)
    ]
    assert not silent, "texts/ has words that no step says: " + ", ".join(silent)


def test_words_ask_only_for_values_that_are_there(catalogue: dict[str, Any], uses: list[Use]) -> None:
    known = dict(finding_tables(catalogue))
    short = []
    for use in uses:
        for key in fnmatch.filter(known, use.key) if use.values is not None else ():
            asked = set().union(*(fields(known[key][part]) for part in PARTS))
            if asked - use.values:
                short.append(f"{use.at}: the words of {key} ask for {sorted(asked - use.values)}")
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
    maker = """
def stop(key, where="", *, change=None, **values):
    return Finding(Level.STOP, "frame", key, where, values, change=change)
def warn(where, key, figures):
    found.append(Finding(Level.WARN, "frame", key, where, figures))
"""
    source = """
Finding(Level.STOP, "frame", "frame.third-place", "bed", {"gap_m": 1.0})
findings.Finding(level, step="frame", key="frame.by-name", values=dict(gap_m=1.0, mark="A"))
Finding(Level.NOTE, "frame", "frame.one" if wide else "frame.other", values={**more})
Finding(Level.NOTE, "frame", f"frame.no-{what}")
stop("frame.through-a-helper", "bed", change=None, gap_m=1.0)
warn("bed", "frame.through-another", {"gap_m": 1.0})
note(key="frame.unknown-helper", values=values)
sorted(things, key="no key of ours")
Finding(Level.NOTE, "frame", key)
"""
    assert [(use.at, use.key, use.values) for use in all_uses({"maker": maker, "here": source})] == [
        ("here:2", "frame.third-place", frozenset({"gap_m"})),
        ("here:3", "frame.by-name", frozenset({"gap_m", "mark"})),
        ("here:4", "frame.one", None),
        ("here:4", "frame.other", None),
        ("here:5", "frame.no-*", frozenset()),
        ("here:6", "frame.through-a-helper", frozenset({"gap_m"})),
        ("here:7", "frame.through-another", frozenset({"gap_m"})),
        ("here:8", "frame.unknown-helper", None),
    ]
