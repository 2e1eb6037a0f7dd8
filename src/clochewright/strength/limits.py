"""The limits: how hard the wind, how deep the snow, how heavy a hand, each with what governs and a band."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from clochewright.findings import word
from clochewright.plan import Plan
from clochewright.sources import Cited, Grade
from clochewright.strength import material, snow
from clochewright.strength.air import DIRECTIONALITY, gust_pressure_Pa
from clochewright.strength.cases import (
    SNOW_CASES,
    WindMix,
    film_pull_N_m,
    pattern_force,
    pattern_turn,
    snow_weights,
)
from clochewright.strength.model import Level, at_level
from clochewright.strength.roots import Cases, Root, find_root
from clochewright.strength.shares import second_order_gain
from clochewright.strength.structure import Floats
from clochewright.strength.study import Study, spread
from clochewright.strength.types import Limit
from clochewright.strength.windcases import WindCase, wind_cases

FRICTION = Cited(0.4, 0.3, 0.5, Grade.FROM_MEMORY, "plastic fittings on a wooden rim, friction 0.3 to 0.5")
DRIFT = Cited(1.8, 1.6, 2.8, Grade.ESTIMATE, "EN 1991-1-3 5.3.6, drift at a wall: 0.8 and 0.8 to 2.0 more, for a shed "
              "roof about 3 m deep and 2 m higher")  # fmt: skip
START_Pa, START_N = 150.0, 100.0
WIND_SOURCE = {
    "US": "ASCE 7-16 chapter 27, service level, working stress",
    "EN": "EN 1991-1-4 chapter 7, c_pe,10, unfactored, working stress",
}
SNOW_SOURCE = {"US": "ASCE 7-16 chapter 7, unheated", "EN": "EN 1991-1-3 chapter 5"}


@dataclass(frozen=True, slots=True)
class Found:
    """One limit with the state of the frame there, at the likely figures, and how the load came."""

    limit: Limit
    study: Study
    root: Root
    temperature_degC: float
    duration_s: float
    came: str = ""


Studies = Mapping[Level, Study]


def wind_limits(
    studies: Studies, plan: Plan, mark_of: Mapping[str, str], only: Sequence[str] = ("shut", "hot", "open-end")
) -> list[Found]:
    """Gusts: shut and latched, the same on a hot day, and with the front end open; `only` some of them."""
    out = []
    sway = _Sway(studies["likely"])
    starts: dict[Level, float] = {}
    for key, open_end, degC in (
        ("shut", False, material.ROOM_DEGC),
        ("hot", False, material.SUN_DEGC),
        ("open-end", True, material.ROOM_DEGC),
    ):
        if key not in only:
            continue
        shape = studies["likely"].shape
        cases = wind_cases(shape, plan.bed.height_m, studies["likely"].code, open_end)
        rooted = {level: _wind_root(one, cases, degC, starts.get(level, START_Pa)) for level, one in studies.items()}
        starts = {level: max(root.scale, 1.0) for level, root in rooted.items()}
        gain = sway.of(rooted["likely"], degC, material.GUST_S)
        gusts, film = {}, {}
        for level, root in rooted.items():
            q_Pa = _after_second_order(root.scale, gain, studies, level, rooted)
            film_q_Pa = _film_limit(studies[level], cases)
            film[level] = film_q_Pa < q_Pa
            directionality = at_level(DIRECTIONALITY, level, harms=True)
            one_Pa = gust_pressure_Pa(studies[level].code, 1.0, plan.site.exposure, directionality)
            gusts[level] = math.sqrt(min(q_Pa, film_q_Pa) / one_Pa)
        root, likely = rooted["likely"], studies["likely"]
        governs = word("strength.governs.film") if film["likely"] else governing(likely, root, mark_of)
        value, low, high = spread(gusts)
        limit = Limit(
            word(f"strength.case.{key}"), "gust_m_s", value, low, high, governs, WIND_SOURCE[likely.code], key
        )
        out.append(Found(limit, likely, root, degC, material.GUST_S, cases[root.case].name))
    return out


def _wind_root(one: Study, cases: Sequence[WindCase], degC: float, start_Pa: float) -> Root:
    mix = WindMix(one.patterns, one.shape, cases, one.film)
    return find_root(one.solved, mix.at, one.bears(degC, material.GUST_S), start_Pa)


def _film_limit(one: Study, cases: Sequence[WindCase]) -> float:
    """The pressure at which the film pulls its lath off, or yields [Pa]; its pull grows evenly with pressure's 2/3."""
    q_Pa = START_Pa
    for _ in range(30):
        pull = film_pull_N_m(one.shape, cases, q_Pa, one.film)
        if pull <= 0:
            return math.inf
        step = (one.film_holds_N_m / pull) ** 1.3
        q_Pa *= step
        if abs(step - 1) < 1e-4:
            break
    return q_Pa


