"""Laths along the bottom rails: their pieces, where staples and screws go in, and how film is rolled on them."""

from __future__ import annotations

import math
from collections.abc import Sequence

from clochewright.catalogue import GoodsRow
from clochewright.film.parted import Edge
from clochewright.film.seat import Fixed, Run, free_runs
from clochewright.film.types import Lath, LathRoll
from clochewright.frame import Frame, Vec, covers
from clochewright.lid import HINGE_WIDTH_M, LATCH_WIDTH_M, STRAP_WIDTH_M, LidPlan, PIVOT_WIDTH_m, bare_stretches
from clochewright.plan import Plan

# Common practice, no source: screws start 50 mm from a lath's end so that it does not split, staples 25 mm.
SCREW_FROM_END_M = 0.050
STAPLE_FROM_END_M = 0.025
# A lath that leaves less than this between the two is held in its middle.
SHORTEST_RUN_M = 0.010
# Common practice, no source: a joint in the lath stays this far from the middle of a hinge, a latch or a prop.
CLEAR_M = 0.100
# No piece of lath is shorter than this if that can be helped.
SHORTEST_PIECE_M = 0.200
# Film keeps this much of its overhang for its way out over the lath, which stands proud of the rail.
OUT_OVER_M = 0.010
_HARDLY = 1e-9


def places_along(length_m: float, gap_m: float, from_end_m: float) -> tuple[float, ...]:
    """Even places along a lath [m], no further apart than `gap_m`, the outer ones `from_end_m` from its ends.

    A lath too short for two gets one in its middle.
    """
    run_m = length_m - 2 * from_end_m
    if run_m <= SHORTEST_RUN_M:
        return (length_m / 2,)
    steps = math.ceil(run_m / gap_m - _HARDLY)
    return tuple(from_end_m + run_m * i / steps for i in range(steps + 1))


def lay_laths(frame: Frame, plan: Plan, stick_m: float, lid: LidPlan | None = None) -> tuple[Lath, ...]:
    """Laths along each bottom rail of each cover, on bare pipe: in pieces between fittings and what sits on the rail.

    Hoops in sleeves have no rail: there one lath lies along each board.

    Args:
        frame: the solved frame.
        plan: says how far staples and screws are apart.
        stick_m: length of lath as it is sold [m].
        lid: hinges, latches, straps and the pivots of bars, which laths end clear of.
    """
    laths = []
    fixed = _fixed(lid)
    for number, (cover, middle_m) in enumerate(covers(frame), start=1):
        half_x, half_y, on = cover.length_m / 2, cover.width_m / 2, (number, cover.pipes[0].body)
        railed = any(pipe.role == "side rail" for pipe in cover.pipes)
        for side, sign in (("left", 1.0), ("right", -1.0)):
            mine = [(at[0] - middle_m, wide_m) for at, wide_m, along in fixed if along == 0 and at[1] * sign > 0]
            runs = _runs(cover, "side rail", 0, sign, mine)
            placed = [(start + half_x, stop + half_x) for start, stop in runs]
            laths.append(_lath(side, cover.length_m, plan, stick_m, placed, on, railed))
        for side, sign in (("front", -1.0), ("far", 1.0)):
            near = [one for one in fixed if one[2] == 1 and 0 < (one[0][0] - middle_m) * sign <= half_x + CLEAR_M]
            runs = _runs(cover, "end rail", 1, sign, [(at[1], wide_m) for at, wide_m, _ in near])
            placed = [(half_y - stop, half_y - start) for start, stop in reversed(runs)]
            laths.append(_lath(side, cover.width_m, plan, stick_m, placed, on, railed))
    return tuple(laths)


def _fixed(lid: LidPlan | None) -> list[tuple[Vec, float, int]]:
    """What sits on bottom rails: where, how wide, and along which axis the rail runs."""
    if lid is None:
        return []
    along = 1 if lid.hinged_at_end else 0
    bars = [] if any(body.kind == "panel" for body in lid.bodies) else lid.props
    return [
        *((hinge.position_m, HINGE_WIDTH_M, along) for hinge in lid.hinges),
        *((latch.position_m, LATCH_WIDTH_M, along) for latch in lid.latches),
        *((strap.position_m, STRAP_WIDTH_M, 0) for strap in lid.saddles),
        *((bar.head_m, PIVOT_WIDTH_m, 1 - along) for bar in bars),
    ]


def _runs(cover: Frame, role: str, axis: int, sign: float, fixed: Sequence[Fixed]) -> tuple[Run, ...]:
    """Free stretches of one bottom rail of a cover, from its middle [m]."""
    rails = [pipe for pipe in cover.pipes if pipe.role == role and pipe.path_m[0][1 - axis] * sign > 0]
    return free_runs([(bare.start_m, bare.stop_m) for bare in bare_stretches(cover, rails, axis)], fixed)


