"""The frame's pipes and fittings, and the bed below, as solids on paper."""

from __future__ import annotations

import math
from collections.abc import Container, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from clochewright.drawings.marks import Area, Line, Mark, Point
from clochewright.drawings.projection import Array, View
from clochewright.drawings.shapes import Solid, ball, bar, tube
from clochewright.frame import Fitting, Frame, Pipe, Vec

_SOIL_BELOW_RIM_M = 0.04  # how far down the soil is drawn
_FINE_MM = 1.0  # pipes thinner than this on paper get finer lines
_FROM_ABOVE = 0.9  # a view that looks down this steeply [sine] sees into the bed
_LEVEL = 0.03  # a pipe this near to the paper's plane [sine] meets its socket in the socket's own line


@dataclass(frozen=True, slots=True)
class BedBox:
    """The bed's boards: outside length and width, height above the ground, thickness [m]. Its rim lies at z = 0."""

    length_m: float
    width_m: float
    height_m: float
    board_m: float


@dataclass(frozen=True, slots=True)
class Placing:
    """Where space lands on paper: a view, a scale (1 to `scale`) and the paper point of the origin [mm]."""

    view: View
    scale: float
    origin_mm: Point = (0.0, 0.0)

    @property
    def mm_per_m(self) -> float:
        """Paper millimetres to one metre in the garden."""
        return 1000.0 / self.scale

    def place(self, points_m: Array) -> Array:
        """Points in space, shape (n, 3) [m], as (right, up, toward) on paper, same shape [mm]."""
        placed: Array = self.view.project(points_m) * self.mm_per_m + np.array([*self.origin_mm, 0.0])
        return placed

    def point(self, at_m: Vec) -> Point:
        """One point in space [m] on paper [mm]."""
        x, y, _ = self.place(np.array([at_m]))[0].tolist()
        return x, y


def frame_solids(
    frame: Frame, placing: Placing, *, fade_behind_m: float | None = None, without: Container[str] = ()
) -> list[Solid]:
    """Every pipe and fitting of the frame as solids on paper, pipes from socket mouth to socket mouth.

    What lies farther than `fade_behind_m` behind the frame's middle [m] is drawn with lighter pens; nothing, if None.
    Where the pipe comes out thin on paper, all pens are finer. Fittings `without` are left out.
    """
    toward = np.array(placing.view.toward)
    usual = "-fine" if frame.pipe_outside_diameter_m * placing.mm_per_m < _FINE_MM else ""

    def pen(name: str, points_m: Array) -> str:
        far = fade_behind_m is not None and float((points_m @ toward).mean()) < -fade_behind_m
        return name + ("-behind" if far else usual)

    solids: list[Solid] = []
    for pipe in frame.pipes:
        solids += pipe_solids(pipe, pen("pipe", np.array(pipe.path_m)), frame.pipe_outside_diameter_m, placing)
    for fitting in frame.fittings:
        if fitting.id not in without:
            solids += fitting_solids(fitting, pen("fitting", np.array([fitting.position_m])), placing)
    return solids


def hidden_sleeves(frame: Frame, bed: BedBox | None, view: View) -> tuple[Fitting, ...]:
    """The sleeves that the bed's boards hide in a view: inside the bed, or outside on the side turned away."""
    if bed is None or view.toward[2] > _FROM_ABOVE:
        return ()

    def hidden(sleeve: Fitting) -> bool:
        y = sleeve.position_m[1]
        return abs(y) < bed.width_m / 2 or math.copysign(1.0, y) * view.toward[1] < -1e-6

    return tuple(fitting for fitting in frame.fittings if fitting.kind == "sleeve" and hidden(fitting))


def dashed(sleeves: Sequence[Fitting], placing: Placing) -> list[Mark]:
    """The outlines of sleeves behind a board."""
    return [
        Line("fitting-hidden", solid.outline, closed=True, part=sleeve.id)
        for sleeve in sleeves
        for solid in fitting_solids(sleeve, "fitting-hidden", placing)
    ]


def seen_path_m(pipe: Pipe) -> Array:
    """The pipe's centre line between the mouths of its sockets, shape (n, 3) [m]; empty where nothing shows."""
    path = np.array(pipe.path_m, dtype=float)
    for end in pipe.ends:
        path = _shorten(path, end.seat_depth_m)[::-1]  # turned over after each end, so twice in all
    return path


