"""The tunnel: hoops of pipe sprung between two feet, which take the shape of an elastica, not of a circle.

Feet are tees on base rails or sleeves on the boards. Along the top runs a bar: tied under the hoops, or in crosses, and
then each hoop is two halves. A cross stands level at the crown, where the pipe is level too, so two halves with a cross
between them bend just as one pipe would whose span is shorter by the cross.
"""

from __future__ import annotations

import math

from clochewright.catalogue import PipeRow, pipe_section
from clochewright.findings import Finding, Level, Mend
from clochewright.frame.cluster import Cluster, Item
from clochewright.frame.elastica import Hoop, hoop_for_height, spring_hoop
from clochewright.frame.nodes import Recipe, across_rail, crossing_face, turned_tee
from clochewright.frame.parts import HoopFacts
from clochewright.frame.section import Member, Node, Place, Section
from clochewright.frame.shelf import Shelf, Spec, stop
from clochewright.frame.vectors import UP, across
from clochewright.plan import Plan

PIECES = 48  # of the drawn curve: its chords are together a few millionths shorter than the pipe
YOUNG_PA = 2.76e9  # PVC at 23 degC, short-term: 400,000 psi, suggested design value from makers' tables
NOTE_STRAIN, WARN_STRAIN, STOP_STRAIN = 0.01, 0.02, 0.04
RULE_RADIUS = 300.0  # shortest bending radius over outside diameter, pipe-industry text for buried pressure pipe
SOURCE = "strain limits: common practice, no source; 300 outside diameters: pipe-industry rule for buried pressure pipe"


def tunnel_section(shelf: Shelf, plan: Plan, pipe: PipeRow, half_m: float, base_z_m: float) -> Section:
    """The tunnel's cross-section for feet `half_m` to each side of the middle, `base_z_m` above the rim [m]."""
    foot_deg = plan.hoops.foot_angle_deg if plan.hoops.feet == "tees" else 90.0
    feet, mouth = _feet(shelf, plan, half_m, base_z_m, foot_deg)
    crossed = plan.hoops.crown == "crosses"
    cross_m = 2 * crossing_face(shelf) if crossed else 0.0
    span_m = 2 * mouth[0] - cross_m
    if span_m <= 0:
        raise stop("frame.too-narrow", "bed.width", width_m=plan.bed.outside_width_m)
    top_m = shelf.get("cross").hub_m / 2 if crossed else pipe.outside_diameter.value / 2
    hoop = _spring(plan, span_m, foot_deg, mouth[1], top_m)
    facts = _facts(hoop, pipe)
    findings = _findings(facts, pipe, plan)
    if facts.strain_share > STOP_STRAIN:
        raise stop("frame.hoop-too-tight", "pipe.size", percent=f"{facts.strain_share:.1%}", most=f"{STOP_STRAIN:.0%}",
                   radius_m=facts.least_radius_m)  # fmt: skip
    crown_z_m = mouth[1] + hoop.height_m
    right_to_left = [(y_m, mouth[1] + z_m) for y_m, z_m in hoop.path(PIECES)]
    curve = tuple((-y_m, z_m) for y_m, z_m in right_to_left)  # from the left foot (+y) over to the right one
    recipes = {"hoop foot": plan.hoops.feet, "crown": plan.hoops.crown}
    if not crossed:
        member = Member("hoop", "hoop", feet[0].name, feet[1].name, curve, hoop.length_m)
        return Section(feet, (member,), foot_deg, recipes, facts, findings)
    middle = PIECES // 2
    shift_m = cross_m / 2
    left = tuple((y_m + shift_m, z_m) for y_m, z_m in curve[: middle + 1])
    right = tuple((y_m - shift_m, z_m) for y_m, z_m in curve[middle:])
    crown = Node("crown", "ridge", 0.0, crown_z_m, _crown(shelf))
    members = (
        Member("left hoop", "hoop", feet[0].name, crown.name, left, hoop.length_m / 2),
        Member("right hoop", "hoop", crown.name, feet[1].name, right, hoop.length_m / 2),
    )
    return Section((feet[0], crown, feet[1]), members, foot_deg, recipes, facts, findings)


