"""Hinges along one side of each leaf, latches along the other, bars that prop it. Places only: no forces."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Literal

from clochewright.findings import Finding, Level, Mend
from clochewright.frame import Body, Frame, Pipe, Vec, moving_bodies
from clochewright.lid.bare import Spot, bare_stretches, nearest_spot
from clochewright.lid.prop import place_props
from clochewright.lid.saddles import saddle_down
from clochewright.lid.swing import swing_of
from clochewright.lid.turning import line_of, rounds_of
from clochewright.lid.types import Fixing, HingeLine, Leaf, LidPlan
from clochewright.plan import Plan

# All of these are common practice, no source.
TWO_HINGES_M = 0.9
THREE_HINGES_M = 1.5
NEXT_HINGE_M = 0.6
FROM_END_M = (0.100, 0.150)
ONE_LATCH_M = 0.9
HINGE_WIDTH_M = 0.076  # a 3 in butt hinge
LATCH_WIDTH_M = 0.050
TO_FOOT_M = 0.30  # a hinge or a latch is moved up to so far to sit beside a rafter's foot, where the rail is strongest
FOOT_ROLES = ("rafter foot", "post foot", "hoop foot", "panel rafter foot")

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


def openings_of(plan: Plan) -> tuple[float, ...]:
    """The openings that the bar has holes for, least first [deg]: a third and two thirds of the widest if not said."""
    widest = plan.lid.open_deg
    return (*sorted(plan.lid.openings or (widest / 3, widest * 2 / 3)), widest)


def hang_lid(frame: Frame, plan: Plan, least_hinges: int = 0, least_latches: int = 0) -> LidPlan:
    """Place hinges, latches and props on bare pipe, clear of fittings, for each leaf by itself.

    Left is +y, as seen from the front end (-x) looking along the bed.

    Args:
        frame: the solved frame.
        plan: which side the hinges are on, how far it opens, what is behind it.
        least_hinges: at least so many hinges to a leaf, where their strength asks for more than practice does.
        least_latches: the same for latches.

    Returns:
        The lid's fixings, with a finding for each that found no place, or none where it should be. No fixings for
        hoops in sleeves, which have no rail to hinge.
    """
    bodies = moving_bodies(frame, plan)
    if not bodies:
        nowhere: Vec = (0.0, 0.0, 0.0)
        none = Finding(Level.NOTE, "lid", "lid.no-rail", "hoops.feet", {}, PRACTICE)
        return LidPlan((nowhere, nowhere), (), (), (), (none,))
    findings = [
        Finding(Level.NOTE, "lid", "lid.falls", "lid", {}, CPSC),
        Finding(Level.NOTE, "lid", "lid.fingers", "lid", {}, PRACTICE),
    ]
    leaves: list[Leaf] = []
    for body in bodies:
        leaf, found = _leaf(frame, plan, body, (least_hinges, least_latches), leaves)
        leaves.append(leaf)
        findings += [finding for finding in found if finding not in findings]
    saddles: tuple[Fixing, ...] = ()
    if plan.has_panels:
        saddles = saddle_down(frame, lambda length_m: _hinge_places(length_m, hinge_count(length_m)))
        values = {"count": len(saddles)}
        findings.append(Finding(Level.NOTE, "lid", "lid.frame-stays", "lid.opens", values, PRACTICE))
    first, last = bodies[0].hinge_line_m[0], bodies[-1].hinge_line_m[1]
    whole = (first, last) if len({body.hinge_line_m[0][1:] for body in bodies}) == 1 else bodies[0].hinge_line_m
    return LidPlan(
        whole,
        tuple(hinge for leaf in leaves for hinge in leaf.hinges),
        tuple(latch for leaf in leaves for latch in leaf.latches),
        tuple(prop for leaf in leaves for prop in leaf.props),
        tuple(findings),
        bodies,
        tuple(leaves),
        saddles,
    )


def _leaf(
    frame: Frame, plan: Plan, body: Body, least: tuple[int, int], before: Sequence[Leaf]
) -> tuple[Leaf, list[Finding]]:
    line = line_of(body)
    mine = [pipe for pipe in frame.pipes if pipe.body == body.id]
    fittings = [fitting for fitting in frame.fittings if fitting.body == body.id]
    wanted = _hinge_places(line.length_m, max(hinge_count(line.length_m), least[0]))
    catches = _latch_places(line.length_m, max(latch_count(line.length_m), least[1]))
    placed = [hinge for leaf in before for hinge in leaf.hinges]
    hinges, no_hinges = _place(frame, body, "hinge", wanted, len(placed))
    latches, no_latches = _place(frame, body, "latch", catches, sum(len(leaf.latches) for leaf in before))
    handle = _handle(body, mine)
    reach_m, _ = line.section(handle)
    rim_below_m = line.start_m[2]
    moving = _moving(frame, body)
    stay = [pipe for pipe in frame.pipes if pipe.body not in moving]
    props, no_props = place_props(frame, mine, line, reach_m, plan.bed.height_m, openings_of(plan), rim_below_m, stay)
    rounds = rounds_of(line, mine, fittings, frame.pipe_outside_diameter_m)
    stays = rounds_of(
        line,
        stay,
        [fitting for fitting in frame.fittings if fitting.body not in moving],
        frame.pipe_outside_diameter_m,
    )
    over_m = _behind_line(plan, line)
    wall_m = _wall_behind(plan)
    swing = swing_of(rounds, line.section(handle), plan.bed.height_m + rim_below_m, rim_below_m, over_m, wall_m, stays)
    leaf = Leaf(body, line, hinges, latches, props, handle, rounds, over_m, swing)
    return leaf, [*no_hinges, *_far_from_end(hinges, line), *no_latches, *no_props, *_fouls(plan, leaf)]


def _moving(frame: Frame, body: Body) -> set[str]:
    """The bodies a leaf can't lie on: itself, and every other one where the whole cover opens and nothing stays."""
    return {body.id} if body.kind == "panel" else {pipe.body for pipe in frame.pipes}


