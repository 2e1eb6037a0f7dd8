"""The bench from end to end. Reading this file is reading the job's table of contents."""

from __future__ import annotations

from collections.abc import Callable

from clochewright.assembly import NO_ORDER, Judge, plan_assembly
from clochewright.catalogue import BandEnd, Catalogue, Prices, find_crop
from clochewright.cuts import cut, dry_size, old_findings, readings, spread
from clochewright.film import cut_sheet, skin_of
from clochewright.findings import Finding, worst_first
from clochewright.frame import Frame, raise_frame
from clochewright.job.answer import answer_question
from clochewright.job.as_built import suit_the_build
from clochewright.job.assembling import opener_for, plan_for_joints
from clochewright.job.doubts import doubts
from clochewright.job.opening import strong_enough, wanted_for
from clochewright.job.stock import old_pieces, on_hand, sticks_for_sale, use_old
from clochewright.job.types import Begun, Job, Made, Trial
from clochewright.job.what_if import offers
from clochewright.joints import choose_joints
from clochewright.lid import LidPlan, hang_lid
from clochewright.plan import Plan
from clochewright.strength import ALL_BANDS, NOT_NOW, Asked, Bands, prove
from clochewright.supplies import list_supplies
from clochewright.weights import weigh

# A nesting that is not proven best by then is taken as it is; what is only tried is given less.
NESTING_S, TRYING_S, QUICK_S = 2.0, 0.3, 0.02
Watch = Callable[[str], None]


def no_watch(step: str) -> None:
    """Watch nothing."""


def run(plan: Plan, catalogue: Catalogue, prices: Prices, watch: Watch = no_watch) -> Job:
    """Run the whole bench on one plan, and try the small changes that would save a stick.

    `watch` is told the name of each step as it begins. What takes seconds is asked for by itself (`with_changes`,
    `with_season`). Raises CatalogueError when the plan names what the catalogue doesn't have; everything else that is
    wrong comes back as findings.
    """

    def again(changed: Plan) -> Trial:
        watch("what-if")
        return run_once(changed, catalogue, prices, patience_s=TRYING_S, tried=True)

    def frame_with(changed: Plan, kind: str, end: BandEnd) -> Frame:
        return raise_frame(changed, catalogue.with_kind_at(trial.pipe.key, kind, end))

    trial = run_once(plan, catalogue, prices, watch, bands=ALL_BANDS)
    watch("what-if")
    answer = answer_question(trial, again)
    found = (*trial.findings, *offers(trial, again), *doubts(trial, frame_with))
    findings = worst_first(found)
    rows = trial.fitting_rows
    return Job(plan, trial.pipe, trial.frame, trial.made, findings, answer, fitting_rows=rows)


def run_quick(
    plan: Plan, catalogue: Catalogue, prices: Prices, watch: Watch = no_watch, begun: Begun | None = None
) -> Job:
    """Run the bench once, in a hurry, for a page that answers as one types; `run` then looks further.

    The nesting may not be proven; there is no strength but what lifts it, no order of assembly, and no change is tried.
    `begun` is what `begin_quick` made of the same plan, if it was asked for first. Raises CatalogueError as `run` does.
    """
    begun_now = begun or begin_quick(plan, catalogue, prices, watch)
    trial = finish(begun_now, catalogue, prices, watch, NOT_NOW) if isinstance(begun_now, Begun) else begun_now
    findings = worst_first(trial.findings)
    answer = answer_question(trial, None)
    return Job(plan, trial.pipe, trial.frame, trial.made, findings, answer, fitting_rows=trial.fitting_rows)


def begin_quick(plan: Plan, catalogue: Catalogue, prices: Prices, watch: Watch = no_watch) -> Begun | Trial:
    """What `run_quick` begins with, for whoever draws the cover while the rest is worked out."""
    return begin(plan, catalogue, prices, watch, QUICK_S, tried=True)


def run_once(
    plan: Plan,
    catalogue: Catalogue,
    prices: Prices,
    watch: Watch = no_watch,
    patience_s: float = NESTING_S,
    bands: Bands = NOT_NOW,
    tried: bool = False,
) -> Trial:
    """Run the bench once, trying nothing else.

    `patience_s` is how long the nesting may look for proof [s]; `bands` how far the strength is worked out. What is
    only `tried` gets no order of assembly.
    """
    begun = begin(plan, catalogue, prices, watch, patience_s, tried=tried)
    return finish(begun, catalogue, prices, watch, bands) if isinstance(begun, Begun) else begun


