"""As built: what is cut or measured stays as it is, and everything not yet cut is solved again to suit.

A pinned piece along the bed settles its bay, one across it the base's width; a pinned post settles its wall, a pinned
hoop its arch, a pinned rafter the pitch where the apex allows any. What can't be suited is named with its misfit.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace

from clochewright.cuts import DrySizes, cut_lengths
from clochewright.findings import Finding, Level, Mend
from clochewright.frame import Adjust, Frame, Pipe
from clochewright.job.pinned import Pins, bay_of, centres_m, pins_of, read_sizes
from clochewright.plan import Plan, plan_with

SAME_M = 0.0005  # a pinned piece is met when the frame's own length comes this near
Raise = Callable[[Plan, Adjust], Frame]
FIXED = ("pointed", "flat")
ON_RIM = ("corner", "rafter foot", "post foot", "hoop foot", "brace foot")


@dataclass(frozen=True, slots=True)
class AsBuilt:
    """The frame that suits the build, and the plan with what the build settled.

    `done` are the ids of the pipes that are cut already.
    """

    plan: Plan
    frame: Frame
    findings: tuple[Finding, ...]
    done: frozenset[str] = frozenset()


def suit_the_build(plan: Plan, planned: Frame, dry: DrySizes, raise_again: Raise) -> AsBuilt:
    """Solve the frame again around what `plan.built` says is cut or measured.

    `planned` is the frame as it was printed (its marks are the ones the builder reads); `raise_again` raises a frame
    for a changed plan and an adjustment. `dry` are the sizes a dry test fit shows: a dry reading inside them changes
    nothing.
    """
    pins, said = pins_of(plan, planned, cut_lengths(planned, plan.units)[1])
    sizes, about_dry = read_sizes(plan, dry)
    said = (*said, *about_dry)
    if not pins and not sizes:
        return AsBuilt(plan, planned, said)
    adjust = _along(planned, pins, sizes, plan.covers_count)
    adjust = replace(adjust, base_width_m=_width(planned, pins, sizes))
    width_m = planned.base_width_m
    if adjust.base_width_m is not None:
        width_m += adjust.base_width_m - (planned.base_width_m + _hub(planned))
    changed, adjust = _across(_as_printed(plan, planned), planned, pins, width_m, adjust)
    frame = raise_again(changed, adjust)
    if not frame.stands:
        return AsBuilt(changed, frame, (*said, *frame.findings))
    misfits = (*_misfits(plan, planned, frame, pins), *_off_the_bed(plan, frame, adjust))
    return AsBuilt(changed, frame, (*said, *misfits), frozenset(pins))


def _as_printed(plan: Plan, planned: Frame) -> Plan:
    """The plan with the recipes and bents that were printed, so that nothing jumps to another layout."""
    changes: list[tuple[str, object]] = []
    if "apex" in planned.recipes and planned.shape in ("tent", "barn"):
        changes.append(("cover.apex", planned.recipes["apex"]))
    if planned.shape == "barn":
        changes.append(("barn.eaves", planned.recipes["eave"]))
    return plan_with(plan, changes)


def _hub(frame: Frame) -> float:
    return max(fitting.hub_diameter_m for fitting in frame.fittings if fitting.role in ON_RIM)


def _along(planned: Frame, pins: Pins, sizes: Mapping[str, float], sections: int) -> Adjust:
    """Bays and ends that pinned pieces along the bed settle, and the base's length that follows."""
    bays: dict[int, float] = {}
    insets = {"front": 0.0, "far": 0.0}
    for pipe in planned.pipes:
        where = bay_of(planned, pipe)
        if pipe.id not in pins or where is None:
            continue
        longer_m = pins[pipe.id] - pipe.cut_length_m
        if isinstance(where, int):
            bays.setdefault(where, longer_m)
        elif longer_m > 0:
            insets[where] = max(insets[where], longer_m)
    gaps = tuple(gap + bays[i] if i in bays else None for i, gap in enumerate(planned.bay_gaps_m))
    length_m = sizes.get("base length")
    if length_m is None and gaps and None not in gaps:
        grown_m = sum(bays.values()) + sum(insets.values())
        length_m = planned.length_m + sections * grown_m
    return Adjust(length_m, None, gaps, (insets["front"], insets["far"]))


