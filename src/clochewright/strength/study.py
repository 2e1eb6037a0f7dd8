"""One cover made ready for every case: its model at the likely figures and at both ends of their bands."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from clochewright.catalogue import PipeRow, pipe_section
from clochewright.film import FilmPlan
from clochewright.frame import Frame, covers
from clochewright.joints import JointPlan
from clochewright.lid import Fixing, LidPlan
from clochewright.plan import Plan
from clochewright.strength import material
from clochewright.strength.air import Code
from clochewright.strength.diagonals import with_diagonals
from clochewright.strength.faces import Outline, outline
from clochewright.strength.hands import grips, with_hands
from clochewright.strength.model import Level, at_level, model_frame, shear_modulus
from clochewright.strength.patterns import Patterns, make_patterns
from clochewright.strength.resistance import (
    SCREW_IN_PIPE_N,
    STAPLE_N,
    FILM_E_Pa,
    FILM_SLACK_share,
    FILM_YIELD_Pa,
    THREAD_m,
    hold_of,
    in_pipe_N,
    timber_named,
)
from clochewright.strength.shares import Bears, Solved, solve
from clochewright.strength.snow import roof_share
from clochewright.strength.structure import Contact, Structure
from clochewright.weights import Weights

Bands = tuple[Level, ...]
ALL_BANDS: Bands = ("likely", "low", "high")
LIKELY: Bands = ("likely",)
NOT_NOW: Bands = ()  # only whether it lifts while it lies loose
STRAP_N_m = 2e4  # 25 mm webbing over the cover to both boards: estimate


@dataclass(frozen=True, slots=True)
class Extras:
    """What can be added to a built cover: latches, straps over it, bolts for screws at hinges and latches, diagonals.

    Diagonals run in the end bays' slopes and walls, from a foot of the end bent to the top of the next.
    """

    latches: int = 0
    straps: int = 0
    bolts: bool = False
    diagonals: bool = False


@dataclass(frozen=True, slots=True)
class Asked:
    """What the strength step is asked about: the plan and what the earlier steps made of it."""

    frame: Frame
    plan: Plan
    lid: LidPlan
    joints: JointPlan
    film: FilmPlan
    weights: Weights
    pipe: PipeRow
    mark_of: Mapping[str, str]
    extras: Extras = Extras()


@dataclass(frozen=True, slots=True)
class Study:
    """One cover at one level of the estimates, solved for its unit patterns."""

    level: Level
    code: Code
    cover: Frame
    lid: LidPlan
    shape: Outline
    patterns: Patterns
    solved: Solved
    E_Pa: float
    hoop_Pa: float
    film: tuple[float, float, float]
    film_holds_N_m: float
    extras: Extras
    timber: str
    at_pipe_N: float  # what a hinge or a latch bears there

    def bears(self, temperature_degC: float, duration_s: float) -> Bears:
        """What the parts bear at a temperature [degC] under a load of some length [s]."""
        allowed_Pa = at_level(material.allowable_stress(temperature_degC, duration_s), self.level)
        strength_Pa = at_level(material.strength_at(material.ROOM_DEGC, material.GUST_S), self.level)
        members = len(self.solved.model.pieces)
        stress = np.full(members, allowed_Pa)
        if self.hoop_Pa:
            # What bending the hoop has locked in is there for good, but can't grow: it takes its part of the strength
            # without the safety that loads get. Heat lowers both alike.
            left_Pa = allowed_Pa * max(1 - self.hoop_Pa / strength_Pa, 0.05)
            hoops = np.array([piece.role == "hoop" for piece in self.solved.model.pieces])
            stress[hoops] = left_Pa
        timber, _ = timber_named(self.timber)
        hold = hold_of(timber, at_level(THREAD_m, self.level), self.at_pipe_N)
        return Bears(stress, at_level(SCREW_IN_PIPE_N, self.level), hold, hold)


def first_cover(asked: Asked) -> tuple[Frame, LidPlan, int]:
    """The first cover of a row, its middle at x = 0, with its own hinges and latches; and how many covers there are.

    Where only panels open, the straps of the frame that stays stand in for hinges.
    """
    row = covers(asked.frame)
    cover, middle_m = row[0]
    mine = {pipe.id for pipe in cover.pipes}

    def moved(fixings: tuple[Fixing, ...]) -> tuple[Fixing, ...]:
        return tuple(
            replace(f, position_m=(f.position_m[0] - middle_m, f.position_m[1], f.position_m[2]))
            for f in fixings
            if f.pipe in mine
        )

    if asked.lid.saddles:  # panels open: what stays is held by its straps, and carries what presses on the panels
        return cover, replace(asked.lid, hinges=moved(asked.lid.saddles), latches=()), len(row)
    lid = replace(asked.lid, hinges=moved(asked.lid.hinges), latches=moved(asked.lid.latches))
    return cover, _more_latches(cover, lid, asked.extras.latches), len(row)


def code_of(plan: Plan) -> Code:
    """Whose rules for wind and snow."""
    if plan.site.code != "by-units":
        return plan.site.code
    return "US" if plan.units == "inch" else "EN"


def study(asked: Asked, level: Level = "likely") -> Study:
    """Model one cover and solve its unit patterns; the pipe's wall must be known.

    Raises:
        ValueError: the pipe's wall is not known.
    """
    if asked.pipe.wall is None or asked.pipe.mass_kg_m is None:
        raise ValueError("strength needs the pipe's wall")
    cover, lid, count = first_cover(asked)
    section = pipe_section(asked.pipe.outside_diameter.value, asked.pipe.wall.low)
    E_Pa = at_level(material.modulus(material.ROOM_DEGC, material.GUST_S), level)
    model = model_frame(cover, lid, asked.joints, section, E_Pa, shear_modulus(E_Pa), level, grips=grips(cover, lid))
    model = with_hands(model, cover)
    if asked.extras.straps:
        model = replace(model, structure=_strapped(model.structure, asked.extras.straps, cover.length_m))
    shape = outline(cover, model)
    if asked.extras.diagonals:
        model = with_diagonals(model, shape)
    code = code_of(asked.plan)
    slides = level != "low"
    patterns = make_patterns(
        cover,
        model,
        shape,
        asked.film,
        asked.weights,
        asked.pipe.mass_kg_m.value,
        lambda slope_deg: roof_share(code, slope_deg, slides),
        count,
    )
    thickness_m = asked.film.thickness.value
    film = (thickness_m, at_level(FILM_E_Pa, level, harms=True), at_level(FILM_SLACK_share, level))
    return Study(
        level,
        code,
        cover,
        lid,
        shape,
        patterns,
        solve(model, patterns),
        E_Pa,
        _locked_in(asked.frame, E_Pa),
        film,
        _film_holds(asked.plan, thickness_m, level),
        asked.extras,
        asked.plan.bed.timber,
        at_level(in_pipe_N(asked.pipe, bolted=asked.extras.bolts), level),
    )


def _locked_in(frame: Frame, E_Pa: float) -> float:
    """Stress that bending has locked into the hoops after a month [Pa]: the elastica's strain, relaxed as it creeps."""
    if frame.hoop is None:
        return 0.0
    slow, fast = material.creep(material.MONTH_S)
    return frame.hoop.strain_share * E_Pa * (slow + fast) / 2


