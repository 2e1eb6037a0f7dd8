"""The keys a plan file may hold, read off the model, so that what is added there is known everywhere."""

from __future__ import annotations

import difflib
import typing
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from types import UnionType
from typing import Any, Literal

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from clochewright.plan.fields import Quantity


@dataclass(frozen=True, slots=True)
class Key:
    """One key: its name in the file, the attribute it fills, the table under it (`many`: a list of them)."""

    name: str
    attribute: str
    field: FieldInfo
    section: type[BaseModel] | None
    many: bool
    quantity: Quantity | None
    choices: tuple[str, ...]

    @property
    def description(self) -> str:
        """What the key means, in the model's words."""
        return self.field.description or ""


@cache
def keys_of(section: type[BaseModel]) -> dict[str, Key]:
    """The keys of one section by their name in the file, in the model's order."""
    keys = {}
    for attribute, field in section.model_fields.items():
        name = field.alias or attribute
        parts = tuple(_parts(field.annotation)) + tuple(field.metadata)
        sections = [p for p in parts if isinstance(p, type) and issubclass(p, BaseModel)]
        keys[name] = Key(
            name=name,
            attribute=attribute,
            field=field,
            section=sections[0] if len(sections) == 1 else None,
            many=tuple in parts or list in parts,
            quantity=next((p for p in parts if hasattr(p, "read") and hasattr(p, "write")), None),
            choices=tuple(p.choice for p in parts if isinstance(p, _Choice)),
        )
    return keys


@dataclass(frozen=True, slots=True)
class _Choice:
    choice: str


def _parts(annotation: Any) -> Iterator[Any]:
    """Every type, marker and choice an annotation is made of."""
    origin = typing.get_origin(annotation)
    if origin is Literal:
        yield from (_Choice(str(choice)) for choice in typing.get_args(annotation))
    elif origin is None:
        yield annotation
    else:
        if origin not in (typing.Annotated, typing.Union, UnionType):
            yield origin
        for part in typing.get_args(annotation):
            yield from _parts(part)


@cache
def homes_of(section: type[BaseModel]) -> dict[str, tuple[str, ...]]:
    """For each key of a single (not listed) table: the table's path, where only one table of its depth has that key."""
    found: dict[str, list[tuple[str, ...]]] = {}

    def look(table: type[BaseModel], path: tuple[str, ...]) -> None:
        for key in keys_of(table).values():
            found.setdefault(key.name, []).append(path)
            if key.section is not None and not key.many:
                look(key.section, (*path, key.name))

    look(section, ())
    highest = {name: [p for p in paths if len(p) == min(map(len, paths))] for name, paths in found.items()}
    return {name: paths[0] for name, paths in highest.items() if len(paths) == 1}


def nearest(word: str, choices: Iterable[str]) -> str | None:
    """The choice that a misspelt word most likely stands for, if any is near enough."""
    by_folded = {choice.lower().replace("-", "_"): choice for choice in choices}
    folded = word[:60].lower().replace("-", "_").strip()
    close = difflib.get_close_matches(folded, by_folded, n=1, cutoff=0.6)
    return by_folded[close[0]] if close else None


def listed(choices: Iterable[str], last: str = "or") -> str:
    """Choices as a sentence lists them: a, b or c."""
    *head, tail = choices
    return f"{', '.join(head)} {last} {tail}" if head else tail
