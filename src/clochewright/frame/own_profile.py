"""A profile of the builder's own: rails wherever it bends, two tees butted on each, so that any slope goes."""

from __future__ import annotations

import math
from itertools import pairwise

from clochewright.frame.nodes import Order, butted, turned_tee
from clochewright.frame.parts import Vec
from clochewright.frame.section import Member, Node, Place, Section
from clochewright.frame.shelf import Shelf, stop
from clochewright.plan import Plan

MIDDLE_M = 0.001  # a half profile that ends this near the middle ends on the ridge
Point2 = tuple[float, float]


def own_section(shelf: Shelf, plan: Plan, half_m: float, base_z_m: float) -> Section:
    """The section through the plan's own points, from the left base rail to the right one."""
    points = _points(plan, half_m, base_z_m)
    names = ["left foot", *(f"rail {i}" for i in range(1, len(points) - 1)), "right foot"]
    members = [f"member {i + 1}" for i in range(len(points) - 1)]
    top = max(range(len(points)), key=lambda i: points[i][1])
    tee = shelf.get("tee")
    nodes: list[Node] = []
    for i, (name, (y_m, z_m)) in enumerate(zip(names, points, strict=True)):
        if i in (0, len(points) - 1):
            member, other = (members[0], points[1]) if i == 0 else (members[-1], points[-2])
            recipe = turned_tee(tee, "rafter foot", member, _way((y_m, z_m), other))
            nodes.append(Node(name, "side rail", y_m, z_m, recipe, on_base=True))
            continue
        before, after = members[i - 1], members[i]
        ways = {before: _way(points[i], points[i - 1]), after: _way(points[i], points[i + 1])}
        role = "apex" if i == top else "eave"
        rail = "ridge" if i == top else "eave rail"
        nodes.append(Node(name, rail, y_m, z_m, butted(shelf, role, ways, _turn_about(before, after, i))))
    steepest_deg = max(math.degrees(math.atan2(abs(b[1] - a[1]), abs(b[0] - a[0]))) for a, b in pairwise(points))
    run = tuple(
        Member(member, "post" if abs(points[i][0] - points[i + 1][0]) < MIDDLE_M else "rafter", names[i], names[i + 1])
        for i, member in enumerate(members)
    )
    return Section(tuple(nodes), run, steepest_deg, {"apex": "butted", "eave": "butted", "rafter foot": "turned tee"})


def _turn_about(before: str, after: str, index: int) -> Order:
    """Members step aside to the front and to the far end in turn, so that the shifts do not add up."""

    def order(_place: Place) -> tuple[str, str]:
        return (before, after) if index % 2 else (after, before)

    return order


def _points(plan: Plan, half_m: float, base_z_m: float) -> list[Point2]:
    """The profile in the frame's axes (y, z) [m], left foot first."""
    inner = [(half_m - point.in_m, base_z_m + point.up_m) for point in plan.profile.points]
    if not inner:
        raise stop("frame.no-profile", "profile.points")
    if not plan.profile.whole:
        mirrored = [(-y_m, z_m) for y_m, z_m in reversed(inner)]
        on_ridge = abs(inner[-1][0]) < MIDDLE_M
        inner = [*inner[:-1], (0.0, inner[-1][1]), *mirrored[1:]] if on_ridge else [*inner, *mirrored]
    points = [(half_m, base_z_m), *inner, (-half_m, base_z_m)]
    for i, (a, b) in enumerate(pairwise(points)):
        if math.dist(a, b) < MIDDLE_M or b[0] > a[0] + 1e-9 or min(a[1], b[1]) < base_z_m - 1e-9:
            raise stop("frame.profile-turns-back", "profile.points", point=min(i + 1, len(plan.profile.points)))
    return points


def _way(start: Point2, end: Point2) -> Vec:
    length_m = math.dist(start, end)
    return (0.0, (end[0] - start[0]) / length_m, (end[1] - start[1]) / length_m)
