"""Easier ways to open a lid that is too heavy or out of reach: each worked out, on request, by runs or by statics."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import replace

from clochewright.catalogue import Catalogue, Prices
from clochewright.film import cut_sheet
from clochewright.findings import Finding, Level, word, worst_first
from clochewright.frame import raise_frame
from clochewright.job.run import Watch, no_watch
from clochewright.job.types import Job
from clochewright.joints import choose_joints
from clochewright.lid import hang_lid
from clochewright.measures import GRAVITY_M_S2
from clochewright.plan import Plan, plan_with
from clochewright.sources import Cited, Grade
from clochewright.strength import Alternative, Asked, LeafOpening, Opening, study_opening
from clochewright.weights import weigh

SLIDES_factor = Cited(0.4, 0.3, 0.5, Grade.ESTIMATE, "friction of plastic pipe on plastic pipe or damp wood")
TOLD = 3  # as many ways as the finding tells

Change = tuple[tuple[str, object], ...]


def with_easier(job: Job, catalogue: Catalogue, prices: Prices, watch: Watch = no_watch) -> Job:
    """The job with easier ways to open its lid, the lightest first, where a hand's force or reach is not enough.

    A cord, gas struts, a counterweight and a pole are worked out by statics; hinges on another side, halves, a panel
    of the roof and a panel that slides or is lifted off by running the bench again up to the weights.
    """
    first = job.made.opening.first if job.made is not None and not job.refused else None
    if job.made is None or first is None or (first.reach.reaches and first.reach.is_light):
        return job
    watch("what-if")
    ways = tuple(sorted(_ways(job, first, catalogue, prices), key=lambda way: (not way.works, way.force_N)))
    opening = replace(job.made.opening, alternatives=ways)
    found = tuple(_advised(finding, ways) for finding in job.findings)
    return replace(job, made=replace(job.made, opening=opening), findings=worst_first((*found, *_told(ways, first))))


def _advised(finding: Finding, ways: tuple[Alternative, ...]) -> Finding:
    """A finding on the hand's force or reach, recommending only what was worked out to do."""
    if finding.key not in ("strength.opens-heavy", "strength.out-of-reach"):
        return finding
    works = "; ".join(word(f"strength.easier.{way.key}") for way in ways if way.works)
    advice = word("strength.advice.known", ways=works) if works else word("strength.advice.none")
    return replace(finding, values={**finding.values, "advice": advice})


def _ways(job: Job, first: LeafOpening, catalogue: Catalogue, prices: Prices) -> Iterator[Alternative]:
    yield from _by_statics(first, first.rest_deg >= job.plan.lid.open_deg)
    for key, change in _changes(job.plan):
        opening = _again(plan_with(job.plan, change), catalogue, prices)
        other = opening.first if opening is not None else None
        if other is None:
            continue
        reach = other.reach
        good = reach.reaches and reach.is_light and other.rest_deg >= job.plan.lid.open_deg
        yield Alternative(key, reach.most_N, reach.reached_deg, other.mass_kg.value, good, dict(change))
        if key == "panel":
            yield _lifted("lift-off-panel", job.plan, other, dict(change))
            yield _slid(job.plan, other, dict(change))
    if first.lifting.people and job.plan.lid.opens == "cover":
        yield _lifted("lift-off", job.plan, first, {})