def lay_edge_laths(
    edges: Sequence[tuple[str, int, Edge]], plan: Plan, stick_m: float, lid: LidPlan | None = None
) -> tuple[Lath, ...]:
    """A lath along each edge of an opening or a panel, which are given with their body and the number of their cover.

    Joints in the laths along the bed keep clear of the hinges and latches there.
    """
    fixed = [] if lid is None else [f.position_m[0] for f in (*lid.hinges, *lid.latches)]
    laths = []
    for body, number, edge in edges:
        along_bed = edge.side not in ("panel-front", "panel-far")
        places = [x - edge.start_m for x in fixed] if along_bed else []
        joints = joints_along(edge.length_m, stick_m, [place for place in places if 0 <= place <= edge.length_m])
        runs = tuple(zip((0.0, *joints), (*joints, edge.length_m), strict=True))
        laths.append(_lath(edge.side, edge.length_m, plan, stick_m, runs, (number, body)))
    return tuple(laths)


def _lath(
    side: str, length_m: float, plan: Plan, stick_m: float, runs_m: Sequence[Run], on: tuple[int, str],
    railed: bool = False,
) -> Lath:  # fmt: skip
    """The pieces of one rail; one as long as it where there is no room for any or no rail."""
    pieces: list[Run] = []
    for start_m, stop_m in runs_m or ((0.0, length_m),):
        joints = [start_m + joint for joint in joints_along(stop_m - start_m, stick_m, [])]
        pieces += zip((start_m, *joints), (*joints, stop_m), strict=True)
    screws: list[float] = []
    staples = 0
    for start_m, stop_m in pieces:
        piece_m = stop_m - start_m
        screws += [start_m + place for place in places_along(piece_m, plan.film.screw_gap_m, SCREW_FROM_END_M)]
        staples += len(places_along(piece_m, plan.film.staple_gap_m, STAPLE_FROM_END_M))
    return Lath(side, length_m, staples, tuple(screws), tuple(pieces), *on, railed and not runs_m)


def joints_along(length_m: float, stick_m: float, keep_off_m: Sequence[float]) -> tuple[float, ...]:
    """Where pieces of lath meet [m]: as few joints as sticks allow, each clear of `keep_off_m` where there is room.

    Whole sticks come first; where the last piece would be a stump, the joint before it moves back.
    """
    joints: list[float] = []
    start_m = 0.0
    while length_m - start_m > stick_m + _HARDLY:
        wanted_m = min(start_m + stick_m, length_m - SHORTEST_PIECE_M)
        joint_m = _clear_before(wanted_m, start_m + min(SHORTEST_PIECE_M, stick_m / 2), keep_off_m)
        joints.append(joint_m)
        start_m = joint_m
    return tuple(joints)


def _clear_before(wanted_m: float, least_m: float, keep_off_m: Sequence[float]) -> float:
    """The last clear place up to `wanted_m`, not before `least_m` [m]; `wanted_m` where there is none."""
    place_m = wanted_m
    for middle_m in sorted(keep_off_m, reverse=True):
        if abs(place_m - middle_m) < CLEAR_M - _HARDLY:
            place_m = middle_m - CLEAR_M
    return place_m if place_m >= least_m else wanted_m


def roll_on_lath(overhang_m: float, lath: GoodsRow, film_m: float) -> LathRoll | None:
    """How film rolls up on a lath; None where the catalogue does not know the lath's section.

    The first turn takes the way round the lath, and each further one lies a film's thickness outside the last: n turns
    take n p + pi t n^2 for a lath of perimeter p and a film of thickness t. The roll ends on a half turn, so that the
    lath lies flat on the rail, and leaves a little of the overhang for the film's way out over the lath.
    """
    width, thick = lath.figures.get("width_m"), lath.figures.get("thickness_m")
    if width is None or thick is None or overhang_m <= 0:
        return None
    round_m, grows = 2 * (width.value + thick.value), math.pi * film_m

    def turns(length_m: float) -> float:
        return 2 * length_m / (round_m + math.sqrt(round_m**2 + 4 * grows * length_m))

    half_turns = math.floor(2 * turns(max(0.0, overhang_m - OUT_OVER_M)) + 1e-6)
    takes_m = half_turns / 2 * round_m + grows * (half_turns / 2) ** 2
    edge_m = (half_turns // 2 + 1) * film_m
    thickness_m = thick.value + (half_turns + 1) * film_m
    return LathRoll(turns(overhang_m), half_turns, thickness_m, takes_m, edge_m, width.value, thick.value)
