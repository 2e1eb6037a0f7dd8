"""The faces of a cover as wind and snow find them, and which pipes carry each of them.

A section is walked from its left foot over the top to its right foot: every pipe of a bent on that way (post, rafter,
piece of a hoop) belongs to a face. Pipes along the bed (rails, ridge) run where two faces meet.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from clochewright.frame import Frame
from clochewright.strength.model import Model
from clochewright.strength.structure import Floats

BENT_ROLES = ("rafter", "post", "hoop")
LONG_ROLES = ("side rail", "eave rail", "ridge")
SAME_LINE_m = 0.12  # a rail whose middle is further from where two faces meet belongs to none of them


@dataclass(frozen=True, slots=True)
class Face:
    """One face from end to end of the cover.

    `out` is its outward direction (y, z); `slope_deg` its tilt from level; `depth_m` its way up the slope and
    `length_m` along the bed. `members` are the bents' members on it with their `widths_m` of cover; `first_line` and
    `second_line` the members along its edges, as walked from the left. `zone` is 0, 1, 2 on an arch (left quarter,
    middle half, right quarter), else None. `side` is +1 where it looks left, -1 right, 0 up.
    """

    name: str
    out: tuple[float, float]
    slope_deg: float
    depth_m: float
    length_m: float
    side: float
    members: tuple[int, ...]
    widths_m: tuple[float, ...]
    first_line: tuple[int, ...]
    second_line: tuple[int, ...]
    zone: int | None = None

    @property
    def area_m2(self) -> float:
        """Its area along the slope [m2]."""
        return self.depth_m * self.length_m

    @property
    def has_edges(self) -> bool:
        """Whether pipes run along both of its edges."""
        return bool(self.first_line and self.second_line)


@dataclass(frozen=True, slots=True)
class Outline:
    """All faces from left to right, the members of the two ends, and the end's own area [m2].

    `span_m` and `rise_m` are of the section; `rise_m` from the base line to its top.
    """

    faces: tuple[Face, ...]
    front: tuple[int, ...]
    far: tuple[int, ...]
    end_area_m2: float
    span_m: float
    rise_m: float
    length_m: float


def outline(frame: Frame, model: Model) -> Outline:
    """Find the faces of one cover, whose middle is at x = 0."""
    nodes, members = model.structure.nodes_m, model.structure.members
    a, b = nodes[members.start], nodes[members.stop]
    roles = [piece.role for piece in model.pieces]
    bents = [m for m, role in enumerate(roles) if role in BENT_ROLES]
    base_z_m = min(float(min(a[m, 2], b[m, 2])) for m in bents)
    station_of = {m: _nearest(frame.stations_m, float(a[m, 0] + b[m, 0]) / 2) for m in bents}
    ends = {m: _from_left(a[m], b[m], base_z_m) for m in bents}
    front_bent = [m for m in bents if station_of[m] == min(station_of.values())]
    first = sorted(front_bent, key=lambda m: _angle((ends[m][0] + ends[m][1]) / 2, base_z_m))
    points = [ends[first[0]][0], *(ends[m][1] for m in first)]
    span_m = abs(points[0][0] - points[-1][0])
    rise_m = max(point[1] for point in points) - base_z_m
    hoops = any(roles[m] == "hoop" for m in bents)
    lines = {m: (a[m] + b[m])[1:] / 2 for m, role in enumerate(roles) if role in LONG_ROLES}
    widths = _widths(frame)
    if hoops:
        faces = _arch(bents, ends, station_of, widths, span_m, frame.length_m)
    else:
        faces = [
            _flat(k, m, bents, ends, station_of, widths, lines, frame.length_m, len(first)) for k, m in enumerate(first)
        ]
    front = list(front_bent)
    far = [m for m in bents if station_of[m] == max(station_of.values())]
    rails = [m for m, role in enumerate(roles) if role == "end rail"]
    front += [m for m in rails if a[m, 0] < 0]
    far += [m for m in rails if a[m, 0] > 0]
    area_m2 = _area(points)
    return Outline(tuple(faces), tuple(front), tuple(far), area_m2, span_m, rise_m, frame.length_m)


def _flat(
    k: int,
    like: int,
    bents: list[int],
    ends: dict[int, tuple[Floats, Floats]],
    station_of: dict[int, int],
    widths: list[float],
    lines: dict[int, Floats],
    length_m: float,
    count: int,
) -> Face:
    one, two = ends[like]
    depth_m = float(np.linalg.norm(two - one))
    middle = (one + two) / 2
    along = (two - one) / depth_m
    mine = []
    for m in bents:
        p, q = ends[m]
        way = (q - p) / np.linalg.norm(q - p)
        off_m = float(np.linalg.norm((p + q) / 2 - middle))
        if float(way @ along) > math.cos(math.radians(6)) and off_m < 0.3 * depth_m + 0.02:
            mine.append(m)
    out = (float(along[1]), float(-along[0]))
    at_first = tuple(m for m, point in lines.items() if np.linalg.norm(point - one) < SAME_LINE_m)
    at_second = tuple(m for m, point in lines.items() if np.linalg.norm(point - two) < SAME_LINE_m)
    side = 1.0 if out[0] > 0.05 else -1.0 if out[0] < -0.05 else 0.0
    slope_deg = math.degrees(math.acos(max(-1.0, min(1.0, out[1]))))
    half = ("left" if k < count / 2 else "right") if count > 1 else "whole"
    name = f"{half} {'wall' if slope_deg > 80 else 'slope'}"
    taken = tuple(widths[station_of[m]] for m in mine)
    return Face(name, out, slope_deg, depth_m, length_m, side, tuple(mine), taken, at_first, at_second)


def _arch(
    bents: list[int],
    ends: dict[int, tuple[Floats, Floats]],
    station_of: dict[int, int],
    widths: list[float],
    span_m: float,
    length_m: float,
) -> list[Face]:
    """An arch in three: its left quarter, middle half and right quarter, measured on plan."""
    zones: list[list[int]] = [[], [], []]
    for m in bents:
        across_m = float(ends[m][0][0] + ends[m][1][0]) / 2
        zones[0 if across_m > span_m / 4 else 2 if across_m < -span_m / 4 else 1].append(m)
    names, sides, outs = (
        ("left quarter", "crown", "right quarter"),
        (1.0, 0.0, -1.0),
        ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0)),
    )
    hoops = len(set(station_of.values()))
    faces = []
    for zone, mine in enumerate(zones):
        depth_m = sum(float(np.linalg.norm(ends[m][1] - ends[m][0])) for m in mine) / max(hoops, 1)
        taken = tuple(widths[station_of[m]] for m in mine)
        faces.append(
            Face(names[zone], outs[zone], 45.0, depth_m, length_m, sides[zone], tuple(mine), taken, (), (), zone)
        )
    return faces


def _from_left(a: Floats, b: Floats, base_z_m: float) -> tuple[Floats, Floats]:
    """The two ends (y, z) of a member, as walked from the left foot."""
    one, two = a[1:], b[1:]
    return (one, two) if _angle(one, base_z_m) <= _angle(two, base_z_m) else (two, one)


def _angle(point: Floats, base_z_m: float) -> float:
    """How far round from the left foot a point (y, z) lies, seen from the middle of the base [rad]."""
    return math.atan2(float(point[1]) - base_z_m + 1e-6, float(point[0]))


def _nearest(stations_m: tuple[float, ...], x_m: float) -> int:
    return int(np.argmin(np.abs(np.array(stations_m) - x_m)))


def _widths(frame: Frame) -> list[float]:
    """How much of the cover each bent carries: half of each bay beside it, and what stands out at the ends [m]."""
    stations, half_m = frame.stations_m, frame.length_m / 2
    edges = [-half_m, *((one + two) / 2 for one, two in pairwise(stations)), half_m]
    return [b - a for a, b in pairwise(edges)]


def _area(points: list[Floats]) -> float:
    """Area of the section [m2], by the shoelace formula."""
    y = np.array([point[0] for point in points])
    z = np.array([point[1] for point in points])
    return float(abs(np.dot(y, np.roll(z, 1)) - np.dot(z, np.roll(y, 1))) / 2)
