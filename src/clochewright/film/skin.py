"""The skin: the surface that film takes when it is pulled tight over one cover, from the middle of the bottom rails up.

Along the bed it is the outline of all hubs and pipes, swept from end to end. The end bents stand further in than the
end rails, so each end leans: a triangle from the end rail to the top, and beside it a fan from each corner to the
bent. All of it is developable: it can be laid out flat without stretching.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise

from clochewright.film.outline import Point, hull, length_along, over_the_top, silhouette
from clochewright.frame import Fitting, Frame, Pipe, Vec, covers

# Hubs that stand back by this much from where the film lies still hold it up there: a little, or more where the bents
# are not alike.
NEAR_M = (0.004, 0.015, 0.060, 0.5)
# Points of the outline nearer to each other than this belong to one bend round one hub.
ONE_BEND_M = 0.012
# A bend of less than this is a curve's, and one is counted as a corner each time a curve has turned by so much.
CORNER_DEG, CURVE_DEG = 15.0, 22.5
# A corner this near to the middle, by the section's width, is a ridge.
RIDGE_SHARE = 0.05
_HARDLY = 1e-9


@dataclass(frozen=True, slots=True)
class Member:
    """A hub, sleeve or pipe seen along the bed: from `start` to `end` (y, z), its radius, its place along x [m]."""

    start: Point
    end: Point
    radius_m: float
    front_m: float
    far_m: float


@dataclass(frozen=True, slots=True)
class Skin:
    """The film's surface over one cover whose middle is at x = 0.

    `section_m` is its outline (y, z) from the middle of the left bottom rail over the top to that of the right one;
    `front_m` and `far_m` say where it ends along the bed at each of those points; `corners` are the points at which it
    bends, the first and the last included. From the ends of the section the film goes on round the rail by `tuck_m` to
    its underside. `girth_m` includes both tucks [m].
    """

    section_m: tuple[Point, ...]
    front_m: tuple[float, ...]
    far_m: tuple[float, ...]
    corners: tuple[int, ...]
    tuck_m: float
    girth_m: float

    @property
    def ridge(self) -> int | None:
        """The corner that is a ridge over the middle of the bed, by its number along the section, if there is one."""
        near_m = RIDGE_SHARE * (self.section_m[0][0] - self.section_m[-1][0])
        middle = min(self.corners, key=lambda i: abs(self.section_m[i][0]))
        return middle if abs(self.section_m[middle][0]) < near_m else None

    @property
    def outline_m(self) -> tuple[Point, ...]:
        """The section with the film's way round the rails to their undersides (y, z) [m]."""
        return with_tucks(self.section_m, self.tuck_m)

    def end(self, toward: float) -> tuple[Vec, ...]:
        """The line along which the film bends down over the front end (-1) or the far one (+1), left rail first [m]."""
        places_m = self.far_m if toward > 0 else self.front_m
        return tuple((x_m, y_m, z_m) for x_m, (y_m, z_m) in zip(places_m, self.section_m, strict=True))


def with_tucks(section: Sequence[Point], tuck_m: float) -> tuple[Point, ...]:
    """An outline with the film's way round the rails to their undersides, as if it hung straight down."""
    (left, low_left), (right, low_right) = section[0], section[-1]
    return (left, low_left - tuck_m), *section, (right, low_right - tuck_m)


def skin_of(frame: Frame) -> Skin:
    """The skin of the first of a frame's covers; the others are like it."""
    frame = covers(frame)[0][0]
    members = _members(frame)
    points = [point for member in members for point in silhouette(member.start, member.end, member.radius_m)]
    outline = hull(points)
    middle_m, underside_m = _rail_levels(frame)
    section = over_the_top(outline, middle_m)
    girth_m = length_along(over_the_top(outline, underside_m))
    corners = _corners(section)
    front, far = _ends(section, corners, members)
    tuck_m = max(0.0, (girth_m - length_along(section)) / 2)
    return Skin(section, front, far, corners, tuck_m, girth_m)