def _feet(
    shelf: Shelf, plan: Plan, half_m: float, base_z_m: float, foot_deg: float
) -> tuple[tuple[Node, Node], tuple[float, float]]:
    """Left and right foot, and where the left one's mouth is (y, z) [m]."""
    names = ("left hoop", "right hoop") if plan.hoops.crown == "crosses" else ("hoop", "hoop")
    sides = (("left foot", 1.0, names[0]), ("right foot", -1.0, names[1]))
    if plan.hoops.feet == "tees":
        tee = shelf.get("tee")
        left, right = (
            Node(name, "side rail", side * half_m, base_z_m,
                 turned_tee(tee, "hoop foot", member, across(-side, foot_deg)), on_base=True)
            for name, side, member in sides
        )  # fmt: skip
        lean = math.radians(foot_deg)
        reach_m = tee.face("branch")
        return (left, right), (half_m - reach_m * math.cos(lean), base_z_m + reach_m * math.sin(lean))
    sleeve, _ = shelf.sleeve(plan.hoops.sleeve_m)
    left, right = (
        Node(name, "sleeves", side * half_m, -plan.hoops.sleeve_m, _sleeve(sleeve, member))
        for name, side, member in sides
    )
    return (left, right), (half_m, 0.0)


def _sleeve(sleeve: Spec, member: str) -> Recipe:
    cluster = Cluster((Item(sleeve, "sleeve", 0.0, {"mouth": UP}, None, None),), {member: ("item", 0, "mouth")})
    return lambda _place: cluster


def _crown(shelf: Shelf) -> Recipe:
    def cluster(place: Place) -> Cluster:
        item = across_rail(shelf, "apex", place, across(1.0, 0.0), across(-1.0, 0.0))
        return Cluster((item,), {"left hoop": ("item", 0, "run-a"), "right hoop": ("item", 0, "run-b")})

    return cluster


def _spring(plan: Plan, span_m: float, foot_deg: float, mouth_z_m: float, top_m: float) -> Hoop:
    """The hoop for the length or the height asked for; else the arc of a circle, which bends the same everywhere."""
    try:
        if plan.hoops.length_m is not None:
            hoop = spring_hoop(plan.hoops.length_m, span_m, foot_deg)
        elif plan.cover.height_m is not None:
            hoop = hoop_for_height(plan.cover.height_m - top_m - mouth_z_m, span_m, foot_deg)
        else:
            turn = math.radians(foot_deg)
            hoop = spring_hoop(span_m * turn / math.sin(turn), span_m, foot_deg)
    except ValueError as wrong:
        where = "hoops.length" if plan.hoops.length_m is not None else "cover.height"
        raise stop("frame.no-such-hoop", where, reason=str(wrong).rstrip(".")) from wrong
    if hoop.crosses_itself:
        raise stop("frame.no-such-hoop", "hoops.length", reason="so long a hoop would cross its own legs")
    return hoop


def _facts(hoop: Hoop, pipe: PipeRow) -> HoopFacts:
    outside_m = pipe.outside_diameter.value
    wall_m = pipe.wall.value if pipe.wall else outside_m / 20
    bending_N_m2 = YOUNG_PA * pipe_section(outside_m, wall_m).I_m4
    bend = hoop.curvature_max_per_m
    return HoopFacts(
        hoop.length_m, hoop.span_m, hoop.height_m, hoop.end_deg, 1 / bend, outside_m / 2 * bend,
        hoop.push_over_EI_per_m2 * bending_N_m2,
    )  # fmt: skip


def _findings(facts: HoopFacts, pipe: PipeRow, plan: Plan) -> tuple[Finding, ...]:
    found: list[Finding] = []
    values = {
        "percent": f"{facts.strain_share:.1%}",
        "radius_m": facts.least_radius_m,
        "rule_m": RULE_RADIUS * pipe.outside_diameter.value,
    }
    if facts.strain_share > WARN_STRAIN:
        found.append(Finding(Level.WARN, "frame", "frame.hoop-tight", "pipe.size", values, SOURCE))
    elif facts.strain_share > NOTE_STRAIN:
        found.append(Finding(Level.NOTE, "frame", "frame.hoop-bent", "pipe.size", values, SOURCE))
    if plan.hoops.crown == "none":
        change = Mend("hoops.crown", "tied")
        found.append(
            Finding(Level.WARN, "frame", "frame.no-crown-bar", "hoops.crown", {}, "gardeners' accounts", change)
        )
    return tuple(found)
