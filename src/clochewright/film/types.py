"""The sheet, the rolls it comes off, what holds it down, and what it can bear."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from itertools import pairwise
from typing import Any, Literal

from clochewright.film.pattern import Pattern
from clochewright.findings import Finding
from clochewright.frame import Vec
from clochewright.sources import Cited

_HARDLY = 1e-9


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet as it is cut: `length_m` runs along the bed, `width_m` over it [m]; of a gable, along and up."""

    name: str
    length_m: float
    width_m: float

    @property
    def area_m2(self) -> float:
        """Area of the cut sheet [m2]."""
        return self.length_m * self.width_m


@dataclass(frozen=True, slots=True)
class Roll:
    """The roll to buy, and how many. `across` says that the first sheet's width is measured off along the roll."""

    label: str
    width_m: float
    length_m: float
    across: bool
    count: int = 1

    @property
    def area_m2(self) -> float:
        """Area of one whole roll [m2]."""
        return self.length_m * self.width_m


@dataclass(frozen=True, slots=True)
class Placed:
    """A sheet on a roll: `along_m` from the roll's end and `across_m` from its edge [m], turned or not."""

    sheet: Sheet
    along_m: float
    across_m: float
    turned: bool

    @property
    def run_m(self) -> float:
        """How much of the roll's length it takes [m]."""
        return self.sheet.width_m if self.turned else self.sheet.length_m

    @property
    def breadth_m(self) -> float:
        """How much of the roll's width it takes [m]."""
        return self.sheet.length_m if self.turned else self.sheet.width_m


@dataclass(frozen=True, slots=True)
class Leftover:
    """What a roll leaves in one piece: its end, or a strip beside the sheets."""

    name: Literal["end", "side"]
    length_m: float
    width_m: float


@dataclass(frozen=True, slots=True)
class CutRoll:
    """One roll with the sheets that come off it, and what is left [m]."""

    label: str
    width_m: float
    length_m: float
    placed: tuple[Placed, ...]
    left: tuple[Leftover, ...]


@dataclass(frozen=True, slots=True)
class Lath:
    """The laths along one bottom rail of one cover, with their staples and screws. `side` is left, right, front or far.

    Where panels open there are more: "opening-top" and "opening-bottom" along the edges of what stays, and on each
    panel "panel-top", "panel-bottom", "panel-front" and "panel-far". `body` is what the lath is screwed to.
    `length_m` is that of the rail with its fittings; `runs_m` are the pieces of lath on it, from and to, and `screws_m`
    the places of the screws, from the front or the left end [m]. Without runs one piece is as long as the rail;
    `crowded` says that nothing is free on the rail for any piece.
    """

    side: str
    length_m: float
    staples: int
    screws_m: tuple[float, ...]
    runs_m: tuple[tuple[float, float], ...] = ()
    cover: int = 1
    body: str = "lid"
    crowded: bool = False

    @property
    def pieces_m(self) -> tuple[float, ...]:
        """Lengths of its pieces [m]."""
        return tuple(stop - start for start, stop in self.runs_m or ((0.0, self.length_m),))

    @property
    def wood_m(self) -> float:
        """Length of all its pieces [m]."""
        return sum(self.pieces_m)

    @property
    def joints_m(self) -> tuple[float, ...]:
        """Where one piece ends and the next begins right there [m]."""
        return tuple(stop for (_, stop), (start, _) in pairwise(self.runs_m) if start - stop < _HARDLY)


@dataclass(frozen=True, slots=True)
class LathRoll:
    """Film rolled on a lath: turns as they come out, whole half turns to make, and how thick the roll gets [m].

    `takes_m` is the film that those half turns take up; `edge_m` how much film lies on each edge of the lath, and
    `width_m` and `lath_m` are the lath's own width and thickness [m].
    """

    turns_count: float
    half_turns: int
    thickness_m: float
    takes_m: float
    edge_m: float
    width_m: float
    lath_m: float


@dataclass(frozen=True, slots=True)
class LathSeat:
    """How a lath sits on the outer face of its rail [m].

    `rail_up_m` is the middle of the rail above the rim, `edge_up_m` the lath's lower edge, level with the rail's
    underside; `clear_m` is left under it with its film. Screws go in `screw_up_m` above that edge, at the rail's
    middle. `proud_m` is how far the roll stands out past the board; below zero it stays behind it.
    """

    rail_up_m: float
    edge_up_m: float
    clear_m: float
    screw_up_m: float
    proud_m: float


@dataclass(frozen=True, slots=True)
class ScrewFit:
    """The lath screw, and how long it is at least and at most for its point to end where it should [m].

    `points` is "inside" (in the pipe's bore) or "through" (out on the far side); `fits` says that one was found, and
    `pilot_m` is the hole to drill for it [m].
    """

    key: str
    name: str
    length_m: float
    least_m: float
    most_m: float
    points: str
    fits: bool
    pilot_m: float