def _film_holds(plan: Plan, thickness_m: float, level: Level) -> float:
    """What holds the film along a metre of rail [N/m]: the lath's screws in the pipe, or the film itself.

    Staples only hold the film to the lath until it is rolled up; rolled, the lath's screws hold it.
    """
    if plan.film.screw_gap_m <= 0:
        return at_level(STAPLE_N, level) / max(plan.film.staple_gap_m, 0.01)
    screws = at_level(SCREW_IN_PIPE_N, level) / plan.film.screw_gap_m
    return min(screws, at_level(FILM_YIELD_Pa, level) * thickness_m)


def _more_latches(cover: Frame, lid: LidPlan, more: int) -> LidPlan:
    """So many latches more, at the ends of the rail that opens."""
    if not more or not lid.latches:
        return lid
    y = lid.latches[0].position_m[1]
    rail = sorted(
        (pipe for pipe in cover.pipes if pipe.role == "side rail" and pipe.path_m[0][1] * y > 0),
        key=lambda pipe: -abs(pipe.path_m[0][0] + pipe.path_m[-1][0]),
    )
    added = []
    for n, pipe in enumerate((rail[0], rail[-1] if len(rail) < 2 else rail[1])[:more]):
        middle = (pipe.path_m[0][0] + pipe.path_m[-1][0]) / 2
        added.append(Fixing(f"L+{n + 1}", pipe.id, (middle, y, 0.0)))
    return replace(lid, latches=(*lid.latches, *added))


def _strapped(structure: Structure, straps: int, length_m: float) -> Structure:
    """Straps over the top, evenly along the cover: they only hold down."""
    nodes = structure.nodes_m
    high = np.flatnonzero(nodes[:, 2] > nodes[:, 2].max() - 0.03)
    wanted = [length_m * ((i + 0.5) / straps - 0.5) for i in range(straps)]
    at = {int(high[np.argmin(np.abs(nodes[high, 0] - x))]) for x in wanted}
    contacts = tuple(Contact(node, 2, STRAP_N_m, -1.0) for node in sorted(at))
    return replace(structure, contacts=(*structure.contacts, *contacts))


def spread(values: Mapping[Level, float]) -> tuple[float, float, float]:
    """Likely, lowest and highest of what came out at the levels that were worked out."""
    return values["likely"], min(values.values()), max(values.values())
