"""What shows how pieces move: guide lines with arrows, arcs, depth marks, angles, diagonals, screws."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import combinations

import numpy as np

from clochewright.assembly import Move, ScrewPlace
from clochewright.drawings.apart import HOME, Apart, Gap, Pose, turning
from clochewright.drawings.lettering import CAP_HEIGHT, text_width_mm
from clochewright.drawings.marks import Area, Line, Mark, Point, Text
from clochewright.drawings.members import Placing
from clochewright.drawings.projection import Array
from clochewright.drawings.shapes import Solid
from clochewright.frame import Frame, Pipe, Vec

HEAD_MM = 2.6  # length of an arrow's head
TEXT_MM = 4.0
_PIN_MM = 4.5  # length of a screw's arrow
_SAME_DEG = 1.0


def guide(gap: Gap, apart: Apart, placing: Placing) -> list[Mark]:
    """A dashed line from a pipe's end to its socket, with a head the way that the moving one goes."""
    start, end = placing.point(gap.from_m), placing.point(gap.to_m)
    pipe, fitting = (float(np.linalg.norm(apart.poses.get(one, HOME).shift_m)) for one in _ids(gap))
    if fitting > pipe:
        start, end = end, start
    if math.dist(start, end) < 1.2 * HEAD_MM:
        return [Line("guide", (start, end))]
    return [Line("guide", (start, end)), head(start, end)]


def _ids(gap: Gap) -> tuple[str, str]:
    return gap.link.pipe, gap.link.fitting


def head(start: Point, end: Point, pen: str = "move", size_mm: float = HEAD_MM) -> Area:
    """The head of an arrow from start to end."""
    length = math.dist(start, end) or 1.0
    ux, uy = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    back = end[0] - ux * size_mm, end[1] - uy * size_mm
    half = size_mm * 0.38
    return Area(pen, (end, (back[0] - uy * half, back[1] + ux * half), (back[0] + uy * half, back[1] - ux * half)))


def arrow(start: Point, end: Point, *, both: bool = False) -> list[Mark]:
    """A bold arrow; with two heads where something is spread."""
    marks: list[Mark] = [Line("move", (start, end)), head(start, end)]
    return [*marks, head(end, start)] if both else marks


def turn_arc(
    frame: Frame, move: Move, poses: Mapping[str, Pose], placing: Placing, turn_deg: float = 25.0
) -> list[Mark]:
    """An arc with a head, from where a turned group is drawn to where it comes, at its point farthest from the rail."""
    moving = set(move.moving)
    points = [np.array(point) for pipe in frame.pipes if pipe.id in moving for point in pipe.path_m]
    points += [np.array(fitting.position_m) for fitting in frame.fittings if fitting.id in moving]
    pose = next((poses[one] for one in move.moving if one in poses), HOME)
    axis = np.array(move.axis)
    through = _still_point(pose, axis)
    if not points or through is None:
        return []
    away = [point - through - axis * float((point - through) @ axis) for point in points]
    far = max(range(len(points)), key=lambda k: float(np.linalg.norm(away[k])))
    arc = []
    for k in range(13):
        turn = turning(axis, -turn_deg * (1 - k / 12))
        arc.append(_pair(placing, turn @ (points[far] - through) + through))
    return [Line("move", tuple(arc)), head(arc[-2], arc[-1])]


def twist_marks(frame: Frame, move: Move, placing: Placing) -> list[Mark]:
    """An arrow curled about the line that a fitting is turned on, beside it."""
    fitting = next((one for one in frame.fittings if one.id in move.moving), None)
    if fitting is None:
        return []
    axis = np.array(move.axis)
    side = np.cross(axis, np.array(placing.view.toward))
    if float(np.linalg.norm(side)) < 1e-6:
        side = np.array(placing.view.right)
    side /= np.linalg.norm(side)
    other, radius_m = np.cross(axis, side), 0.95 * fitting.hub_diameter_m
    reach_m = max(port.centre_to_face_m for port in fitting.ports) + 0.35 * fitting.hub_diameter_m
    centre = np.array(fitting.position_m) + axis * reach_m
    angles = [math.radians(20 + 25 * k) for k in range(11)]
    arc = [_pair(placing, centre + radius_m * (math.cos(a) * side + math.sin(a) * other)) for a in angles]
    return [Line("twist", tuple(arc)), head(arc[-2], arc[-1], size_mm=2.0)]


