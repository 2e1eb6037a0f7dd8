"""How a part is held while its cement sets."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from clochewright.assembly.naming import Names
from clochewright.assembly.types import Jig
from clochewright.findings import word
from clochewright.frame import End, Fitting, Vec
from clochewright.joints import Part, site_of
from clochewright.measures import Units, show_angle, show_length

OVER_m = 0.02  # seen from above, so near to each other one stands over the other
FLAT_m = 0.0015  # less than this is not seen on a floor
TO_THE_EYE = (-1.0, -0.9, 1.1)  # of either side alike, the one that the three-quarter view shows lies up
FEET = ("rafter foot", "post foot", "hoop foot")


def jig_for(names: Names, part: Part, units: Units) -> Jig:
    """Whether a part lies flat on the floor while it sets, the angle that has to be held [deg], and what holds it."""
    fittings = [names.fitting_of[fitting] for fitting in part.fittings]
    pipes = [names.pipe_of[pipe] for pipe in part.pipes]
    normal = _normal([port.direction for fitting in fittings for port in fitting.ports if _used(part, fitting, names)]
                     + [_way(pipe.path_m[0], pipe.path_m[-1]) for pipe in pipes if pipe.role != "stub"])  # fmt: skip
    if normal is None:
        return Jig(False, None, word("assembly.jig.standing"))
    normal = _upward(normal, names, part)
    heights = [_dot(normal, fitting.position_m) for fitting in fittings]
    step_m = max(heights) - min(heights) if heights else 0.0
    feet = [fitting for fitting in fittings if site_of(fitting) in FEET]
    if names.sort(part) == "bent" and len(feet) >= 2:
        apart_m = max(math.dist(_flat(a, normal), _flat(b, normal)) for a in feet for b in feet)
        angle_deg = _angle_at_top(names, part)
        said = [word("assembly.jig.bent", apart=show_length(apart_m, units))]
        said += [word("assembly.jig.bent-top", angle=show_angle(angle_deg))] if angle_deg is not None else []
        packs = _packs(normal, fittings, units)
        said += [word("assembly.jig.bent-packed", packs=packs)] if packs else []
        said.append(word("assembly.jig.bent-feet"))
        said += [word("assembly.jig.bent-over")] if _hangs_m(normal, names, part) > FLAT_m else []
        text = " ".join(said)
        return Jig(True, angle_deg, text, step_m if step_m > FLAT_m else 0.0, normal)
    sort = names.sort(part)
    text = word(f"assembly.jig.{sort if sort in ('end', 'brace') else 'flat'}")
    return Jig(True, None, text, up=normal)


def _packs(up: Vec, fittings: Sequence[Fitting], units: Units) -> str:
    """How much goes under each fitting that doesn't touch the floor, in words; what stands over another needs nothing.

    Left and right are the picture's, which looks down on it with the frame's height up the paper.
    """
    right = _cross((0.0, 0.0, 1.0), up)
    lowest = {one.id: _lowest_m(up, one) for one in fittings}
    floor_m = min(lowest.values())
    under: dict[str, dict[tuple[str, str], None]] = {}
    roles: dict[str, set[str]] = {}
    for one in fittings:
        over = any(math.dist(_flat(one, up), _flat(other, up)) < OVER_m and lowest[other.id] < lowest[one.id] - FLAT_m
                   for other in fittings)  # fmt: skip
        gap_m = lowest[one.id] - floor_m
        pack = "" if over or gap_m < FLAT_m else show_length(gap_m, units)
        side = "right" if _dot(right, one.position_m) > 0 else "left"
        roles.setdefault(one.role, set()).add(pack)
        under.setdefault(pack, {})[side, one.role] = None
    said = []
    for pack, names in under.items():
        if pack:
            told = dict.fromkeys(
                word(f"assembly.jig.on-{side}", role=role) if len(roles[role]) > 1 else role
                for side, role in names
            )
            said.append(word("assembly.jig.pack", pack=pack, names=", ".join(told)))
    return "; ".join(said)


def _lowest_m(up: Vec, fitting: Fitting) -> float:
    """How high the lowest point of a fitting lies, along a way up [m]."""
    radius_m = fitting.hub_diameter_m / 2
    at_m = _dot(up, fitting.position_m)
    reaches = [-radius_m]
    for port in fitting.ports:
        rise = _dot(up, port.direction)
        reaches.append(rise * port.centre_to_face_m - radius_m * math.sqrt(max(1 - rise * rise, 0.0)))
    return at_m + min(reaches)


def _open_ways(names: Names, part: Part) -> Iterator[tuple[Vec, float]]:
    """The way that each free socket and each free pipe end looks, and how far it stands out [m]."""
    pipes = [names.pipe_of[pipe] for pipe in part.pipes]
    held = {(end.fitting, end.port) for pipe in pipes for end in pipe.ends}
    for fitting in part.fittings:
        for port in names.fitting_of[fitting].ports:
            if (fitting, port.name) not in held:
                yield port.direction, port.centre_to_face_m
    for end, other in _free_ends(names, part):
        yield _way(other.point_m, end.point_m), math.dist(other.point_m, end.point_m)


def _free_ends(names: Names, part: Part) -> Iterator[tuple[End, End]]:
    """Each pipe end that no fitting of the part holds, and the pipe's other end."""
    for pipe in part.pipes:
        first, last = names.pipe_of[pipe].ends
        yield from ((end, other) for end, other in ((first, last), (last, first)) if end.fitting not in part.fittings)


