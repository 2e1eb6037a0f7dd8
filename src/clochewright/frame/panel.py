"""Panels: what opens is one side of the roof, a flat rectangle of pipe of its own that lies on the frame that stays.

A panel has a rail along its upper and its lower edge, a rafter at each end with elbows at the corners, and rafters
between them in tees. It lies hub on hub on the frame's own roof, which stays as it is, from the outermost fittings on
the rails there to those at the far end. The edge it turns about stands over the middle of the frame's rail, so that it
can come up without running into what is beyond.

The plane of a slope has two directions: u up the slope and n square to it, outwards.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from clochewright.findings import Finding, Level, Mend
from clochewright.frame.bench import Bench
from clochewright.frame.cluster import Cluster
from clochewright.frame.parts import Fitting, Vec
from clochewright.frame.section import Member, Node, Section
from clochewright.frame.shelf import Shelf, stop
from clochewright.frame.stations import Layout
from clochewright.frame.vectors import ALONG, BACK, opposite
from clochewright.plan import Plan

PRACTICE = "common practice, no source"
RAIL, RAFTER = "panel rail", "panel rafter"
# Flatter than this a panel keeps its water, steeper it is a wall (common practice, no source).
FLATTEST_DEG, STEEPEST_DEG = 5.0, 80.0
Point2 = tuple[float, float]
OnRail = tuple[Fitting, str | None, str | None]  # a fitting with its port towards -x and towards +x


@dataclass(frozen=True, slots=True)
class Slope:
    """One slope of the frame that stays: where its lower and its upper rail run (y, z), and what is along x [m].

    `ends_m` are the outermost fittings on those rails, corners of the base left out; `inner_m` the rafters between the
    end bents.
    """

    low: Point2
    high: Point2
    ends_m: tuple[float, float]
    inner_m: tuple[float, ...]

    @property
    def run_m(self) -> float:
        """From rail to rail, up the slope [m]."""
        return math.dist(self.low, self.high)

    @property
    def pitch_deg(self) -> float:
        """How steep it is [deg]."""
        return math.degrees(math.atan2(self.high[1] - self.low[1], abs(self.high[0] - self.low[0])))

    @property
    def up(self) -> Vec:
        """Unit vector up the slope."""
        return (0.0, (self.high[0] - self.low[0]) / self.run_m, (self.high[1] - self.low[1]) / self.run_m)

    def point(self, x_m: float, up_m: float, out_m: float) -> Vec:
        """A point so far along the bed, up the slope from its lower rail, and out from the rafters' middle [m]."""
        _, uy, uz = self.up
        side = math.copysign(1.0, self.low[0] - self.high[0])  # which way the slope looks along y
        ny, nz = side * uz, abs(uy)
        return (x_m, self.low[0] + uy * up_m + ny * out_m, self.low[1] + uz * up_m + nz * out_m)


@dataclass(frozen=True, slots=True)
class Lying:
    """How panels lie on a slope: up it from rail to rail, out from the frame's rafters, and their fattest hub [m]."""

    low_m: float
    high_m: float
    out_m: float
    hub_m: float


def lay_panels(bench: Bench, section: Section, layout: Layout, plan: Plan, middles_m: Sequence[float]) -> Finding:
    """Lay the panels that the plan asks for on the covers whose middles stand at `middles_m` along the bed [m].

    The covers' own fittings must be on the bench already.

    Returns:
        A note that says how large the panels are and how they lie.

    Raises:
        CannotBuildError: there is no such slope, no rail for the hinges, or no room for the panels' fittings.
    """
    fixed_hub_m = max(fitting.hub_diameter_m for fitting in bench.fittings)
    panels: list[tuple[Slope, Lying, tuple[float, ...]]] = []
    for middle_m in middles_m:
        for member in _members(section, plan):
            slope = _slope(section, layout, member, middle_m)
            lying = _lie(bench, slope, plan, fixed_hub_m)
            for first_m, last_m in _spans(slope, plan, lying.hub_m):
                panels.append((slope, lying, _rafters(bench.shelf, slope, plan, first_m, last_m)))
    for number, (slope, lying, rafters_m) in enumerate(panels, start=1):
        bench.body = f"panel-{number}"
        _build(bench, slope, lying, rafters_m)
    slope, lying, rafters_m = panels[0]
    values = {
        "count": len(panels),
        "length_m": rafters_m[-1] - rafters_m[0] + lying.hub_m,
        "width_m": lying.high_m - lying.low_m + lying.hub_m,
        "out_m": lying.out_m,
    }
    return Finding(Level.NOTE, "frame", "frame.panels-lie", "lid.opens", values, PRACTICE)


def _members(section: Section, plan: Plan) -> tuple[Member, ...]:
    """The members that carry the slopes which open; refused where there is none, or none that a panel can lie on."""
    if section.recipes.get("apex") == "flat":
        raise stop("frame.panel-flat-apex", "cover.apex", Mend("cover.apex", "butted"))
    if plan.panel.hinge == "bottom" and section.recipes.get("eave") == "in-line":
        raise stop("frame.panel-no-rail", "panel.hinge", Mend("barn.eaves", "butted"))
    if plan.cover.shape == "lean-to":
        return tuple(member for member in section.members if member.role == "rafter")
    ridge_m = max(node.z_m for node in section.nodes)
    tops = [node.name for node in section.nodes if node.z_m == ridge_m]  # two where the roof is flat on top
    left = next(member for member in section.members if member.end == tops[0])
    right = next(member for member in section.members if member.start == tops[-1])
    return {"left": (left,), "right": (right,), "both": (left, right)}[plan.panel.side]


