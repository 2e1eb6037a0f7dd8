"""How a square base sits on a bed that is not square."""

from __future__ import annotations

from collections.abc import Iterator

from clochewright.findings import Finding, Level, Mend
from clochewright.plan import CORNERS, BedShape, Plan

SQUARE_SHARE = 1 / 192  # a corner off square by 1/4 in over 4 ft is what a carpenter lets pass
AGREES_M = 0.006  # six readings of a tape seldom agree better
SEEN_M = 0.001  # less than this is not seen on a tape
SOURCE = "common practice, no source"


def bed_findings(plan: Plan, hub_m: float) -> Iterator[Finding]:
    """Says how far the bed is out of square and how the base then stands on it; `hub_m` is its fattest hub [m].

    A base lies on its boards where the middle of its pipe is over them; where it is not, that is a warning. Sleeves
    stand on the boards one by one, so nothing is said of how they rest.
    """
    shape, tape = plan.bed.shape, plan.bed.tape
    if shape is None or tape is None:
        return
    if abs(shape.closing_m) > AGREES_M:
        values = {"closing_m": abs(shape.closing_m), "reading": shape.slip, "should_m": shape.slip_should_m}
        where = f"bed.tape.{shape.slip}"
        yield Finding(Level.WARN, "frame", "frame.tape-readings-disagree", where, values, SOURCE)
    yield _square(shape)
    if max(abs(off_m) for corner in shape.stands_in_m for off_m in corner) > SEEN_M:
        (fl_x, fl_y), (al_x, al_y), (ar_x, ar_y), (fr_x, fr_y) = shape.stands_in_m
        sides = {"left_m": (fl_y, al_y), "right_m": (fr_y, ar_y), "front_m": (fl_x, fr_x), "far_m": (al_x, ar_x)}
        yield Finding(Level.NOTE, "frame", "frame.base-on-bed", "bed.tape", sides)
    if not (plan.cover.shape == "tunnel" and plan.hoops.feet != "tees"):
        yield from _rests(plan, shape, tape.base, hub_m)


def _square(shape: BedShape) -> Finding:
    """How far the bed is out of square, and the base that is made for it."""
    corners = [f"{name} {angle_deg:.1f}°" for name, angle_deg in zip(CORNERS, shape.angles_deg, strict=True)]
    values = {
        "differ_m": abs(shape.diagonals_differ_m),
        "lean_m": shape.lean_m,
        "most_m": SQUARE_SHARE * shape.width_m,
        "corners": tuple(corners),
        "length_m": shape.length_m,
        "width_m": shape.width_m,
    }
    if max(abs(shape.diagonals_differ_m), shape.lean_m) <= SEEN_M:
        return Finding(Level.NOTE, "frame", "frame.bed-square", "bed.tape", values)
    level = Level.WARN if shape.lean_m > SQUARE_SHARE * shape.width_m else Level.NOTE
    return Finding(level, "frame", "frame.bed-out-of-square", "bed.tape", values, SOURCE)


def _rests(plan: Plan, shape: BedShape, base: str, hub_m: float) -> Iterator[Finding]:
    """A warning for each corner of the base whose pipe is not over the board, with the other base where that rests."""
    board_m = plan.bed.board_m
    in_m = {"outside": hub_m / 2, "middle": board_m / 2, "inside": board_m - hub_m / 2}[plan.cover.line]
    lone = "mean" if base == "inside" else "inside"
    other = plan.bed.model_copy(update={"tape": plan.bed.tape and plan.bed.tape.model_copy(update={"base": lone})})
    better = other.shape is not None and not any(_off(other.shape, in_m, board_m))
    change = Mend("bed.tape.base", lone) if better else None
    for name, off_m in zip(CORNERS, _off(shape, in_m, board_m), strict=True):
        values = {"corner": name, "off_m": abs(off_m), "board_m": board_m}
        if off_m > 0:
            yield Finding(Level.WARN, "frame", "frame.corner-inside-board", "bed.tape", values, SOURCE, change)
        elif off_m < 0:
            yield Finding(Level.WARN, "frame", "frame.corner-past-board", "bed.tape", values, SOURCE, change)


def _off(shape: BedShape, in_m: float, board_m: float) -> list[float]:
    """For each corner how far it stands in (+) or past (-) where its pipe is off the board, else 0 [m].

    `in_m` is where the pipe's middle lies in from the board's outside on a bed that is square [m].
    """
    out = []
    for corner in shape.stands_in_m:
        off = [stands_m for stands_m in corner if abs(stands_m) > SEEN_M and not 0 <= in_m + stands_m <= board_m]
        out.append(max(off, key=abs, default=0.0))
    return out