def _rail_levels(frame: Frame) -> tuple[float, float]:
    """Height of the middle and of the underside of the side rails [m]; the rim for hoops in sleeves."""
    heights = [point[2] for pipe in frame.pipes if pipe.role == "side rail" for point in pipe.path_m]
    if not heights:
        return 0.0, 0.0
    return min(heights), min(heights) - frame.pipe_outside_diameter_m / 2


def _members(frame: Frame) -> tuple[Member, ...]:
    """All hubs and pipes; those that lie behind each other, seen along the bed, are one."""
    seen: dict[tuple[float, ...], Member] = {}
    for start, end, radius_m, front_m, far_m in (*_hubs(frame.fittings), *_pipes(frame)):
        key = tuple(round(value, 6) for value in (*start, *end, radius_m))
        old = seen.get(key)
        if old is not None:
            front_m, far_m = min(front_m, old.front_m), max(far_m, old.far_m)
        seen[key] = Member(start, end, radius_m, front_m, far_m)
    return tuple(seen.values())


def _hubs(fittings: Iterable[Fitting]) -> Iterable[tuple[Point, Point, float, float, float]]:
    for fitting in fittings:
        x, y, z = fitting.position_m
        radius = fitting.hub_diameter_m / 2
        yield (y, z), (y, z), radius, x - radius, x + radius
        for port in fitting.ports:
            dx, dy, dz = (component * port.centre_to_face_m for component in port.direction)
            beside = radius * math.sqrt(max(0.0, 1 - port.direction[0] ** 2))
            yield (y, z), (y + dy, z + dz), radius, min(x, x + dx) - beside, max(x, x + dx) + beside


def _pipes(frame: Frame) -> Iterable[tuple[Point, Point, float, float, float]]:
    radius = frame.pipe_outside_diameter_m / 2
    for pipe in frame.pipes:
        for (x0, y0, z0), (x1, y1, z1) in pairwise(pipe.path_m):
            across = math.hypot(y1 - y0, z1 - z0) > _HARDLY
            beside = radius if across else 0.0
            if pipe.role == "crown bar":  # tied under the hoops, and its ends reach out past them
                z0, z1 = z0 + 2 * radius, z1 + 2 * radius
            yield (y0, z0), (y1, z1), radius, min(x0, x1) - beside, max(x0, x1) + beside


def _ends(
    section: Sequence[Point], corners: Sequence[int], members: Sequence[Member]
) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Where the film ends along the bed at each point of the section.

    At a corner it ends past the hubs it lies on there. Between two corners its edge is pulled straight, unless
    something stands out further.
    """
    run = [0.0, *accumulate(math.dist(a, b) for a, b in pairwise(section))]
    held: dict[int, tuple[float, float]] = {}
    for bend in _bends(section):
        place = _reach([section[i] for i in bend], members)
        held |= dict.fromkeys(bend, place)
    fixed = {i for bend in _bends(section) if set(bend) & set(corners) for i in bend}
    front = _pulled_straight(run, [-held[i][0] for i in range(len(section))], fixed)
    far = _pulled_straight(run, [held[i][1] for i in range(len(section))], fixed)
    return tuple(-x for x in front), far


def _reach(bend: Sequence[Point], members: Sequence[Member]) -> tuple[float, float]:
    """From where to where hubs and pipes hold film up along one bend; wider afield where they do so at one end only."""
    whole_m = max(member.far_m for member in members) - min(member.front_m for member in members)
    front_m, far_m = 0.0, 0.0
    beyond = [(min(_distance(point, member) for point in bend) - member.radius_m, member) for member in members]
    for near_m in NEAR_M:
        held = [member for away_m, member in beyond if away_m <= near_m]
        front_m = min((member.front_m for member in held), default=math.inf)
        far_m = max((member.far_m for member in held), default=-math.inf)
        if far_m - front_m > whole_m / 2:
            break
    return front_m, far_m


def _pulled_straight(run: Sequence[float], places_m: Sequence[float], fixed: set[int]) -> tuple[float, ...]:
    """Places along the bed [m], those between fixed points brought out to the straight line where they lie behind."""
    out = list(places_m)
    last = 0
    while last < len(out) - 1:
        # the next point is the one that a straight edge turning inwards from this one meets first
        stop = next(i for i in range(last + 1, len(out)) if i in fixed)
        slopes = [(out[i] - out[last]) / max(run[i] - run[last], _HARDLY) for i in range(last + 1, stop + 1)]
        steepest = max(range(len(slopes)), key=lambda k: (slopes[k], k))
        there = last + 1 + steepest
        for i in range(last + 1, there):
            out[i] = out[last] + slopes[steepest] * (run[i] - run[last])
        last = there
    return tuple(out)


def _distance(point: Point, member: Member) -> float:
    """From a point to a member's axis [m]."""
    (ax, ay), (bx, by), (px, py) = member.start, member.end, point
    run_x, run_y = bx - ax, by - ay
    square = run_x * run_x + run_y * run_y
    share = 0.0 if square < _HARDLY else min(1.0, max(0.0, ((px - ax) * run_x + (py - ay) * run_y) / square))
    return math.hypot(px - ax - share * run_x, py - ay - share * run_y)


