"""Laths along the bottom rails: their pieces, where staples and screws go in, and how film is rolled on them."""

from __future__ import annotations

import math
from collections.abc import Sequence

from clochewright.catalogue import GoodsRow
from clochewright.film.parted import Edge
from clochewright.film.types import Lath, LathRoll
from clochewright.frame import Frame, covers
from clochewright.lid import LidPlan
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
    """One lath along each bottom rail of each cover, as long as its base is over all.

    Args:
        frame: the solved frame.
        plan: says how far staples and screws are apart.
        stick_m: length of lath as it is sold [m].
        lid: hinges, latches and props that joints in the lath keep clear of.
    """
    laths = []
    for number, (cover, middle_m) in enumerate(covers(frame), start=1):
        half_x, half_y = cover.length_m / 2, cover.width_m / 2
        fixed = [] if lid is None else [f.position_m for f in (*lid.hinges, *lid.latches)]
        heads = [] if lid is None else [prop.head_m for prop in lid.props]
        for side, sign in (("left", 1.0), ("right", -1.0)):
            places = [x - middle_m + half_x for x, y, _ in fixed if y * sign > 0]
            laths.append(_lath(side, cover.length_m, plan, stick_m, places, (number, cover.pipes[0].body)))
        for side, sign in (("front", -1.0), ("far", 1.0)):
            mine = [y for x, y, _ in heads if 0 < (x - middle_m) * sign <= half_x + CLEAR_M]
            places = [half_y - y for y in mine]
            laths.append(_lath(side, cover.width_m, plan, stick_m, places, (number, cover.pipes[0].body)))
    return tuple(laths)


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
        laths.append(_lath(edge.side, edge.length_m, plan, stick_m, places, (number, body)))
    return tuple(laths)


def _lath(
    side: str, length_m: float, plan: Plan, stick_m: float, keep_off_m: Sequence[float], on: tuple[int, str]
) -> Lath:
    joints = joints_along(length_m, stick_m, [place for place in keep_off_m if 0 <= place <= length_m])
    screws: list[float] = []
    staples = 0
    for start_m, end_m in zip((0.0, *joints), (*joints, length_m), strict=True):
        piece_m = end_m - start_m
        screws += [start_m + place for place in places_along(piece_m, plan.film.screw_gap_m, SCREW_FROM_END_M)]
        staples += len(places_along(piece_m, plan.film.staple_gap_m, STAPLE_FROM_END_M))
    return Lath(side, length_m, staples, tuple(screws), joints, *on)


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
    lath lies flat on the rail.
    """
    width, thick = lath.figures.get("width_m"), lath.figures.get("thickness_m")
    if width is None or thick is None or overhang_m <= 0:
        return None
    round_m = 2 * (width.value + thick.value)
    grows = math.pi * film_m
    turns = 2 * overhang_m / (round_m + math.sqrt(round_m**2 + 4 * grows * overhang_m))
    half_turns = math.floor(2 * turns + 1e-6)
    return LathRoll(turns, half_turns, thick.value + (half_turns + 1) * film_m)
