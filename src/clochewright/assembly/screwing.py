"""One screw for each screwed joint: its size, its pilot hole and its place."""

from __future__ import annotations

import math
from collections.abc import Sequence

from clochewright.assembly.types import ScrewPlace, Screws
from clochewright.catalogue import PILOT_SHARE, Catalogue
from clochewright.findings import word
from clochewright.frame import Fitting, Frame, Vec
from clochewright.joints import Joint, JointPlan
from clochewright.lid import LidPlan

CLEAR_m = 0.03  # from a hinge or a latch to a screw's head: common practice, no source
STEPS = (0, 1, -1, 2, -2)  # eighths of a turn about the pipe, the inside first; never on the film's side
PLAIN_m = (0.004, 0.0127)  # diameter and length where the catalogue has no joint screw: common practice, no source


def place_screws(
    frame: Frame, joints: JointPlan, lid: LidPlan, catalogue: Catalogue, order: Sequence[str], units: str
) -> Screws | None:
    """Where each joint's screw goes: half way down the seat, its head on the side that looks into the cover.

    There it is clear of the film, which lies outside, of the laths along the outside of the bottom rails, and of hinges
    and latches: where one of them is near, the screw goes an eighth of a turn further round.

    Args:
        frame: the frame.
        joints: which joints are screwed.
        lid: hinges and latches.
        catalogue: the joint screws to be had.
        order: ids of joints in the order they are closed, which numbers them.
        units: "inch" or "mm".
    """
    loose = {joint.id: joint for joint in joints.joints if joint.treatment == "screwed"}
    if not loose:
        return None
    rows = [row for row in catalogue.goods("joint screws") if row.market in (units, "any")]
    figures = rows[0].figures if rows else {}
    diameter_m, length_m = (
        figures[name].value if name in figures else plain
        for name, plain in zip(("diameter_m", "length_m"), PLAIN_m, strict=True)
    )
    fittings = {fitting.id: fitting for fitting in frame.fittings}
    fixings = [fixing.position_m for fixing in (*lid.hinges, *lid.latches)]
    kept = [loose[name] for name in order if name in loose]
    kept += [joint for name, joint in loose.items() if name not in set(order)]
    places = tuple(
        _place(frame, joint, fittings[joint.fitting], number, fixings) for number, joint in enumerate(kept, start=1)
    )
    hub_m = max(fittings[joint.fitting].hub_diameter_m for joint in kept)
    through_m = (hub_m - frame.pipe_outside_diameter_m) / 2
    name = rows[0].name if rows else word("assembly.screw.plain")
    return Screws(name, diameter_m, length_m, diameter_m * PILOT_SHARE, through_m, places)


def _place(frame: Frame, joint: Joint, fitting: Fitting, number: int, fixings: Sequence[Vec]) -> ScrewPlace:
    port = fitting.port(joint.port)
    from_mouth_m = joint.seat_depth_m / 2
    reach_m = port.centre_to_face_m - from_mouth_m
    at = _plus(fitting.position_m, port.direction, reach_m)
    inward = _across((-at[0], -at[1], frame.height_m / 3 - at[2]), port.direction)
    beside = _cross(port.direction, inward)
    found: list[tuple[float, Vec, Vec]] = []
    for eighths in STEPS:
        turn = math.radians(45 * eighths)
        side = _plus(_times(inward, math.cos(turn)), beside, math.sin(turn))
        head = _plus(at, side, fitting.hub_diameter_m / 2)
        if head[2] > 0:
            clear_m = min((math.dist(head, fixing) for fixing in fixings), default=math.inf)
            found.append((min(clear_m, CLEAR_m), side, head))
    # the first that is clear, else the one that is furthest from what is in the way
    _, side, head = (
        max(found, key=lambda one: one[0]) if found else (0.0, inward, _plus(at, inward, fitting.hub_diameter_m / 2))
    )
    name = "below" if side[2] < -0.6 else "above" if side[2] > 0.6 else "inside"
    return ScrewPlace(joint.id, number, head, _times(side, -1.0), from_mouth_m, word(f"assembly.screw.{name}"))


def _plus(point: Vec, way: Vec, by_m: float) -> Vec:
    return (point[0] + way[0] * by_m, point[1] + way[1] * by_m, point[2] + way[2] * by_m)


def _times(way: Vec, by: float) -> Vec:
    return (way[0] * by, way[1] * by, way[2] * by)


def _cross(a: Vec, b: Vec) -> Vec:
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def _across(way: Vec, axis: Vec) -> Vec:
    """The unit vector square to an axis that looks most along a way."""
    along = sum(a * b for a, b in zip(way, axis, strict=True))
    left = _plus(way, axis, -along)
    size = math.hypot(*left)
    if size < 1e-6:  # straight towards the middle: any side will do, from below
        return _across((0.0, 0.0, -1.0) if abs(axis[2]) < 0.9 else (1.0, 0.0, 0.0), axis)
    return _times(left, 1 / size)
