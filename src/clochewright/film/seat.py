"""Where a lath sits: against the outer face of its rail, in pieces between fittings, hinges, latches and pivots.

The hubs stand on the rim, so the rail lies only a hub's radius less a pipe's above it: too little for a lath with its
film rolled on. On the outer face the roll hangs clear of the rim, and the screws go in level.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from clochewright.film.types import Lath, LathRoll, LathSeat
from clochewright.findings import Finding, Level
from clochewright.frame import Frame

# Common practice, no source: a lath ends this far from what sits on the rail; no piece is shorter than that.
FROM_FIXING_M = 0.010
SHORTEST_M = 0.080
# What is left under a lath with its film, so that the lid stands on its hubs.
LEAST_CLEAR_M = 0.001
BOTTOM = ("left", "right", "front", "far")
PRACTICE = "common practice, no source"

Run = tuple[float, float]
# Its middle along the rail and its width [m].
Fixed = tuple[float, float]


def seat_of(frame: Frame, roll: LathRoll | None, board_beyond_m: float) -> LathSeat | None:
    """How a lath sits on the rails of a cover; None where there are no rails or the lath's section is not known.

    Its lower edge is level with the underside of the rail, so a straight bit of wood under the rail sets it.

    Args:
        frame: the solved frame.
        roll: the lath with its film.
        board_beyond_m: how far the boards' outer faces lie beyond the fittings' [m].
    """
    radius_m = frame.pipe_outside_diameter_m / 2
    heights = [point[2] for pipe in frame.pipes if pipe.role in ("side rail", "end rail") for point in pipe.path_m]
    if not heights or roll is None:
        return None
    rail_up_m = min(heights)
    proud_m = roll.thickness_m - (rail_up_m - radius_m) - board_beyond_m
    edge_up_m = rail_up_m - radius_m
    return LathSeat(rail_up_m, edge_up_m, edge_up_m - roll.edge_m, radius_m, proud_m)


def about_seat(seat: LathSeat | None, laths: Sequence[Lath]) -> tuple[Finding, ...]:
    """What is wrong with how laths sit: no clearance over the rim, or no bare pipe for any piece."""
    if seat is None:
        return ()
    found = []
    if seat.clear_m < LEAST_CLEAR_M:
        values = {"clear_m": seat.edge_up_m, "up_m": LEAST_CLEAR_M - seat.clear_m}
        found.append(Finding(Level.WARN, "film", "film.lath-on-rim", "side rail", values, PRACTICE))
    crowded = tuple(dict.fromkeys(lath.side for lath in laths if lath.side in BOTTOM and lath.crowded))
    if crowded:
        told = {"sides": crowded, "least_m": SHORTEST_M}
        found.append(Finding(Level.WARN, "film", "film.no-room-for-lath", "side rail", told, PRACTICE))
    return tuple(found)


def free_runs(bare_m: Iterable[Run], fixed: Sequence[Fixed]) -> tuple[Run, ...]:
    """What of some stretches of bare pipe is free for lath, in order.

    Args:
        bare_m: the stretches, from and to along the rail [m].
        fixed: what sits on it.
    """
    runs: list[Run] = []
    for start_m, stop_m in sorted(bare_m):
        at_m = start_m
        for middle_m, width_m in sorted(fixed):
            keep_m = width_m / 2 + FROM_FIXING_M
            if middle_m + keep_m > at_m and middle_m - keep_m < stop_m:
                runs.append((at_m, middle_m - keep_m))
                at_m = middle_m + keep_m
        runs.append((at_m, stop_m))
    return tuple((start_m, stop_m) for start_m, stop_m in runs if stop_m - start_m >= SHORTEST_M - 1e-9)
