"""The wind on a shut cover as a whole: force and turning moment of every case, for its anchors."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from clochewright.frame import Frame, Pipe, Vec
from clochewright.strength.air import Code
from clochewright.strength.faces import Face, Outline
from clochewright.strength.structure import Floats
from clochewright.strength.windcases import wind_cases

BENT_ROLES = ("rafter", "post", "hoop")
NO_SIDE = 0.05
CORNER_m = 0.15


@dataclass(frozen=True, slots=True)
class Load:
    """One wind on the whole cover, for a gust's pressure of 1 Pa: force and moment about the middle of its base.

    Axes are the frame's: x along the bed, y to the left, z up.
    """

    name: str
    force_m2: Floats
    moment_m3: Floats


@dataclass(frozen=True, slots=True)
class _Patch:
    """A flat face as a whole: outward direction, area [m2], middle [m]."""

    out: Vec
    area_m2: float
    middle_m: Vec


def shut_loads(cover: Frame, rim_m: float, code: Code) -> tuple[Load, ...]:
    """All winds on one shut cover, whose middle is at x = 0 and whose rim stands so high [m]."""
    points = section_points(cover)
    if len(points) < 3:
        return ()
    faces, patches = _faces(points, cover.length_m, any(pipe.role == "hoop" for pipe in cover.pipes))
    shape = _outline(points, faces, cover.length_m)
    patches += [
        _Patch((sign, 0.0, 0.0), shape.end_area_m2, _end_middle(points, sign * cover.length_m / 2)) for sign in (-1, 1)
    ]
    # per pascal of pressure on each patch: its pull, and the moment of that about the middle of the base
    pulls_m2 = np.array([patch.out for patch in patches]) * np.array([[patch.area_m2] for patch in patches])
    moments_m3 = np.cross([patch.middle_m for patch in patches], pulls_m2)
    cases = wind_cases(shape, rim_m, code, False)
    ratios = np.array([[*case.face_ratio, case.front_ratio, case.far_ratio] for case in cases])
    return tuple(
        Load(case.name, force, moment)
        for case, force, moment in zip(cases, -ratios @ pulls_m2, -ratios @ moments_m3, strict=True)
    )


def worst_suction(cover: Frame, rim_m: float, code: Code) -> float:
    """The greatest net suction on any face of a shut cover, over the pressure of the gust [1]."""
    points = section_points(cover)
    if len(points) < 3:
        return 0.0
    faces, _ = _faces(points, cover.length_m, any(pipe.role == "hoop" for pipe in cover.pipes))
    shape = _outline(points, faces, cover.length_m)
    return max(-min(case.face_ratio) for case in wind_cases(shape, rim_m, code, False))


def _outline(points: list[tuple[float, float]], faces: list[Face], length_m: float) -> Outline:
    span_m = abs(points[0][0] - points[-1][0])
    rise_m = max(z for _, z in points) - min(points[0][1], points[-1][1])
    return Outline(tuple(faces), (), (), _area(points), span_m, rise_m, length_m)


def section_points(cover: Frame) -> list[tuple[float, float]]:
    """The section's corners (y, z) from the left foot over the top, from the pipes of its front bent [m]."""
    bents = [pipe for pipe in cover.pipes if pipe.role in BENT_ROLES]
    if not bents:
        return []
    stations = cover.stations_m or (0.0,)
    at = {pipe.id: min(range(len(stations)), key=lambda n: abs(stations[n] - pipe.path_m[0][0])) for pipe in bents}
    mine = [pipe for pipe in bents if at[pipe.id] == min(at.values())]
    base = min(min(point[2] for point in pipe.path_m) for pipe in mine)
    ways = sorted((_from_left(pipe, base) for pipe in mine), key=lambda way: _round(_middle(way), base))
    points: list[tuple[float, float]] = []
    for one in ways:
        way = one
        # Two pipes that meet in a fitting leave a short gap at its corner, which is one point of the section.
        if points and math.dist(way[0], points[-1]) < CORNER_m:
            points[-1] = _middle([points[-1], way[0]])
            way = way[1:]
        points += way
    return points


def _middle(way: list[tuple[float, float]]) -> tuple[float, float]:
    return (way[0][0] + way[-1][0]) / 2, (way[0][1] + way[-1][1]) / 2


def _from_left(pipe: Pipe, base: float) -> list[tuple[float, float]]:
    way = [(point[1], point[2]) for point in pipe.path_m]
    return way if _round(way[0], base) <= _round(way[-1], base) else way[::-1]


def _round(point: tuple[float, float], base: float) -> float:
    return math.atan2(point[1] - base + 1e-6, point[0])


def _faces(points: list[tuple[float, float]], length_m: float, arch: bool) -> tuple[list[Face], list[_Patch]]:
    """The faces between the section's corners; an arch in three: left quarter, middle half and right quarter."""
    if arch:
        span = points[0][0] - points[-1][0]
        middle = (points[0][0] + points[-1][0]) / 2
        left = [p for p in points if p[0] >= middle + span / 4]
        crown = [p for p in points if abs(p[0] - middle) <= span / 4]
        right = [p for p in points if p[0] <= middle - span / 4]
        parts = [part for part in (left, crown, right) if len(part) > 1]
        corners = [parts[0][0], parts[1][0], parts[1][-1], parts[2][-1]] if len(parts) == 3 else [points[0], points[-1]]
        zones: list[int | None] = [0, 1, 2]
    else:
        corners, zones = points, [None] * (len(points) - 1)
    faces, patches = [], []
    for (a, b), zone in zip(pairwise(corners), zones, strict=False):
        depth = math.dist(a, b)
        out = ((b[1] - a[1]) / depth, (a[0] - b[0]) / depth)
        slope = math.degrees(math.acos(max(-1.0, min(1.0, out[1]))))
        side = 1.0 if out[0] > NO_SIDE else -1.0 if out[0] < -NO_SIDE else 0.0
        faces.append(Face("", out, slope, depth, length_m, side, (), (), (), (), zone))
        patches.append(_Patch((0.0, *out), depth * length_m, (0.0, *_middle([a, b]))))
    return faces, patches


def _area(points: list[tuple[float, float]]) -> float:
    y = np.array([point[0] for point in points])
    z = np.array([point[1] for point in points])
    return float(abs(np.dot(y, np.roll(z, 1)) - np.dot(z, np.roll(y, 1))) / 2)


def _end_middle(points: list[tuple[float, float]], x_m: float) -> Vec:
    low, high = min(z for _, z in points), max(z for _, z in points)
    return (x_m, (points[0][0] + points[-1][0]) / 2, low + (high - low) * 0.4)
