"""A cross-section: nodes across the bed, each on a rail of its own, and members between them.

Left is the +y side, as seen standing at the front end (-x) and looking along the bed.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Literal

from clochewright.findings import Finding
from clochewright.frame.cluster import Cluster, Item, shifted
from clochewright.frame.parts import HoopFacts
from clochewright.frame.shelf import Spec
from clochewright.frame.vectors import ALONG, BACK, across

Place = Literal["front", "within", "far"]


@dataclass(frozen=True, slots=True)
class Node:
    """One line along the bed where members meet: its name, what its rail is called, where it runs (y, z) [m]."""

    name: str
    rail: str
    y_m: float
    z_m: float
    cluster: Callable[[Place], Cluster]
    on_base: bool = False


@dataclass(frozen=True, slots=True)
class Member:
    """A pipe across the bed from one node to the next.

    A hoop has a `curve`: the points (y, z) between the mouths of its two sockets [m], and its length between them [m].
    """

    name: str
    role: str
    start: str
    end: str
    curve: tuple[tuple[float, float], ...] = ()
    curve_length_m: float = 0.0


@dataclass(frozen=True, slots=True)
class Section:
    """The cross-section of one cover, from the left foot over the top to the right foot."""

    nodes: tuple[Node, ...]
    members: tuple[Member, ...]
    pitch_deg: float
    recipes: Mapping[str, str]
    hoop: HoopFacts | None = None
    findings: tuple[Finding, ...] = ()


def bent_clusters(section: Section, place: Place) -> dict[str, Cluster]:
    """The clusters of one bent by node, shifted so that every member stands square to the rails.

    Where two fittings stand side by side at one node (butted tees), all that hangs on them shifts along the bed; the
    shift is carried from node to node, so that each member stays in one plane.
    """
    nodes = {node.name: node for node in section.nodes}
    first = section.nodes[0].name
    clusters = {first: nodes[first].cluster(place)}
    for member in section.members:
        here = clusters[member.start]
        there = nodes[member.end].cluster(place)
        clusters[member.end] = shifted(there, here.plane_m(member.name) - there.plane_m(member.name))
    return clusters


def with_brace(
    clusters: Mapping[str, Cluster], feet: Mapping[str, float], tee: Spec, toward: float
) -> dict[str, Cluster]:
    """The clusters with a brace foot beside each rafter foot, both at one place along the bed.

    `feet` gives the side (+1 left, -1 right) of each base node; `toward` (+1 or -1) says on which side of the feet the
    brace stands. Where the two feet are staggered it butts against the outer one.
    """
    beside = tee.face("run-a") + tee.face("run-b")
    places = [toward * item.dx_m for name in feet for item in clusters[name].items]
    brace_m = toward * (max(places) + beside)
    out = dict(clusters)
    for name, side in feet.items():
        ports = {"run-a": BACK, "run-b": ALONG, "branch": across(-side, 0.0)}
        brace = Item(tee, "brace foot", brace_m, ports, "run-a", "run-b")
        items = tuple(sorted((*clusters[name].items, brace), key=lambda item: item.dx_m))
        shift = items.index(clusters[name].items[0])
        members = {m: (where, index + shift, port) for m, (where, index, port) in clusters[name].members.items()}
        out[name] = Cluster(items, members, clusters[name].hangers)
    return out
