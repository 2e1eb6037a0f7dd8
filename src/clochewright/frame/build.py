"""From a section and a layout to fittings and pipes in space."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from clochewright.frame.bench import Bench
from clochewright.frame.cluster import Cluster
from clochewright.frame.parts import Fitting, Vec
from clochewright.frame.section import Member, Node, Section
from clochewright.frame.shelf import Spec
from clochewright.frame.stations import Layout
from clochewright.frame.vectors import ALONG, BACK, ahead

Spot = tuple[Fitting, str]  # a fitting and the port a member leaves from
OnRail = tuple[Fitting, str | None, str | None]  # a fitting on a rail with its port towards -x and towards +x

BAR_PAST_M = 0.05  # a tied bar runs on this far past the end hoops (common practice, no source)


@dataclass(frozen=True, slots=True)
class Base:
    """The rectangle the frame stands on: half its length and width between rail centre lines, and its height [m].

    `hub_m` is its fattest hub. `corner` is None where there are no base rails (hoops in sleeves).
    """

    half_length_m: float
    half_width_m: float
    z_m: float
    hub_m: float
    corner: Spec | None


def build(bench: Bench, section: Section, layout: Layout, base: Base, middle_m: float) -> None:
    """Place every fitting and cut every pipe of one cover whose middle stands at `middle_m` along the bed [m].

    Rails along the bed first, then end rails and braces, then the members of each bent.
    """
    rails: dict[str, list[OnRail]] = {node.name: [] for node in section.nodes}
    spots: list[dict[tuple[str, str], Spot]] = []
    for place_m, bent in zip(layout.places_m, layout.bents, strict=True):
        placed: dict[tuple[str, str], Spot] = {}
        for node in section.nodes:
            _place_cluster(bench, bent[node.name], node, middle_m + place_m, rails[node.name], placed)
        spots.append(placed)
    on_base = [node for node in section.nodes if node.on_base]
    corners = _corners(bench, on_base, base, middle_m)
    for node in section.nodes:
        rail = rails[node.name]
        if node.name in corners:
            front, far = corners[node.name]
            rail = [(front, None, "a"), *rail, (far, "a", None)]
        for (here, _, fore), (there, back, _) in pairwise(rail):
            if fore is not None and back is not None:
                bench.join(here, fore, there, back, node.rail)
    if corners:
        first, last = on_base[0].name, on_base[-1].name
        for end in (0, 1):
            bench.join(corners[first][end], "b", corners[last][end], "b", "end rail")
        _join_braces(bench, rails[first], rails[last])
    for placed in spots:
        for member in section.members:
            _join_member(bench, member, placed[member.start, member.name], placed[member.end, member.name])


def _join_member(bench: Bench, member: Member, start: Spot, end: Spot) -> None:
    if not member.curve:
        bench.join(*start, *end, member.role)
        return
    x_m = start[0].position_m[0]
    curve = tuple((x_m, y_m, z_m) for y_m, z_m in member.curve)
    bench.spring(*start, *end, member.role, curve, member.curve_length_m)


def _place_cluster(
    bench: Bench, cluster: Cluster, node: Node, place_m: float, rail: list[OnRail], placed: dict[tuple[str, str], Spot]
) -> None:
    items: list[Fitting] = []
    for item in cluster.items:
        centre: Vec = (place_m + item.dx_m, node.y_m, node.z_m)
        fitting = bench.place(item.spec, item.role, centre, item.ports)
        items.append(fitting)
        rail.append((fitting, item.back, item.fore))
    hung: list[Fitting] = []
    for hanger in cluster.hangers:
        holder = items[hanger.item]
        way = holder.port(hanger.item_port).direction
        fitting = bench.place(hanger.spec, hanger.role, ahead(holder.position_m, way, hanger.apart_m), hanger.ports)
        bench.join(holder, hanger.item_port, fitting, hanger.own_port, "stub")
        hung.append(fitting)
    for member, (where, index, port_name) in cluster.members.items():
        placed[node.name, member] = ((items if where == "item" else hung)[index], port_name)


def _corners(bench: Bench, on_base: list[Node], base: Base, middle_m: float) -> dict[str, tuple[Fitting, Fitting]]:
    """Corner fittings of each base rail, front and far: port "a" along the bed, port "b" across it."""
    corners: dict[str, tuple[Fitting, Fitting]] = {}
    if base.corner is None:
        return corners
    for node in on_base:
        inward: Vec = (0.0, -1.0 if node.y_m > 0 else 1.0, 0.0)
        front, far = (
            bench.place(
                base.corner,
                "corner",
                (middle_m + end * base.half_length_m, node.y_m, base.z_m),
                {"a": way, "b": inward},
            )
            for end, way in ((-1.0, ALONG), (1.0, BACK))
        )
        corners[node.name] = (front, far)
    return corners


def _join_braces(bench: Bench, left: list[OnRail], right: list[OnRail]) -> None:
    feet = [[fitting for fitting, _, _ in rail if fitting.role == "brace foot"] for rail in (left, right)]
    for here, there in zip(*feet, strict=True):
        bench.join(here, "branch", there, "branch", "brace")


def tie_crown_bar(bench: Bench, layout: Layout, middle_m: float, crown_z_m: float, pipe_m: float) -> None:
    """A bar tied under the hoops along the top; `pipe_m` is the pipe's outside diameter [m]."""
    first, last = layout.stations_m[0], layout.stations_m[-1]
    z_m = crown_z_m - pipe_m
    bench.tie((middle_m + first - BAR_PAST_M, 0.0, z_m), (middle_m + last + BAR_PAST_M, 0.0, z_m), "crown bar")
