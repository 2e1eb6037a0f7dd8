"""A finding: what is wrong or worth knowing, where, and what would mend it. Words live in texts/, by key."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any


class Level(StrEnum):
    """How much a finding matters."""

    STOP = "stop"  # this can't be built
    WARN = "warn"  # it can be built, but something is likely to go wrong
    NOTE = "note"  # worth knowing


@dataclass(frozen=True, slots=True)
class Mend:
    """One change to the plan that would mend the finding: a key path and the value to write there (None removes it)."""

    path: str
    value: Any


@dataclass(frozen=True, slots=True)
class Finding:
    """One finding.

    `key` names its words in texts/. `values` fill them: a name's ending says what it is and how it is shown
    (`_m` a length, `_kg`, `_deg`, `_m_s`, `_K`, `_N`, `_money`); other names are shown as they are. `where` is the
    plan's key path, or the mark or id of the part. `change` is a mend the program can make by itself.
    """

    level: Level
    step: str
    key: str
    where: str = ""
    values: Mapping[str, Any] = field(default_factory=dict)
    source: str = ""
    change: Mend | None = None


def worst_first(found: Iterable[Finding]) -> tuple[Finding, ...]:
    """Findings with what stops the work first; in bench order within each level."""
    return tuple(sorted(found, key=lambda finding: list(Level).index(finding.level)))
