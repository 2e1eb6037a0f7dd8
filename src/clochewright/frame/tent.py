"""The tent: two slopes meeting at a ridge. Which fittings make its feet and its apex, and at what pitch.

Apex recipes:
    pointed  side-outlet elbow at the ends, side-outlet tee within, turned so that two sockets look down the slopes;
             the two sockets are square to each other, so the pitch is 45 degrees
    butted   two tees butted by a stub in the ridge line (at the ends a tee and a turned elbow); any pitch, but left
             and right rafters stand side by side, and that shift is in the lengths of everything
    flat     tee at the ends, cross within, an elbow on each side; the pitch is the elbow's bend, and the strip on top
             holds water
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from clochewright.findings import Mend
from clochewright.frame.cluster import Cluster, Hanger, Item
from clochewright.frame.section import Member, Node, Place, Section
from clochewright.frame.shelf import CannotBuildError, Shelf, Spec, stop
from clochewright.frame.vectors import ALONG, BACK, across
from clochewright.plan import Cover

ELBOWS = ("elbow-22.5", "elbow-45", "elbow-60")
POINTED_DEG = 45.0
SAME_PITCH_DEG = 0.05
SAME_HEIGHT_M = 0.0127  # half an inch: a wish for a height is met when the frame comes this near


@dataclass(frozen=True, slots=True)
class _Asked:
    """What the section must suit: half the base's width and the base's height, centre lines [m], and the wishes."""

    half_m: float
    base_z_m: float
    pitch_deg: float | None
    height_m: float | None


def tent_section(shelf: Shelf, cover: Cover, half_m: float, base_z_m: float) -> Section:
    """The tent's cross-section for a base `half_m` wide to each side of the middle, `base_z_m` above the rim [m].

    CannotBuildError when no fittings on the shelf make what the plan asks for.
    """
    asked = _Asked(half_m, base_z_m, cover.pitch_deg, cover.height_m)
    if cover.apex == "pointed":
        return _pointed(shelf, asked)
    if cover.apex == "butted":
        return _butted(shelf, asked)
    if cover.apex == "flat":
        return _flat(shelf, asked)
    return _best(shelf, asked)


def _best(shelf: Shelf, asked: _Asked) -> Section:
    """The apex that sheds water best among those the fittings allow: pointed, else butted, else flat."""
    rise = asked.half_m + asked.base_z_m
    pitch_suits = asked.pitch_deg is None or abs(asked.pitch_deg - POINTED_DEG) <= SAME_PITCH_DEG
    if pitch_suits and shelf.has("side-outlet-elbow", "side-outlet-tee"):
        top = rise + shelf.get("side-outlet-elbow").hub_m / 2
        if asked.height_m is None or abs(asked.height_m - top) <= SAME_HEIGHT_M:
            return _pointed(shelf, asked)
    if shelf.has("tee", "elbow-90"):
        return _butted(shelf, asked)
    return _flat(shelf, asked)


def _feet(shelf: Shelf, asked: _Asked, pitch_deg: float) -> tuple[Node, Node]:
    """Left and right foot: a tee on the side rail, turned about it until its branch looks up the slope."""
    tee = shelf.get("tee")

    def foot(name: str, side: float, member: str) -> Node:
        ports = {"run-a": BACK, "run-b": ALONG, "branch": across(-side, pitch_deg)}
        cluster = Cluster((Item(tee, "rafter foot", 0.0, ports, "run-a", "run-b"),), {member: ("item", 0, "branch")})
        return Node(name, "side rail", side * asked.half_m, asked.base_z_m, lambda _: cluster, on_base=True)

    return foot("left foot", 1.0, "left rafter"), foot("right foot", -1.0, "right rafter")


def _tent(feet: tuple[Node, Node], apex: Node, pitch_deg: float, recipe: str) -> Section:
    left, right = feet
    members = (
        Member("left rafter", "rafter", left.name, apex.name),
        Member("right rafter", "rafter", apex.name, right.name),
    )
    return Section((left, apex, right), members, pitch_deg, {"apex": recipe, "rafter foot": "turned tee"})


def _pointed(shelf: Shelf, asked: _Asked) -> Section:
    end, within = shelf.get("side-outlet-elbow"), shelf.get("side-outlet-tee")
    if asked.pitch_deg is not None and abs(asked.pitch_deg - POINTED_DEG) > SAME_PITCH_DEG:
        raise _no_pitch(asked, "pointed", (POINTED_DEG,))
    ridge_z_m = asked.base_z_m + asked.half_m
    _must_reach(asked, "pointed", ((POINTED_DEG, ridge_z_m + end.hub_m / 2),))
    left, right = across(1.0, -POINTED_DEG), across(-1.0, -POINTED_DEG)
    members = {"left rafter": "a", "right rafter": "b"}

    def cluster(place: Place) -> Cluster:
        if place == "within":
            ports = {"run-a": BACK, "run-b": ALONG, "branch": left, "side": right}
            item = Item(within, "apex", 0.0, ports, "run-a", "run-b")
            return Cluster((item,), {"left rafter": ("item", 0, "branch"), "right rafter": ("item", 0, "side")})
        # a side-outlet elbow is left-handed or right-handed only by the order of its ports: the ridge takes "side"
        inward = ALONG if place == "front" else BACK
        back, fore = (None, "side") if place == "front" else ("side", None)
        item = Item(end, "apex", 0.0, {"a": left, "b": right, "side": inward}, back, fore)
        return Cluster((item,), {name: ("item", 0, port) for name, port in members.items()})

    apex = Node("apex", "ridge", 0.0, ridge_z_m, cluster)
    return _tent(_feet(shelf, asked, POINTED_DEG), apex, POINTED_DEG, "pointed")


def _butted(shelf: Shelf, asked: _Asked) -> Section:
    tee, elbow = shelf.get("tee"), shelf.get("elbow-90")
    pitch_deg = POINTED_DEG if asked.pitch_deg is None else asked.pitch_deg
    if asked.height_m is not None:
        rise_m = asked.height_m - max(tee.hub_m, elbow.hub_m) / 2 - asked.base_z_m
        if rise_m <= 0:
            raise stop("frame.too-low", "cover.height", height_m=asked.height_m)
        pitch_deg = math.degrees(math.atan2(rise_m, asked.half_m))
    ridge_z_m = asked.base_z_m + asked.half_m * math.tan(math.radians(pitch_deg))
    left, right = across(1.0, -pitch_deg), across(-1.0, -pitch_deg)
    tee_left, tee_right = ({"run-a": BACK, "run-b": ALONG, "branch": down} for down in (left, right))

    def cluster(place: Place) -> Cluster:
        # the left rafter always stands further along than the right one: turned half round, the frame is itself again
        if place == "front":
            first = Item(elbow, "apex elbow", 0.0, {"a": ALONG, "b": right}, None, "a")
            second = Item(tee, "apex", elbow.face("a") + tee.face("run-a"), tee_left, "run-a", "run-b")
        elif place == "far":
            first = Item(tee, "apex", 0.0, tee_right, "run-a", "run-b")
            second = Item(elbow, "apex elbow", tee.face("run-b") + elbow.face("a"), {"a": BACK, "b": left}, "a", None)
        else:
            first = Item(tee, "apex", 0.0, tee_right, "run-a", "run-b")
            second = Item(tee, "apex", tee.face("run-b") + tee.face("run-a"), tee_left, "run-a", "run-b")
        ports = ["b" if item.spec is elbow else "branch" for item in (first, second)]
        return Cluster((first, second), {"right rafter": ("item", 0, ports[0]), "left rafter": ("item", 1, ports[1])})

    apex = Node("apex", "ridge", 0.0, ridge_z_m, cluster)
    return _tent(_feet(shelf, asked, pitch_deg), apex, pitch_deg, "butted")


def _flat(shelf: Shelf, asked: _Asked) -> Section:
    elbow = _elbow_for(shelf, asked)
    tee, cross = shelf.get("tee"), shelf.get("cross")
    pitch_deg = elbow.bend_deg
    half_top_m = _half_top(tee, cross, elbow)
    ridge_z_m = _flat_ridge_z(asked, half_top_m, elbow)

    def cluster(place: Place) -> Cluster:
        if place == "within":
            ports = {"run-a": across(1.0, 0.0), "run-b": across(-1.0, 0.0), "arm-a": BACK, "arm-b": ALONG}
            item = Item(cross, "apex", 0.0, ports, "arm-a", "arm-b")
        else:
            inward = ALONG if place == "front" else BACK
            ports = {"run-a": across(1.0, 0.0), "run-b": across(-1.0, 0.0), "branch": inward}
            back, fore = (None, "branch") if place == "front" else ("branch", None)
            item = Item(tee, "apex", 0.0, ports, back, fore)
        hangers = tuple(
            Hanger(
                elbow, "apex elbow", 0, port, "a", half_top_m, {"a": across(-side, 0.0), "b": across(side, -pitch_deg)}
            )
            for port, side in (("run-a", 1.0), ("run-b", -1.0))
        )
        return Cluster((item,), {"left rafter": ("hanger", 0, "b"), "right rafter": ("hanger", 1, "b")}, hangers)

    apex = Node("apex", "ridge", 0.0, ridge_z_m, cluster)
    return _tent(_feet(shelf, asked, pitch_deg), apex, pitch_deg, "flat")


def _half_top(tee: Spec, cross: Spec, elbow: Spec) -> float:
    """Half the width of a flat apex [m]; the longest fitting rules, so that all bents come out alike."""
    return max(spec.face(port) for spec in (tee, cross) for port in ("run-a", "run-b")) + elbow.face("a")


def _flat_ridge_z(asked: _Asked, half_top_m: float, elbow: Spec) -> float:
    """Height of a flat apex's line above the rim [m]: the slope begins where the elbow turns down, beside the tee."""
    short_m = half_top_m - asked.half_m
    if short_m >= 0:
        raise stop("frame.too-narrow-for-flat", "cover.apex", Mend("cover.apex", "butted"), short_m=short_m)
    return asked.base_z_m + (asked.half_m - half_top_m) * math.tan(math.radians(elbow.bend_deg))


