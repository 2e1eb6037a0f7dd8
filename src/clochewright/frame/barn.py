"""The barn: upright walls carrying two slopes.

Eave recipes:
    in-line  on the post a tee (ends) or a cross (within), above it an elbow that bends the post into the slope; the
             pitch is 90 degrees less the elbow's bend
    butted   post tee and rafter tee side by side on the eave rail; any pitch
"""

from __future__ import annotations

from collections.abc import Callable

from clochewright.findings import Mend
from clochewright.frame.apex import (
    LEFT,
    POINTED_DEG,
    RIGHT,
    SAME_PITCH_DEG,
    Roof,
    choose_apex,
    elbow_bending,
    elbows_by_bend,
)
from clochewright.frame.nodes import butted, crossing_face, in_line_eave, turned_tee
from clochewright.frame.section import Member, Node, Place, Section
from clochewright.frame.shelf import CannotBuildError, Shelf, stop
from clochewright.frame.vectors import UP, across, opposite
from clochewright.plan import Plan

SIDES = (("left", 1.0, LEFT), ("right", -1.0, RIGHT))
Eave = Callable[[str, float, str], Node]


def barn_section(shelf: Shelf, plan: Plan, half_m: float, base_z_m: float, apex_stub_m: float = 0.0) -> Section:
    """The barn's cross-section for a base `half_m` wide to each side of the middle, `base_z_m` above the rim [m]."""
    eaves = plan.barn.eaves
    if eaves == "butted":
        return _with_butted_eaves(shelf, plan, half_m, base_z_m, apex_stub_m)
    if eaves == "in-line":
        return _with_in_line_eaves(shelf, plan, half_m, base_z_m, apex_stub_m)
    try:
        return _with_in_line_eaves(shelf, plan, half_m, base_z_m, apex_stub_m)
    except CannotBuildError:
        return _with_butted_eaves(shelf, plan, half_m, base_z_m, apex_stub_m)


def _with_in_line_eaves(shelf: Shelf, plan: Plan, half_m: float, base_z_m: float, apex_stub_m: float) -> Section:
    cover, bend_z_m = plan.cover, plan.barn.walls_m
    wanted_deg = POINTED_DEG if cover.pitch_deg is None else cover.pitch_deg
    elbows = elbows_by_bend(shelf)
    elbow = elbow_bending(elbows, 90.0 - wanted_deg)
    if elbow is None:
        nearest_deg = min((90.0 - bend for bend in elbows), key=lambda pitch: abs(pitch - wanted_deg))
        raise stop(
            "frame.no-elbow-for-eave", "cover.pitch", Mend("barn.eaves", "butted"),
            pitch_deg=wanted_deg, nearest_deg=nearest_deg,
        )  # fmt: skip
    pitch_deg = 90.0 - elbow.bend_deg
    apex = choose_apex(shelf, cover, Roof(half_m, bend_z_m, pitch_deg, None, apex_stub_m))
    if abs(apex.pitch_deg - pitch_deg) > SAME_PITCH_DEG:
        raise stop(
            "frame.slopes-differ",
            "barn.eaves",
            Mend("barn.eaves", "butted"),
            pitch_deg=pitch_deg,
            apex_deg=apex.pitch_deg,
        )
    if cover.height_m is not None:
        raise stop("frame.height-with-in-line", "cover.height", Mend("barn.eaves", "butted"), height_m=cover.height_m)
    apart_m = crossing_face(shelf) + elbow.face("a")

    def eave(name: str, side: float, rafter: str) -> Node:
        recipe = in_line_eave(shelf, f"{name} post", rafter, side, elbow, apart_m)
        return Node(f"{name} eave", "eave rail", side * half_m, bend_z_m - apart_m, recipe)

    return _barn(
        shelf, plan, (half_m, base_z_m), eave, apex.node, apex.pitch_deg, {"eave": "in-line", "apex": apex.recipe}
    )


def _with_butted_eaves(shelf: Shelf, plan: Plan, half_m: float, base_z_m: float, apex_stub_m: float) -> Section:
    cover = plan.cover
    apex = choose_apex(shelf, cover, Roof(half_m, plan.barn.walls_m, cover.pitch_deg, cover.height_m, apex_stub_m))

    def eave(name: str, side: float, rafter: str) -> Node:
        post = f"{name} post"
        ways = {post: opposite(UP), rafter: across(-side, apex.pitch_deg)}
        recipe = butted(shelf, "eave", ways, posts_outside(post, rafter))
        return Node(f"{name} eave", "eave rail", side * half_m, plan.barn.walls_m, recipe)

    return _barn(
        shelf, plan, (half_m, base_z_m), eave, apex.node, apex.pitch_deg, {"eave": "butted", "apex": apex.recipe}
    )


def posts_outside(post: str, rafter: str) -> Callable[[Place], tuple[str, str]]:
    """Posts stand nearer the ends of the bed than their rafters, so that their feet can butt against the corners."""
    return lambda place: (rafter, post) if place == "far" else (post, rafter)


def _barn(
    shelf: Shelf,
    plan: Plan,
    base: tuple[float, float],
    eave: Eave,
    apex: Node,
    pitch_deg: float,
    recipes: dict[str, str],
) -> Section:
    half_m, base_z_m = base
    tee = shelf.get("tee")
    feet = {
        name: Node(
            f"{name} foot", "side rail", side * half_m, base_z_m,
            turned_tee(tee, "post foot", f"{name} post", UP), on_base=True,
        )
        for name, side, _ in SIDES
    }  # fmt: skip
    left, right = (eave(name, side, rafter) for name, side, rafter in SIDES)
    members = (
        Member("left post", "post", "left foot", left.name),
        Member(LEFT, "rafter", left.name, apex.name),
        Member(RIGHT, "rafter", apex.name, right.name),
        Member("right post", "post", right.name, "right foot"),
    )
    nodes = (feet["left"], left, apex, right, feet["right"])
    if plan.barn.walls_m <= base_z_m:
        raise stop("frame.walls-too-low", "barn.walls", walls_m=plan.barn.walls_m)
    return Section(nodes, members, pitch_deg, recipes | {"post foot": "turned tee"})
