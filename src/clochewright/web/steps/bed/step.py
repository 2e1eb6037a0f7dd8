"""The bed: what the tape found, and who opens the cover that stands on it."""

from __future__ import annotations

from clochewright.findings import word
from clochewright.plan import Plan
from clochewright.web.steps.kit import Seen, Shown, Step

_FIELDS = ("bed.length", "bed.width", "bed.measured", "bed.board", "bed.height", "bed.timber",
           "name", "question", "people", "units",
           "bed.tape.left", "bed.tape.right", "bed.tape.front", "bed.tape.far",
           "bed.tape.diagonal_left", "bed.tape.diagonal_right", "bed.tape.base")  # fmt: skip


def _fields(plan: Plan) -> tuple[str, ...]:  # noqa: ARG001
    return _FIELDS


def _show(seen: Seen) -> Shown:
    bed = seen.plan.bed
    long, wide = seen.long(bed.outside_length_m), seen.long(bed.outside_width_m)
    size = word("web.gist.bed", length=long, width=wide)
    return Shown(
        size,
        (
            seen.figure("bed", size, "bed-note"),
            seen.figure("rim", seen.length(bed.height_m)),
            seen.figure("boards", f"{seen.length(bed.board_m)}, {bed.timber}"),
        ),
    )


STEP = Step("bed", _fields, _show, finding_wheres=("bed",))