def _handle(body: Body, mine: Sequence[Pipe]) -> Vec:
    """The middle of the edge that comes up, at the height of its rail's middle."""
    a, b = body.free_line_m
    rail_z = [pipe.path_m[0][2] for pipe in mine if pipe.id in body.free_pipes]
    return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2, min(rail_z, default=a[2]))


def _behind_line(plan: Plan, line: HingeLine) -> float:
    """How far the hinge line lies in from the outside of the bed, on the side away from the handle [m]."""
    half = plan.bed.outside_width_m / 2 if abs(line.over[1]) > 0.5 else plan.bed.outside_length_m / 2
    away = -(line.start_m[0] * line.over[0] + line.start_m[1] * line.over[1])
    return max(0.0, half - away)


def _wall_behind(plan: Plan) -> float | None:
    """How far a wall behind the hinges is from the outside of the bed [m]; a lean-to's own wall is right behind it."""
    own_wall = plan.cover.shape == "lean-to" and plan.lean_to.wall_behind
    if own_wall and plan.lid.hinge_side == plan.lean_to.high_side and plan.lid.behind != "wall":
        return 0.0
    return plan.lid.behind_distance_m if plan.lid.behind == "wall" else None


def _hinge_places(length_m: float, count: int) -> list[float]:
    """Wanted places from the line's middle, the two outer ones first because their place matters most [m]."""
    outer = max(length_m / 2 - sum(FROM_END_M) / 2, length_m / 4)
    inner = count - 2
    return [-outer, outer, *(-outer + 2 * outer * (i + 1) / (inner + 1) for i in range(inner))]


def _latch_places(length_m: float, count: int) -> list[float]:
    """Wanted places from the line's middle: the middles of as many equal parts [m]."""
    return [length_m * ((n + 0.5) / count - 0.5) for n in range(count)]


