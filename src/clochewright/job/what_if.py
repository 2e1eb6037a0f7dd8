"""Small changes that nobody asked for and that would save a stick: offered, never made."""

from __future__ import annotations

from clochewright.findings import Finding, Level, Mend
from clochewright.job.answer import Again
from clochewright.job.types import Trial
from clochewright.measures import show_length

INSETS_M = {"inch": tuple(n * 0.0127 for n in range(1, 7)), "mm": tuple(n * 0.010 for n in range(1, 9))}


def offers(trial: Trial, again: Again) -> tuple[Finding, ...]:
    """Try end bents a little further in (a longer stub at each corner) and say when that saves a stick.

    Only tried where a stick could be saved at all: where the pieces, laid end to end, would fit on one stick fewer.
    """
    if trial.made is None or trial.refused:
        return ()
    cutlist = trial.made.cutlist
    bought = [stick for stick in cutlist.stock.sticks if stick.origin == "buy"]
    if not bought or not _could_save(trial):
        return ()
    for inset_m in INSETS_M[trial.plan.units]:
        cover = trial.plan.cover.model_copy(update={"end_inset_m": trial.plan.cover.end_inset_m + inset_m})
        other = again(trial.plan.model_copy(update={"cover": cover}))
        if other.made is None or other.refused or other.made.cutlist.stock.cost >= cutlist.stock.cost - 1e-9:
            continue
        saved = len(bought) - sum(stick.origin == "buy" for stick in other.made.cutlist.stock.sticks)
        change = Mend("cover.end_inset", show_length(cover.end_inset_m, trial.plan.units))
        values = {"inset_m": inset_m, "sticks": saved}
        return (Finding(Level.NOTE, "cuts", "job.inset-saves", "cover.end_inset", values, change=change),)
    return ()


def _could_save(trial: Trial) -> bool:
    """Whether the cuts, laid end to end, would go without the shortest bought stick."""
    assert trial.made is not None
    stock = trial.made.cutlist.stock
    shortest_m = min(stick.length_m for stick in stock.sticks if stick.origin == "buy")
    cuts_m = sum(length_m + stock.kerf_m for stick in stock.sticks for _, length_m in stick.cuts)
    sticks_m = sum(stick.length_m + stock.kerf_m for stick in stock.sticks)
    slack_m = 0.3  # what a handful of stubs may gain or lose
    return cuts_m <= sticks_m - shortest_m + slack_m
