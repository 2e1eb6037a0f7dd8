"""Laths along the bottom rails, and where staples and screws go in."""

from __future__ import annotations

import math

from clochewright.film.types import Lath
from clochewright.frame import Frame
from clochewright.plan import Plan

# Common practice, no source: screws start 50 mm from a lath's end so that it does not split, staples 25 mm.
SCREW_FROM_END_M = 0.050
STAPLE_FROM_END_M = 0.025
# A lath that leaves less than this between the two is held in its middle.
SHORTEST_RUN_M = 0.010


def places_along(length_m: float, gap_m: float, from_end_m: float) -> tuple[float, ...]:
    """Even places along a lath [m], no further apart than `gap_m`, the outer ones `from_end_m` from its ends.

    A lath too short for two gets one in its middle.
    """
    run_m = length_m - 2 * from_end_m
    if run_m <= SHORTEST_RUN_M:
        return (length_m / 2,)
    steps = math.ceil(run_m / gap_m - 1e-9)
    return tuple(from_end_m + run_m * i / steps for i in range(steps + 1))


def lay_laths(frame: Frame, plan: Plan) -> tuple[Lath, ...]:
    """One lath along each bottom rail, as long as the base is over all."""
    return tuple(
        Lath(
            side,
            length_m,
            len(places_along(length_m, plan.film.staple_gap_m, STAPLE_FROM_END_M)),
            places_along(length_m, plan.film.screw_gap_m, SCREW_FROM_END_M),
        )
        for side, length_m in (
            ("left", frame.length_m),
            ("right", frame.length_m),
            ("front", frame.width_m),
            ("far", frame.width_m),
        )
    )