def _slope(section: Section, layout: Layout, member: Member, middle_m: float) -> Slope:
    nodes = {node.name: node for node in section.nodes}
    ends = (_leaves_at(nodes[name], layout.bents[0][name], member.name) for name in (member.start, member.end))
    low, high = sorted(ends, key=lambda point: point[1])
    rafters_m = [
        middle_m + place_m + bent[member.start].plane_m(member.name)
        for place_m, bent in zip(layout.places_m, layout.bents, strict=True)
    ]
    outer_m = [
        middle_m + place_m + item.dx_m
        for place_m, bent in zip(layout.places_m, layout.bents, strict=True)
        for name in (member.start, member.end)
        for item in bent[name].items
    ]
    slope = Slope(low, high, (min(outer_m), max(outer_m)), tuple(rafters_m[1:-1]))
    if not FLATTEST_DEG <= slope.pitch_deg <= STEEPEST_DEG:
        raise stop(
            "frame.panel-pitch", "lid.opens", Mend("lid.opens", "cover"),
            pitch_deg=slope.pitch_deg, least_deg=FLATTEST_DEG, most_deg=STEEPEST_DEG,
        )  # fmt: skip
    return slope


def _leaves_at(node: Node, cluster: Cluster, member: str) -> Point2:
    """Where a member's own fitting stands (y, z) [m]: on the rail, or hung beside it."""
    where, index, _ = cluster.members[member]
    if where == "item":
        return node.y_m, node.z_m
    hanger = cluster.hangers[index]
    _, dy, dz = cluster.items[hanger.item].ports[hanger.item_port]
    return node.y_m + dy * hanger.apart_m, node.z_m + dz * hanger.apart_m


def _lie(bench: Bench, slope: Slope, plan: Plan, fixed_hub_m: float) -> Lying:
    """Hub on hub, the hinged edge over the rail's middle, and the upper edge clear of a panel on the other slope."""
    shelf = bench.shelf
    kinds = ["elbow-90", "tee"]
    if slope.ends_m[1] - slope.ends_m[0] > bench.longest_m:
        kinds.append("coupling")
    hub_m = max(shelf.get(kind).hub_m for kind in kinds)
    out_m = (fixed_hub_m + hub_m) / 2
    pitch = math.radians(slope.pitch_deg)
    beside_m = (hub_m / 2 + plan.panel.clearance_m / 2 - out_m * math.sin(pitch)) / math.cos(pitch)
    below_top_m = max(hub_m / 2, beside_m)
    low_m = 0.0 if plan.panel.hinge == "top" else hub_m / 2
    return Lying(low_m, slope.run_m - below_top_m, out_m, hub_m)


def _spans(slope: Slope, plan: Plan, hub_m: float) -> list[tuple[float, float]]:
    """Where each panel's end rafters stand along the bed [m]: the slope shared alike, with clearance between hubs."""
    first_m, last_m = slope.ends_m
    count = plan.panel.count
    between_m = hub_m + plan.panel.clearance_m
    each_m = (last_m - first_m - (count - 1) * between_m) / count
    if each_m <= 0:
        raise stop("frame.panel-too-many", "panel.count", Mend("panel.count", 1), count=count)
    starts = [first_m + i * (each_m + between_m) for i in range(count)]
    return [(start_m, start_m + each_m) for start_m in starts]


def _rafters(shelf: Shelf, slope: Slope, plan: Plan, first_m: float, last_m: float) -> tuple[float, ...]:
    """Where one panel's rafters stand along the bed [m]: over the frame's own, or evenly by the panel's own bay."""
    if plan.panel.rafter_bay_m is None:
        wanted = [x_m for x_m in slope.inner_m if first_m < x_m < last_m]
    else:
        bays = max(1, math.ceil((last_m - first_m) / plan.panel.rafter_bay_m - 1e-9))
        wanted = [first_m + (last_m - first_m) * i / bays for i in range(1, bays)]
    elbow, tee = shelf.get("elbow-90"), shelf.get("tee")
    # a rafter with no room for its tees beside a corner is left out: the corner's own rafter is that near
    least_m = elbow.face("a") + max(tee.face("run-a"), tee.face("run-b"))
    inner = [x_m for x_m in wanted if first_m + least_m <= x_m <= last_m - least_m]
    return (first_m, *inner, last_m)


def _build(bench: Bench, slope: Slope, lying: Lying, rafters_m: tuple[float, ...]) -> None:
    elbow, tee = bench.shelf.get("elbow-90"), bench.shelf.get("tee")
    last = len(rafters_m) - 1
    rails: list[list[OnRail]] = []
    for up_m, way in ((lying.low_m, slope.up), (lying.high_m, opposite(slope.up))):
        row: list[OnRail] = []
        for i, x_m in enumerate(rafters_m):
            at = slope.point(x_m, up_m, lying.out_m)
            if i in (0, last):
                inward = ALONG if i == 0 else BACK
                corner = bench.place(elbow, "panel corner", at, {"a": inward, "b": way})
                row.append((corner, None, "a") if i == 0 else (corner, "a", None))
            else:
                within = bench.place(tee, "panel rafter foot", at, {"run-a": BACK, "run-b": ALONG, "branch": way})
                row.append((within, "run-a", "run-b"))
        rails.append(row)
    for row in rails:
        for (here, _, fore), (there, back, _) in pairwise(row):
            if fore is not None and back is not None:
                bench.join(here, fore, there, back, RAIL)
    for (low, _, _), (high, _, _) in zip(*rails, strict=True):
        ports = ["b" if fitting.kind == "elbow-90" else "branch" for fitting in (low, high)]
        bench.join(low, ports[0], high, ports[1], RAFTER)