def _width(planned: Frame, pins: Pins, sizes: Mapping[str, float]) -> float | None:
    """The base's width over all [m] when a tape or a pinned end rail or brace settles it."""
    if "base width" in sizes:
        return sizes["base width"]
    for pipe in planned.pipes:
        if pipe.role in ("end rail", "brace") and pipe.id in pins:
            return planned.base_width_m + _hub(planned) + pins[pipe.id] - pipe.cut_length_m
    return None


def _across(plan: Plan, planned: Frame, pins: Pins, width_m: float, adjust: Adjust) -> tuple[Plan, Adjust]:
    """What pinned posts, rafters and hoops settle: walls, heights, pitch, stubs at a flat apex, length of the hoops."""
    grown = {pipe.role: pins[pipe.id] - pipe.cut_length_m for pipe in planned.pipes if pipe.id in pins}
    changes: list[tuple[str, object]] = []
    if planned.shape == "barn" and "post" in grown:
        changes.append(("barn.walls", plan.barn.walls_m + grown["post"]))
    if planned.shape == "lean-to":
        changes += _lean_to(plan, planned, pins, width_m)
    if planned.shape == "tunnel" and "hoop" in grown and planned.hoop is not None:
        halves = 2 if planned.recipes["crown"] == "crosses" else 1
        changes += [("hoops.length", planned.hoop.length_m + halves * grown["hoop"]), ("cover.height", None)]
    rafter = next((pipe for pipe in planned.pipes if pipe.role == "rafter" and pipe.id in pins), None)
    if rafter is not None and planned.shape in ("tent", "barn"):
        slope_m = centres_m(planned, rafter) + pins[rafter.id] - rafter.cut_length_m
        recipes = (planned.recipes["apex"], planned.recipes.get("eave", "butted"))
        half_m = width_m / 2
        if recipes == ("butted", "butted") and slope_m > half_m:
            pitch_deg = math.degrees(math.acos(half_m / slope_m))
            changes += [("cover.height", None), ("cover.pitch", pitch_deg)]
        elif recipes[0] == "flat" and not _stubs_pinned(planned, pins):
            top_m = half_m - slope_m * math.cos(math.radians(planned.pitch_deg))
            adjust = replace(adjust, apex_stub_m=max(0.0, top_m - _flat_half_top(planned)))
    return plan_with(plan, changes), adjust


def _lean_to(plan: Plan, planned: Frame, pins: Pins, width_m: float) -> Iterator[tuple[str, object]]:
    """Heights of the two sides, from pinned posts, or the high one from a pinned rafter."""
    posts = [pipe for pipe in planned.pipes if pipe.role == "post"]
    longest_m = max((pipe.cut_length_m for pipe in posts), default=0.0)
    back_m, front_m = plan.lean_to.back_m, plan.lean_to.front_m
    grown = {
        abs(pipe.cut_length_m - longest_m) < SAME_M: pins[pipe.id] - pipe.cut_length_m
        for pipe in posts
        if pipe.id in pins
    }
    front_m += grown.get(False, 0.0)
    rafter = next((pipe for pipe in planned.pipes if pipe.role == "rafter" and pipe.id in pins), None)
    if True in grown:
        back_m += grown[True]
    elif rafter is not None:
        slope_m = centres_m(planned, rafter) + pins[rafter.id] - rafter.cut_length_m
        if slope_m > width_m:
            low_m = (
                front_m if front_m > 0 else min(f.position_m[2] for f in planned.fittings if f.role == "rafter foot")
            )
            back_m = low_m + math.sqrt(slope_m**2 - width_m**2)
    yield "lean-to.back", back_m
    if front_m > 0:
        yield "lean-to.front", front_m


