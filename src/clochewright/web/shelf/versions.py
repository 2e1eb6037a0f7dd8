"""The versions of one plan: a journal of lines, each a version kept or a step back or forth between them.

The journal only grows, a line at a time; a line that was cut short by a crash is passed over. Undo and redo are lines
too, so that where one stood is known after a restart.
"""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from clochewright.web.shelf.atomic import append_line, write_whole

MOST_VERSIONS = 400  # older ones are let go when the journal is tidied
_TIDY_BYTES = 6_000_000


@dataclass(frozen=True, slots=True)
class Version:
    """One version: its number, the plan's text, what was done, when [s since 1970], and the version it came from."""

    number: int
    text: str
    what: str
    when_s: float
    parent: int | None


@dataclass
class Journal:
    """What the lines of a journal add up to: all versions, where one stands, and what redo would bring."""

    versions: dict[int, Version] = field(default_factory=dict)
    head: int | None = None
    ahead: list[int] = field(default_factory=list)

    @property
    def now(self) -> Version | None:
        """The version one stands on."""
        return None if self.head is None else self.versions[self.head]

    @property
    def can_undo(self) -> bool:
        """Whether there is a version to go back to."""
        return self.now is not None and self.now.parent in self.versions

    def take(self, line: dict[str, Any]) -> bool:
        """Follow one line; False where it makes no sense here."""
        if line.get("do") == "undo" and self.can_undo:
            assert self.head is not None
            self.ahead.append(self.head)
            self.head = self.versions[self.head].parent
        elif line.get("do") == "redo" and self.ahead:
            self.head = self.ahead.pop()
        elif isinstance(line.get("text"), str) and isinstance(line.get("number"), int):
            number, parent = line["number"], line.get("parent")
            when_s = line.get("when_s")
            self.versions[number] = Version(
                number,
                line["text"],
                str(line.get("what", "")),
                float(when_s) if isinstance(when_s, int | float) else 0.0,
                parent if parent in self.versions else None,
            )
            self.head, self.ahead = number, []
        else:
            return False
        return True

    def next_line(self, text: str, what: str, when_s: float) -> dict[str, Any]:
        """The line that keeps a new version."""
        number = max(self.versions, default=0) + 1
        return {"number": number, "parent": self.head, "what": what, "when_s": when_s, "text": text}


def read_journal(file: Path) -> Journal:
    """The journal of a plan; an empty one where there is none yet."""
    journal = Journal()
    try:
        lines = file.read_bytes().split(b"\n")
    except FileNotFoundError:
        return journal
    for raw in lines:
        try:
            line = json.loads(raw)
        except ValueError:
            continue  # cut short by a crash; nothing that was answered for is in it
        if isinstance(line, dict):
            journal.take(line)
    return journal


def add_line(file: Path, journal: Journal, line: dict[str, Any]) -> None:
    """Add a line to the journal, on the disk first and then in hand; tidy it where it has grown too long."""
    append_line(file, _encoded(line))
    journal.take(line)
    if file.stat().st_size > _TIDY_BYTES or len(journal.versions) > 2 * MOST_VERSIONS:
        _tidy(file, journal)


def _tidy(file: Path, journal: Journal) -> None:
    """Write the journal anew with its newest versions only; steps forth are forgotten."""
    kept = sorted(journal.versions)[-MOST_VERSIONS:]
    if journal.head is not None and journal.head not in kept:
        kept = [journal.head, *kept]
    lines = [_line(journal.versions[number]) for number in kept if number != journal.head]
    if journal.now is not None:
        lines.append(_line(journal.now))  # the last line is where one stands
    write_whole(file, b"".join(_encoded(line) + b"\n" for line in lines))
    tidied = read_journal(file)
    journal.versions, journal.head, journal.ahead = tidied.versions, tidied.head, tidied.ahead


def _line(version: Version) -> dict[str, Any]:
    return {
        "number": version.number,
        "parent": version.parent,
        "what": version.what,
        "when_s": version.when_s,
        "text": version.text,
    }


def _encoded(line: dict[str, Any]) -> bytes:
    return json.dumps(line, ensure_ascii=False).encode("utf-8", "replace")
