"""What the steps of the sheet are made of: figures, fields, sources, and the job seen in the units chosen."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from clochewright.findings import word
from clochewright.job import Job, Made
from clochewright.measures import Units, show_about, show_length
from clochewright.plan import Plan
from clochewright.sources import Cited


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure: what it is, its value as shown, and from where to where or on what it rests."""

    label: str
    value: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class SourceRow:
    """One outside figure: what, its value with its band, how sure it is, where it comes from."""

    figure: str
    value: str
    grade: str
    source: str


@dataclass(frozen=True, slots=True)
class Seen:
    """A job whose cover can be built, in the units it is looked at in."""

    job: Job
    made: Made
    units: Units

    @property
    def plan(self) -> Plan:
        """The plan of the job."""
        return self.job.plan

    def length(self, length_m: float) -> str:
        """A length as on the tape."""
        return show_length(length_m, self.units)

    def long(self, length_m: float) -> str:
        """A length in feet and inches, or millimetres."""
        return show_length(length_m, self.units, style="long")

    def near(self, length_m: float) -> str:
        """A length no finer than a hand feels."""
        return show_about(length_m, self.units)

    def fine(self, length_m: float) -> str:
        """A length finer than the tape, as tables have it."""
        return f"{length_m / 0.0254:.3f} in" if self.units == "inch" else f"{length_m * 1000:.1f} mm"

    def figure(self, name: str, value: str, note: str = "", **values: object) -> Figure:
        """A figure with its label, and the note of that name, from the words' [web.figure]."""
        said = word(f"web.figure.{note}", **values) if note else ""
        return Figure(word(f"web.figure.{name}"), value, said)

    def source(self, figure: str, cited: Cited, show: Callable[[float], str]) -> SourceRow:
        """A cited figure with its band."""
        value, low, high = show(cited.value), show(cited.low), show(cited.high)
        if low != high:
            value = f"{value} ({between(low, high)})"
        return SourceRow(figure, value, str(cited.grade), cited.source)


@dataclass(frozen=True, slots=True)
class Shown:
    """What every step has for its template; a step adds what is its own.

    With `figures_first` the figures stand above the template, where that is long. `drawings` are the pictures where a
    plan decides which there are, in place of the step's own.
    """

    gist: str
    figures: tuple[Figure, ...] = ()
    sources: tuple[SourceRow, ...] = ()
    figures_first: bool = field(default=False, kw_only=True)
    drawings: tuple[str, ...] = field(default=(), kw_only=True)


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the sheet.

    `fields` gives the plan's keys that are set here, for a plan; `show` the data its template gets. `finding_steps` are
    the bench's steps whose findings stand here, `finding_keys` single findings of other steps. `drawings` are the
    pictures that stand in it; `told` are findings that it tells by its own figures.
    """

    key: str
    fields: Callable[[Plan], tuple[str, ...]]
    show: Callable[[Seen], Shown]
    finding_steps: tuple[str, ...] = ()
    finding_keys: tuple[str, ...] = ()
    finding_wheres: tuple[str, ...] = ()
    drawings: tuple[str, ...] = ()
    told: tuple[str, ...] = ()

    @property
    def title(self) -> str:
        """Its heading."""
        return word(f"web.step.{self.key}")

    @property
    def how(self) -> str:
        """How it was worked out, in a few sentences."""
        return word(f"web.how.{self.key}")

    @property
    def template(self) -> str:
        """Its template."""
        return f"{self.key}/step.html"


def between(low: str, high: str) -> str:
    """A band in words; one figure where both ends read the same."""
    return low if low == high else word("web.figure.range", low=low, high=high)


def entries(path: str, names: Sequence[str], count: int) -> tuple[str, ...]:
    """The keys of a list of tables, one empty row past its end."""
    return tuple(f"{path}[{row}].{name}" for row in range(count + 1) for name in names)
