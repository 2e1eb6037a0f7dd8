"""Pieces drawn apart along the way they move, so that one sees which pipe goes into which socket."""

from __future__ import annotations

import math
from collections.abc import Container, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from clochewright.assembly import Move
from clochewright.drawings.projection import Array
from clochewright.frame import End, Fitting, Frame, Pipe, Vec

_TURN_DEG = 25.0  # how far back a group is drawn that will be turned into place


@dataclass(frozen=True, slots=True)
class Pose:
    """Where a piece is drawn: turned, then shifted [m], from its place in the frame."""

    turn: Array
    shift_m: Array

    def point(self, at_m: Vec) -> Vec:
        """A point of the piece in the frame [m], where it is drawn [m]."""
        x, y, z = (self.turn @ np.array(at_m) + self.shift_m).tolist()
        return x, y, z

    def way(self, along: Vec) -> Vec:
        """A direction of the piece, as it is drawn."""
        x, y, z = (self.turn @ np.array(along)).tolist()
        return x, y, z

    def then(self, turn: Array, shift_m: Array) -> Pose:
        """This pose, turned and shifted once more [m]."""
        return Pose(turn @ self.turn, turn @ self.shift_m + shift_m)


HOME = Pose(np.eye(3), np.zeros(3))


@dataclass(frozen=True, slots=True)
class Link:
    """A pipe's end in a socket: which pipe, which of its ends, which fitting, which port."""

    pipe: str
    end: int
    fitting: str
    port: str


@dataclass(frozen=True, slots=True)
class Gap:
    """An open joint as drawn: from the pipe's end to the socket's mouth [m], and how deep the pipe goes [m]."""

    link: Link
    from_m: Vec
    to_m: Vec
    seat_m: float


@dataclass(frozen=True, slots=True)
class Apart:
    """Pieces as they are drawn, in place or apart. `frame` holds only what is shown, its open ends in no fitting."""

    frame: Frame
    poses: Mapping[str, Pose]
    gaps: tuple[Gap, ...]


def links_of(frame: Frame) -> list[Link]:
    """Every pipe end that sits in a socket."""
    return [
        Link(pipe.id, k, end.fitting, end.port)
        for pipe in frame.pipes
        for k, end in enumerate(pipe.ends)
        if end.fitting is not None and end.port is not None
    ]


def ids_of(frame: Frame) -> tuple[str, ...]:
    """The ids of all its pieces."""
    return (*(fitting.id for fitting in frame.fittings), *(pipe.id for pipe in frame.pipes))


def take_apart(
    frame: Frame, moves: Sequence[Move], shown: Container[str], there: Iterable[str], apart_m: float
) -> Apart:
    """The pieces shown, those that the moves bring together drawn `apart_m` from each other [m].

    Args:
        frame: The whole frame.
        moves: The moves of one step, in their order.
        shown: Ids of the pieces to draw.
        there: Those that stand already and stay where they are.
        apart_m: How far a pipe's end is drawn from its socket's mouth [m].
    """
    links, standing = links_of(frame), frozenset(there)
    poses: dict[str, Pose] = {}
    for move in moves:
        if move.kind == "turn" and any(one in poses for one in move.moving):
            continue  # what is drawn apart anyway is drawn as it will be turned
        moving, onto, axis = frozenset(move.moving), frozenset(move.onto), np.array(move.axis)
        if moving & standing and not onto & standing:
            moving, onto, axis = onto, moving, -axis
        if move.kind == "turn":
            turn, shift = _turned_back(frame, links, moving, onto, axis)
        else:
            turn, shift = np.eye(3), _back(frame, links, poses, moving, onto, -axis, apart_m)
        poses |= {one: poses.get(one, HOME).then(turn, shift) for one in moving}
    return _drawn(frame, links, poses, shown)


