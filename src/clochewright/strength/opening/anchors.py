"""What keeps a shut cover on its bed in a gust: the pull on hinges, latches and straps; or loose weights."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from clochewright.frame import Frame, Vec
from clochewright.lid import LidPlan
from clochewright.measures import GRAVITY_M_S2
from clochewright.plan import Plan
from clochewright.sources import Cited, Grade
from clochewright.strength.air import DIRECTIONALITY, Code, gust_pressure_Pa
from clochewright.strength.opening.types import Anchor, HoldDown, Weighted
from clochewright.strength.opening.wind_loads import Load, section_points, shut_loads
from clochewright.strength.resistance import (
    SHORT_LOAD,
    WET,
    INCH_m,
    SCREW_m,
    THREAD_m,
    screw_side_load_N,
    screw_withdrawal_N_m,
    timber_named,
)
from clochewright.strength.structure import Floats

MOST_STRAPS = 12
STRAP_SCREW_m = 0.190 * INCH_m  # No. 10, as sold with straps: common practice, no source
STRAP_SCREWS = 2  # at each end of a strap: common practice, no source
STRAP_DOWN_m = 0.15  # of strap down each board and turned under: common practice, no source
# How much of its own weight may be counted on: 0.6 D (ASCE 7-16, 2.4.1), 0.9 G (EN 1990, from memory).
WEIGHT_share = {"US": 0.6, "EN": 0.9}
SANDBAG_kg = 15.0
SOURCE = "each wind case of ASCE 7 figure 27.3-1 or EN 1991-1-4 tables 7.3 and 7.4 on the whole cover, by statics"


@dataclass(frozen=True, slots=True)
class Place:
    """Where one anchor holds: its id, its kind, its place [m] and what it bears [N]."""

    id: str
    kind: str
    position_m: Vec
    bears_N: float


def hold_down(cover: Frame, fixed: Sequence[Place], mass: Cited, plan: Plan, code: Code) -> HoldDown | None:
    """The pull on every anchor of one shut and latched cover in the plan's gust, with straps added until all hold.

    Args:
        cover: one cover, its middle at x = 0.
        fixed: its hinges and latches, or the saddles of a frame that stays, in the cover's own axes.
        mass: what it weighs [kg].
        plan: the gust, the bed, and what else holds it down.
        code: whose wind.
    """
    loads = shut_loads(cover, plan.bed.height_m, code)
    if not loads:
        return None
    gust_m_s = plan.site.design_gust_m_s or plan.film.gust_m_s
    timber, _ = timber_named(plan.bed.timber)
    strap_bears_N = screw_side_load_N(timber.side_factor, STRAP_SCREW_m) * STRAP_SCREWS * SHORT_LOAD * WET
    q_Pa = {name: gust_pressure_Pa(code, gust_m_s, plan.site.exposure, by) for name, by in _directions()}
    weight_N = {"value": mass.value, "low": mass.high, "high": mass.low}
    weight_N = {name: kg * GRAVITY_M_S2 * WEIGHT_share[code] for name, kg in weight_N.items()}
    straps, anchors = 0, _anchors(fixed, loads, q_Pa, weight_N)
    bare = tuple(anchors)
    while plan.hold_down.by == "straps" and straps < MOST_STRAPS:
        if anchors and max(anchor.share for anchor in anchors) <= 1:
            break
        straps += 1
        places = [*fixed, *_straps(straps, cover, strap_bears_N)]
        anchors = _anchors(places, loads, q_Pa, weight_N)
    strapped = [anchor.pull_N for anchor in anchors if anchor.kind == "strap"]
    lift = [float(load.force_m2[2]) for load in loads]
    push = [float(np.hypot(load.force_m2[0], load.force_m2[1])) for load in loads]
    return HoldDown(
        gust_m_s,
        Cited(max(lift) * q_Pa["value"], max(lift) * q_Pa["low"], max(lift) * q_Pa["high"], Grade.ESTIMATE, SOURCE),
        Cited(max(push) * q_Pa["value"], max(push) * q_Pa["low"], max(push) * q_Pa["high"], Grade.ESTIMATE, SOURCE),
        tuple(anchors),
        straps,
        max(strapped, default=0.0),
        _girth_m(cover) + 2 * STRAP_DOWN_m,
        2 * STRAP_SCREWS * straps,
        _weights(plan, loads, q_Pa, weight_N, cover),
        bare,
    )


def places_of(lid: LidPlan, middle_m: float, bears_N: float, saddle_bears_N: float) -> tuple[Place, ...]:
    """What holds the first cover of a row, whose middle stands at `middle_m` along the bed [m].

    Args:
        lid: hinges and latches of the leaf on it, or saddles where only a panel opens.
        middle_m: the cover's middle [m].
        bears_N: what one hinge or latch bears [N].
        saddle_bears_N: what one saddle on the rim bears [N].
    """
    if lid.saddles:
        return tuple(Place(one.id, "saddle", _moved(one.position_m, middle_m), saddle_bears_N) for one in lid.saddles)
    leaf = lid.leaves[0] if lid.leaves else None
    if leaf is None:
        return ()
    hinges = (Place(one.id, "hinge", _moved(one.position_m, middle_m), bears_N) for one in leaf.hinges)
    latches = (Place(one.id, "latch", _moved(one.position_m, middle_m), bears_N) for one in leaf.latches)
    return (*hinges, *latches)


def saddle_bears_N(timber_name: str) -> float:
    """What a two-hole strap over the rail bears, its two screws pulled out of the board's edge [N]."""
    timber, _ = timber_named(timber_name)
    thread = screw_withdrawal_N_m(timber.gravity_ratio, SCREW_m.value) * THREAD_m.value
    return thread * STRAP_SCREWS * SHORT_LOAD * WET


