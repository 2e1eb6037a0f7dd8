"""The apex: how two rafters meet, and the pitch that follows or is asked for.

pointed  two sockets square to each other look down the slopes, so the pitch is 45 degrees
butted   two tees side by side in the ridge line; any pitch, but left and right rafters stand side by side, and that
         shift is in the lengths of everything
flat     a tee or cross with an elbow on each side; the pitch is the elbow's bend, and the strip on top holds water
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from clochewright.findings import Mend
from clochewright.frame.nodes import butted, crossing_face, flat, pointed
from clochewright.frame.section import Node, Place
from clochewright.frame.shelf import CannotBuildError, Shelf, Spec, stop
from clochewright.frame.vectors import across
from clochewright.plan import Cover

ELBOWS = ("elbow-22.5", "elbow-45", "elbow-60")
POINTED_DEG = 45.0
SAME_PITCH_DEG = 0.05
SAME_HEIGHT_M = 0.0127  # half an inch: a wish for a height is met when the frame comes this near
LEFT, RIGHT = "left rafter", "right rafter"


@dataclass(frozen=True, slots=True)
class Roof:
    """What the apex must suit: slopes begin `half_m` from the middle, `z_m` above the rim [m], and the wishes.

    `apex_stub_m` is how much longer than needed the stubs beside a flat apex are [m].
    """

    half_m: float
    z_m: float
    pitch_deg: float | None
    height_m: float | None
    apex_stub_m: float = 0.0

    def ridge_z_m(self, pitch_deg: float, half_top_m: float = 0.0) -> float:
        """Height of the ridge line above the rim [m]; `half_top_m` is half the width of a flat top."""
        return self.z_m + (self.half_m - half_top_m) * math.tan(math.radians(pitch_deg))


@dataclass(frozen=True, slots=True)
class Apex:
    """The node on the ridge, the pitch it makes [deg] and the name of its recipe."""

    node: Node
    pitch_deg: float
    recipe: str


def choose_apex(shelf: Shelf, cover: Cover, roof: Roof) -> Apex:
    """The apex the plan names, or the one that sheds water best among those the fittings allow.

    CannotBuildError when no fittings on the shelf make what is asked for.
    """
    recipes = {"pointed": _pointed, "butted": _butted, "flat": _flat}
    if cover.apex != "best":
        return recipes[cover.apex](shelf, roof)
    if shelf.has("side-outlet-elbow", "side-outlet-tee") and _pointed_suits(shelf, roof):
        return _pointed(shelf, roof)
    return _butted(shelf, roof) if shelf.has("tee", "elbow-90") else _flat(shelf, roof)


def _pointed_suits(shelf: Shelf, roof: Roof) -> bool:
    top_m = roof.ridge_z_m(POINTED_DEG) + shelf.get("side-outlet-elbow").hub_m / 2
    return (roof.pitch_deg is None or abs(roof.pitch_deg - POINTED_DEG) <= SAME_PITCH_DEG) and (
        roof.height_m is None or abs(roof.height_m - top_m) <= SAME_HEIGHT_M
    )


def _pointed(shelf: Shelf, roof: Roof) -> Apex:
    if roof.pitch_deg is not None and abs(roof.pitch_deg - POINTED_DEG) > SAME_PITCH_DEG:
        tops = {POINTED_DEG: roof.ridge_z_m(POINTED_DEG) + shelf.get("side-outlet-elbow").hub_m / 2}
        raise _no_pitch(roof.pitch_deg, "pointed", tops)
    ridge_z_m = roof.ridge_z_m(POINTED_DEG)
    _must_reach(roof, "pointed", {POINTED_DEG: ridge_z_m + shelf.get("side-outlet-elbow").hub_m / 2})
    node = Node("apex", "ridge", 0.0, ridge_z_m, pointed(shelf, LEFT, RIGHT, POINTED_DEG))
    return Apex(node, POINTED_DEG, "pointed")


def _butted(shelf: Shelf, roof: Roof) -> Apex:
    pitch_deg = POINTED_DEG if roof.pitch_deg is None else roof.pitch_deg
    if roof.height_m is not None:
        rise_m = roof.height_m - max(shelf.get("tee").hub_m, shelf.get("elbow-90").hub_m) / 2 - roof.z_m
        if rise_m <= 0:
            raise stop("frame.too-low", "cover.height", height_m=roof.height_m)
        pitch_deg = math.degrees(math.atan2(rise_m, roof.half_m))
    ways = {LEFT: across(1.0, -pitch_deg), RIGHT: across(-1.0, -pitch_deg)}

    def order(_place: Place) -> tuple[str, str]:
        # the left rafter always stands further along than the right one: turned half round, the frame is itself again
        return RIGHT, LEFT

    node = Node("apex", "ridge", 0.0, roof.ridge_z_m(pitch_deg), butted(shelf, "apex", ways, order))
    return Apex(node, pitch_deg, "butted")


def _flat(shelf: Shelf, roof: Roof) -> Apex:
    elbow = _elbow_for(shelf, roof)
    half_top_m = _half_top(shelf, elbow) + roof.apex_stub_m
    ridge_z_m = _flat_ridge_z(roof, half_top_m, elbow)
    node = Node("apex", "ridge", 0.0, ridge_z_m, flat(shelf, LEFT, RIGHT, elbow, half_top_m))
    return Apex(node, elbow.bend_deg, "flat")


def _half_top(shelf: Shelf, elbow: Spec) -> float:
    return crossing_face(shelf) + elbow.face("a")


def _flat_ridge_z(roof: Roof, half_top_m: float, elbow: Spec) -> float:
    short_m = half_top_m - roof.half_m
    if short_m >= 0:
        raise stop("frame.too-narrow-for-flat", "cover.apex", Mend("cover.apex", "butted"), short_m=short_m)
    return roof.ridge_z_m(elbow.bend_deg, half_top_m)


def _elbow_for(shelf: Shelf, roof: Roof) -> Spec:
    """The elbow whose bend makes the pitch or the height asked for; the 45 when neither is asked."""
    elbows = elbows_by_bend(shelf)
    if roof.pitch_deg is None and roof.height_m is None:
        return elbows.get(POINTED_DEG, next(iter(elbows.values())))
    if roof.pitch_deg is not None and (elbow := elbow_bending(elbows, roof.pitch_deg)) is not None:
        return elbow
    tops = {
        nominal: _flat_ridge_z(roof, _half_top(shelf, spec), spec) + shelf.get("tee").hub_m / 2
        for nominal, spec in elbows.items()
    }
    if roof.pitch_deg is not None:
        raise _no_pitch(roof.pitch_deg, "flat", tops)
    return elbows[_must_reach(roof, "flat", tops)]


def elbows_by_bend(shelf: Shelf) -> dict[float, Spec]:
    """The slanting elbows on the shelf by the angle they are sold as [deg]; CannotBuildError when there is none."""
    elbows = {float(kind.removeprefix("elbow-")): spec for kind in ELBOWS if (spec := shelf.find(kind)) is not None}
    if not elbows:
        shelf.get("elbow-45")
    return elbows


def elbow_bending(elbows: dict[float, Spec], bend_deg: float) -> Spec | None:
    """The elbow sold or measured as this bend [deg], if there is one."""
    for nominal_deg, spec in elbows.items():
        if min(abs(bend_deg - nominal_deg), abs(bend_deg - spec.bend_deg)) <= SAME_PITCH_DEG:
            return spec
    return None


def _must_reach(roof: Roof, recipe: str, tops_m: dict[float, float]) -> float:
    """The pitch [deg] whose top [m] is nearest the height asked for; CannotBuildError when none comes near."""
    pitch_deg, top_m = min(tops_m.items(), key=lambda pair: abs(pair[1] - (roof.height_m or pair[1])))
    if roof.height_m is not None and abs(top_m - roof.height_m) > SAME_HEIGHT_M:
        raise stop(
            "frame.no-such-height", "cover.height", Mend("cover.apex", "butted"),
            height_m=roof.height_m, nearest_m=top_m, pitch_deg=pitch_deg, recipe=recipe,
        )  # fmt: skip
    return pitch_deg


def _no_pitch(wanted_deg: float, recipe: str, tops_m: dict[float, float]) -> CannotBuildError:
    """The refusal of a pitch, with the nearest that can be made and how high the cover would be with it."""
    nearest_deg = min(tops_m, key=lambda pitch: abs(pitch - wanted_deg))
    return stop(
        "frame.no-elbow-for-pitch", "cover.pitch", Mend("cover.apex", "butted"),
        pitch_deg=wanted_deg, nearest_deg=nearest_deg, nearest_m=tops_m[nearest_deg], recipe=recipe,
    )  # fmt: skip
