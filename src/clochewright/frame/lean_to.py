"""The lean-to: one slope from a high side to a low one, made of turned tees and end elbows only."""

from __future__ import annotations

import math

from clochewright.frame.barn import posts_outside
from clochewright.frame.nodes import butted, turned_tee
from clochewright.frame.section import Member, Node, Section
from clochewright.frame.shelf import Shelf, stop
from clochewright.frame.vectors import UP, across, opposite
from clochewright.plan import Plan


def lean_to_section(shelf: Shelf, plan: Plan, half_m: float, base_z_m: float) -> Section:
    """The lean-to's cross-section for a base `half_m` wide to each side of the middle, `base_z_m` above the rim [m].

    With a front of 0 the slope's foot stands on the base rail itself.
    """
    wish = plan.lean_to
    low_z_m = wish.front_m if wish.front_m > 0 else base_z_m
    if wish.back_m <= low_z_m:
        raise stop("frame.back-too-low", "lean-to.back", back_m=wish.back_m, front_m=low_z_m)
    pitch_deg = math.degrees(math.atan2(wish.back_m - low_z_m, 2 * half_m))
    high = 1.0 if wish.high_side == "left" else -1.0
    tee = shelf.get("tee")

    def foot(name: str, side: float, role: str, member: str, rise_deg: float) -> Node:
        recipe = turned_tee(tee, role, member, across(-side, rise_deg))
        return Node(f"{name} foot", "side rail", side * half_m, base_z_m, recipe, on_base=True)

    def top(name: str, side: float, z_m: float, slope_deg: float) -> Node:
        ways = {f"{name} post": opposite(UP), "rafter": across(-side, slope_deg)}
        recipe = butted(shelf, "eave", ways, posts_outside(f"{name} post", "rafter"))
        return Node(f"{name} top", "eave rail", side * half_m, z_m, recipe)

    back_foot = foot("back", high, "post foot", "back post", 90.0)
    back_top = top("back", high, wish.back_m, -pitch_deg)
    back_post = Member("back post", "post", back_foot.name, back_top.name)
    if wish.front_m > 0:
        front_top = top("front", -high, wish.front_m, pitch_deg)
        front_foot = foot("front", -high, "post foot", "front post", 90.0)
        nodes: tuple[Node, ...] = (back_foot, back_top, front_top, front_foot)
        members: tuple[Member, ...] = (
            back_post,
            Member("rafter", "rafter", back_top.name, front_top.name),
            Member("front post", "post", front_top.name, front_foot.name),
        )
    else:
        front_foot = foot("front", -high, "rafter foot", "rafter", pitch_deg)
        nodes = (back_foot, back_top, front_foot)
        members = (back_post, Member("rafter", "rafter", back_top.name, front_foot.name))
    return Section(nodes, members, pitch_deg, {"eave": "butted", "post foot": "turned tee"})