def begin(
    plan: Plan,
    catalogue: Catalogue,
    prices: Prices,
    watch: Watch,
    patience_s: float,
    rounds: int = 3,
    tried: bool = False,
) -> Begun | Trial:
    """The bench up to where the cover can be drawn: frame, joints, cuts and their spread, lid, the film's surface.

    Where no frame stands that is all of it.

    `rounds` is how often the joints may still ask for other seats or shorter pieces of pipe.
    """
    pipe = catalogue.find_pipe(plan.pipe.size)
    for name in plan.grow.crops:
        find_crop(name)  # an unknown one is refused now, not when its season comes
    watch("frame")
    frame = raise_frame(plan, catalogue)
    built: tuple[Finding, ...] = ()
    done: frozenset[str] = frozenset()
    if frame.stands and plan.built:
        planned_dry = dry_size(frame, catalogue)
        suited = suit_the_build(plan, frame, planned_dry, lambda p, adjust: raise_frame(p, catalogue, adjust))
        frame, built, done = suited.frame, suited.findings, suited.done
    if not frame.stands:
        return Trial(plan, pipe, frame, None, (*built, *frame.findings))
    watch("cuts")
    sticks, old = sticks_for_sale(plan, pipe, prices), old_pieces(plan)
    reused = use_old(frame, plan, catalogue, prices, old, done)
    kept, slides = {(use.fitting, use.pipe) for use in reused}, catalogue.slides_home(pipe.key)
    joints = choose_joints(frame, plan, kept, Judge(frame), measured=not tried, slides_home=slides)
    wanted = plan_for_joints(plan, frame, joints) if rounds else None
    if wanted is not None:
        return begin(wanted, catalogue, prices, watch, patience_s, rounds - 1, tried)
    cutlist = cut(
        frame,
        units=plan.units,
        kerf_m=plan.stock.kerf_m,
        sticks=sticks,
        on_hand_m=on_hand(plan, old, reused),
        already=done,
        reused=reused,
        car_m=plan.car.inside_length_m if plan.car else None,
        patience_s=patience_s,
    )
    spreads = spread(frame, cutlist, plan, catalogue)
    watch("lid")
    lid, skin = hang_lid(frame, plan), skin_of(frame)
    rows = [row.kind for row in catalogue.fittings(pipe.key)]
    of_old = old_findings(cutlist, frame, plan, old, rows)
    return Begun(plan, pipe, frame, joints, cutlist, spreads, lid, skin, built, of_old, done, tried)


def finish(begun: Begun, catalogue: Catalogue, prices: Prices, watch: Watch, bands: Bands) -> Trial:
    """All the rest of what was begun: a dry test fit, film, strength, shopping, order of assembly."""
    plan, pipe, frame, joints = begun.plan, begun.pipe, begun.frame, begun.joints
    cutlist, spreads = begun.cutlist, begun.spreads
    dry = dry_size(frame, catalogue)

    def covered(lid: LidPlan) -> Asked:
        watch("film")
        film = cut_sheet(frame, plan, catalogue, lid, prices, begun.skin)
        weights = weigh(frame, film, lid, joints, catalogue, pipe)
        return Asked(frame, plan, lid, joints, film, weights, pipe, cutlist.mark_of)

    asked, opening = strong_enough(covered(begun.lid), covered)
    lid, film, weights = asked.lid, asked.film, asked.weights
    watch("strength")
    strength = prove(asked, bands)
    watch("supplies")
    supplies = list_supplies(frame, cutlist, film, lid, joints, plan, catalogue, prices, wanted_for(opening))
    assembly = NO_ORDER
    if not begun.tried:
        opener, read = opener_for(frame, joints, pipe), readings(dry, spreads)
        of, done = cutlist.mark_of, begun.done
        assembly = plan_assembly(frame, plan, joints, lid, weights, catalogue, of, opener, done, read)
    made = Made(
        cutlist, dry, spreads, film, lid, joints, weights, strength, supplies, assembly=assembly, opening=opening
    )
    steps = (frame, cutlist, dry, spreads, film, lid, joints, weights, strength, opening, supplies, assembly)
    findings = (*begun.findings, *(finding for step in steps for finding in step.findings), *begun.of_old)
    kinds = sorted({fitting.kind for fitting in frame.fittings})
    rows = tuple(row for kind in kinds if (row := catalogue.fitting(pipe.key, kind)) is not None)
    return Trial(plan, pipe, frame, made, findings, fitting_rows=rows)
