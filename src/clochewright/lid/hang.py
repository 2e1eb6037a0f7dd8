"""Hinges along one long side, latches along the other, a prop at one end or both. Places only: no forces."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Literal

from clochewright.findings import Finding, Level
from clochewright.frame import Frame, Vec, covers, moving_bodies
from clochewright.lid.bare import Spot, Stretch, bare_stretches, nearest_spot
from clochewright.lid.types import Fixing, LidPlan, Prop
from clochewright.plan import Plan

# All of these are common practice, no source.
TWO_HINGES_M = 0.9
THREE_HINGES_M = 1.5
NEXT_HINGE_M = 0.6
FROM_END_M = (0.100, 0.150)
ONE_LATCH_M = 0.9
ONE_PROP_M = 1.2
HINGE_WIDTH_M = 0.076  # a 3 in butt hinge
LATCH_WIDTH_M = 0.050
OPEN_DEG = 60.0
PROP_SHARE = 2 / 3  # how far from the hinges to the latches the prop's head sits

PRACTICE = "common practice, no source"
CPSC = "US Consumer Product Safety Commission, 1982, on falling lids: a support that holds at any position"


def hinge_count(length_m: float) -> int:
    """Hinges for a lid of that length [m]: 2 up to 0.9 m, 3 up to 1.5 m, then one for each 0.6 m begun."""
    if length_m <= TWO_HINGES_M:
        return 2
    if length_m <= THREE_HINGES_M:
        return 3
    return 3 + math.ceil((length_m - THREE_HINGES_M) / NEXT_HINGE_M - 1e-9)


def latch_count(length_m: float) -> int:
    """Latches for a lid of that length [m]: one up to 0.9 m, two beyond."""
    return 1 if length_m <= ONE_LATCH_M else 2


def hang_lid(frame: Frame, plan: Plan) -> LidPlan:
    """Place hinges, latches and props on bare pipe, clear of fittings; each section of a cover is a lid of its own.

    Left is +y, as seen from the front end (-x) looking along the bed.

    Args:
        frame: the solved frame.
        plan: says which long side the hinges are on.

    Returns:
        The lid's fixings, with a finding for each that found no place, or none where it should be. No fixings for
        hoops in sleeves, which have no rail to hinge.
    """
    side = 1.0 if plan.lid.hinge_side == "left" else -1.0
    edge_m = side * frame.width_m / 2
    half_m = frame.length_m / 2
    line = ((-half_m, edge_m, 0.0), (half_m, edge_m, 0.0))
    if not any(pipe.role == "side rail" for pipe in frame.pipes):
        return LidPlan(line, (), (), (), (Finding(Level.NOTE, "lid", "lid.no-rail", "hoops.feet", {}, PRACTICE),))
    hinges: list[Fixing] = []
    latches: list[Fixing] = []
    props: list[Prop] = []
    findings = [Finding(Level.NOTE, "lid", "lid.falls", "lid", {}, CPSC)]
    for cover, middle_m in covers(frame):
        hung = _hang_one(cover, side, edge_m)
        hinges += _renamed("H", len(hinges), hung[0], middle_m)
        latches += _renamed("L", len(latches), hung[1], middle_m)
        props += [
            replace(prop, foot_m=_along(prop.foot_m, middle_m), head_m=_along(prop.head_m, middle_m))
            for prop in hung[2]
        ]
        findings += [finding for finding in hung[3] if finding not in findings]
    return LidPlan(line, tuple(hinges), tuple(latches), tuple(props), tuple(findings), moving_bodies(frame, plan))


Hung = tuple[tuple[Fixing, ...], tuple[Fixing, ...], tuple[Prop, ...], list[Finding]]


def _hang_one(frame: Frame, side: float, edge_m: float) -> Hung:
    hinges, far = _place(_side_stretches(frame, side), _hinge_places(frame.length_m), HINGE_WIDTH_M, "hinge", edge_m)
    rail = _side_stretches(frame, -side)
    latches, trouble = _place(rail, _latch_places(frame.length_m), LATCH_WIDTH_M, "latch", -edge_m)
    props, unpropped = _props(frame, side)
    return hinges, latches, props, [*far, *_far_from_end(hinges, frame.length_m / 2), *trouble, *unpropped]


def _renamed(letter: str, before: int, fixings: Sequence[Fixing], by_m: float) -> list[Fixing]:
    return [
        Fixing(f"{letter}{i}", fixing.pipe, _along(fixing.position_m, by_m))
        for i, fixing in enumerate(fixings, start=before + 1)
    ]


def _along(point: Vec, by_m: float) -> Vec:
    return (point[0] + by_m, point[1], point[2])


def _side_stretches(frame: Frame, side: float) -> tuple[Stretch, ...]:
    rails = [pipe for pipe in frame.pipes if pipe.role == "side rail" and pipe.path_m[0][1] * side > 0]
    return bare_stretches(frame, rails, axis=0)


def _hinge_places(length_m: float) -> list[float]:
    """Wanted places along x, the two outer ones first because their place matters most [m]."""
    outer = max(length_m / 2 - sum(FROM_END_M) / 2, length_m / 4)
    inner = hinge_count(length_m) - 2
    return [-outer, outer, *(-outer + 2 * outer * (i + 1) / (inner + 1) for i in range(inner))]


def _latch_places(length_m: float) -> list[float]:
    return [0.0] if latch_count(length_m) == 1 else [-length_m / 4, length_m / 4]


def _place(
    rail: Sequence[Stretch], wanted_m: Sequence[float], width_m: float, what: Literal["hinge", "latch"], edge_m: float
) -> tuple[tuple[Fixing, ...], list[Finding]]:
    spots: list[Spot] = []
    missing = 0
    for place in wanted_m:
        spot = nearest_spot(rail, place, width_m, [other.along_m for other in spots])
        if spot is None:
            missing += 1
        else:
            spots.append(spot)
    spots.sort(key=lambda spot: spot.along_m)
    letter = what[0].upper()
    fixings = tuple(
        Fixing(f"{letter}{i}", spot.pipe, (spot.along_m, edge_m, 0.0)) for i, spot in enumerate(spots, start=1)
    )
    if not missing:
        return fixings, []
    values = {"missing": missing, "wanted": len(wanted_m), "width_m": width_m}
    return fixings, [Finding(Level.WARN, "lid", f"lid.no-room-for-{what}", "side rail", values)]


def _far_from_end(hinges: Sequence[Fixing], half_m: float) -> list[Finding]:
    if not hinges:
        return []
    ends = ((hinges[0], hinges[0].position_m[0] + half_m), (hinges[-1], half_m - hinges[-1].position_m[0]))
    far = {hinge.id: distance_m for hinge, distance_m in ends if distance_m > FROM_END_M[1] + 1e-9}
    if not far:
        return []
    values = {"hinges": tuple(far), "distance_m": max(far.values()), "usual_m": FROM_END_M[1]}
    return [Finding(Level.NOTE, "lid", "lid.hinge-from-end", "side rail", values, PRACTICE)]


def _props(frame: Frame, side: float) -> tuple[tuple[Prop, ...], list[Finding]]:
    ends: tuple[Literal["front", "far"], ...] = ("front", "far") if frame.length_m > ONE_PROP_M else ("front",)
    props, findings = [], []
    edge_m = side * frame.width_m / 2
    for end in ends:
        towards = -1.0 if end == "front" else 1.0
        rails = [pipe for pipe in frame.pipes if pipe.role == "end rail" and pipe.path_m[0][0] * towards > 0]
        wanted_m = edge_m - side * frame.width_m * PROP_SHARE
        spot = nearest_spot(bare_stretches(frame, rails, axis=1), wanted_m, LATCH_WIDTH_M)
        if spot is None:
            findings.append(Finding(Level.WARN, "lid", "lid.no-room-for-prop", "end rail", {"end": end}))
            continue
        pipe = next(pipe for pipe in rails if pipe.id == spot.pipe)
        x_m = towards * frame.length_m / 2
        head: Vec = (x_m, spot.along_m, pipe.path_m[0][2])
        foot: Vec = (x_m, spot.along_m, 0.0)
        length_m = math.dist(_opened(head, edge_m, side, OPEN_DEG), foot)
        props.append(Prop(end, pipe.id, foot, head, length_m, OPEN_DEG))
    return tuple(props), findings


def _opened(point: Vec, edge_m: float, side: float, open_deg: float) -> Vec:
    """A point of the lid once the lid has turned about the hinge line by `open_deg` [deg]."""
    out, up = (edge_m - point[1]) * side, point[2]
    turn = math.radians(open_deg)
    return (
        point[0],
        edge_m - side * (out * math.cos(turn) - up * math.sin(turn)),
        out * math.sin(turn) + up * math.cos(turn),
    )