def _elbow_for(shelf: Shelf, asked: _Asked) -> Spec:
    """The elbow whose bend makes the pitch or the height asked for; the 45 when neither is asked."""
    elbows = {float(kind.removeprefix("elbow-")): spec for kind in ELBOWS if (spec := shelf.find(kind)) is not None}
    if not elbows:
        shelf.get("elbow-45")
    if asked.pitch_deg is not None:
        for nominal, spec in elbows.items():
            if min(abs(asked.pitch_deg - nominal), abs(asked.pitch_deg - spec.bend_deg)) <= SAME_PITCH_DEG:
                return spec
        raise _no_pitch(asked, "flat", tuple(elbows))
    if asked.height_m is None:
        return elbows.get(POINTED_DEG, next(iter(elbows.values())))
    tee, cross = shelf.get("tee"), shelf.get("cross")
    tops = {
        nominal: _flat_ridge_z(asked, _half_top(tee, cross, spec), spec) + tee.hub_m / 2
        for nominal, spec in elbows.items()
    }
    nominal = _must_reach(asked, "flat", tuple(tops.items()))
    return elbows[nominal]


def _must_reach(asked: _Asked, recipe: str, tops: tuple[tuple[float, float], ...]) -> float:
    """The pitch [deg] whose top [m] is nearest the height asked for; CannotBuildError when none comes near."""
    pitch_deg, top_m = min(tops, key=lambda pair: abs(pair[1] - (asked.height_m or pair[1])))
    if asked.height_m is not None and abs(top_m - asked.height_m) > SAME_HEIGHT_M:
        raise stop(
            "frame.no-such-height",
            "cover.height",
            Mend("cover.apex", "butted"),
            height_m=asked.height_m,
            nearest_m=top_m,
            pitch_deg=pitch_deg,
            recipe=recipe,
        )
    return pitch_deg


def _no_pitch(asked: _Asked, recipe: str, pitches: tuple[float, ...]) -> CannotBuildError:
    wanted = asked.pitch_deg or 0.0
    nearest = min(pitches, key=lambda pitch: abs(pitch - wanted))
    return stop(
        "frame.no-elbow-for-pitch",
        "cover.pitch",
        Mend("cover.apex", "butted"),
        pitch_deg=wanted,
        nearest_deg=nearest,
        recipe=recipe,
    )
