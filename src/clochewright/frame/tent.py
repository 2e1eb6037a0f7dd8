"""The tent: two slopes from the base rails to a ridge."""

from __future__ import annotations

from clochewright.frame.apex import LEFT, RIGHT, Roof, choose_apex
from clochewright.frame.nodes import turned_tee
from clochewright.frame.section import Member, Node, Section
from clochewright.frame.shelf import Shelf
from clochewright.frame.vectors import across
from clochewright.plan import Plan


def tent_section(shelf: Shelf, plan: Plan, half_m: float, base_z_m: float, apex_stub_m: float = 0.0) -> Section:
    """The tent's cross-section for a base `half_m` wide to each side of the middle, `base_z_m` above the rim [m].

    CannotBuildError when no fittings on the shelf make what the plan asks for.
    """
    cover = plan.cover
    apex = choose_apex(shelf, cover, Roof(half_m, base_z_m, cover.pitch_deg, cover.height_m, apex_stub_m))
    tee = shelf.get("tee")
    left, right = (
        Node(
            f"{name} foot", "side rail", side * half_m, base_z_m,
            turned_tee(tee, "rafter foot", member, across(-side, apex.pitch_deg)), on_base=True,
        )
        for name, side, member in (("left", 1.0, LEFT), ("right", -1.0, RIGHT))
    )  # fmt: skip
    members = (
        Member(LEFT, "rafter", left.name, apex.node.name),
        Member(RIGHT, "rafter", apex.node.name, right.name),
    )
    recipes = {"apex": apex.recipe, "rafter foot": "turned tee"}
    return Section((left, apex.node, right), members, apex.pitch_deg, recipes)
