"""Everything about opening one cover: its leaves worked out over their opening, and what keeps it shut in wind."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from clochewright.frame import covers
from clochewright.lid import Leaf, Prop, hinge_count, latch_count
from clochewright.measures import GRAVITY_M_S2
from clochewright.plan import Plan
from clochewright.sources import Cited
from clochewright.strength.air import DIRECTIONALITY, GUST_EFFECT, Code, gust_pressure_Pa
from clochewright.strength.opening.aids import (
    choose_cord,
    choose_counterweight,
    choose_strut,
    cord_tension_N,
    try_wax_opener,
)
from clochewright.strength.opening.anchors import hold_down, places_of, saddle_bears_N
from clochewright.strength.opening.fixing import Bears, bears_of, fixing_work
from clochewright.strength.opening.lifting import lift_off
from clochewright.strength.opening.open_wind import Held, TOLD_m_s, open_wind
from clochewright.strength.opening.reach import POSTURES, Posture, handle_way, reach_of, stands_at
from clochewright.strength.opening.say import opening_findings
from clochewright.strength.opening.shopping import buys_for
from clochewright.strength.opening.statics import (
    Turning,
    force_along_N,
    hinge_N,
    lift_N,
    moment_Nm,
    prop_N,
    square_to_way,
    turned,
)
from clochewright.strength.opening.types import (
    AtAngle,
    Cord,
    FixingWork,
    HoldDown,
    LeafOpening,
    Opening,
    OpenWind,
    PropAt,
    PropWork,
)
from clochewright.strength.opening.wind_loads import worst_suction
from clochewright.strength.structure import Floats
from clochewright.strength.study import Asked, code_of
from clochewright.weights import BodyWeight

STEP_DEG = 5.0
PAST_OPEN_DEG = 5.0  # the check cord stops the leaf so far past its widest opening
BESIDE_BED_m = 0.25  # a hand with a pole, out from the side of the bed: common practice, no source
POLE_HAND_m = 1.10  # at most so high at the widest opening, about elbow height: common practice, no source
POLE_m = (0.3, 2.0)
UNEVEN_factor = 1.5  # the worst of several fixings, over their mean: common practice, no source


@dataclass(frozen=True, slots=True)
class _Scene:
    """What is the same for all leaves of one plan."""

    asked: Asked
    code: Code
    bears: Bears
    unit_Pa: float
    posture: Posture


def study_opening(asked: Asked) -> Opening:
    """Work out every leaf of the lid over its opening, and the hold-down of the shut cover.

    Args:
        asked: the plan and what earlier steps made of it; its frame stands.

    Returns:
        The leaves in the lid's order, hold-down, what to buy for it, findings. Nothing where nothing opens.
    """
    plan, code = asked.plan, code_of(asked.plan)
    bears = bears_of(asked.pipe, plan.bed.timber)
    gusty = GUST_EFFECT if code == "US" else 1.0
    unit_Pa = gusty * gust_pressure_Pa(code, 1.0, plan.site.exposure, DIRECTIONALITY.value)
    scene = _Scene(asked, code, bears, unit_Pa, POSTURES[plan.lid.opened_by])
    held = _hold_down(scene)
    leaves: list[LeafOpening] = []
    for leaf in asked.lid.leaves:
        weight = asked.weights.bodies.get(leaf.body.id)
        if weight is not None and weight.mass_kg.value > 0:
            leaves.append(_leaf(scene, leaf, weight, held))
    buys = buys_for(asked.lid, tuple(leaves), held, len(covers(asked.frame)), plan)
    return Opening(tuple(leaves), held, buys, (), opening_findings(plan, asked.lid, tuple(leaves), held))


def _hold_down(scene: _Scene) -> HoldDown | None:
    asked = scene.asked
    row = covers(asked.frame)
    cover, middle_m = row[0]
    whole, share = asked.weights.lid_kg, 1 / len(row)
    mass = Cited(whole.value * share, whole.low * share, whole.high * share, whole.grade, whole.source)
    saddle_N = saddle_bears_N(asked.plan.bed.timber)
    return hold_down(cover, places_of(asked.lid, middle_m, scene.bears.each_N, saddle_N), mass, asked.plan, scene.code)


def _leaf(scene: _Scene, leaf: Leaf, weight: BodyWeight, held: HoldDown | None) -> LeafOpening:
    plan, line = scene.asked.plan, leaf.line
    mass = weight.mass_kg
    turning = Turning(mass.value * GRAVITY_M_S2, line.section(weight.centre_m), line.section(leaf.handle_m))
    angles = _angles(plan, leaf)
    height_m = plan.bed.height_m + line.start_m[2]
    across_m = plan.bed.outside_width_m if abs(line.over[1]) > 0.5 else plan.bed.outside_length_m
    heights, inwards = handle_way(turning, angles, height_m, leaf.over_m, across_m, stands_at(plan))
    reach, good = reach_of(turning, plan, heights, inwards, angles, mass.high / mass.value)
    wanted = angles[angles <= reach.wanted_deg + 1e-9]
    cord = choose_cord(turning, wanted, leaf.over_m, plan.lid.force_limit_N)
    rows = _rows(scene, turning, leaf, mass, angles, heights, inwards, good, cord)
    wind = tuple(_wind(scene, turning, leaf, mass, hole) for hole in _openings(plan, leaf))
    rest = leaf.swing.rest
    behind_m = plan.lid.behind_distance_m + leaf.over_m if plan.lid.behind == "wall" else math.inf
    return LeafOpening(
        leaf.body.id,
        mass,
        weight.centre_m,
        rows,
        turning.over_centre_deg,
        rest.angle_deg,
        rest.on,
        turning.over_centre_deg < rest.angle_deg,
        _prop(scene, turning, leaf, mass, wind),
        cord,
        choose_strut(turning, wanted, height_m, line.start_m[2], line.length_m, plan.lid.force_limit_N),
        choose_counterweight(turning, wanted, height_m, behind_m, plan.lid.force_limit_N),
        try_wax_opener(turning, reach.wanted_deg),
        reach,
        lift_off(mass, weight.centre_m, height_m, line.length_m, turning.handle_radius_m, plan.people),
        wind,
        _fixings(scene, leaf, held, wind),
        turning.handle_m,
    )


def _angles(plan: Plan, leaf: Leaf) -> Floats:
    """Shut, every few degrees, the openings of the bar, and where it rests."""
    rest = leaf.swing.rest.angle_deg
    steps = [*np.arange(0.0, rest, STEP_DEG), rest, *(d for d in _openings(plan, leaf) if d < rest)]
    kept = sorted({round(float(step), 6) for step in steps})
    return np.array(kept)


def _openings(plan: Plan, leaf: Leaf) -> tuple[float, ...]:
    if leaf.props:
        return tuple(hole.open_deg for hole in leaf.props[0].holes)
    return (plan.lid.open_deg,)


def _pin(leaf: Leaf, prop: Prop) -> tuple[tuple[float, float], tuple[float, float]]:
    return leaf.line.section(prop.head_m), leaf.line.section(prop.foot_m)


def _rows(
    scene: _Scene,
    turning: Turning,
    leaf: Leaf,
    mass: Cited,
    angles: Floats,
    heights: Floats,
    inwards: Floats,
    good: npt.NDArray[np.bool_],
    cord: Cord | None,
) -> tuple[AtAngle, ...]:
    lift = lift_N(turning, angles)
    hand = lift[:, None] * square_to_way(turning, angles)
    hinge = hinge_N(turning, hand)
    bars = max(len(leaf.props), 1)
    prop, bar_angle = np.zeros(len(angles)), np.zeros(len(angles))
    prop_hinge = hinge
    if leaf.props:
        pivot, pin = _pin(leaf, leaf.props[0])
        prop, bar_angle = prop_N(turning, angles, pivot, pin)
        heads = turned(pivot, angles)
        way = heads - np.array(pin)
        way = way / np.maximum(np.linalg.norm(way, axis=1), 1e-9)[:, None]
        prop_hinge = hinge_N(turning, np.where(np.isfinite(prop), prop, 0.0)[:, None] * way)
        prop = np.where(np.isfinite(prop), prop, 0.0)
    pull = np.full(len(angles), np.inf)
    if cord is not None:
        pull = cord_tension_N(turning, angles, cord.tied_m, (-leaf.over_m, cord.post_m)) / cord.parts_count
    pole = _pole_N(scene, turning, leaf, angles, heights)
    centres = turned(turning.centre_m, angles)
    low, high = mass.low / mass.value, mass.high / mass.value
    return tuple(
        AtAngle(
            float(angle),
            float(lift[n]),
            float(min(lift[n] * low, lift[n] * high)),
            float(max(lift[n] * low, lift[n] * high)),
            _or_none(pull[n]),
            _or_none(pole[n]),
            float(hinge[n]),
            float(prop[n]) / bars,
            float(bar_angle[n]),
            float(prop_hinge[n]),
            float(heights[n]),
            float(inwards[n]),
            bool(good[n]),
            (float(centres[n, 0]), float(centres[n, 1])),
        )
        for n, angle in enumerate(angles)
    )


def _or_none(value: float) -> float | None:
    return float(value) if math.isfinite(value) else None


def _pole_N(scene: _Scene, turning: Turning, leaf: Leaf, angles: Floats, heights: Floats) -> Floats:
    """The push along a pole from a hand beside the bed to the handle; infinite where the hand would be too low or high.

    The pole is as long as brings the hand to elbow height at the widest opening.
    """
    plan = scene.asked.plan
    across_m = plan.bed.outside_width_m if abs(leaf.line.over[1]) > 0.5 else plan.bed.outside_length_m
    way = turned(turning.handle_m, angles)
    hand_x = across_m - leaf.over_m + BESIDE_BED_m
    aside = hand_x - way[:, 0]
    widest = int(np.argmin(np.abs(angles - plan.lid.open_deg)))
    length = math.hypot(float(aside[widest]), max(0.0, float(heights[widest]) - POLE_HAND_m))
    length = min(max(length, POLE_m[0]), POLE_m[1])
    with np.errstate(invalid="ignore"):
        drop = np.sqrt(length**2 - aside**2)
    ground = heights - way[:, 1]  # of the hinge line
    hand = np.stack([np.full(len(angles), hand_x), way[:, 1] - drop], axis=-1)
    high = hand[:, 1] + ground
    works = np.isfinite(drop) & (high >= scene.posture.low_m.value) & (high <= scene.posture.high_m.value)
    push = np.full(len(angles), np.inf)
    if works.any():
        push[works] = force_along_N(turning, angles[works], way[works], 2 * way[works] - hand[works])
    return np.where(push >= 0, push, np.inf)


def _held(scene: _Scene, leaf: Leaf) -> Held:
    hinges = max(len(leaf.hinges), 1)
    if not leaf.props:
        return Held((1.0, 0.0), (1.0, -1.0), 0, 0.0, hinges, scene.bears.each_N)
    pivot, pin = _pin(leaf, leaf.props[0])
    return Held(pivot, pin, len(leaf.props), _pin_bears(scene, leaf), hinges, scene.bears.each_N)


def _pin_bears(scene: _Scene, leaf: Leaf) -> float:
    return scene.bears.frame_pin_N if leaf.props[0].pin_in == "frame" else scene.bears.pin_N


def _wind(scene: _Scene, turning: Turning, leaf: Leaf, mass: Cited, angle_deg: float) -> OpenWind:
    return open_wind(turning, mass, angle_deg, leaf.line.length_m, scene.unit_Pa, _held(scene, leaf))


def _prop(scene: _Scene, turning: Turning, leaf: Leaf, mass: Cited, wind: tuple[OpenWind, ...]) -> PropWork | None:
    if not leaf.props:
        return None
    prop = leaf.props[0]
    pivot, pin = _pin(leaf, prop)
    angles = np.array([hole.open_deg for hole in prop.holes])
    force, bar_angle = prop_N(turning, angles, pivot, pin)
    heads = turned(pivot, angles)
    way = heads - np.array(pin)
    way = way / np.linalg.norm(way, axis=1)[:, None]
    hinge = hinge_N(turning, force[:, None] * way)
    bars = len(leaf.props)
    heavy = mass.high / mass.value
    holes = tuple(
        PropAt(
            hole.open_deg,
            hole.from_pivot_m,
            float(bar_angle[n]),
            float(force[n]) / bars,
            float(force[n]) * heavy,
            float(hinge[n]),
        )
        for n, hole in enumerate(prop.holes)
    )
    bears_N = _pin_bears(scene, leaf)
    most_N = max([abs(hole.one_bar_N) for hole in holes] + [max(one.pull_N, one.push_N) for one in wind])
    pushed = bool((moment_Nm(turning, angles) > 0).all()) and all(one.off_pin_m_s.low > TOLD_m_s for one in wind)
    stop = math.dist(leaf.line.turned(prop.head_m, prop.open_deg + PAST_OPEN_DEG), prop.foot_m)
    return PropWork(bars, holes, bears_N, most_N / bears_N, pushed, stop)


def _fixings(scene: _Scene, leaf: Leaf, held: HoldDown | None, wind: tuple[OpenWind, ...]) -> tuple[FixingWork, ...]:
    """Hinges and latches: the greatest pull on the worst of each, shut in the plan's gust or open in a told one."""
    plan, line = scene.asked.plan, leaf.line
    shut = {"hinge": 0.0, "latch": 0.0}
    if leaf.body.kind == "panel":
        cover = covers(scene.asked.frame)[0][0]
        gust = plan.site.design_gust_m_s or plan.film.gust_m_s
        pressure = gust_pressure_Pa(scene.code, gust, plan.site.exposure, DIRECTIONALITY.value)
        area = line.length_m * math.dist(leaf.body.hinge_line_m[0], leaf.body.free_line_m[0])
        total = worst_suction(cover, plan.bed.height_m, scene.code) * pressure * area
        for what, count in (("hinge", len(leaf.hinges)), ("latch", len(leaf.latches))):
            shut[what] = UNEVEN_factor * total / 2 / max(count, 1)
    elif held is not None:
        for anchor in held.without_straps:
            if anchor.kind in shut:
                shut[anchor.kind] = max(shut[anchor.kind], anchor.pull_N)
    out = []
    for what, placed, practice in (
        ("hinge", len(leaf.hinges), hinge_count(line.length_m)),
        ("latch", len(leaf.latches), latch_count(line.length_m)),
    ):
        worst = max(shut[what], *(one.hinge_N for one in wind)) if what == "hinge" else shut[what]
        total = worst / UNEVEN_factor * max(placed, 1)
        out.append(fixing_work(what, placed, practice, total, worst, scene.bears, plan.bed.board_m, plan.bed.timber))
    return tuple(out)
