"""What change makes the cover stand most for its cost: tried on request, since each is another run of the bench."""

from __future__ import annotations

from dataclasses import replace

from clochewright.catalogue import Catalogue, PipeRow, Prices
from clochewright.findings import Finding, Level, word
from clochewright.job.run import TRYING_S, Watch, no_watch, run_once
from clochewright.job.types import Job, Trial
from clochewright.plan import Plan
from clochewright.strength import Asked, Gain, rank_changes

TOLD = 3  # as many changes as a finding tells


def with_changes(job: Job, catalogue: Catalogue, prices: Prices, watch: Watch = no_watch) -> Job:
    """The job with the changes that help most, ranked, and a finding that tells the first of them."""
    if job.made is None or job.refused or job.pipe.wall is None or job.made.strength.limit("shut") is None:
        return job

    def again(changed: Plan) -> tuple[Asked, float] | None:
        trial = run_once(changed, catalogue, prices, patience_s=TRYING_S)
        if trial.made is None or trial.refused:
            return None
        return _asked(trial), float(trial.made.supplies.total)

    watch("strength")
    gains = rank_changes(_asked(job), float(job.made.supplies.total), again, _thicker(job.pipe, catalogue))
    made = replace(job.made, strength=replace(job.made.strength, changes=gains))
    return replace(job, made=made, findings=(*job.findings, *_told(gains)))


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
