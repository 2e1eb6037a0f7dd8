"""Pins: which pipes of the printed frame are already cut, and where along the bed each pipe belongs."""

from __future__ import annotations

import math
from collections.abc import Mapping

from clochewright.cuts import DrySizes
from clochewright.findings import Finding, Level
from clochewright.frame import Frame, Pipe, is_panel
from clochewright.plan import Plan

Pins = Mapping[str, float]  # pipe id -> cut length [m]
SIZES = ("base length", "base width")
DRY_SOURCE = "ASTM D2855 and F3328: a dry pipe stops 1/3 to 2/3 of the way into a tapered socket"


def pins_of(plan: Plan, planned: Frame, mark_of: Mapping[str, str]) -> tuple[Pins, tuple[Finding, ...]]:
    """The cut length of each pipe that `plan.built` names by its mark or by its kind.

    What it names that the printed cut list doesn't have comes back as findings.
    """
    pins: dict[str, float] = {}
    said: list[Finding] = []
    for index, built in enumerate(plan.built):
        if built.what in SIZES:
            continue
        named = [pipe.id for pipe in planned.pipes if built.what in (mark_of.get(pipe.id), pipe.role)]
        if not named:
            marks = sorted(set(mark_of.values()), key=lambda mark: (len(mark), mark))
            roles = sorted({pipe.role for pipe in planned.pipes})
            values = {"what": built.what, "marks": marks, "roles": roles}
            said.append(Finding(Level.STOP, "job", "job.built-unknown", f"built[{index}].what", values))
        pins.update(dict.fromkeys(named, built.reading_m))
    return pins, tuple(said)


def read_sizes(plan: Plan, dry: DrySizes) -> tuple[dict[str, float], tuple[Finding, ...]]:
    """What the tape says of the base's sizes once finished [m], and what is to be said of readings taken dry.

    A dry reading inside the range that a dry fit shows changes nothing: trimming to suit it would leave the base short.
    One outside it is taken as much too long or too short as it is off the range.
    """
    sizes: dict[str, float] = {}
    said: list[Finding] = []
    for index, built in enumerate(plan.built):
        if built.what not in SIZES:
            continue
        size = dry.size(built.what.removeprefix("base "))
        if built.state == "finished" or size is None:
            sizes[built.what] = built.reading_m
            continue
        values = {
            "what": built.what, "reading_m": built.reading_m, "low_m": size.dry_low_m, "high_m": size.dry_high_m,
            "finished_m": size.finished_m, "excess_m": built.reading_m - size.finished_m,
        }  # fmt: skip
        off_m = max(built.reading_m - size.dry_high_m, size.dry_low_m - built.reading_m)
        if off_m <= 0:
            said.append(Finding(Level.NOTE, "job", "job.do-not-trim", f"built[{index}]", values, DRY_SOURCE))
        else:
            values["off_m"] = off_m
            said.append(Finding(Level.WARN, "job", "job.dry-reading-off", f"built[{index}]", values, DRY_SOURCE))
            sizes[built.what] = size.finished_m + math.copysign(off_m, built.reading_m - size.dry_high_m)
    return sizes, tuple(said)


def centres_m(frame: Frame, pipe: Pipe) -> float:
    """From the centre of one of a pipe's fittings to the centre of the other [m]."""
    start, end = (frame.fitting(str(end.fitting)).position_m for end in pipe.ends)
    return math.dist(start, end)


def bay_of(frame: Frame, pipe: Pipe) -> int | str | None:
    """Where a pipe along the bed lies: the number of its bay, "front" or "far" beyond the end bents, else None.

    None also for a pipe of a panel, for one across the bed, for one inside a bent's own fittings, and for a piece
    joined by a coupling.
    """
    if pipe.shape != "straight" or is_panel(pipe.body) or any(end.fitting is None for end in pipe.ends):
        return None
    fittings = [frame.fitting(str(end.fitting)) for end in pipe.ends]
    start_m, end_m = sorted(fitting.position_m[0] for fitting in fittings)
    if end_m - start_m < 1e-6 or any(fitting.kind == "coupling" for fitting in fittings):
        return None
    first, last = _bent_at(frame, start_m), _bent_at(frame, end_m)
    count = len(frame.bay_gaps_m) + 1
    if first is None and last is not None:
        return "front"
    if first is not None and last is None:
        return "far"
    if first is None or last is None or last != first + 1:
        return None
    return first % count


def _bent_at(frame: Frame, x_m: float) -> int | None:
    for index, (low_m, high_m) in enumerate(frame.bent_spans_m):
        if low_m - 1e-9 <= x_m <= high_m + 1e-9:
            return index
    return None