def _still_point(pose: Pose, axis: Array) -> Array | None:
    """A point on the line that the pose turns about; None where it doesn't turn."""
    if np.allclose(pose.turn, np.eye(3)):
        return None
    system = np.vstack([np.eye(3) - pose.turn, axis[None]])
    point: Array = np.linalg.lstsq(system, np.append(pose.shift_m, 0.0), rcond=None)[0]
    return point


def tie_marks(frame: Frame, move: Move, poses: Mapping[str, Pose], placing: Placing) -> list[Mark]:
    """Guide lines from a bar that is tied to where it comes, at its ends and its middle."""
    marks: list[Mark] = []
    for pipe in frame.pipes:
        if pipe.id in move.moving and pipe.id in poses:
            path = np.array(pipe.path_m)
            for t in (0.08, 0.5, 0.92):
                home = path[0] + (path[-1] - path[0]) * t
                start = _pair(placing, np.array(poses[pipe.id].point(_triple(home))))
                end = _pair(placing, home)
                marks += [Line("guide", (start, end)), head(start, end)]
    return marks


def spread_marks(
    gap: Gap, said: str, placing: Placing, within_mm: tuple[float, float], *, arrows: bool = True
) -> list[Mark]:
    """A two-headed arrow across a gap that is sprung open, with its words on a white ground between two edges [mm]."""
    start, end = placing.point(gap.from_m), placing.point(gap.to_m)
    size = TEXT_MM * 0.9
    width = text_width_mm(said, size, "bold")
    x = min(max((start[0] + end[0]) / 2, within_mm[0] + width / 2 + 1), within_mm[1] - width / 2 - 1)
    y = max(start[1], end[1]) + 3.2
    ground = ((x - width / 2 - 1, y - 1.2), (x + width / 2 + 1, y - 1.2), (x + width / 2 + 1, y + 3.6))
    corners = (*ground, (x - width / 2 - 1, y + 3.6))
    return [
        *(arrow(start, end, both=True) if arrows else ()),
        Area("mark", corners),
        Line("guide", corners, closed=True),
        Text("mark", (x, y), said, size, "middle", face="bold"),
    ]


def with_depth_marks(solids: Iterable[Solid], apart: Apart, placing: Placing) -> list[Solid]:
    """The solids, those of pipes with an open end ringed where the socket's mouth will be."""
    rings: dict[str, list[tuple[Point, ...]]] = {}
    pipes = {pipe.id: pipe for pipe in apart.frame.pipes}
    for gap in apart.gaps:
        pipe = pipes[gap.link.pipe]
        rings.setdefault(pipe.id, []).append(_ring(pipe, gap, apart.frame.pipe_outside_diameter_m / 2, placing))
    made, done = [], set()
    for solid in solids:
        if solid.part in rings and solid.part not in done:
            done.add(solid.part)
            made.append(replace(solid, rims=(*solid.rims, *rings[solid.part])))
        else:
            made.append(solid)
    return made


def _ring(pipe: Pipe, gap: Gap, radius_m: float, placing: Placing) -> tuple[Point, ...]:
    """The half of a ring around a pipe that faces the eye, at its depth mark."""
    path = np.array(pipe.path_m if gap.link.end == 0 else pipe.path_m[::-1])
    along = (path[1] - path[0]) / np.linalg.norm(path[1] - path[0])
    centre, toward = path[0] + along * gap.seat_m, np.array(placing.view.toward)
    side = np.cross(toward, along)
    size = float(np.linalg.norm(side))
    if size < 1e-6:
        return ((0.0, 0.0), (0.0, 0.0))
    side /= size
    front = np.cross(along, side)
    front *= math.copysign(1.0, float(front @ toward))
    angles = [math.pi * k / 6 for k in range(7)]
    return tuple(_pair(placing, centre + radius_m * (math.cos(a) * side + math.sin(a) * front)) for a in angles)