class _Sway:
    """How much the frame's own movement adds at a limit: c in a = 1/(1 - c λ), λ the share of the first-order limit.

    One second-order solution at λ = 1 tells c; where that buckles, at less. For likes of that case (the same load,
    more or less of it, on a softer or stiffer pipe) c goes with the load over the modulus.
    """

    def __init__(self, one: Study) -> None:
        self._one = one
        self._per_load: float | None = None

    def of(self, root: Root, degC: float, duration_s: float) -> float:
        ratio = at_level(material.modulus(degC, duration_s), self._one.level) / self._one.E_Pa
        if root.scale <= 0 or root.what == "off":
            return 0.0
        if self._per_load is None:
            c = self._solved(root, ratio, degC, duration_s)
            self._per_load = c * ratio / root.scale
        return self._per_load * root.scale / ratio

    def _solved(self, root: Root, ratio: float, degC: float, duration_s: float) -> float:
        bears = self._one.bears(degC, duration_s)
        for share in (1.0, 0.5, 0.25):
            gain = second_order_gain(self._one.solved, root.weights * share, root.open, ratio, bears)
            if math.isfinite(gain):
                return (1 - 1 / gain) / share
        return 4.0  # it buckles under a quarter of what bends it: a fifth is what is left


def _after_second_order(
    scale: float, gain: float, studies: Studies, level: Level, rooted: Mapping[Level, Root]
) -> float:
    """λ/(1 - c λ) = 1 gives λ = 1/(1 + c); c goes with the load over the modulus."""
    likely = rooted["likely"].scale
    if likely <= 0:
        return scale
    c = gain * (scale / likely) * (studies["likely"].E_Pa / studies[level].E_Pa)
    return scale / (1 + c)


def snow_limits(
    studies: Studies, plan: Plan, mark_of: Mapping[str, str], only: Sequence[str] = ("fresh", "wet", "drift")
) -> list[Found]:
    """Snow as deep as it fell: fresh for a day, wet for a week, blown against the wall of a lean-to; `only` some."""
    out = []
    sway = _Sway(studies["likely"])
    kinds = [("fresh", snow.FRESH_kg_m3, material.DAY_S), ("wet", snow.WET_kg_m3, material.WEEK_S)]
    drifts = plan.cover.shape == "lean-to" and plan.lean_to.wall_behind
    if drifts:
        kinds.append(("drift", snow.SETTLED_kg_m3, material.WEEK_S))
    for key, density, duration_s in [kind for kind in kinds if kind[0] in only]:
        depths, roots = {}, {}
        for level, one in studies.items():
            factor = at_level(DRIFT, level, harms=True) / _slid(one) if key == "drift" else 1.0
            bears = one.bears(material.FROST_DEGC, duration_s)
            root = find_root(one.solved, _snow_at(one, factor), bears, START_Pa * 4)
            roots[level] = root
        gain = sway.of(roots["likely"], material.FROST_DEGC, duration_s)
        for level, root in roots.items():
            ground_Pa = _after_second_order(root.scale, gain, studies, level, roots)
            depths[level] = snow.depth_m(ground_Pa, at_level(density, level, harms=True))
        value, low, high = spread(depths)
        likely = studies["likely"]
        governs = governing(likely, roots["likely"], mark_of)
        source = f"{SNOW_SOURCE[likely.code]}; {density.source}"
        limit = Limit(word(f"strength.case.{key}"), "snow_depth_m", value, low, high, governs, source, key)
        came = SNOW_CASES[roots["likely"].case]
        out.append(Found(limit, likely, roots["likely"], material.FROST_DEGC, duration_s, came))
    return out


def _snow_at(one: Study, factor: float) -> Cases:
    def at(ground_Pa: float, chosen: Sequence[int] | None) -> Floats:
        every = snow_weights(one.patterns, one.code, ground_Pa, factor)
        return every if chosen is None else every[list(chosen)]

    return at


def _slid(one: Study) -> float:
    """What of the snow stays on the slope where it slides, over where a wall holds it [1]."""
    slopes = [face.slope_deg for face in one.shape.faces if face.slope_deg < 80]
    slope_deg = min(slopes, default=0.0)
    held = snow.roof_share(one.code, slope_deg, False)
    return snow.roof_share(one.code, slope_deg, one.level != "low") / held if held else 1.0


