"""The order of covering: laths fitted first, then long sides, pulled tight, square to the frame, then the ends."""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType

from clochewright.film.fixing import SCREW_FROM_END_M
from clochewright.film.pattern import Pattern
from clochewright.film.types import LathRoll, LathSeat, OrderStep, ScrewFit
from clochewright.plan import Plan

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
    steps.append(OrderStep("spread-alone" if alone else "spread-two", {**clamps, **sides}))
    steps.append(OrderStep("first-side", {**rolled, **gaps, **sides}))
    steps.append(OrderStep("pull-alone" if alone else "pull-two", {**clamps, **sides}))
    steps.append(OrderStep("second-side-alone" if alone else "second-side-two", {**rolled, **sides}))
    steps.append(OrderStep("square"))
    if pattern.ends == "cut":
        steps += [OrderStep("gable-cut", rolled), OrderStep("gable-lap")]
    else:
        steps.append(OrderStep("fold-ears" if pattern.pleats > 1 else "fold-ridge"))
        steps.append(OrderStep("end-laths", rolled))
    return (*steps, OrderStep("again", {"covers": covers})) if covers > 1 else tuple(steps)


def _laths(on: On, gaps: dict[str, float]) -> OrderStep:
    """Laths sawn, held at their places and drilled together with the rail, before any film is there."""
    drilled = {**gaps, "drill_m": on.screw.pilot_m if on.screw else 0.0, "from_end_m": SCREW_FROM_END_M}
    if on.seat is None:
        return OrderStep("laths-board", drilled)
    return OrderStep("laths", {**drilled, "edge_up_m": on.seat.edge_up_m, "screw_up_m": on.seat.screw_up_m})
