"""The whole job in one hand: what was asked and what every step on the bench made of it."""

from __future__ import annotations

from dataclasses import dataclass, field

from clochewright.assembly import AssemblyPlan
from clochewright.catalogue import FittingRow, PipeRow
from clochewright.cuts import CutList, DrySizes, Spreads
from clochewright.film import FilmPlan, Skin
from clochewright.findings import Finding, Level
from clochewright.frame import Frame
from clochewright.joints import JointPlan
from clochewright.lid import LidPlan
from clochewright.plan import Plan
from clochewright.season import Season
from clochewright.strength import Limit, Opening, Strength
from clochewright.supplies import Supplies
from clochewright.weights import Weights


@dataclass(frozen=True, slots=True)
class Answer:
    """The answer to the plan's question: "yes", "no" or "only-if", and the one sentence that says it."""

    question: str
    verdict: str
    text: str


@dataclass(frozen=True, slots=True)
class Shape:
    """What a picture of the cover and its cut list take; `section_m` is the film's outline (y, z) [m]."""

    plan: Plan
    frame: Frame
    cutlist: CutList
    spreads: Spreads
    lid: LidPlan
    section_m: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Begun:
    """A frame that stands, its cuts, and its lid as it hangs by practice: what can be drawn while the rest is made.

    `findings` are about what was built already, `of_old` about old parts; `done` are the pipes that are cut. What is
    only `tried` gets no order of assembly.
    """

    plan: Plan
    pipe: PipeRow
    frame: Frame
    joints: JointPlan
    cutlist: CutList
    spreads: Spreads
    lid: LidPlan
    skin: Skin
    findings: tuple[Finding, ...]
    of_old: tuple[Finding, ...]
    done: frozenset[str]
    tried: bool

    @property
    def shape(self) -> Shape:
        """What a picture and a cut list take."""
        return Shape(self.plan, self.frame, self.cutlist, self.spreads, self.lid, self.skin.outline_m)


@dataclass(frozen=True, slots=True)
class Made:
    """What the bench made of a plan whose frame stands."""

    cutlist: CutList
    dry: DrySizes
    spreads: Spreads
    film: FilmPlan
    lid: LidPlan
    joints: JointPlan
    weights: Weights
    strength: Strength
    supplies: Supplies
    assembly: AssemblyPlan = field(kw_only=True)
    opening: Opening = field(default=Opening(), kw_only=True)

    @property
    def limits(self) -> tuple[Limit, ...]:
        """What moves the cover while it lies loose on the bed."""
        return self.strength.limits[:1]


@dataclass(frozen=True, slots=True)
class Trial:
    """One pass over the bench. `made` is None when the frame was refused; the findings say why.

    `fitting_rows` are the catalogue's rows for the kinds of fitting in the frame.
    """

    plan: Plan
    pipe: PipeRow
    frame: Frame
    made: Made | None
    findings: tuple[Finding, ...]
    fitting_rows: tuple[FittingRow, ...] = field(default=(), kw_only=True)

    @property
    def shape(self) -> Shape:
        """What a picture and a cut list take; only of a frame that stands."""
        assert self.made is not None
        made = self.made
        return Shape(self.plan, self.frame, made.cutlist, made.spreads, made.lid, made.film.section_m)

    @property
    def refused(self) -> bool:
        """Whether something stands in the way of building this."""
        return any(finding.level is Level.STOP for finding in self.findings)


@dataclass(frozen=True, slots=True)
class Job(Trial):
    """A trial with its question answered. `season` comes from `with_season`, None without it."""

    answer: Answer
    season: Season | None = field(default=None, kw_only=True)
