"""The questions of `clochewright measure`: one at a time, in plain words, asked again until the answer makes sense."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeVar

import typer

from clochewright.catalogue import KINDS, Catalogue, FittingRow, Legs, mean_m, turn_deg, unlike_m
from clochewright.errors import CatalogueError, ClochewrightError, MeasureError, Mistake
from clochewright.findings import word
from clochewright.job import Trial
from clochewright.measures import Units, read_length, show_length

T = TypeVar("T")

# A comma parts two readings, unless it stands between two figures: "3,5 cm" is one reading.
_BETWEEN_READINGS = re.compile(r"(?<![0-9]),|,(?![0-9])|;")


@dataclass(frozen=True, slots=True)
class Given:
    """What was said on the command line, as it was written; the rest is asked for."""

    kind: str | None = None
    port: str | None = None
    overall: str | None = None
    depth: str | None = None
    hub: str | None = None
    bend_legs: str | None = None

    @property
    def is_whole(self) -> bool:
        """Whether nothing that is needed is left out."""
        needed = [self.kind, self.depth, self.hub] + ([] if self.kind == "cap" else [self.overall])
        return all(text is not None for text in needed)


def say_text(key: str, **values: object) -> None:
    """Print one text of this command."""
    typer.echo(word(f"cli.measure.{key}", **values))


def fitting_name(kind: str, port: str | None = None) -> str:
    """What people call a kind of fitting, or one socket of it."""
    name = word(f"supplies.fitting.{kind}")
    return name if port is None else word("cli.measure.one-socket", fitting=name, port=port)


def ask_kind(job: Trial, catalogue: Catalogue) -> str:
    """Ask which fitting; those in the plan's frame stand first, the most of them at the top."""
    used = Counter(fitting.kind for fitting in job.frame.fittings)
    kinds = [kind for kind, _ in used.most_common()] + [kind for kind in KINDS if kind not in used]
    say_text("which")
    for number, kind in enumerate(kinds, 1):
        row = catalogue.fitting(job.pipe.key, kind)
        line = {"number": f"{number:2}", "fitting": fitting_name(kind), "sure": _how_sure(row)}
        say_text("used" if kind in used else "unused", count=used[kind], **line)
    return ask(lambda answer: read_kind(answer, kinds), "number", default="1")


def read_kind(answer: str, numbered: list[str] | None = None) -> str:
    """The kind of fitting that an answer means: its number in the list, its key or its name. CatalogueError if none."""
    plain = "-".join(answer.casefold().split())
    if numbered and plain.isdecimal() and 1 <= int(plain) <= len(numbered):
        return numbered[int(plain) - 1]
    names = {"-".join(fitting_name(kind).casefold().split()): kind for kind in KINDS} | {kind: kind for kind in KINDS}
    if plain in names:
        return names[plain]
    what = f'There is no fitting called "{answer[:40]}".'
    raise CatalogueError((Mistake("", what, f"There is {', '.join(KINDS)}."),))


def ask_overall(kind: str, port: str | None, units: Units, sure: bool) -> float:
    """Ask for the height over the table [m], in the words that suit the fitting."""
    say_text("stand-straight" if turn_deg(kind, port) == 0 else "stand-bent", port=_on(port))
    return ask(lambda answer: read_mean(answer, units, sure), "overall")


def ask_other(kind: str, port: str, units: Units) -> float | None:
    """Ask for the height on a socket that may be like the first two; None where it is left out."""
    say_text("other", fitting=fitting_name(kind).lower(), port=_on(port))
    return ask(lambda answer: read_mean(answer, units, False) if answer.strip() else None, "overall", default="")


def ask_length(question: str, units: Units, **values: object) -> float:
    """Ask for a depth or a diameter [m]: first where to put the tape, then the reading."""
    say_text(f"{question}-how", **values)
    return ask(lambda answer: read_mean(answer, units, False), question)


def ask_bend() -> Legs | None:
    """Ask for the three lengths of an elbow's bend; None where they are left out."""
    say_text("bend-how")
    return ask(lambda answer: read_legs(answer) if answer.strip() else None, "bend", default="")


def ask(read: Callable[[str], T], question: str, default: str | None = None) -> T:
    """Ask until `read` takes the answer."""
    while True:
        answer = typer.prompt(word(f"cli.measure.{question}"), default=default, show_default=bool(default))
        try:
            return read(str(answer))
        except ClochewrightError as wrong:
            typer.echo(str(wrong))


def read_mean(text: str, units: Units, sure: bool) -> float:
    """One reading, or the mean of several parted by commas [m].

    MeasureError when one can't be read, or when they differ by more than fittings of one make do and nobody is `sure`.
    """
    readings_m = [float(read_length(part)) for part in _BETWEEN_READINGS.split(text)]
    apart_m = unlike_m(readings_m)
    if apart_m and not sure:
        raise MeasureError(word("cli.measure.unlike", apart=show_length(apart_m, units)))
    return mean_m(readings_m)


def read_legs(text: str) -> Legs:
    """The three lengths of a bend, parted by commas. MeasureError if there are not three."""
    parts = _BETWEEN_READINGS.split(text)
    if len(parts) != 3:
        raise MeasureError(word("cli.measure.three"))
    return Legs(*(float(read_length(part)) for part in parts))


def _how_sure(row: FittingRow | None) -> str:
    if row is None:
        return word("cli.measure.unknown")
    grades = {str(size.grade) for socket in row.sockets for size in (socket.centre_to_stop, socket.depth)}
    return ", ".join(sorted(grades))


def _on(port: str | None) -> str:
    """What to call the socket that the fitting stands on."""
    return word("cli.measure.any-socket") if port is None else word("cli.measure.this-socket", port=port)
