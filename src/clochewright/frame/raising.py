"""Raise a frame: from the plan and the fittings that can be had to every fitting and pipe in its place."""

from __future__ import annotations

import math
from collections.abc import Mapping

from clochewright.catalogue import Catalogue, PipeRow
from clochewright.findings import Finding, Mend
from clochewright.frame.barn import barn_section
from clochewright.frame.bench import Bench
from clochewright.frame.build import Base, build, tie_crown_bar
from clochewright.frame.check import check_closure
from clochewright.frame.cluster import Cluster
from clochewright.frame.lean_to import lean_to_section
from clochewright.frame.on_the_bed import bed_findings
from clochewright.frame.own_profile import own_section
from clochewright.frame.panel import lay_panels
from clochewright.frame.parts import Adjust, Frame
from clochewright.frame.practice import practice_findings
from clochewright.frame.section import Section, bent_clusters, with_brace
from clochewright.frame.shelf import CannotBuildError, Shelf, stop
from clochewright.frame.size import measure_frame
from clochewright.frame.stations import SLACK_M, Layout, lay_out
from clochewright.frame.tent import tent_section
from clochewright.frame.tunnel import tunnel_section
from clochewright.plan import Plan

AS_PLANNED = Adjust()
MOST_BENTS = 60  # a guard against absurd bays, not a rule of the trade
SECTION_GAP_M = 0.006  # between covers that stand end to end (common practice, no source)


def raise_frame(plan: Plan, catalogue: Catalogue, adjust: Adjust = AS_PLANNED) -> Frame:
    """Solve the frame that the plan asks for; `adjust` says what a build has settled already.

    A frame that can't be built comes back without parts, its findings saying what stands in the way. Raises
    CatalogueError when the plan names a pipe that the catalogue doesn't have.
    """
    pipe = catalogue.find_pipe(plan.pipe.size)
    shelf = Shelf(catalogue, pipe.key, plan.pipe.bench)
    try:
        frame = _raise(plan, shelf, pipe, adjust)
    except CannotBuildError as refused:
        return _refused(plan, pipe, refused.finding)
    findings = check_closure(frame, plan, adjust)
    if findings:
        return _refused(plan, pipe, *findings)
    return frame


def _raise(plan: Plan, shelf: Shelf, pipe: PipeRow, adjust: Adjust) -> Frame:
    count = plan.covers_count
    base = _base(plan, shelf, adjust)
    section = _section(plan, shelf, pipe, base, adjust)
    layout = _stand_bents(plan, shelf, section, base, adjust)
    bench = Bench(shelf, plan.joints.seat, _seats(plan), _longest(plan, pipe))
    apart_m = 2 * base.half_length_m + base.hub_m + SECTION_GAP_M
    middles_m = [(index - (count - 1) / 2) * apart_m for index in range(count)]
    for index, middle_m in enumerate(middles_m):
        what = "frame" if plan.has_panels else "lid"
        bench.body = what if count == 1 else f"{what}-{index + 1}"
        build(bench, section, layout, base, middle_m)
        if section.hoop is not None and plan.hoops.crown == "tied":
            crown_z_m = max(z_m for member in section.members for _, z_m in member.curve)
            tie_crown_bar(bench, layout, middle_m, crown_z_m, pipe.outside_diameter.value)
    # over all is over the base: a panel may hang past it, but only the roof is any higher for it
    length_m, width_m, top_m = measure_frame(bench.fittings, bench.pipes, pipe.outside_diameter.value)
    about_panels: tuple[Finding, ...] = ()
    if plan.has_panels:
        about_panels = (lay_panels(bench, section, layout, plan, middles_m),)
        top_m = measure_frame(bench.fittings)[2]
    ridge_z_m = max([node.z_m for node in section.nodes] + [z for m in section.members for _, z in m.curve])
    return Frame(
        shape=plan.cover.shape,
        pipe_key=pipe.key,
        pipe_outside_diameter_m=pipe.outside_diameter.value,
        fittings=tuple(bench.fittings),
        pipes=tuple(bench.pipes),
        stations_m=tuple(middle_m + x_m for middle_m in middles_m for x_m in layout.stations_m),
        height_m=top_m,
        ridge_height_m=ridge_z_m,
        length_m=length_m,
        width_m=width_m,
        base_length_m=2 * base.half_length_m,
        base_width_m=2 * base.half_width_m,
        diagonal_m=2 * math.hypot(base.half_length_m, base.half_width_m),
        pitch_deg=section.pitch_deg,
        longest_bay_m=layout.longest_bay_m(),
        bay_gaps_m=layout.gaps_m,
        bent_spans_m=tuple((middle_m + a, middle_m + b) for middle_m in middles_m for a, b in layout.spans_m),
        recipes=dict(section.recipes),
        hoop=section.hoop,
        sleeve_pipe_key=_sleeve_pipe(plan, shelf),
        findings=(
            *section.findings,
            *about_panels,
            *bed_findings(plan, base.hub_m),
            *practice_findings(plan, pipe, apart_m - SECTION_GAP_M, layout.longest_bay_m()),
        ),
    )


def _section(plan: Plan, shelf: Shelf, pipe: PipeRow, base: Base, adjust: Adjust) -> Section:
    """The cross-section of the shape that the plan asks for."""
    if plan.cover.shape == "tunnel":
        return tunnel_section(shelf, plan, pipe, base.half_width_m, base.z_m)
    if plan.cover.shape in ("tent", "barn"):
        pitched = {"tent": tent_section, "barn": barn_section}[plan.cover.shape]
        return pitched(shelf, plan, base.half_width_m, base.z_m, adjust.apex_stub_m)
    return {"lean-to": lean_to_section, "own": own_section}[plan.cover.shape](shelf, plan, base.half_width_m, base.z_m)