def hand_limits(studies: Studies, mark_of: Mapping[str, str]) -> list[Found]:
    """A person leaning on the middle of the ridge, and of the rail: an accident, so short."""
    out = []
    for key, pattern in (("lean-ridge", "hand ridge"), ("lean-rail", "hand rail")):
        if pattern not in studies["likely"].patterns.row:
            continue
        forces, roots = {}, {}
        for level, one in studies.items():
            bears = one.bears(material.ROOM_DEGC, material.GUST_S)
            roots[level] = find_root(one.solved, _hand_at(one, pattern), bears, START_N)
            forces[level] = roots[level].scale
        value, low, high = spread(forces)
        governs = governing(studies["likely"], roots["likely"], mark_of)
        limit = Limit(word(f"strength.case.{key}"), "force_N", value, low, high, governs, "statics", key)
        out.append(Found(limit, studies["likely"], roots["likely"], material.ROOM_DEGC, material.GUST_S))
    return out


def _hand_at(one: Study, pattern: str) -> Cases:
    return lambda force_N, _: one.patterns.mix({"own": 1.0, pattern: force_N})[None]


def loose_limits(studies: Studies, plan: Plan) -> list[Limit]:
    """Gusts that move the shut cover as a whole: hinged but not latched it opens; loose it slides or tips."""
    found: dict[str, dict[Level, float]] = {"unlatched": {}, "slides": {}}
    names: dict[str, str] = {}
    for level, one in studies.items():
        structure, lengths = one.solved.model.structure, one.solved.prepared.shape.length_m
        members = structure.members
        a = structure.nodes_m[members.start] + members.start_arm_m
        b = structure.nodes_m[members.stop] + members.stop_arm_m
        half_m = one.cover.width_m / 2
        force = pattern_force(one.patterns, lengths)
        turns = {
            s: pattern_turn(one.patterns, (a + b) / 2, structure.nodes_m, lengths, s * half_m) for s in (1.0, -1.0)
        }
        cases = wind_cases(one.shape, plan.bed.height_m, one.code, False)
        unit = WindMix(one.patterns, one.shape, cases, (one.film[0], one.film[1], 1e9)).at(1.0)
        own = one.patterns.mix({"own": 1.0})
        blown = [weights - own for weights in unit]
        one_Pa = gust_pressure_Pa(one.code, 1.0, plan.site.exposure, at_level(DIRECTIONALITY, level, harms=True))

        def gust(q_Pa: float, one_Pa: float = one_Pa) -> float:
            return math.sqrt(max(q_Pa, 0.0) / one_Pa)

        if one.lid.hinges and not one.lid.saddles and not one.lid.hinged_at_end:
            hinge = math.copysign(1.0, one.lid.hinges[0].position_m[1])
            found["unlatched"][level] = gust(min(_tips(turns[hinge], own, one_, hinge) for one_ in blown))
        tip = min(_tips(turns[s], own, one_, s) for one_ in blown for s in (1.0, -1.0))
        slide = min(_slides(force, own, one_, at_level(FRICTION, level)) for one_ in blown)
        found["slides"][level] = gust(min(tip, slide))
        names[level] = word("strength.governs.slides" if slide < tip else "strength.governs.tips")
    out = []
    for key, values in found.items():
        if not values:
            continue
        value, low, high = spread(values)
        governs = word("strength.governs.opens") if key == "unlatched" else names["likely"]
        source = f"{WIND_SOURCE[studies['likely'].code]}; {FRICTION.source}"
        out.append(Limit(word(f"strength.case.{key}"), "gust_m_s", value, low, high, governs, source, key))
    return out


def _tips(turn: Floats, own: Floats, blown: Floats, side: float) -> float:
    """The pressure that turns the cover about a line on one side [Pa]; weight holds it, and it lifts the other side."""
    holds, lifts = float(turn @ own) * side, -float(turn @ blown) * side
    return holds / lifts if lifts > 1e-12 else math.inf


def _slides(force: Floats, own: Floats, blown: Floats, friction: float) -> float:
    """The pressure that makes it slide [Pa]: its push over what friction is left."""
    weight_N = -float(force[:, 2] @ own)
    push, up = blown @ force, float(blown @ force[:, 2])
    across_N = float(np.hypot(push[0], push[1]))
    return friction * weight_N / max(across_N + friction * up, 1e-12)


def governing(one: Study, root: Root, mark_of: Mapping[str, str]) -> str:
    """In words what reaches its limit first."""
    if root.what in ("pipe", "joint"):
        piece = one.solved.model.pieces[root.where]
        mark = mark_of.get(piece.pipe, "")
        return word(f"strength.governs.{root.what}", role=piece.role, mark=f" {mark}" if mark else "")
    if root.what == "off":
        return word("strength.governs.off")
    what, part = root.what.split()
    fixings = one.lid.hinges if what == "hinge" else one.lid.latches
    what = "strap" if one.lid.saddles else what
    return word(f"strength.governs.{what}-{part}", name=fixings[root.where].id)
