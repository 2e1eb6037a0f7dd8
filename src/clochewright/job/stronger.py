"""What change makes the cover stand most for its cost: tried on request, since each is another run of the bench."""

from __future__ import annotations

from dataclasses import replace

from clochewright.catalogue import Catalogue, PipeRow, Prices
from clochewright.findings import Finding, Level, word
from clochewright.frame import raise_frame
from clochewright.job.run import TRYING_S, Watch, no_watch, run_once
from clochewright.job.types import Job, Trial
from clochewright.joints import choose_joints
from clochewright.lid import hang_lid
from clochewright.plan import Plan
from clochewright.strength import Asked, Gain, Limit, rank_changes, reach_limits, reach_note
from clochewright.weights import weigh

TOLD = 3  # as many changes as a finding tells


def with_changes(job: Job, catalogue: Catalogue, prices: Prices, watch: Watch = no_watch) -> Job:
    """The job with the changes that help most, ranked, how far such a frame reaches, and findings that tell both."""
    if job.made is None or job.refused or job.pipe.wall is None or job.made.strength.limit("shut") is None:
        return job

    def again(changed: Plan) -> tuple[Asked, float] | None:
        trial = run_once(changed, catalogue, prices, patience_s=TRYING_S, tried=True)
        if trial.made is None or trial.refused:
            return None
        return _asked(trial), float(trial.made.supplies.total)

    watch("changes")
    gains = rank_changes(_asked(job), float(job.made.supplies.total), again, _thicker(job.pipe, catalogue))
    watch("reach")
    reaches = reach_of(job, catalogue)
    strength = replace(job.made.strength, changes=gains, limits=(*job.made.strength.limits, *reaches))
    findings = (*job.findings, *_told(gains), *((reach_note(job.plan, reaches),) if reaches else ()))
    return replace(job, made=replace(job.made, strength=strength), findings=findings)


def reach_of(trial: Trial, catalogue: Catalogue) -> tuple[Limit, ...]:
    """The widest bed and the longest bay for this frame.

    The film of another size weighs in proportion to the bed it covers: it is neither cut nor bought anew. Where the
    frame has the same fittings, its joints are those of this one.
    """
    asked, made = _asked(trial), trial.made
    assert made is not None
    area_m2 = trial.frame.length_m * trial.frame.width_m
    fittings = [fitting.id for fitting in trial.frame.fittings]

    def again(changed: Plan) -> Asked | None:
        frame = raise_frame(changed, catalogue)
        if not frame.stands:
            return None
        lid = hang_lid(frame, changed)
        alike = [f.id for f in frame.fittings] == fittings and len(frame.pipes) == len(trial.frame.pipes)
        joints = made.joints if alike else choose_joints(frame, changed)
        share = frame.length_m * frame.width_m / area_m2
        mass = made.film.mass_kg
        mass = replace(mass, value=mass.value * share, low=mass.low * share, high=mass.high * share)
        film = replace(made.film, mass_kg=mass)
        weights = weigh(frame, film, lid, joints, catalogue, trial.pipe)
        return Asked(frame, changed, lid, joints, film, weights, trial.pipe, {})

    return reach_limits(asked, again)


def _asked(trial: Trial) -> Asked:
    made = trial.made
    assert made is not None
    return Asked(
        trial.frame,
        trial.plan,
        made.lid,
        made.joints,
        made.film,
        made.weights,
        trial.pipe,
        made.cutlist.mark_of,
    )


def _thicker(pipe: PipeRow, catalogue: Catalogue) -> str | None:
    """The next thicker pipe of the same system and class."""
    diameter_m = pipe.outside_diameter.value
    more = [
        other
        for other in catalogue.pipes
        if (other.system, other.pipe_class) == (pipe.system, pipe.pipe_class)
        and other.outside_diameter.value > diameter_m + 1e-6
    ]
    return min(more, key=lambda other: other.outside_diameter.value).key if more else None


def _told(gains: tuple[Gain, ...]) -> tuple[Finding, ...]:
    if not gains:
        return ()
    told = [
        word(
            "strength.helps",
            change=word(f"strength.change.{gain.key}"),
            gust=f"{100 * gain.gust_share:+.0f}",
            snow=f"{100 * gain.snow_share:+.0f}",
        )
        for gain in gains[:TOLD]
    ]
    values = {"changes": "; ".join(told)}
    return (Finding(Level.NOTE, "strength", "strength.what-helps", "strength", values, "each tried by running it"),)
