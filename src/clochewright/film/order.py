"""The order of covering: long sides first, pulled tight, square to the frame, then the ends; trimmed last of all."""

from __future__ import annotations

from types import MappingProxyType

from clochewright.film.pattern import Pattern
from clochewright.film.types import LathRoll, OrderStep
from clochewright.plan import Plan

# Clamps along the long side of one who works alone (common practice, no source).
CLAMP_GAP_M = MappingProxyType({"inch": 0.6096, "mm": 0.6})


def order_of_work(
    plan: Plan, pattern: Pattern, roll: LathRoll | None, joins: int, covers: int, guard: bool
) -> tuple[OrderStep, ...]:
    """The steps of covering one cover.

    Args:
        plan: says who builds, which side is hinged, and how far staples and screws are apart.
        pattern: says how the ends are closed.
        roll: how the film is rolled on the laths.
        joins: laps in the sheets.
        covers: how many covers there are.
        guard: whether bare PVC has to be painted first.
    """
    alone = plan.people < 2
    turns = {"half_turns": roll.half_turns if roll else 0}
    gaps = {"staple_gap_m": plan.film.staple_gap_m, "screw_gap_m": plan.film.screw_gap_m}
    first = "right" if plan.lid.hinge_side == "right" else "left"
    sides = {"first": first, "second": "right" if first == "left" else "left"}
    clamps = {"clamp_gap_m": CLAMP_GAP_M[plan.units]}
    steps = [OrderStep("guard")] if guard else []
    steps += [OrderStep("smooth"), OrderStep("marks")]
    steps += [OrderStep("join")] if joins else []
    if pattern.panels:
        strips = [OrderStep("strips", {**turns, **gaps})] if any(p.name == "strip" for p in pattern.pieces) else []
        steps += [*strips, OrderStep("square"), OrderStep("gable-cut", turns), OrderStep("gable-round")]
        steps += [OrderStep("panel-sheet", {**turns, **gaps}), OrderStep("panel-square"), OrderStep("trim")]
        return (*steps, OrderStep("again", {"covers": covers})) if covers > 1 else tuple(steps)
    steps.append(OrderStep("spread-alone" if alone else "spread-two", {**clamps, **sides}))
    steps.append(OrderStep("first-side", {**turns, **gaps, **sides}))
    steps.append(OrderStep("pull-alone" if alone else "pull-two", {**clamps, **sides}))
    steps.append(OrderStep("second-side", {**turns, **gaps, **sides}))
    steps.append(OrderStep("square"))
    if pattern.ends == "cut":
        steps += [OrderStep("gable-cut", turns), OrderStep("gable-lap")]
    else:
        steps.append(OrderStep("fold-ears" if pattern.pleats > 1 else "fold-ridge"))
        steps.append(OrderStep("end-laths", turns))
    steps.append(OrderStep("trim"))
    return (*steps, OrderStep("again", {"covers": covers})) if covers > 1 else tuple(steps)
