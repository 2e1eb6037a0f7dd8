"""Joint recipes: which fittings make a foot, an eave or an apex, at the ends of a rail and within.

Each recipe gives the cluster that one bent puts on one rail. Tees turn about their run, and an elbow at a rail's end
about the rail, so any slope can leave them; an elbow within a slope bends by the angle it was moulded with.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from clochewright.frame.cluster import Cluster, Hanger, Item
from clochewright.frame.parts import Vec
from clochewright.frame.section import Place
from clochewright.frame.shelf import Shelf, Spec
from clochewright.frame.vectors import ALONG, BACK, UP, across, opposite

Recipe = Callable[[Place], Cluster]
Order = Callable[[Place], tuple[str, str]]  # the member that stands nearer the front end, and the other


def turned_tee(tee: Spec, role: str, member: str, way: Vec) -> Recipe:
    """One tee on the rail, turned about it until its branch looks along the member."""
    ports = {"run-a": BACK, "run-b": ALONG, "branch": way}
    cluster = Cluster((Item(tee, role, 0.0, ports, "run-a", "run-b"),), {member: ("item", 0, "branch")})
    return lambda _place: cluster


def butted(shelf: Shelf, role: str, ways: Mapping[str, Vec], order: Order) -> Recipe:
    """Two tees side by side on the rail, butted by a stub; at the ends the outer one is an elbow. Any directions."""
    tee, elbow = shelf.get("tee"), shelf.get("elbow-90")

    def cluster(place: Place) -> Cluster:
        members = order(place)
        specs = {"front": (elbow, tee), "far": (tee, elbow)}.get(place, (tee, tee))
        near, beyond = (
            _on_rail(spec, ways[m], way) for spec, m, way in zip(specs, members, (ALONG, BACK), strict=True)
        )
        apart_m = specs[0].face(near[1]) + specs[1].face(beyond[2])
        items = (
            Item(specs[0], _role(role, specs[0]), 0.0, near[0], None if specs[0] is elbow else near[2], near[1]),
            Item(
                specs[1], _role(role, specs[1]), apart_m, beyond[0], beyond[2], None if specs[1] is elbow else beyond[1]
            ),
        )
        ports = ["b" if spec is elbow else "branch" for spec in specs]
        return Cluster(items, {m: ("item", i, port) for i, (m, port) in enumerate(zip(members, ports, strict=True))})

    return cluster


def _on_rail(spec: Spec, member_way: Vec, rail_way: Vec) -> tuple[dict[str, Vec], str, str]:
    """Ports of a tee or an end elbow on the rail, and the names of those that look along it and back."""
    if spec.kind == "tee":
        return {"run-a": BACK, "run-b": ALONG, "branch": member_way}, "run-b", "run-a"
    return {"a": rail_way, "b": member_way}, "a", "a"


def _role(role: str, spec: Spec) -> str:
    return role if spec.kind == "tee" else f"{role} elbow"


def pointed(shelf: Shelf, left: str, right: str, slope_deg: float) -> Recipe:
    """Side-outlet elbow at the ends, side-outlet tee within, turned so that two sockets look down the slopes."""
    end, within = shelf.get("side-outlet-elbow"), shelf.get("side-outlet-tee")
    down_left, down_right = across(1.0, -slope_deg), across(-1.0, -slope_deg)

    def cluster(place: Place) -> Cluster:
        if place == "within":
            ports = {"run-a": BACK, "run-b": ALONG, "branch": down_left, "side": down_right}
            item = Item(within, "apex", 0.0, ports, "run-a", "run-b")
            return Cluster((item,), {left: ("item", 0, "branch"), right: ("item", 0, "side")})
        inward = ALONG if place == "front" else BACK
        back, fore = (None, "side") if place == "front" else ("side", None)
        item = Item(end, "apex", 0.0, {"a": down_left, "b": down_right, "side": inward}, back, fore)
        return Cluster((item,), {left: ("item", 0, "a"), right: ("item", 0, "b")})

    return cluster


def flat(shelf: Shelf, left: str, right: str, elbow: Spec, half_top_m: float) -> Recipe:
    """Tee at the ends, cross within, and on each side an elbow that bends down into the slope."""

    def cluster(place: Place) -> Cluster:
        item = across_rail(shelf, "apex", place, across(1.0, 0.0), across(-1.0, 0.0))
        hangers = tuple(
            Hanger(
                elbow, "apex elbow", 0, port, "a", half_top_m,
                {"a": across(-side, 0.0), "b": across(side, -elbow.bend_deg)},
            )
            for port, side in (("run-a", 1.0), ("run-b", -1.0))
        )  # fmt: skip
        return Cluster((item,), {left: ("hanger", 0, "b"), right: ("hanger", 1, "b")}, hangers)

    return cluster


def in_line_eave(shelf: Shelf, post: str, rafter: str, side: float, elbow: Spec, apart_m: float) -> Recipe:
    """On the post: tee at the ends, cross within, and above it an elbow that bends the post into the slope."""

    def cluster(place: Place) -> Cluster:
        item = across_rail(shelf, "eave", place, opposite(UP), UP)
        ways = {"a": opposite(UP), "b": across(-side, 90.0 - elbow.bend_deg)}
        hanger = Hanger(elbow, "eave elbow", 0, "run-b", "a", apart_m, ways)
        return Cluster((item,), {post: ("item", 0, "run-a"), rafter: ("hanger", 0, "b")}, (hanger,))

    return cluster


def across_rail(shelf: Shelf, role: str, place: Place, run_a: Vec, run_b: Vec) -> Item:
    """A fitting whose run crosses the rail: a tee at the ends of the rail, a cross within."""
    if place == "within":
        ports = {"run-a": run_a, "run-b": run_b, "arm-a": BACK, "arm-b": ALONG}
        return Item(shelf.get("cross"), role, 0.0, ports, "arm-a", "arm-b")
    inward = ALONG if place == "front" else BACK
    back, fore = (None, "branch") if place == "front" else ("branch", None)
    return Item(shelf.get("tee"), role, 0.0, {"run-a": run_a, "run-b": run_b, "branch": inward}, back, fore)


def crossing_face(shelf: Shelf) -> float:
    """Centre to mouth of the longest run among tee and cross [m]: it rules, so that all bents come out alike."""
    return max(spec.face(port) for spec in (shelf.get("tee"), shelf.get("cross")) for port in ("run-a", "run-b"))