def _stubs_pinned(planned: Frame, pins: Pins) -> bool:
    return any(pipe.id in pins for pipe in planned.pipes if pipe.role == "stub" and _at_apex_elbow(planned, pipe))


def _at_apex_elbow(frame: Frame, pipe: Pipe) -> bool:
    return any(end.fitting is not None and frame.fitting(end.fitting).role == "apex elbow" for end in pipe.ends)


def _flat_half_top(planned: Frame) -> float:
    return max(abs(fitting.position_m[1]) for fitting in planned.fittings if fitting.role == "apex elbow")


def _misfits(plan: Plan, planned: Frame, frame: Frame, pins: Pins) -> Iterator[Finding]:
    """One finding for each mark whose pinned length the frame can't take."""
    lengths = {pipe.id: pipe for pipe in frame.pipes}
    marks = cut_lengths(planned, plan.units)[1]
    said: set[str] = set()
    for pipe_id, pinned_m in pins.items():
        pipe = lengths.get(pipe_id)
        mark = marks[pipe_id]
        if pipe is None or mark in said or abs(pipe.cut_length_m - pinned_m) <= SAME_M:
            continue
        said.add(mark)
        over_m = pinned_m - pipe.cut_length_m
        values: dict[str, object] = {
            "mark": mark, "role": pipe.role, "cut_m": pinned_m, "needed_m": pipe.cut_length_m, "off_m": abs(over_m),
        }  # fmt: skip
        if pipe.role == "rafter" and frame.recipes.get("apex") in FIXED:
            values["off_deg"] = rafter_off_deg(frame, pipe, pinned_m)
            values["recipe"] = frame.recipes["apex"]
            change = Mend("cover.apex", "butted")
            yield Finding(
                Level.STOP,
                "job",
                "job.rafter-too-long" if over_m > 0 else "job.rafter-too-short",
                mark,
                values,
                change=change,
            )
        else:
            yield Finding(Level.STOP, "job", "job.cut-too-long" if over_m > 0 else "job.cut-too-short", mark, values)


def rafter_off_deg(frame: Frame, rafter: Pipe, pinned_m: float) -> float:
    """How far the slope of a rafter of that length would be from the one its fittings are moulded for [deg].

    The feet stand where the base holds them; the slope begins where the apex's socket is.
    """
    start, end = (frame.fitting(str(end.fitting)).position_m for end in rafter.ends)
    run_m = abs(start[1] - end[1])
    slope_m = centres_m(frame, rafter) + pinned_m - rafter.cut_length_m
    made_deg = math.degrees(math.atan2(abs(start[2] - end[2]), run_m))
    needed_deg = math.degrees(math.acos(min(1.0, run_m / slope_m)))
    return abs(needed_deg - made_deg)


def _off_the_bed(plan: Plan, frame: Frame, adjust: Adjust) -> Iterator[Finding]:
    """Says by how much the base now stands past the bed or short of it."""
    inward_m = {"outside": 0.0}.get(plan.cover.line)
    if inward_m is None:
        return
    for settled_m, size_m, bed_m, name in (
        (adjust.base_length_m, frame.length_m, plan.bed.outside_length_m, "length"),
        (adjust.base_width_m, frame.width_m, plan.bed.outside_width_m, "width"),
    ):
        off_m = size_m - bed_m
        if settled_m is not None and abs(off_m) > SAME_M:
            level = Level.WARN if abs(off_m) > plan.bed.board_m else Level.NOTE
            yield Finding(
                level,
                "job",
                "job.base-past-bed" if off_m > 0 else "job.base-short-of-bed",
                f"bed.{name}",
                {"name": name, "off_m": abs(off_m)},
            )
