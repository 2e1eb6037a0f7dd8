"""How a square base sits on a bed that is not square."""

from __future__ import annotations

from collections.abc import Iterator

from clochewright.findings import Finding, Level, Mend
from clochewright.plan import CORNERS, Plan

SQUARE_SHARE = 1 / 192  # 1/4 in on 4 ft between the diagonals is what a carpenter lets pass
AGREES_M = 0.006  # six readings of a tape seldom agree better
SOURCE = "common practice, no source"


def bed_findings(plan: Plan, hub_m: float) -> Iterator[Finding]:
    """Says how far the bed is out of square and where the base's corners then sit; `hub_m` is its fattest hub [m].

    A base lies on its boards where the middle of its pipe is over them; where it is not, that is a warning.
    """
    shape, tape, board_m = plan.bed.shape, plan.bed.tape, plan.bed.board_m
    if shape is None or tape is None:
        return
    differ_m = abs(shape.diagonals_differ_m)
    most_m = SQUARE_SHARE * max(shape.width_m, shape.length_m)
    corners = [f"{name} {angle_deg:.1f}°" for name, angle_deg in zip(CORNERS, shape.angles_deg, strict=True)]
    values = {"differ_m": differ_m, "most_m": most_m, "corners": tuple(corners), "length_m": shape.length_m,
              "width_m": shape.width_m}  # fmt: skip
    level = Level.WARN if differ_m > most_m else Level.NOTE
    yield Finding(level, "frame", "frame.bed-out-of-square", "bed.tape", values, SOURCE)
    if abs(shape.closing_m) > AGREES_M:
        values = {"closing_m": abs(shape.closing_m)}
        yield Finding(Level.WARN, "frame", "frame.tape-readings-disagree", "bed.tape", values, SOURCE)
    in_m = {"outside": hub_m / 2, "middle": board_m / 2, "inside": board_m - hub_m / 2}[plan.cover.line]
    for name, (along_m, across_m) in zip(CORNERS, shape.stands_in_m, strict=True):
        worst_m = max((along_m, across_m), key=abs)
        seat_m = in_m + worst_m
        if not 0 <= seat_m <= board_m and abs(worst_m) > AGREES_M / 6:
            values = {"corner": name, "off_m": abs(worst_m), "board_m": board_m}
            change = Mend("bed.tape.base", "mean" if tape.base == "inside" else "inside")
            if worst_m > 0:
                yield Finding(Level.WARN, "frame", "frame.corner-inside-board", "bed.tape", values, SOURCE, change)
            else:
                yield Finding(Level.WARN, "frame", "frame.corner-past-board", "bed.tape", values, SOURCE, change)
