"""The line a leaf turns about, the outline it has along that line, and where it first meets something as it turns."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from clochewright.frame import Body, Fitting, Pipe, Vec
from clochewright.lid.types import HingeLine, Round

Floats = npt.NDArray[np.float64]

DIRECTIONS = 360  # the outline is taken as its hull, touched from so many directions
FURTHEST_DEG = 270.0
STANDS_OFF_m = 1e-6  # what stands off this much further than a leaf reaches is not looked at
STARTS_DEG = 0.01  # what touches while shut, such as the rails on the rim, is no contact


@dataclass(frozen=True, slots=True)
class Obstacle:
    """Something convex in the way, seen along the hinge line: corners (out, up), counter-clockwise [m]."""

    name: str
    corners_m: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Contact:
    """The first contact: at which angle from shut, with what, where [m]."""

    angle_deg: float
    name: str
    at_m: tuple[float, float]


def line_of(body: Body) -> HingeLine:
    """The hinge line of a body, with the level direction from it towards the edge that comes up."""
    start, end = body.hinge_line_m
    along = np.subtract(end, start)
    along = along / np.linalg.norm(along)
    # Turned the way it opens, what lies along this rises: toward (axis x over) = up.
    over = body.toward * np.cross((0.0, 0.0, 1.0), along)
    return HingeLine(start, end, (float(over[0]) + 0.0, float(over[1]) + 0.0, 0.0))


def rounds_of(line: HingeLine, pipes: Sequence[Pipe], fittings: Sequence[Fitting], pipe_m: float) -> tuple[Round, ...]:
    """Pipes' ends and bends, hubs and sockets' mouths of one body, seen along its hinge line.

    Args:
        line: the hinge line.
        pipes: the body's pipes.
        fittings: its fittings.
        pipe_m: outside diameter of the pipe [m].
    """
    found: dict[tuple[float, float, float, str], Round] = {}

    def add(point: Vec, radius_m: float, part: str) -> None:
        out, up = line.section(point)
        key = (round(out, 6), round(up, 6), round(radius_m, 6), part)
        found.setdefault(key, Round(out, up, radius_m, "pipe" if part == "pipe" else "fitting"))

    for pipe in pipes:
        for point in pipe.path_m:
            add(point, pipe_m / 2, "pipe")
    for fitting in fittings:
        add(fitting.position_m, fitting.hub_diameter_m / 2, "fitting")
        for port in fitting.ports:
            x, y, z = (p + d * port.centre_to_face_m for p, d in zip(fitting.position_m, port.direction, strict=True))
            add((x, y, z), fitting.hub_diameter_m / 2, "fitting")
    return tuple(found.values())


def hull_of(rounds: Sequence[Round]) -> Floats:
    """The film's taut outline: points of the rounds' hull, counter-clockwise (n, 2) [m]."""
    centres = np.array([(r.out_m, r.up_m) for r in rounds])
    radii = np.array([r.radius_m for r in rounds])
    angles = np.linspace(0.0, 2 * np.pi, DIRECTIONS, endpoint=False)
    ways = np.stack([np.cos(angles), np.sin(angles)], axis=1)
    best = np.argmax(ways @ centres.T + radii, axis=1)
    points = centres[best] + radii[best, None] * ways
    apart = np.linalg.norm(points - np.roll(points, 1, axis=0), axis=1) > 1e-9
    return np.asarray(points[apart] if apart.any() else points[:1], dtype=np.float64)


def first_contact(hull_m: Floats, obstacles: Sequence[Obstacle], furthest_deg: float = FURTHEST_DEG) -> Contact | None:
    """Where a leaf, turning about (0, 0), first meets something; None where it meets nothing.

    A convex leaf meets a convex obstacle with a point of its own on one of the obstacle's edges, or with one of its
    edges on a corner of the obstacle; each pair of point and edge has one angle at which the point goes in.

    Args:
        hull_m: the leaf's outline while shut, counter-clockwise (n, 2) [m].
        obstacles: what is in the way.
        furthest_deg: contacts after this angle don't count [deg].
    """
    first: Contact | None = None
    reach_m = np.linalg.norm(hull_m, axis=1).max() + STANDS_OFF_m
    for obstacle in obstacles:
        corners = np.array(obstacle.corners_m)
        near = corners[np.linalg.norm(corners, axis=1) < reach_m]
        for angle_deg, at in (_points_in(hull_m, corners, reach_m), _corners_in(near, hull_m)):
            if angle_deg <= furthest_deg and (first is None or angle_deg < first.angle_deg):
                first = Contact(angle_deg, obstacle.name, at)
    return first


def _edges(corners: Floats) -> tuple[Floats, Floats, Floats, Floats, Floats]:
    """Edges of a polygon: start, way, length, the angle that their outward side looks, and its distance from (0, 0)."""
    start = corners
    span = np.roll(corners, -1, axis=0) - corners
    length = np.linalg.norm(span, axis=1)
    way = span / np.maximum(length, 1e-15)[:, None]
    normal = np.stack([way[:, 1], -way[:, 0]], axis=1)
    return start, way, length, np.arctan2(normal[:, 1], normal[:, 0]), np.einsum("ij,ij->i", normal, start)


def _points_in(points: Floats, corners: Floats, reach_m: float) -> tuple[float, tuple[float, float]]:
    """The first angle at which a turning point crosses an edge inwards; none reaches further than `reach_m`."""
    edges = _edges(corners)
    near = np.abs(edges[-1]) < reach_m
    start, way, length, looks, off = (values[near] for values in edges)
    radius = np.linalg.norm(points, axis=1)[:, None]
    begins = np.arctan2(points[:, 1], points[:, 0])[:, None]
    with np.errstate(invalid="ignore", divide="ignore"):
        turned = looks[None, :] + np.arccos(off[None, :] / radius)  # where radius cos(turned - looks) falls below off
    angle = np.degrees(np.mod(turned - begins, 2 * np.pi))
    at = radius[..., None] * np.stack([np.cos(turned), np.sin(turned)], axis=-1)
    return _first(angle, at, start[None], way[None], length[None])


def _corners_in(corners: Floats, hull_m: Floats) -> tuple[float, tuple[float, float]]:
    """The first angle at which a turning edge takes in a corner that stays."""
    if len(hull_m) < 3 or not len(corners):
        return math.inf, (0.0, 0.0)
    start, way, length, looks, off = _edges(hull_m)
    radius = np.linalg.norm(corners, axis=1)[:, None]
    stands = np.arctan2(corners[:, 1], corners[:, 0])[:, None]
    with np.errstate(invalid="ignore", divide="ignore"):
        seen = looks[None, :] - np.arccos(off[None, :] / radius)  # seen from the leaf a corner goes round backwards
    angle = np.degrees(np.mod(stands - seen, 2 * np.pi))
    at = radius[..., None] * np.stack([np.cos(seen), np.sin(seen)], axis=-1)
    best, _ = _first(angle, at, start[None], way[None], length[None])
    if math.isinf(best):
        return best, (0.0, 0.0)
    which = int(np.unravel_index(np.nanargmin(np.abs(angle - best)), angle.shape)[0])
    return best, (float(corners[which, 0]), float(corners[which, 1]))


def _first(angle: Floats, at: Floats, start: Floats, way: Floats, length: Floats) -> tuple[float, tuple[float, float]]:
    along = np.einsum("pej,pej->pe", at - start, np.broadcast_to(way, at.shape))
    good = np.isfinite(angle) & (along >= -1e-9) & (along <= length + 1e-9)
    good &= (angle > STARTS_DEG) & (angle < 360 - STARTS_DEG)
    if not good.any():
        return math.inf, (0.0, 0.0)
    which = np.unravel_index(np.argmin(np.where(good, angle, np.inf)), angle.shape)
    return float(angle[which]), (float(at[which][0]), float(at[which][1]))
