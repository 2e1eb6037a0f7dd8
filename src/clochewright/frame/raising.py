"""Raise a frame: from the plan and the fittings that can be had to every fitting and pipe in its place."""

from __future__ import annotations

import math
from collections.abc import Mapping

from clochewright.catalogue import Catalogue, PipeRow
from clochewright.findings import Finding, Mend
from clochewright.frame.bench import Bench
from clochewright.frame.build import Base, build
from clochewright.frame.check import check_closure
from clochewright.frame.cluster import Cluster
from clochewright.frame.parts import Frame
from clochewright.frame.practice import practice_findings
from clochewright.frame.section import Section, bent_clusters, with_brace
from clochewright.frame.shelf import CannotBuildError, Shelf, stop
from clochewright.frame.size import measure_frame
from clochewright.frame.stations import SLACK_M, Layout, lay_out
from clochewright.frame.tent import tent_section
from clochewright.plan import Plan

MOST_BENTS = 60  # a guard against absurd bays, not a rule of the trade


def raise_frame(plan: Plan, catalogue: Catalogue) -> Frame:
    """Solve the frame that the plan asks for.

    A frame that can't be built comes back without parts, its findings saying what stands in the way. Raises
    CatalogueError when the plan names a pipe that the catalogue doesn't have.
    """
    pipe = catalogue.find_pipe(plan.pipe.size)
    shelf = Shelf(catalogue, pipe.key, plan.pipe.bench)
    try:
        frame = _raise(plan, shelf, pipe)
    except CannotBuildError as refused:
        return _refused(plan, pipe, refused.finding)
    findings = check_closure(frame, plan)
    if findings:
        return _refused(plan, pipe, *findings)
    return frame


def _raise(plan: Plan, shelf: Shelf, pipe: PipeRow) -> Frame:
    base = _base(plan, shelf)
    section = tent_section(shelf, plan.cover, base.half_width_m, base.z_m)
    layout = _stand_bents(plan, shelf, section, base)
    seats = {seat.role: seat.seat for seat in plan.joints.seats}
    bench = Bench(shelf, plan.joints.seat, seats)
    build(bench, section, layout, base)
    length_m, width_m, top_m = measure_frame(bench.fittings)
    return Frame(
        shape=plan.cover.shape,
        pipe_key=pipe.key,
        pipe_outside_diameter_m=pipe.outside_diameter.value,
        fittings=tuple(bench.fittings),
        pipes=tuple(bench.pipes),
        stations_m=layout.stations_m,
        height_m=top_m,
        ridge_height_m=max(node.z_m for node in section.nodes),
        length_m=length_m,
        width_m=width_m,
        base_length_m=2 * base.half_length_m,
        base_width_m=2 * base.half_width_m,
        diagonal_m=2 * math.hypot(base.half_length_m, base.half_width_m),
        pitch_deg=section.pitch_deg,
        longest_bay_m=layout.longest_bay_m(),
        recipes=dict(section.recipes),
        findings=practice_findings(plan, pipe, layout.longest_bay_m()),
    )


def _base(plan: Plan, shelf: Shelf) -> Base:
    """The base's centre lines: where the plan puts them, with the fattest hub lying on the rim."""
    corner = shelf.get("elbow-90")
    hub_m = max(corner.hub_m, shelf.get("tee").hub_m)
    in_from_outside_m = {
        "outside": hub_m / 2,
        "middle": plan.bed.board_m / 2,
        "inside": plan.bed.board_m - hub_m / 2,
    }[plan.cover.line]
    half_length_m = plan.bed.outside_length_m / 2 - in_from_outside_m
    half_width_m = plan.bed.outside_width_m / 2 - in_from_outside_m
    if min(half_length_m, half_width_m) <= 0:
        raise stop("frame.too-narrow", "bed.width", width_m=plan.bed.outside_width_m)
    return Base(half_length_m, half_width_m, hub_m / 2, corner)


def _stand_bents(plan: Plan, shelf: Shelf, section: Section, base: Base) -> Layout:
    """As few bents as the plan's bay allows, or as many as the plan says."""
    feet = {node.name: math.copysign(1.0, node.y_m) for node in section.nodes if node.on_base}
    inner_length_m = 2 * (base.half_length_m - base.corner.face("a"))
    front, far = bent_clusters(section, "front"), bent_clusters(section, "far")
    plain = bent_clusters(section, "within")
    braced: dict[float, Mapping[str, Cluster]] = {1.0: plain, -1.0: plain}
    if plan.cover.braces == "each":
        braced = {toward: with_brace(plain, feet, shelf.get("tee"), toward) for toward in (1.0, -1.0)}

    def laid_out(count: int) -> Layout:
        # braces stand on the side towards the middle, so that the two halves of a rail are alike
        inner = [braced[1.0 if 2 * i <= count - 1 else -1.0] for i in range(1, count - 1)]
        return lay_out((front, *inner, far), tuple(feet), inner_length_m, plan.cover.end_inset_m)

    if plan.cover.bents is not None:
        return laid_out(min(plan.cover.bents, MOST_BENTS))
    fewest = max(2, math.ceil((2 * base.half_length_m - 4 * base.corner.face("a")) / plan.cover.bay_m) - 1)
    for count in range(min(fewest, MOST_BENTS), MOST_BENTS + 1):
        layout = laid_out(count)
        if layout.longest_bay_m() <= plan.cover.bay_m + SLACK_M:
            return layout
    raise stop("frame.bay-too-short", "cover.bay", Mend("cover.bay", None), bay_m=plan.cover.bay_m)


def _refused(plan: Plan, pipe: PipeRow, *findings: Finding) -> Frame:
    return Frame(plan.cover.shape, pipe.key, pipe.outside_diameter.value, findings=findings)
