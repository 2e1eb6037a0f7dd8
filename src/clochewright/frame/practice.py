"""What the trade would say about the size of a frame: common practice, no source."""

from __future__ import annotations

import math

from clochewright.catalogue import PipeRow
from clochewright.findings import Finding, Level, Mend
from clochewright.plan import Plan

SOURCE = "common practice, no source"
INCH_PIPE_M = 0.0335  # outside diameter of 1 in pipe; what is said of it holds for thinner pipe too
WIDEST_M = 2.4384
LONGEST_BAY_M = 1.2192
LONGEST_M = 6.096


def practice_findings(plan: Plan, pipe: PipeRow, section_m: float, longest_bay_m: float) -> tuple[Finding, ...]:
    """Warnings for a width over 8 ft in pipe up to 1 in, a bay over 4 ft, a cover `section_m` long over 20 ft [m]."""
    findings: list[Finding] = []

    def warn(key: str, where: str, change: Mend | None = None, **values: object) -> None:
        findings.append(Finding(Level.WARN, "frame", key, where, values, SOURCE, change))

    slack_m = 1e-9
    if pipe.outside_diameter.value <= INCH_PIPE_M and plan.bed.outside_width_m > WIDEST_M + slack_m:
        warn("frame.wide", "bed.width", width_m=plan.bed.outside_width_m, most_m=WIDEST_M, pipe=pipe.key)
    if longest_bay_m > LONGEST_BAY_M + slack_m:
        change = Mend("cover.bents", None) if plan.cover.bents is not None else Mend("cover.bay", None)
        warn("frame.long-bay", change.path, change, bay_m=longest_bay_m, most_m=LONGEST_BAY_M)
    if section_m > LONGEST_M + slack_m:
        change = Mend("cover.sections", math.ceil(plan.bed.outside_length_m / LONGEST_M - slack_m))
        warn("frame.long", "bed.length", change, length_m=section_m, most_m=LONGEST_M)
    return tuple(findings)