def _shorten(path: Array, by_m: float) -> Array:
    """The path without its first `by_m` [m]."""
    while len(path) > 1:
        step = path[1] - path[0]
        length = math.hypot(*step.tolist())
        if by_m < length - 1e-6:
            shorter = path.copy()
            shorter[0] += step * (by_m / length)
            return shorter
        by_m -= length
        path = path[1:]
    return path[:0]


def pipe_solids(pipe: Pipe, pen: str, diameter_m: float, placing: Placing) -> Iterator[Solid]:
    """One pipe from socket mouth to socket mouth; an end in no fitting shows whole."""
    path = seen_path_m(pipe)
    if len(path) < 2:
        return
    points = placing.place(path)
    radius_mm = diameter_m / 2 * placing.mm_per_m

    def capped(end: int, along: Array) -> bool:
        tilted = abs(along[2]) > _LEVEL * np.linalg.norm(along)
        return bool(tilted or pipe.ends[end].fitting is None)

    start_cap, end_cap = capped(0, points[1] - points[0]), capped(1, points[-1] - points[-2])
    if len(points) == 2:
        yield bar(pipe.id, pen, points[0], points[1], radius_mm, start_cap=start_cap, end_cap=end_cap)
    else:
        yield from tube(pipe.id, pen, points, radius_mm, start_cap=start_cap, end_cap=end_cap, weld=pipe.id)


def fitting_solids(fitting: Fitting, pen: str, placing: Placing) -> Iterator[Solid]:
    """One fitting: its hub, and a bar to the mouth of each socket."""
    centre_m = np.array(fitting.position_m)
    faces = [centre_m + np.array(port.direction) * port.centre_to_face_m for port in fitting.ports]
    points = placing.place(np.array([centre_m, *faces]))
    radius_mm = fitting.hub_diameter_m / 2 * placing.mm_per_m
    if fitting.kind == "sleeve":  # a straight piece of pipe, open at both ends
        yield bar(fitting.id, pen, points[0], points[1], radius_mm, start_cap=True, end_cap=True)
        return
    yield ball(fitting.id, pen, points[0], radius_mm, weld=fitting.id)
    for face in points[1:]:
        yield bar(fitting.id, pen, points[0], face, radius_mm, start_cap=False, end_cap=True, weld=fitting.id)


def bed_marks(bed: BedBox, placing: Placing) -> list[Mark]:
    """The bed's boards and soil, to be drawn below everything else: the frame stands on them."""
    toward = placing.view.toward
    outer = _ring(bed.length_m / 2, bed.width_m / 2)
    inner = _ring(bed.length_m / 2 - bed.board_m, bed.width_m / 2 - bed.board_m)
    marks: list[Mark] = []

    def face(pen: str, corners_m: Array) -> None:
        points = tuple((x, y) for x, y, _ in placing.place(corners_m).tolist())
        marks.extend((Area(pen, points), Line(pen, points, closed=True)))

    if toward[2] > 0:
        face("soil", inner - [0.0, 0.0, _SOIL_BELOW_RIM_M])
        for k in range(4):  # inner faces that look toward the eye, from the rim to the soil
            if _outward(inner, k) @ toward < -1e-6:
                face("bed", _wall(inner, k, _SOIL_BELOW_RIM_M))
    for k in range(4):
        if _outward(outer, k) @ toward > 1e-6:
            face("bed", _wall(outer, k, bed.height_m))
    if toward[2] > 0:
        for k in range(4):  # the rim, mitred
            nxt = (k + 1) % 4
            face("bed", np.array([outer[k], outer[nxt], inner[nxt], inner[k]]))
    return marks


def _ring(half_length_m: float, half_width_m: float) -> Array:
    """Corners on the rim, counter-clockwise from above, shape (4, 3) [m]."""
    x, y = half_length_m, half_width_m
    return np.array([(-x, -y, 0.0), (x, -y, 0.0), (x, y, 0.0), (-x, y, 0.0)])


def _outward(ring: Array, k: int) -> Array:
    """Unit normal of side k of a ring, pointing out of it, shape (3,)."""
    x, y, _ = (ring[(k + 1) % 4] - ring[k]).tolist()
    length = math.hypot(x, y)
    return np.array([y / length, -x / length, 0.0])


def _wall(ring: Array, k: int, height_m: float) -> Array:
    """The wall below side k of a ring, shape (4, 3) [m]."""
    a, b = ring[k], ring[(k + 1) % 4]
    down = np.array([0.0, 0.0, height_m])
    return np.array([a, b, b - down, a - down])
