"""Where the handle is as the leaf opens, and whether a standing or seated person's hand gets there."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from clochewright.plan import Plan
from clochewright.sources import Cited, Grade
from clochewright.strength.opening.statics import Turning, lift_N, turned
from clochewright.strength.opening.types import Reach
from clochewright.strength.structure import Floats

ADA = "2010 ADA Standards for Accessible Design, 308.2: 380 to 1220 mm above the floor"
_SEAT_IN = "ADA 308.2.2, over an obstruction: 508 mm (from memory); 610 mm is hard for some"
_BED = "raised beds are reached 610 mm in from a side: common practice, no source"
_STAND = "upward grip of a small adult standing, from memory"


@dataclass(frozen=True, slots=True)
class Posture:
    """How low, how high above the ground and how far in over the bed a hand gets [m]."""

    low_m: Cited
    high_m: Cited
    in_m: Cited


STANDING = Posture(
    Cited(0.25, 0.15, 0.45, Grade.FROM_MEMORY, "bending down without kneeling, from memory"),
    Cited(1.75, 1.65, 1.95, Grade.FROM_MEMORY, _STAND),
    Cited(0.61, 0.50, 0.75, Grade.COMMON_PRACTICE, _BED),
)
POSTURES = {
    "standing": STANDING,
    "one-hand": STANDING,
    "seated": Posture(
        Cited(0.381, 0.381, 0.381, Grade.PUBLISHED, ADA),
        Cited(1.219, 1.118, 1.219, Grade.PUBLISHED, ADA),
        Cited(0.508, 0.41, 0.61, Grade.FROM_MEMORY, _SEAT_IN),
    ),
}
HANDLE_FROM_END_m = 0.15  # reached from an end, a handle sits near that end of the rail
OPPOSITE = {"left": "right", "right": "left", "front": "far", "far": "front"}


def stands_at(plan: Plan) -> str:
    """Where the person is, seen from the hinges: "opening", "hinge" or "end"."""
    where, hinge = plan.lid.reach_from, plan.lid.hinge_side
    if where in ("opening-side", OPPOSITE[hinge]):
        return "opening"
    return "hinge" if where in ("hinge-side", hinge) else "end"


def handle_way(
    leaf: Turning, angles_deg: Floats, line_height_m: float, over_m: float, bed_across_m: float, at: str
) -> tuple[Floats, Floats]:
    """Height of the handle above the ground and how far in over the bed it is, at each angle [m].

    Args:
        leaf: the leaf.
        angles_deg: angles from shut [deg].
        line_height_m: its hinge line above the ground [m].
        over_m: how far the line lies in from the outside of the bed [m].
        bed_across_m: the bed from its hinge side to its opening side, outside [m].
        at: where the person is: "opening", "hinge" or "end".
    """
    way = turned(leaf.handle_m, angles_deg)
    if at == "opening":
        inward = bed_across_m - over_m - way[:, 0]
    elif at == "hinge":
        inward = way[:, 0] + over_m
    else:
        inward = np.full(len(angles_deg), HANDLE_FROM_END_m)
    return line_height_m + way[:, 1], np.maximum(inward, 0.0)


def reach_of(
    leaf: Turning, plan: Plan, heights_m: Floats, inwards_m: Floats, angles_deg: Floats, heavy_factor: float
) -> tuple[Reach, npt.NDArray[np.bool_]]:
    """Whether the handle is in reach up to the wanted opening, and what the hand lifts on the way.

    Args:
        leaf: the leaf.
        plan: who opens it, how far, the limit.
        heights_m: of the handle at each angle [m].
        inwards_m: how far in it is [m].
        angles_deg: angles from shut, ascending [deg].
        heavy_factor: the leaf's weight at the high end of its band, over the likely.

    Returns:
        The verdict, and at which angles the handle is in reach.
    """
    posture = POSTURES[plan.lid.opened_by]
    good = (heights_m >= posture.low_m.value) & (heights_m <= posture.high_m.value) & (inwards_m <= posture.in_m.value)
    out = np.flatnonzero(~good)
    reached = float(angles_deg[-1]) if not len(out) else float(angles_deg[max(int(out[0]) - 1, 0)])
    wanted = min(plan.lid.open_deg, float(angles_deg[-1]))
    sweep = angles_deg <= wanted + 1e-9
    most = float(np.abs(lift_N(leaf, angles_deg[sweep])).max()) * heavy_factor
    limits = (posture.low_m, posture.high_m, posture.in_m)
    return Reach(plan.lid.opened_by, *limits, wanted, reached, most, plan.lid.force_limit_N), good
