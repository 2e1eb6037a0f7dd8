"""The order of covering: laths fitted first, then long sides, pulled tight, square to the frame, then the ends."""

from __future__ import annotations

import math
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

from clochewright.film.fixing import SCREW_FROM_END_M
from clochewright.film.pattern import Pattern
from clochewright.film.types import LathRoll, LathSeat, OrderStep, ScrewFit
from clochewright.plan import Plan

_SEEN_M = 0.001
# Clamps along the long side of one who works alone (common practice, no source).
CLAMP_GAP_M = MappingProxyType({"inch": 0.6096, "mm": 0.6})


@dataclass(frozen=True, slots=True)
class On:
    """What film is put on with: the roll on the laths, how laths sit on their rails, and the lath screw."""

    roll: LathRoll | None
    seat: LathSeat | None
    screw: ScrewFit | None


def order_of_work(plan: Plan, pattern: Pattern, on: On, joins: int, covers: int, guard: bool) -> tuple[OrderStep, ...]:
    """The steps of covering one cover.

    Args:
        plan: says who builds, which side is hinged, and how far staples and screws are apart.
        pattern: says how the ends are closed.
        on: how the film is rolled on the laths, and how they sit.
        joins: laps in the sheets.
        covers: how many covers there are.
        guard: whether bare PVC has to be painted first.
    """
    alone = plan.people < 2
    rolled = {"half_turns": on.roll.half_turns if on.roll else 0, "takes_m": on.roll.takes_m if on.roll else 0.0}
    gaps = {"staple_gap_m": plan.film.staple_gap_m, "screw_gap_m": plan.film.screw_gap_m}
    first = "right" if plan.lid.hinge_side == "right" else "left"
    sides = {"first": first, "second": "right" if first == "left" else "left"}
    clamps = {"clamp_gap_m": CLAMP_GAP_M[plan.units]}
    steps = [OrderStep("guard")] if guard else []
    steps += [OrderStep("smooth"), _laths(on, gaps), OrderStep("marks")]
    steps += [OrderStep("join")] if joins else []
    if pattern.panels:
        strips = [OrderStep("strips", {**rolled, **gaps})] if any(p.name == "strip" for p in pattern.pieces) else []
        steps += [*strips, OrderStep("square"), OrderStep("gable-cut", rolled), OrderStep("gable-round")]
        steps += [OrderStep("panel-sheet", {**rolled, **gaps}), OrderStep("panel-square")]
        return (*steps, OrderStep("again", {"covers": covers})) if covers > 1 else tuple(steps)
    steps += [_spread(pattern, alone, {**clamps, **sides}), OrderStep("first-side", {**rolled, **gaps, **sides})]
    steps.append(OrderStep("pull-alone" if alone else "pull-two", {**clamps, **sides}))
    steps.append(OrderStep("second-side-alone" if alone else "second-side-two", {**rolled, **sides}))
    steps.append(OrderStep("square"))
    if pattern.ends == "cut":
        steps += [OrderStep("gable-cut", rolled), OrderStep("gable-lap")]
    else:
        steps.append(OrderStep("fold-ears" if pattern.pleats > 1 else "fold-ridge"))
        steps.append(OrderStep("end-laths", rolled))
    return (*steps, OrderStep("again", {"covers": covers})) if covers > 1 else tuple(steps)


def _spread(pattern: Pattern, alone: bool, clamps: dict[str, Any]) -> OrderStep:
    """The sheet laid over the frame: its middle on the top, or where that is not the middle, a line ruled beside it."""
    key, off_m = "spread-alone" if alone else "spread-two", _top_m(pattern)
    if abs(off_m) < _SEEN_M:
        return OrderStep(key, clamps)
    side = "left" if off_m > 0 else "right"
    return OrderStep(f"{key}-off", {**clamps, "off_m": abs(off_m), "side": side})


def _top_m(pattern: Pattern) -> float:
    """How far to the left of the sheet's middle it lies over the top of the frame [m]."""
    sheet = next(piece for piece in pattern.pieces if piece.name == "cover")
    heights = [(flat, space[2]) for face in sheet.faces for flat, space in zip(face.flat, face.space, strict=True)]
    crests = [line.points[0] for line in sheet.lines if line.kind == "crest"]
    highs = [(min((math.dist(crest, flat), high_m) for flat, high_m in heights)[1], crest[1]) for crest in crests]
    top_m = max((high_m for high_m, _ in highs), default=0.0)
    tops = [across_m for high_m, across_m in highs if high_m > top_m - _SEEN_M]
    return sum(tops) / len(tops) if tops else 0.0


def _laths(on: On, gaps: dict[str, float]) -> OrderStep:
    """Laths sawn, held at their places and drilled together with the rail, before any film is there."""
    drilled = {**gaps, "drill_m": on.screw.pilot_m if on.screw else 0.0, "from_end_m": SCREW_FROM_END_M}
    if on.seat is None:
        return OrderStep("laths-board", drilled)
    return OrderStep("laths", {**drilled, "edge_up_m": on.seat.edge_up_m, "screw_up_m": on.seat.screw_up_m})