def _back(
    frame: Frame,
    links: Sequence[Link],
    poses: Mapping[str, Pose],
    moving: frozenset[str],
    onto: frozenset[str],
    back: Array,
    apart_m: float,
) -> Array:
    """How the moving group is shifted, so that each of its joints opens so wide at least, in its own line [m]."""
    seats = {(pipe.id, k): end.seat_depth_m for pipe in frame.pipes for k, end in enumerate(pipe.ends)}
    reaches, aside = [], []
    for link in links:
        ours, theirs = (link.pipe, link.fitting) if link.pipe in moving else (link.fitting, link.pipe)
        if ours in moving and theirs in onto:
            gone = poses.get(ours, HOME).shift_m - poses.get(theirs, HOME).shift_m
            along = float(gone @ back)
            reaches.append(apart_m + seats[link.pipe, link.end] - along)
            aside.append(along * back - gone)
    if not reaches:
        return back * apart_m
    shift: Array = back * max(reaches) + np.mean(aside, axis=0)
    return shift


def _turned_back(
    frame: Frame, links: Sequence[Link], moving: frozenset[str], onto: frozenset[str], axis: Array
) -> tuple[Array, Array]:
    """Turn and shift that take a group back from its place about the line through a joint that it shares."""
    ends = {(pipe.id, k): end.point_m for pipe in frame.pipes for k, end in enumerate(pipe.ends)}
    shared = [
        ends[link.pipe, link.end]
        for link in links
        if {link.pipe, link.fitting} & moving and {link.pipe, link.fitting} & onto
    ]
    if not shared:
        return np.eye(3), np.zeros(3)
    turn, through = turning(axis, -_TURN_DEG), np.array(shared[0])
    return turn, through - turn @ through


def turning(axis: Array, angle_deg: float) -> Array:
    """The turn by an angle about a unit vector (Rodrigues), shape (3, 3)."""
    x, y, z = axis.tolist()
    cross = np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]])
    angle = math.radians(angle_deg)
    made: Array = np.eye(3) + math.sin(angle) * cross + (1.0 - math.cos(angle)) * cross @ cross
    return made


def _drawn(frame: Frame, links: Sequence[Link], poses: Mapping[str, Pose], shown: Container[str]) -> Apart:
    fittings = {fitting.id: _fitting_at(fitting, poses) for fitting in frame.fittings if fitting.id in shown}
    pipes = {pipe.id: pipe for pipe in frame.pipes if pipe.id in shown}
    closed: dict[str, set[int]] = {one: set() for one in pipes}
    gaps: list[Gap] = []
    for link in links:
        if link.pipe not in pipes or link.fitting not in fittings:
            continue
        ours, theirs = poses.get(link.pipe, HOME), poses.get(link.fitting, HOME)
        end = pipes[link.pipe].ends[link.end]
        at_m, home_m = ours.point(end.point_m), theirs.point(end.point_m)
        if math.dist(at_m, home_m) < 1e-6:
            closed[link.pipe].add(link.end)
            continue
        fitting = fittings[link.fitting]
        port = fitting.port(link.port)
        mouth = np.array(fitting.position_m) + np.array(port.direction) * port.centre_to_face_m
        x, y, z = mouth.tolist()
        gaps.append(Gap(link, at_m, (x, y, z), end.seat_depth_m))
    standing = tuple(_pipe_at(pipe, poses, closed[pipe.id]) for pipe in pipes.values())
    return Apart(replace(frame, fittings=tuple(fittings.values()), pipes=standing), poses, tuple(gaps))


def _fitting_at(fitting: Fitting, poses: Mapping[str, Pose]) -> Fitting:
    pose = poses.get(fitting.id, HOME)
    ports = tuple(replace(port, direction=pose.way(port.direction)) for port in fitting.ports)
    return replace(fitting, position_m=pose.point(fitting.position_m), ports=ports)


def _pipe_at(pipe: Pipe, poses: Mapping[str, Pose], closed: Container[int]) -> Pipe:
    pose = poses.get(pipe.id, HOME)
    first, last = (
        replace(end, point_m=pose.point(end.point_m)) if k in closed else End(None, None, 0.0, pose.point(end.point_m))
        for k, end in enumerate(pipe.ends)
    )
    return replace(pipe, ends=(first, last), path_m=tuple(pose.point(point) for point in pipe.path_m))
