"""What there is to say about opening a cover and keeping it shut."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from clochewright.findings import Finding, Level, Mend, word
from clochewright.lid import LidPlan
from clochewright.plan import Plan
from clochewright.strength.beaufort import beaufort, mean_of_gust
from clochewright.strength.opening.anchors import SOURCE as WIND_SOURCE
from clochewright.strength.opening.lifting import NIOSH
from clochewright.strength.opening.open_wind import SOURCE as OPEN_SOURCE
from clochewright.strength.opening.reach import ADA
from clochewright.strength.opening.types import HoldDown, LeafOpening
from clochewright.strength.resistance import ENGAGES_factor

PRACTICE = "common practice, no source"
GOAL_N = 50.0
BALANCE_DEG = 10.0  # an opening nearer to balancing than this is warned of: common practice, no source
STEP_DEG = 5.0  # in such steps a lesser opening is proposed
LEANS_DEG = 5.0  # stopped sooner than this it is not open at all, which the lid's own findings say
FORCE_SOURCE = f"{ADA}; 309.4; at most 50 N from HSE push and pull figures (7 kgf) and EN 1005-2 (from memory)"


def opening_findings(
    plan: Plan, lid: LidPlan, leaves: Sequence[LeafOpening], held: HoldDown | None
) -> tuple[Finding, ...]:
    """All findings; of leaves that are alike only the first is told of."""
    found: list[Finding] = []
    for leaf in leaves:
        found += [one for one in _of_leaf(plan, leaf, held) if one not in found]
        if len(leaves) > 1 and _alike(leaves):
            break
    found += _of_wind_shut(plan, lid, held)
    return tuple(found)


def _alike(leaves: Sequence[LeafOpening]) -> bool:
    return max(leaf.mass_kg.value for leaf in leaves) - min(leaf.mass_kg.value for leaf in leaves) < 0.05


def _of_leaf(plan: Plan, leaf: LeafOpening, held: HoldDown | None) -> Iterator[Finding]:
    yield from _of_hand(plan, leaf)
    yield from _of_rest(leaf)
    yield from _of_balance(plan, leaf)
    yield from _of_lifting(plan, leaf)
    yield from _of_prop(leaf)
    yield from _of_fixings(leaf, held)
    if plan.grow.opens == "wax-opener":
        wax = leaf.wax
        values = {
            "asked_N": wax.asked_N,
            "lifts_N": wax.lifts_N.value,
            "open_deg": wax.opens_deg,
            "spare_kg": wax.spare_kg,
            "at_m": wax.at_m,
        }
        if wax.works:
            yield Finding(Level.NOTE, "strength", "strength.wax-lifts", "grow.opens", values, wax.lifts_N.source)
        else:
            yield Finding(Level.WARN, "strength", "strength.wax-too-weak", "grow.opens", values, wax.lifts_N.source)


def _of_hand(plan: Plan, leaf: LeafOpening) -> Iterator[Finding]:
    reach, shut = leaf.reach, leaf.angles[0]
    said = bool({"force_limit_N", "opened_by"} & plan.lid.model_fields_set)
    values = {
        "most_N": reach.most_N,
        "limit_N": reach.limit_N,
        "low_N": shut.lift_low_N,
        "high_N": shut.lift_high_N,
        "open_deg": reach.wanted_deg,
        "posture": word(f"strength.posture.{reach.posture}"),
        "advice": word("strength.advice.unknown"),
    }
    if not reach.is_light:
        level = Level.WARN if said or reach.most_N > GOAL_N else Level.NOTE
        yield Finding(level, "strength", "strength.opens-heavy", "lid.force_limit", values, FORCE_SOURCE)
    if not reach.reaches:
        row = next((row for row in leaf.angles if not row.in_reach), leaf.angles[-1])
        told = {
            **values,
            "reached_deg": reach.reached_deg,
            "height_m": row.handle_height_m,
            "in_m": row.handle_in_m,
            "low_m": reach.low_m.value,
            "high_m": reach.high_m.value,
            "far_m": reach.in_m.value,
        }
        level = Level.WARN if said or reach.reached_deg < 20 else Level.NOTE
        yield Finding(level, "strength", "strength.out-of-reach", "lid.opened_by", told, reach.high_m.source)


def _of_rest(leaf: LeafOpening) -> Iterator[Finding]:
    if not leaf.stays_open and leaf.rest_deg >= LEANS_DEG:
        values = {
            "rest_deg": leaf.rest_deg,
            "over_deg": leaf.over_centre_deg,
            "on": word(f"strength.on.{leaf.rests_on}"),
        }
        yield Finding(Level.WARN, "strength", "strength.falls-back", "lid", values, "statics")


def _of_balance(plan: Plan, leaf: LeafOpening) -> Iterator[Finding]:
    """Propped open so far that it nearly balances, a breath of wind throws it over."""
    open_deg, over_deg = plan.lid.open_deg, leaf.over_centre_deg
    if leaf.prop is None or leaf.rest_deg <= over_deg or open_deg <= over_deg - BALANCE_DEG:
        return
    safe_deg = math.floor((over_deg - BALANCE_DEG) / STEP_DEG) * STEP_DEG
    change = Mend("lid.open", f"{safe_deg:g} deg") if safe_deg >= STEP_DEG else None
    values = {"open_deg": open_deg, "over_deg": over_deg, "safe_deg": max(safe_deg, 0.0)}
    yield Finding(Level.WARN, "strength", "strength.near-balance", "lid.open", values, PRACTICE, change)


def _of_lifting(plan: Plan, leaf: LeafOpening) -> Iterator[Finding]:
    lifting = leaf.lifting
    niosh = next(limit for limit in lifting.limits if limit.key == "niosh")
    home = next(limit for limit in lifting.limits if limit.key == "home")
    values = {
        "mass_kg": lifting.mass_kg.value,
        "one_kg": niosh.limit_kg.value,
        "home_kg": home.limit_kg.value,
        "half_kg": lifting.half_kg,
        "have": plan.people,
    }
    if lifting.people == 0:
        yield Finding(Level.WARN, "strength", "strength.lift-split", "cover.sections", values, NIOSH)
    elif lifting.people == 2:
        level = Level.NOTE if plan.people >= 2 else Level.WARN
        yield Finding(level, "strength", "strength.lift-two", "people", values, NIOSH)
    else:
        yield Finding(Level.NOTE, "strength", "strength.lift-one", "people", values, NIOSH)


def _of_prop(leaf: LeafOpening) -> Iterator[Finding]:
    if not leaf.wind:
        return
    widest = leaf.wind[-1]
    mean = beaufort(mean_of_gust(widest.off_pin_m_s.low))
    values = {
        "open_deg": widest.angle_deg,
        "gust_m_s": widest.off_pin_m_s.value,
        "low_m_s": widest.off_pin_m_s.low,
        "high_m_s": widest.off_pin_m_s.high,
        "breaks_m_s": widest.breaks_m_s.value,
        "gives": word(f"strength.gives.{widest.gives}"),
        "told_m_s": widest.told_gust_m_s,
        "tie_N": widest.tie_N,
        "name": mean.name,
        "seen": mean.seen,
    }
    yield Finding(Level.WARN, "strength", "strength.open-wind", "lid.open", values, OPEN_SOURCE)
    if leaf.prop is None:
        return
    worst = max(abs(hole.one_bar_N) for hole in leaf.prop.holes)
    told = {"bars": leaf.prop.bars, "worst_N": worst, "bears_N": leaf.prop.pin_bears_N, "stop_m": leaf.prop.stop_m}
    if not leaf.prop.always_pushed:
        yield Finding(Level.NOTE, "strength", "strength.prop-clip", "lid", told, PRACTICE)
    if leaf.prop.share > 1:
        strong = {**told, "share": round(100 * leaf.prop.share), "told_m_s": widest.told_gust_m_s}
        yield Finding(Level.WARN, "strength", "strength.prop-weak", "lid.open", strong, OPEN_SOURCE)


def _of_fixings(leaf: LeafOpening, held: HoldDown | None) -> Iterator[Finding]:
    strapped = held is not None and held.straps > 0 and held.worst is not None and held.worst.share <= 1
    for work in leaf.fixings:
        values = {
            "what": word(f"strength.fixed.{work.what}"),
            "placed": work.placed,
            "strength": work.strength,
            "pull_N": work.pull_N,
            "bears_N": work.bears_N,
        }
        if work.placed and work.strength > work.placed:
            level = Level.NOTE if strapped else Level.WARN
            yield Finding(level, "strength", "strength.more-fixings", "lid", values, ENGAGES_factor.source)
    hinge = leaf.fixings[0]
    if hinge.reason:
        told = {"bolt_drill_m": hinge.bolt_m, "hole_drill_m": hinge.pipe_hole_m, "screw_drill_m": hinge.screw_m}
        bolted = hinge.how == "bolts"
        yield Finding(
            Level.NOTE,
            "strength",
            "strength.bolt-through" if bolted else "strength.saddle-round",
            "lid",
            told,
            ENGAGES_factor.source,
        )


def _of_wind_shut(plan: Plan, lid: LidPlan, held: HoldDown | None) -> Iterator[Finding]:
    if held is None:
        return
    worst = held.worst
    if worst is not None:
        values = {
            "gust_m_s": held.gust_m_s,
            "uplift_N": held.uplift_N.value,
            "hinges": sum(anchor.kind == "hinge" for anchor in held.anchors),
            "latches": sum(anchor.kind == "latch" for anchor in held.anchors),
            "straps": held.straps,
            "saddles": sum(anchor.kind == "saddle" for anchor in held.anchors),
            "worst": worst.id,
            "pull_N": worst.pull_N,
            "low_N": worst.low_N,
            "high_N": worst.high_N,
            "bears_N": worst.bears_N,
            "wind": worst.wind,
            "screws": held.strap_screws,
        }
        if worst.share > 1:
            yield Finding(Level.WARN, "strength", "strength.held-too-little", "hold-down.by", values, WIND_SOURCE)
        elif not any(anchor.kind in ("hinge", "latch") for anchor in held.anchors):
            yield Finding(Level.NOTE, "strength", "strength.frame-held", "hold-down.by", values, WIND_SOURCE)
        elif held.straps:
            yield Finding(Level.NOTE, "strength", "strength.held-by-straps", "hold-down.by", values, WIND_SOURCE)
        else:
            yield Finding(Level.NOTE, "strength", "strength.held", "lid", values, WIND_SOURCE)
    if plan.hold_down.by == "weights":
        weighted = held.weights
        told = {
            "needed_kg": weighted.needed_kg.value,
            "high_kg": weighted.needed_kg.high,
            "planned_kg": weighted.planned_kg,
            "sandbags": weighted.sandbags,
            "gust_m_s": held.gust_m_s,
        }
        if weighted.enough:
            yield Finding(Level.NOTE, "strength", "strength.weights-hold", "hold-down.weights", told, WIND_SOURCE)
        elif not lid.latches or not lid.hinges or (worst is not None and worst.share > 1):
            change = Mend("hold-down.by", "straps")
            yield Finding(
                Level.STOP, "strength", "strength.weights-too-small", "hold-down.weights", told, WIND_SOURCE, change
            )
        else:
            yield Finding(Level.WARN, "strength", "strength.weights-alone", "hold-down.weights", told, WIND_SOURCE)