def _place(
    frame: Frame, body: Body, what: Literal["hinge", "latch"], wanted_m: Sequence[float], before: int
) -> tuple[tuple[Fixing, ...], list[Finding]]:
    """Fixings along one edge of a leaf, beside rafters' feet where one is near."""
    edge, ids = (body.hinge_line_m, body.hinge_pipes) if what == "hinge" else (body.free_line_m, body.free_pipes)
    width_m = HINGE_WIDTH_M if what == "hinge" else LATCH_WIDTH_M
    axis = 0 if abs(edge[1][0] - edge[0][0]) > abs(edge[1][1] - edge[0][1]) else 1
    middle_m = (edge[0][axis] + edge[1][axis]) / 2
    rail = bare_stretches(frame, [pipe for pipe in frame.pipes if pipe.id in ids], axis)
    feet_m = _feet(frame, body, ids, axis)
    spots: list[Spot] = []
    missing = 0
    for n, place in enumerate(wanted_m):
        want_m = middle_m + place
        outer = what == "hinge" and n < 2  # the outer two stay near the ends
        near = [foot for foot in feet_m if abs(foot - want_m) <= TO_FOOT_M] if not outer else []
        if near:
            want_m = min(near, key=lambda foot, want_m=want_m: abs(foot - want_m))  # type: ignore[misc]
        spot = nearest_spot(rail, want_m, width_m, [other.along_m for other in spots])
        if spot is None:
            missing += 1
        else:
            spots.append(spot)
    spots.sort(key=lambda spot: spot.along_m)
    fixings = tuple(
        Fixing(f"{what[0].upper()}{i}", spot.pipe, _on(edge, axis, spot.along_m))
        for i, spot in enumerate(spots, start=before + 1)
    )
    if not missing:
        return fixings, []
    values = {"missing": missing, "wanted": len(wanted_m), "width_m": width_m}
    return fixings, [Finding(Level.WARN, "lid", f"lid.no-room-for-{what}", "side rail", values)]


def _feet(frame: Frame, body: Body, ids: Sequence[str], axis: int) -> list[float]:
    """Where the feet of rafters, posts and hoops stand on a rail, along it [m]."""
    on_rail = {end.fitting for pipe in frame.pipes if pipe.id in ids for end in pipe.ends}
    return [
        f.position_m[axis] for f in frame.fittings if f.id in on_rail and f.role in FOOT_ROLES and f.body == body.id
    ]


def _on(edge: tuple[Vec, Vec], axis: int, along_m: float) -> Vec:
    point = list(edge[0])
    point[axis] = along_m
    return (point[0], point[1], point[2])


def _far_from_end(hinges: Sequence[Fixing], line: HingeLine) -> list[Finding]:
    if not hinges:
        return []
    far = {}
    for hinge in hinges:
        distance_m = min(math.dist(hinge.position_m, line.start_m), math.dist(hinge.position_m, line.end_m))
        if hinge in (hinges[0], hinges[-1]) and distance_m > FROM_END_M[1] + 1e-9:
            far[hinge.id] = distance_m
    if not far:
        return []
    values = {"hinges": tuple(far), "distance_m": max(far.values()), "usual_m": FROM_END_M[1]}
    return [Finding(Level.NOTE, "lid", "lid.hinge-from-end", "side rail", values, PRACTICE)]


def _fouls(plan: Plan, leaf: Leaf) -> list[Finding]:
    """What is in the leaf's way, and what it lies on when it is thrown open."""
    rest, swing, found = leaf.swing.rest, leaf.swing, []
    if rest.angle_deg < plan.lid.open_deg - 1e-9:
        values = {"open_deg": plan.lid.open_deg, "stops_deg": rest.angle_deg, "on": rest.on}
        where = "lid.behind_distance" if rest.on == "wall" else "lid.open"
        at_own_wall = rest.on == "wall" and plan.lid.behind != "wall"  # a lean-to's
        mend = Mend("lid.opens", "slope") if at_own_wall and leaf.body.kind != "panel" else None
        on = rest.on.replace(" ", "-")
        found.append(Finding(Level.WARN, "lid", f"lid.fouls-{on}", where, values, change=mend))
    if plan.lid.behind == "path" and swing.rests_behind_m > plan.lid.behind_distance_m:
        values = {"behind_m": swing.rests_behind_m, "path_m": plan.lid.behind_distance_m}
        found.append(Finding(Level.WARN, "lid", "lid.lies-on-path", "lid.behind", values))
    if rest.block_m > 0:
        values = {
            "block_m": rest.block_m,
            "from_m": max(0.0, rest.block_out_m - leaf.over_m),
            "rest_deg": rest.lies_deg,
        }
        found.append(Finding(Level.NOTE, "lid", "lid.rest-block", "lid", values, PRACTICE))
    if leaf.body.kind != "panel" and _beside_others(leaf, plan):
        found.append(Finding(Level.WARN, "lid", "lid.end-hinge-between", "lid.hinge_side", {}))
    return found


def _beside_others(leaf: Leaf, plan: Plan) -> bool:
    """Whether a section hinged at its end would fall on the section behind it."""
    return plan.lid.hinge_side in ("front", "far") and leaf.over_m > leaf.line.length_m / 2