def _upward(normal: Vec, names: Names, part: Part) -> Vec:
    """The side that lies up: the one its free sockets look to, so that they are seen and the hubs lie on the floor."""
    looks = sum(_dot(normal, way) * reach_m for way, reach_m in _open_ways(names, part))
    back = looks < -1e-9 or (abs(looks) <= 1e-9 and _dot(normal, TO_THE_EYE) < 0)
    return (-normal[0], -normal[1], -normal[2]) if back else normal


def _hangs_m(up: Vec, names: Names, part: Part) -> float:
    """How far a free pipe end reaches below the hubs [m]."""
    floor_m = min(_dot(up, names.fitting_of[one].position_m) for one in part.fittings)
    reach_m = max(names.fitting_of[one].hub_diameter_m / 2 for one in part.fittings)
    return max((floor_m - reach_m - _dot(up, end.point_m) for end, _ in _free_ends(names, part)), default=0.0)


def _used(part: Part, fitting: Fitting, names: Names) -> bool:
    """Fittings that only stand on the part's plane with a run square to it don't tilt it."""
    return site_of(fitting) not in FEET and names.sort(part) not in ("bent", "end", "brace")


def _normal(ways: Sequence[Vec]) -> Vec | None:
    """The direction square to all of these, if there is one."""
    if not ways:
        return None
    first = ways[0]
    for other in ways[1:]:
        across = _cross(first, other)
        size = math.hypot(*across)
        if size > 1e-3:
            normal = (across[0] / size, across[1] / size, across[2] / size)
            level = all(abs(_dot(normal, way)) < 1e-3 for way in ways)
            return normal if level else None
    return _cross(first, (0.0, 0.0, 1.0)) if abs(first[2]) < 0.9 else (1.0, 0.0, 0.0)


def _angle_at_top(names: Names, part: Part) -> float | None:
    """The angle between the two members that meet at the top of a bent [deg]."""
    members = [names.pipe_of[pipe] for pipe in part.pipes if names.pipe_of[pipe].role == "rafter"]
    if len(members) < 2:
        return None
    a, b = (_way(pipe.path_m[0], pipe.path_m[-1]) for pipe in members[:2])
    down = [way if way[2] < 0 else (-way[0], -way[1], -way[2]) for way in (a, b)]
    return math.degrees(math.acos(max(-1.0, min(1.0, _dot(*down)))))


def _flat(fitting: Fitting, normal: Vec) -> Vec:
    at = fitting.position_m
    high = _dot(normal, at)
    return (at[0] - normal[0] * high, at[1] - normal[1] * high, at[2] - normal[2] * high)


def _way(a: Vec, b: Vec) -> Vec:
    size = max(math.dist(a, b), 1e-12)
    return ((b[0] - a[0]) / size, (b[1] - a[1]) / size, (b[2] - a[2]) / size)


def _dot(a: Vec, b: Vec) -> float:
    return sum(x * y for x, y in zip(a, b, strict=True))


def _cross(a: Vec, b: Vec) -> Vec:
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])