def _corners(section: Sequence[Point]) -> tuple[int, ...]:
    """The points at which the section bends; a curve is shared out among as many corners as its whole turn takes."""
    last = len(section) - 1
    corners = [0]
    curve: list[tuple[int, float]] = []
    for bend in _bends(section):
        middle, bend_deg = bend[len(bend) // 2], sum(_turn_deg(section, i) for i in bend)
        if bend_deg < CORNER_DEG and not {0, last} & set(bend):
            curve.append((middle, bend_deg))
            continue
        corners += _along_curve(curve)
        curve = []
        if not {0, last} & set(bend):
            corners.append(middle)
    return (*corners, last)


def _along_curve(curve: Sequence[tuple[int, float]]) -> list[int]:
    """Even corners along a curve whose points each turn by so much [deg]."""
    whole_deg = sum(turn_deg for _, turn_deg in curve)
    count = round(whole_deg / CURVE_DEG)
    corners: list[int] = []
    turned_deg = 0.0
    for i, turn_deg in curve:
        turned_deg += turn_deg
        if len(corners) < count and turned_deg >= (len(corners) + 0.5) * whole_deg / count - _HARDLY:
            corners.append(i)
    return corners


def _bends(section: Sequence[Point]) -> Iterable[tuple[int, ...]]:
    """The section's points in groups that lie close together."""
    group = [0]
    for i in range(1, len(section)):
        if math.dist(section[i - 1], section[i]) > ONE_BEND_M:
            yield tuple(group)
            group = []
        group.append(i)
    yield tuple(group)


def _turn_deg(section: Sequence[Point], i: int) -> float:
    if i in (0, len(section) - 1):
        return 0.0
    (ax, ay), (bx, by), (cx, cy) = section[i - 1], section[i], section[i + 1]
    before, after = math.atan2(by - ay, bx - ax), math.atan2(cy - by, cx - bx)
    return math.degrees(math.remainder(after - before, 2 * math.pi))


def slack_between(frame: Frame, girth_m: float) -> float:
    """How much shorter it is between two bents, where only pipes along the bed carry the film [m].

    Between hoops film keeps their curve when it is pulled lengthwise, so there it is only what fittings stand proud.
    """
    between = [pipe for pipe in frame.pipes if pipe.role != "stub" and (not is_across(pipe) or pipe.shape == "bent")]
    if not any(pipe.role == "ridge" or pipe.shape == "bent" for pipe in between):
        return 0.0
    radius = frame.pipe_outside_diameter_m / 2
    runs = {
        tuple(round(value, 6) for value in (*here[1:], *there[1:]))
        for pipe in between
        for here, there in pairwise(pipe.path_m)
    }
    points = [point for y0, z0, y1, z1 in runs for point in silhouette((y0, z0), (y1, z1), radius)]
    return max(0.0, girth_m - length_along(over_the_top(hull(points), _rail_levels(frame)[1])))


def is_across(pipe: Pipe) -> bool:
    """Whether a pipe belongs to a bent: it runs along the bed by less than half its length."""
    along = max(point[0] for point in pipe.path_m) - min(point[0] for point in pipe.path_m)
    return along < 0.5 * pipe.cut_length_m