@dataclass(frozen=True, slots=True)
class FilmChoice:
    """One film for this cover: its cost, mass, light and life. `joins` are the laps in its sheets."""

    key: str
    name: str
    thickness: Cited | None
    life_years: Cited | None
    light: Cited | None
    mass_kg: Cited
    joins: int
    price: Decimal | None
    chosen: bool

    @property
    def per_season_money(self) -> Decimal | None:
        """Its price shared out among the seasons it lasts; at least one."""
        if self.price is None or self.life_years is None:
            return None
        return self.price / Decimal(str(max(1.0, self.life_years.value)))


@dataclass(frozen=True, slots=True)
class SecondCover:
    """Another cover for the same frame: fleece, mesh or shade cloth, with its own sheets and rolls."""

    key: str
    name: str
    sheets: tuple[Sheet, ...]
    rolls: tuple[CutRoll, ...]
    mass_kg: Cited | None
    light: Cited | None
    joins: int


@dataclass(frozen=True, slots=True)
class OldSheet:
    """An old sheet judged: "use", "patch" or "replace", and how it covers: "yes", "trimmed" or "no"."""

    verdict: Literal["use", "patch", "replace"]
    covers: Literal["yes", "trimmed", "no"]


@dataclass(frozen=True, slots=True)
class Panel:
    """The largest panel of film that nothing holds up, in the design gust; all of it an estimate.

    `span_m` is its shorter way; `sag_m` how far it bulges, `stress_Pa` how hard it is stretched, `largest_m` how wide
    it might be before it stays stretched, by `governs` ("gust" or "steady wind"); `least_pitch_deg` under what slope a
    panel of this span keeps water.
    """

    span_m: float
    gust_m_s: float
    pressure_Pa: Cited
    sag_m: Cited
    stress_Pa: Cited
    largest_m: Cited
    governs: str
    least_pitch_deg: float


@dataclass(frozen=True, slots=True)
class BodyFilm:
    """The film of one body: its sheets, each whole, and the flat faces of its surface in space, `skin_m2` in all."""

    body: str
    sheets: tuple[Sheet, ...]
    skin_m2: float
    faces: tuple[tuple[Vec, ...], ...]

    @property
    def area_m2(self) -> float:
        """Area of its sheets as cut [m2]."""
        return sum(sheet.area_m2 for sheet in self.sheets)


@dataclass(frozen=True, slots=True)
class OrderStep:
    """One step of covering: the key of its words under [film.order], and the values that fill them."""

    key: str
    values: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class FilmPlan:
    """The film for one cover, or for several that stand end to end.

    `girth_m` is over the fittings at the proudest bent, underside of rail to underside of rail; `reach_m` what the
    sheet takes the other way, its overhangs left out; `slack_m` how much less the girth is between two bents [m].
    `section_m` is that outline, (y, z) from the left foot over the top; `profile_m` the other one, (x, z) from the far
    foot over the top. `sheets` are all that is cut, for all covers; `joins` the laps in them, and `taped_m` the tape on
    all laps, gables included. `mass_kg` is that of the whole cut sheets. `touches_pvc_badly` says that bare PVC pipe
    eats this film. `bodies` says what of it belongs to each body.
    """

    kind: str
    sheets: tuple[Sheet, ...]
    roll: Roll | None
    laths: tuple[Lath, ...]
    overhang_m: float
    girth_m: float
    reach_m: float
    slack_m: float
    section_m: tuple[tuple[float, float], ...]
    profile_m: tuple[tuple[float, float], ...]
    thickness: Cited
    mass_kg: Cited
    pattern: Pattern
    touches_pvc_badly: bool = True
    findings: tuple[Finding, ...] = ()
    covers: int = 1
    rolls: tuple[CutRoll, ...] = ()
    joins: int = 0
    taped_m: float = 0.0
    lath_roll: LathRoll | None = None
    seat: LathSeat | None = None
    screw: ScrewFit | None = None
    panel: Panel | None = None
    choices: tuple[FilmChoice, ...] = ()
    more: tuple[SecondCover, ...] = ()
    old: OldSheet | None = None
    order: tuple[OrderStep, ...] = ()
    bodies: tuple[BodyFilm, ...] = ()

    @property
    def area_m2(self) -> float:
        """Area of all sheets as cut [m2]."""
        return sum(sheet.area_m2 for sheet in self.sheets)

    @property
    def alike(self) -> tuple[tuple[Sheet, int], ...]:
        """The sheets, those of one size once with their number."""
        found: dict[tuple[float, float], list[Sheet]] = {}
        for sheet in self.sheets:
            found.setdefault((round(sheet.length_m, 6), round(sheet.width_m, 6)), []).append(sheet)
        return tuple((same[0], len(same)) for same in found.values())

    @property
    def staples(self) -> int:
        """Staples in all laths."""
        return sum(lath.staples for lath in self.laths)

    @property
    def screws(self) -> int:
        """Screws in all laths."""
        return sum(len(lath.screws_m) for lath in self.laths)