def angle_marks(frame: Frame, angle_deg: float, said: str, placing: Placing) -> list[Mark]:
    """An arc and its words where the two longest pipes that stand at that angle to each other come together."""
    longest = sorted(frame.pipes, key=lambda pipe: (-round(pipe.cut_length_m, 4), pipe.id))
    legs = [(pipe, np.array(pipe.path_m[-1]) - np.array(pipe.path_m[0])) for pipe in longest]
    for (one_pipe, one), (other_pipe, other) in combinations(legs, 2):
        cosine = float(one @ other) / float(np.linalg.norm(one) * np.linalg.norm(other))
        between = math.degrees(math.acos(min(max(cosine, -1.0), 1.0)))
        corner = _crossing(one_pipe, other_pipe, placing)
        if corner is None or min(abs(between - angle_deg), abs(180 - between - angle_deg)) >= _SAME_DEG:
            continue
        ends = [max((p.path_m[0], p.path_m[-1]), key=lambda q: math.dist(q, corner)) for p in (one_pipe, other_pipe)]
        away = [np.array(end) - np.array(corner) for end in ends]
        return _arc_between(corner, away[0], away[1], said, placing)
    return []


def _crossing(one: Pipe, other: Pipe, placing: Placing) -> Vec | None:
    """Where two pipes' lines come together as seen, on the first of them; None where they run alike."""
    a, b = np.array(one.path_m[0]), np.array(other.path_m[0])
    d, e = np.array(one.path_m[-1]) - a, np.array(other.path_m[-1]) - b
    right, up = np.array(placing.view.right), np.array(placing.view.up)
    system = np.array([[d @ right, -(e @ right)], [d @ up, -(e @ up)]])
    if abs(float(np.linalg.det(system))) < 1e-6:
        return None
    s = float(np.linalg.solve(system, [(b - a) @ right, (b - a) @ up])[0])
    return _triple(a + s * d)


def _arc_between(
    corner: Vec, one: Array, other: Array, said: str, placing: Placing, radius_mm: float = 17.0
) -> list[Mark]:
    at = placing.point(corner)
    start, end = (_bearing(at, _pair(placing, np.array(corner) + way)) for way in (one, other))
    sweep = (end - start + math.pi) % math.tau - math.pi
    arc = tuple(
        (at[0] + radius_mm * math.cos(start + sweep * k / 16), at[1] + radius_mm * math.sin(start + sweep * k / 16))
        for k in range(17)
    )
    middle = start + sweep / 2
    words = at[0] + (radius_mm + 6.5) * math.cos(middle), at[1] + (radius_mm + 4.5) * math.sin(middle)
    baseline = words[0], words[1] - CAP_HEIGHT * TEXT_MM / 2
    return [Line("move", arc), Text("mark", baseline, said, TEXT_MM, "middle", face="bold")]


def _bearing(at: Point, to: Point) -> float:
    return math.atan2(to[1] - at[1], to[0] - at[0])


def diagonal_marks(frame: Frame, said: str, placing: Placing) -> list[Mark]:
    """Both diagonals of the base with what they should measure."""
    corners = [fitting.position_m for fitting in frame.fittings if fitting.role == "corner"]
    if len(corners) < 4:
        return []
    ends = [max(corners, key=lambda c: sx * c[0] + sy * c[1]) for sx, sy in ((1, 1), (-1, -1), (1, -1), (-1, 1))]
    marks: list[Mark] = []
    for first, second in (ends[:2], ends[2:]):
        start, end = placing.point(first), placing.point(second)
        marks += [Line("move", (start, end)), head(start, end), head(end, start)]
    x, y = placing.point((0.0, 0.0, corners[0][2]))
    width = text_width_mm(said, TEXT_MM, "bold")
    ground = ((x - width / 2 - 1, y - 2.6), (x + width / 2 + 1, y - 2.6), (x + width / 2 + 1, y + 2.6))
    marks.append(Area("mark", (*ground, (x - width / 2 - 1, y + 2.6))))
    marks.append(Text("mark", (x, y - CAP_HEIGHT * TEXT_MM / 2), said, TEXT_MM, "middle", face="bold"))
    return marks


def screw_pins(places: Sequence[ScrewPlace], placing: Placing) -> Iterator[Mark]:
    """An arrow at each screw, the way it is driven."""
    for place in places:
        at = placing.point(place.position_m)
        off = _pair(placing, np.array(place.position_m) - np.array(place.way) * 0.1)
        length = math.dist(at, off)
        way = ((off[0] - at[0]) / length, (off[1] - at[1]) / length) if length > 0.05 else (0.0, 1.0)
        tip = at[0] + way[0] * _PIN_MM, at[1] + way[1] * _PIN_MM
        yield Line("mark", (at, tip))
        yield head(tip, at, size_mm=2.0)


def _pair(placing: Placing, at_m: Array) -> Point:
    return placing.point(_triple(at_m))


def _triple(at: Array) -> Vec:
    x, y, z = at.tolist()
    return x, y, z
