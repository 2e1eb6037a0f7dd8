"""The sheet, the roll it comes off, and what holds it down."""

from __future__ import annotations

from dataclasses import dataclass

from clochewright.findings import Finding
from clochewright.sources import Cited


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet as it is cut: `length_m` runs along the bed, `width_m` over it [m]."""

    name: str
    length_m: float
    width_m: float

    @property
    def area_m2(self) -> float:
        """Area of the cut sheet [m2]."""
        return self.length_m * self.width_m


@dataclass(frozen=True, slots=True)
class Roll:
    """The roll to buy, and how many. `across` says that the sheet's width is measured off along the roll."""

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
class Lath:
    """The lath along one bottom rail, with its staples and screws. `side` is left, right, front or far.

    `screws_m` are the places of the screws along it, from the front or the left end [m].
    """

    side: str
    length_m: float
    staples: int
    screws_m: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class FilmPlan:
    """The film for one cover.

    `girth_m` is over the fittings at the proudest bent, underside of rail to underside of rail; `reach_m` the same
    the other way, up one end, along the ridge and down the other; `slack_m` how much less the girth is between two
    bents [m]. `section_m` is that outline, (y, z) from the left foot over the top; `profile_m`
    the other one, (x, z) from the far foot over the top.
    `mass_kg` is the whole cut sheet's. `touches_pvc_badly` says that bare PVC pipe eats this film.
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
    touches_pvc_badly: bool = True
    findings: tuple[Finding, ...] = ()

    @property
    def area_m2(self) -> float:
        """Area of all sheets as cut [m2]."""
        return sum(sheet.area_m2 for sheet in self.sheets)

    @property
    def staples(self) -> int:
        """Staples in all laths."""
        return sum(lath.staples for lath in self.laths)

    @property
    def screws(self) -> int:
        """Screws in all laths."""
        return sum(len(lath.screws_m) for lath in self.laths)
