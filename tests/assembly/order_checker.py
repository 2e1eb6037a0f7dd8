"""An independent check of an order: it knows only ports, parts and moves, and nothing of how the order was found.

Every piece starts by itself. A move must take two whole groups; it may close exactly the joints that lie between them,
and only if each pipe goes into its socket along the socket's own axis. In the end every joint is closed.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

NEAR = 1e-6
TRUE_rad = 0.003  # a frame closes within 0.1 degrees at each end
MOST_N, MOST_STRAIN = 100.0, 0.02


@dataclass(frozen=True)
class Socketed:
    """One joint: which pipe goes into which fitting, which way the socket looks, where the fitting is, how deep."""

    pipe: str
    fitting: str
    looks: tuple[float, float, float]
    at: tuple[float, float, float]
    seat_m: float
    screwed: bool


def joints_of(frame, joints) -> dict[str, Socketed]:
    """The joints by id, from the frame's ports."""
    fittings = {fitting.id: fitting for fitting in frame.fittings}
    out = {}
    for joint in joints.joints:
        fitting = fittings[joint.fitting]
        looks = next(port.direction for port in fitting.ports if port.name == joint.port)
        screwed = joint.treatment == "screwed"
        out[joint.id] = Socketed(joint.pipe, joint.fitting, looks, fitting.position_m, joint.seat_depth_m, screwed)
    return out


def faults(frame, joints, parts: Sequence[Iterable[str]], moves, strict_force: bool = True) -> Iterator[str]:
    """Everything that is wrong with an order; nothing if it can be done."""
    sockets = joints_of(frame, joints)
    bent = {pipe.id for pipe in frame.pipes if pipe.shape == "bent"}
    slips = {fitting.id for fitting in frame.fittings if fitting.kind == "slip-coupling"}
    group = {piece: frozenset({piece}) for piece in (*[f.id for f in frame.fittings], *[p.id for p in frame.pipes])}

    def unite(one: frozenset[str], other: frozenset[str]) -> None:
        both = one | other
        for piece in both:
            group[piece] = both

    sleeves = [fitting.id for fitting in frame.fittings if fitting.kind == "sleeve"]
    for sleeve in sleeves[1:]:  # all strapped to the bed
        unite(group[sleeves[0]], group[sleeve])
    closed: set[str] = set()
    for joint in joints.joints:
        if joint.old:
            closed.add(joint.id)
            unite(group[joint.pipe], group[joint.fitting])
    part_of = {piece: frozenset(part) for part in parts for piece in part}
    for number, move in enumerate(moves, start=1):
        moving, onto = frozenset(move.moving), frozenset(move.onto)
        name = f"move {number} ({move.kind})"
        if not moving or not onto or moving & onto:
            yield f"{name}: nothing moves, or something moves onto itself"
            return
        if abs(math.hypot(*move.axis) - 1) > NEAR:
            yield f"{name}: the axis is no unit vector"
            return
        between = {
            name_
            for name_, s in sockets.items()
            if (s.pipe in moving and s.fitting in onto) or (s.pipe in onto and s.fitting in moving)
        }
        if move.kind == "tie":
            held = {s.pipe for s in sockets.values()}
            if move.joints or moving & held:
                yield f"{name}: only what has no socket is tied"
                return
            continue
        if move.kind == "turn":
            yield from (f"{name}: {fault}" for fault in _turn(move, moving, onto, group, between, closed, sockets))
            continue
        slips_on = bool(moving & slips) and any(piece in slips for piece in moving)
        if slips_on and moving < group[next(iter(moving))]:
            yield from (f"{name}: {fault}" for fault in _slip(move, moving, group, between, closed, sockets))
            closed |= set(move.joints)
            continue
        if group[next(iter(moving))] != moving:
            yield f"{name}: what moves is not one whole group"
            return
        if group[next(iter(onto))] != onto:
            yield f"{name}: what it moves onto is not one whole group"
            return
        # a coupling without a stop may still be slid back onto its other piece: that joint can wait
        may_wait = {j for j in between if sockets[j].fitting in slips and len(moving) == 1}
        if not between - may_wait <= set(move.joints) <= between or not move.joints:
            yield f"{name}: it closes {sorted(move.joints)}, but {sorted(between)} lie between"
            return
        if between & closed:
            yield f"{name}: a joint is closed twice"
            return
        between = set(move.joints)
        if part_of and any(part_of[sockets[j].pipe] != part_of[sockets[j].fitting] for j in between):
            for side in (moving, onto):
                if any(not part_of[piece] <= side for piece in side if not part_of[piece] <= moving | onto):
                    yield f"{name}: a cemented part is not whole when its screwed joints close"
                    return
        if move.kind == "slide":
            found = list(_slide(move, moving, between, sockets))
        elif move.kind == "spring-in":
            found = list(_spring(move, moving, between, sockets, bent, strict_force))
        else:
            found = ["no such move"]
        if found:
            yield from (f"{name}: {fault}" for fault in found)
            return
        closed |= between
        unite(moving, onto)
    left = set(sockets) - closed
    if left:
        yield f"joints left open: {sorted(left)}"


