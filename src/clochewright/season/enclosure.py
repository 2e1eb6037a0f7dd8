"""What the frame encloses: film faces with their areas and directions, volume, floor, and the opening under the lid."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from clochewright.frame import Frame, moving_bodies
from clochewright.plan import Plan

Point = tuple[float, float]
SAME_WAY_DEG = 6.0  # facets of a curve nearer than this are taken as one face


@dataclass(frozen=True, slots=True)
class Facet:
    """A flat face of film: its area, its slope from level, and the way it looks in the frame's own axes.

    `turn_deg` is counted from the frame's left (+y) towards its front end (-x), as seen from above anticlockwise.
    """

    area_m2: float
    slope_deg: float
    turn_deg: float


@dataclass(frozen=True, slots=True)
class Enclosure:
    """A cover over a bed, as air, sun and frost see it.

    Where only panels open, `panels_m` is how deep they are from hinge to free edge and how long together [m].
    """

    facets: tuple[Facet, ...]
    floor_m2: float
    volume_m3: float
    height_m: float
    depth_m: float
    length_m: float
    wall_perimeter_m: float
    wall_height_m: float
    panels_m: tuple[float, float] | None = None

    @property
    def film_m2(self) -> float:
        """Area of all film above the rim [m2]."""
        return sum(facet.area_m2 for facet in self.facets)

    @property
    def sky_share(self) -> float:
        """How much sky the mean square metre of film sees, the rest being surroundings: (1 + cos slope) / 2."""
        seen = sum(f.area_m2 * (1 + math.cos(math.radians(f.slope_deg))) / 2 for f in self.facets)
        return seen / self.film_m2

    def turned(self, left_faces_deg: float) -> tuple[tuple[Facet, float], ...]:
        """Each facet with its bearing, where the left long side faces that bearing (clockwise from north)."""
        return tuple((facet, (left_faces_deg - facet.turn_deg) % 360) for facet in self.facets)


def enclose(frame: Frame, plan: Plan) -> Enclosure:
    """The enclosure of a solved frame: its outline extruded along the bed, square ends, film on the pipes' outside.

    Where the ends lean in, the true volume is a few per cent less; the strip of film along the rails is left out.
    """
    radius = frame.pipe_outside_diameter_m / 2
    points = [
        (y + side * radius, z + radius if z > 0.05 else z)
        for pipe in frame.pipes
        for _, y, z in pipe.path_m
        for side in (-1.0, 1.0)
    ]
    outline = _hull([(y, max(z, 0.0)) for y, z in points] + [(-frame.width_m / 2, 0.0), (frame.width_m / 2, 0.0)])
    inside_length = max(plan.bed.outside_length_m - 2 * plan.bed.board_m, 0.1)
    inside_width = max(plan.bed.outside_width_m - 2 * plan.bed.board_m, 0.1)
    whole = enclosure_of(outline, frame.length_m, inside_length, inside_width, plan.bed.height_m)
    lines = [(body.hinge_line_m, body.free_line_m) for body in moving_bodies(frame, plan) if body.kind == "panel"]
    if not lines:
        return whole
    deep_m = max(math.dist(hinge[0], free[0]) for hinge, free in lines)
    return replace(whole, panels_m=(deep_m, sum(math.dist(*hinge) for hinge, _ in lines)))


def enclosure_of(
    outline_m: Sequence[Point], length_m: float, floor_length_m: float, floor_width_m: float, wall_height_m: float
) -> Enclosure:
    """The enclosure of an outline (y, z), anticlockwise seen from the far end with +y to the right, base at z = 0.

    Args:
        outline_m: corners of the cross-section [m].
        length_m: length of the cover [m].
        floor_length_m: length of the soil inside the boards [m].
        floor_width_m: its width [m].
        wall_height_m: how much of the soil stands above the ground outside [m].
    """
    area = 0.0
    facets: list[Facet] = []
    for (y0, z0), (y1, z1) in zip(outline_m, [*outline_m[1:], outline_m[0]], strict=True):
        area += (y0 * z1 - y1 * z0) / 2
        if z0 < 1e-6 and z1 < 1e-6:
            continue  # the floor
        run = math.hypot(y1 - y0, z1 - z0)
        if run < 1e-9:
            continue
        # Anticlockwise: the outside lies to the right of the way along the edge.
        outward_y, outward_z = (z1 - z0) / run, -(y1 - y0) / run
        slope_deg = math.degrees(math.acos(max(-1.0, min(1.0, outward_z))))
        facets.append(Facet(run * length_m, slope_deg, 0.0 if outward_y >= 0 else 180.0))
    ends = [Facet(area, 90.0, 90.0), Facet(area, 90.0, 270.0)]
    floor_m2 = floor_length_m * floor_width_m
    width_m = max(y for y, _ in outline_m) - min(y for y, _ in outline_m)
    return Enclosure(
        facets=(*_merged(facets), *ends),
        floor_m2=floor_m2,
        volume_m3=area * length_m,
        height_m=max(z for _, z in outline_m),
        depth_m=width_m,
        length_m=length_m,
        wall_perimeter_m=2 * (floor_length_m + floor_width_m),
        wall_height_m=wall_height_m,
    )


def _merged(facets: Sequence[Facet]) -> list[Facet]:
    out: list[Facet] = []
    for facet in facets:
        last = out[-1] if out else None
        if last and last.turn_deg == facet.turn_deg and abs(last.slope_deg - facet.slope_deg) < SAME_WAY_DEG:
            area = last.area_m2 + facet.area_m2
            slope = (last.area_m2 * last.slope_deg + facet.area_m2 * facet.slope_deg) / area
            out[-1] = Facet(area, slope, facet.turn_deg)
        else:
            out.append(facet)
    return out


def _hull(points: Sequence[Point]) -> list[Point]:
    """Convex hull, anticlockwise (Andrew's monotone chain): film pulled tight over everything."""
    ordered = sorted({(round(y, 6), round(z, 6)) for y, z in points})

    def chain(path: Sequence[Point]) -> list[Point]:
        kept: list[Point] = []
        for point in path:
            while len(kept) > 1 and _turn(kept[-2], kept[-1], point) <= 0:
                kept.pop()
            kept.append(point)
        return kept[:-1]

    return chain(ordered) + chain(ordered[::-1])


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def opening_at(enclosure: Enclosure, prop_deg: float) -> tuple[float, float]:
    """Area [m2] and upright height [m] of the opening when the lid stands propped at an angle from shut.

    Where only panels open it is theirs. The long gap opposite the hinge is a chord, 2 d sin(a/2) long; the two ends
    add a triangle d^2 sin(a) / 2 each (plain geometry). The curtain under the lid can't pass more than its own area.
    """
    angle = math.radians(prop_deg)
    deep_m, long_m = enclosure.panels_m or (enclosure.depth_m, enclosure.length_m)
    chord = 2 * deep_m * math.sin(angle / 2)
    area = chord * long_m + deep_m**2 * math.sin(angle)
    return min(area, deep_m * long_m), min(chord, deep_m)