def _by_statics(first: LeafOpening, opens: bool) -> Iterator[Alternative]:
    """Aids to the same lid, which help only where it `opens` far enough; a cord leaves the hand at its cleat."""
    limit_N, wanted, mass_kg = first.reach.limit_N, first.reach.wanted_deg, first.mass_kg.value
    if first.cord is not None:
        yield Alternative("cord", first.cord.pull_N, wanted, mass_kg, first.cord.within_limit and opens)
    reached, reaches = first.reach.reached_deg, first.reach.reaches and opens
    for key, aid in (("strut", first.strut), ("counterweight", first.counterweight)):
        if aid is not None:
            yield Alternative(key, aid.most_N, reached, mass_kg, aid.within_limit and reaches)
    rows = [row for row in first.angles if row.angle_deg <= wanted + 1e-9]
    poled = [row.pole_force_N for row in rows if row.pole_force_N is not None]
    if poled:
        by_hand = [row.lift_force_N for row in rows if row.pole_force_N is None and row.in_reach]
        most_N = max(*poled, *by_hand, 0.0)
        whole = opens and all(row.pole_force_N is not None or row.in_reach for row in rows)
        yield Alternative("pole", most_N, wanted if whole else reached, mass_kg, whole and most_N <= limit_N)


def _changes(plan: Plan) -> Iterator[tuple[str, Change]]:
    """Changes of the plan that may make it easier."""
    lid, shape = plan.lid, plan.cover.shape
    if lid.opens != "cover":
        return
    for side in ("front", "far"):
        if lid.hinge_side != side and plan.cover.sections == 1:
            yield side, (("lid.hinge_side", side),)
    if lid.hinge_side in ("left", "right") and lid.reach_from == "opening-side":
        near = "left" if lid.hinge_side == "right" else "right"
        yield "near-side", (("lid.hinge_side", near), ("lid.reach_from", near))
    if plan.cover.sections == 1:
        yield "halves", (("lid.opens", "halves"),)
    if shape in ("tent", "barn"):
        yield "panel", (("lid.opens", "roof side"),)
    elif shape == "lean-to":
        yield "panel", (("lid.opens", "slope"),)


def _slid(plan: Plan, panel: LeafOpening, change: Mapping[str, object]) -> Alternative:
    """The same panel without hinges, slid up its slope: its weight down the slope, and friction."""
    out, up = panel.handle_m
    slope = math.atan2(abs(up), abs(out))
    force_N = panel.mass_kg.value * GRAVITY_M_S2 * (math.sin(slope) + SLIDES_factor.value * math.cos(slope))
    works = force_N <= plan.lid.force_limit_N
    return Alternative("slide", force_N, panel.reach.wanted_deg, panel.mass_kg.value, works, change)


def _lifted(key: str, plan: Plan, leaf: LeafOpening, change: Mapping[str, object]) -> Alternative:
    """Lifted off with both hands by whoever there is, standing, within NIOSH's limit and the plan's own."""
    mass_kg = leaf.lifting.mass_kg.value
    force_N = mass_kg * GRAVITY_M_S2 / (2 * max(plan.people, 1))
    works = leaf.lifting.may and force_N <= plan.lid.force_limit_N and plan.lid.opened_by == "standing"
    return Alternative(key, force_N, leaf.reach.wanted_deg, mass_kg, works, change)


def _again(plan: Plan, catalogue: Catalogue, prices: Prices) -> Opening | None:
    """The bench on another plan, as far as its opening; None where its frame does not stand."""
    frame = raise_frame(plan, catalogue)
    if not frame.stands:
        return None
    pipe = catalogue.find_pipe(plan.pipe.size)
    lid, joints = hang_lid(frame, plan), choose_joints(frame, plan)
    film = cut_sheet(frame, plan, catalogue, lid, prices)
    weights = weigh(frame, film, lid, joints, catalogue, pipe)
    return study_opening(Asked(frame, plan, lid, joints, film, weights, pipe, {}))


def _told(ways: tuple[Alternative, ...], first: LeafOpening) -> tuple[Finding, ...]:
    works = [way for way in ways if way.works]
    values = {
        "ways": "; ".join(word(f"strength.easier.{way.key}") for way in works[:TOLD]),
        "least_N": works[0].force_N if works else 0.0,
        "limit_N": first.reach.limit_N,
    }
    if works:
        return (Finding(Level.NOTE, "strength", "strength.opens-easier", "lid", values, "statics; each run again"),)
    return (Finding(Level.WARN, "strength", "strength.nothing-easier", "lid", values, "statics; each run again"),)