def _directions() -> tuple[tuple[str, float], ...]:
    return (("value", DIRECTIONALITY.value), ("low", DIRECTIONALITY.low), ("high", DIRECTIONALITY.high))


def _straps(count: int, cover: Frame, bears_N: float) -> list[Place]:
    """Straps over the cover, evenly along it, each holding down on both boards."""
    half_m = cover.width_m / 2
    along = [cover.length_m * ((n + 0.5) / count - 0.5) for n in range(count)]
    return [
        Place(f"S{n} {side}", "strap", (x, sign * half_m, 0.0), bears_N)
        for n, x in enumerate(along, start=1)
        for side, sign in (("left", 1.0), ("right", -1.0))
    ]


def pulls_N(places: Sequence[Place], up_N: Floats, moment_x_Nm: Floats, moment_y_Nm: Floats) -> Floats:
    """The upward pull on each anchor in each wind (winds, anchors) [N], the cover being stiff and the anchors alike.

    They share the force and its two moments as a group of bolts does, about their own middle:
    up/n + y M_x/sum(y2) - x M_y/sum(x2). Where that would push, the rim bears it. Anchors that all stand on one line
    can't keep the cover from turning about it: their pull is infinite.

    Args:
        places: the anchors.
        up_N: upward force on the cover in each wind, its weight taken off [N].
        moment_x_Nm: its moment about the x axis through the middle of the base [Nm].
        moment_y_Nm: about the y axis [Nm].
    """
    spots = np.array([place.position_m[:2] for place in places])
    middle = spots.mean(axis=0)
    x, y = (spots - middle).T
    about_x, about_y = moment_x_Nm - up_N * middle[1], moment_y_Nm + up_N * middle[0]
    with np.errstate(divide="ignore", invalid="ignore"):
        turning = np.where(np.sum(y**2) > 1e-9, np.outer(about_x, y) / np.sum(y**2), np.inf * np.abs(about_x)[:, None])
        pitching = np.where(np.sum(x**2) > 1e-9, np.outer(about_y, x) / np.sum(x**2), 0.0)
    return np.asarray(np.maximum(up_N[:, None] / len(places) + turning - pitching, 0.0))


def _anchors(
    places: Sequence[Place], loads: Sequence[Load], q_Pa: dict[str, float], weight_N: dict[str, float]
) -> list[Anchor]:
    if not places:
        return []
    force = np.array([load.force_m2 for load in loads])
    moment = np.array([load.moment_m3 for load in loads])
    pulls = {
        name: pulls_N(places, force[:, 2] * q - weight_N[name], moment[:, 0] * q, moment[:, 1] * q)
        for name, q in q_Pa.items()
    }
    worst = {name: rows.max(axis=0) for name, rows in pulls.items()}
    winds = pulls["value"].argmax(axis=0)
    return [
        Anchor(
            place.id,
            place.kind,
            place.position_m,
            float(worst["value"][n]),
            float(worst["low"][n]),
            float(worst["high"][n]),
            place.bears_N,
            loads[int(winds[n])].name,
        )
        for n, place in enumerate(places)
    ]


def _weights(
    plan: Plan, loads: Sequence[Load], q_Pa: dict[str, float], weight_N: dict[str, float], cover: Frame
) -> Weighted:
    """Loose weights, laid along both long rails, that keep down both sides of a cover that nothing else holds."""
    half_m = cover.width_m / 2
    rails = [Place("left", "weight", (0.0, half_m, 0.0), 1.0), Place("right", "weight", (0.0, -half_m, 0.0), 1.0)]
    needed = {}
    for name in ("value", "low", "high"):
        sides = []
        for load in loads:
            up_N = float(load.force_m2[2]) * q_Pa[name] - weight_N[name]
            turn = float(load.moment_m3[0]) * q_Pa[name]
            sides.append(max(up_N / 2 + turn / (2 * half_m), up_N / 2 - turn / (2 * half_m), 0.0))
        needed[name] = len(rails) * max(sides) / GRAVITY_M_S2
    needed_kg = Cited(needed["value"], needed["low"], needed["high"], Grade.ESTIMATE, SOURCE)
    planned_kg = plan.hold_down.weights * plan.hold_down.weight_kg if plan.hold_down.by == "weights" else 0.0
    return Weighted(needed_kg, planned_kg, math.ceil(needed["value"] / SANDBAG_kg), planned_kg >= needed["value"])


def _girth_m(cover: Frame) -> float:
    """Over the cover from rail to rail, along its section [m]."""
    points = section_points(cover)
    return sum(math.dist(a, b) for a, b in pairwise(points))


def _moved(place: Vec, by_m: float) -> Vec:
    return (place[0] - by_m, place[1], place[2])