def _slide(move, moving, between, sockets) -> Iterator[str]:
    """Every joint must be entered along its own axis, from its mouth."""
    for name in between:
        s = sockets[name]
        into = tuple(-x for x in s.looks) if s.pipe in moving else s.looks
        if math.dist(into, move.axis) > TRUE_rad:
            yield f"{name} is not entered along its axis from its mouth"


def _turn(move, moving, onto, group, between, closed, sockets) -> Iterator[str]:
    """The two hang together already, and by joints on one line only, which is what they turn about."""
    if group[next(iter(moving))] != moving | onto:
        yield "what turns and what it turns on are not one whole group"
    if not between or not between <= closed:
        yield "they don't hang together yet"
        return
    start = sockets[next(iter(between))].at
    for name in between:
        s = sockets[name]
        if abs(abs(sum(a * b for a, b in zip(s.looks, move.axis, strict=True))) - 1) > TRUE_rad**2:
            yield f"{name} lies across the line"
        away = [b - a for a, b in zip(start, s.at, strict=True)]
        along = sum(a * b for a, b in zip(away, move.axis, strict=True))
        if math.sqrt(max(sum(x * x for x in away) - along * along, 0.0)) > 1e-4:
            yield f"{name} lies beside the line"


def _spring(move, moving, between, sockets, bent, strict_force) -> Iterator[str]:
    """A straight pipe between two sockets that face each other, opened by one seat; or a hoop."""
    spring = move.spring
    if spring is None or spring.spread_m <= 0:
        yield "nothing is said of how far it is spread"
        return
    if moving & bent:
        by_its_ends = all(sockets[name].pipe in moving & bent for name in between)
        if not by_its_ends and list(_slide(move, moving, between, sockets)):
            yield "a hoop goes in by its own ends, or is slid on bent"
        if spring.force_N.value <= 0:
            yield "a hoop doesn't bend by itself"
        return
    if len(moving) != 1 or len(between) != 2:
        yield "only one pipe is sprung in at a time, between two sockets"
        return
    one, other = (sockets[name] for name in sorted(between))
    if {one.pipe, other.pipe} != set(moving) or math.dist(one.looks, [-x for x in other.looks]) > 2 * TRUE_rad:
        yield "the two sockets don't face each other"
    if abs(spring.spread_m - min(one.seat_m, other.seat_m)) > 1e-9:
        yield "the spread is not one socket's depth"
    if strict_force and (spring.force_N.value > MOST_N or spring.strain_share > MOST_STRAIN):
        yield "too hard for a hand, or bent too far"


def _slip(move, moving, group, between, closed, sockets) -> Iterator[str]:
    """A coupling without a stop slides along the piece it is on, over the end of the other."""
    if move.kind != "slide" or not set(move.joints) <= between or set(move.joints) & closed:
        yield "a coupling only slides, over an end it is not on yet"
        return
    for name in between:
        s = sockets[name]
        if abs(abs(sum(a * b for a, b in zip(s.looks, move.axis, strict=True))) - 1) > TRUE_rad**2:
            yield f"{name} lies across its way"