def _sleeve_pipe(plan: Plan, shelf: Shelf) -> str:
    sleeves = plan.cover.shape == "tunnel" and plan.hoops.feet != "tees"
    return shelf.sleeve(plan.hoops.sleeve_m)[1].key if sleeves else ""


def _longest(plan: Plan, pipe: PipeRow) -> float:
    """The longest straight piece that can be cut [m]: anything longer is joined with couplings."""
    lengths_m = [*(plan.stock.sticks_m or pipe.sticks_m), *(piece.length_m for piece in plan.stock.on_hand)]
    return min(max(lengths_m, default=math.inf), plan.joints.longest_m or math.inf)


def _seats(plan: Plan) -> dict[tuple[str, str], str]:
    """Seats unlike the rest, by the pipe's role and the fitting's ("" for any); what is cemented goes home."""
    seats: dict[tuple[str, str], str] = {(seat.role, ""): seat.seat for seat in plan.joints.seats}
    for held in plan.joints.held:
        if held.how != "screwed":
            seats[held.role, held.at.removesuffix(" elbow")] = "dry" if held.how == "screwed-dry" else "home"
    return seats


def _base(plan: Plan, shelf: Shelf, adjust: Adjust) -> Base:
    """The base's centre lines: where the plan puts them, with the fattest hub lying on the rim.

    Sections share the bed's length; where they meet, their hubs stand a finger's breadth apart.
    """
    bed, count = plan.bed, plan.covers_count
    if plan.cover.shape == "tunnel" and plan.hoops.feet != "tees":
        # no rails: sleeves stand against the boards, inside or outside, their mouths level with the rim
        hub_m = shelf.sleeve(plan.hoops.sleeve_m)[0].hub_m
        in_length_m = bed.board_m + hub_m / 2
        in_width_m = -hub_m / 2 if plan.hoops.feet == "sleeves-outside" else in_length_m
        z_m, corner = 0.0, None
    else:
        corner = shelf.get("elbow-90")
        hub_m = max(corner.hub_m, shelf.get("tee").hub_m)
        in_length_m = in_width_m = {
            "outside": hub_m / 2,
            "middle": bed.board_m / 2,
            "inside": bed.board_m - hub_m / 2,
        }[plan.cover.line]
        z_m = hub_m / 2
    over_all_m = adjust.base_length_m or bed.outside_length_m - 2 * in_length_m + hub_m
    half_length_m = ((over_all_m - (count - 1) * SECTION_GAP_M) / count - hub_m) / 2
    half_width_m = bed.outside_width_m / 2 - in_width_m
    if adjust.base_width_m is not None:
        half_width_m = (adjust.base_width_m - hub_m) / 2
    if min(half_length_m, half_width_m) <= 0:
        raise stop("frame.too-narrow", "bed.width", width_m=bed.outside_width_m)
    return Base(half_length_m, half_width_m, z_m, hub_m, corner)


def _stand_bents(plan: Plan, shelf: Shelf, section: Section, base: Base, adjust: Adjust) -> Layout:
    """As few bents as the plan's bay allows, or as many as the plan says."""
    feet = {node.name: math.copysign(1.0, node.y_m) for node in section.nodes if node.on_base}
    base_names = tuple(feet) or (section.nodes[0].name, section.nodes[-1].name)
    corner_m = base.corner.face("a") if base.corner else 0.0
    inner_length_m = 2 * (base.half_length_m - corner_m)
    front, far = bent_clusters(section, "front"), bent_clusters(section, "far")
    plain = bent_clusters(section, "within")
    braced: dict[float, Mapping[str, Cluster]] = {1.0: plain, -1.0: plain}
    if plan.cover.braces == "each" and feet:
        braced = {toward: with_brace(plain, feet, shelf.get("tee"), toward) for toward in (1.0, -1.0)}

    insets_m = (plan.cover.end_inset_m + adjust.insets_m[0], plan.cover.end_inset_m + adjust.insets_m[1])

    def laid_out(count: int) -> Layout:
        # braces stand on the side towards the middle, so that the two halves of a rail are alike
        inner = [braced[1.0 if 2 * i <= count - 1 else -1.0] for i in range(1, count - 1)]
        return lay_out((front, *inner, far), base_names, inner_length_m, insets_m, adjust.bay_gaps_m)

    if adjust.bay_gaps_m:
        return laid_out(len(adjust.bay_gaps_m) + 1)
    if plan.cover.bents is not None:
        return laid_out(min(plan.cover.bents, MOST_BENTS))
    fewest = max(2, math.ceil((inner_length_m - 2 * corner_m) / plan.cover.bay_m) - 1)
    for count in range(min(fewest, MOST_BENTS), MOST_BENTS + 1):
        layout = laid_out(count)
        if layout.longest_bay_m() <= plan.cover.bay_m + SLACK_M:
            return layout
    raise stop("frame.bay-too-short", "cover.bay", Mend("cover.bay", None), bay_m=plan.cover.bay_m)


def _refused(plan: Plan, pipe: PipeRow, *findings: Finding) -> Frame:
    return Frame(plan.cover.shape, pipe.key, pipe.outside_diameter.value, findings=findings)
