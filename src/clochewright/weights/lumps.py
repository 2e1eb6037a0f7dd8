"""Masses as lumps: where pipe, film, laths and hardware weigh, and where that balances."""

from __future__ import annotations

import math
from collections.abc import Iterable

from clochewright.film import FilmPlan
from clochewright.frame import Frame, Pipe, Vec

Lump = tuple[float, Vec]


def middle_of(pipe: Pipe) -> Vec:
    """Centre of a pipe's centre line, straight or bent."""
    runs = list(zip(pipe.path_m, pipe.path_m[1:], strict=False))
    return balance([(math.dist(a, b), _between(a, b)) for a, b in runs])


def film_lumps(film: FilmPlan) -> list[Lump]:
    """The sheet as lumps: slopes along the section, a gable's share at each end, the rolled edges at the rails."""
    if not film.section_m or not film.profile_m:
        return []
    length_m = film.reach_m + 2 * film.overhang_m
    per_m2 = film.mass_kg.value / film.area_m2
    left, right = film.section_m[0], film.section_m[-1]
    far, front = film.profile_m[0][0], film.profile_m[-1][0]
    rail_z = min(left[1], right[1])
    over_m = far - front
    lumps: list[Lump] = []
    for a, b in zip(film.section_m, film.section_m[1:], strict=False):
        lumps.append((math.dist(a, b) * over_m * per_m2, (0.0, (a[0] + b[0]) / 2, (a[1] + b[1]) / 2)))
    top_z = max(point[1] for point in film.section_m)
    ends_m2 = (film.reach_m - over_m) * film.girth_m
    middle_y = (left[0] + right[0]) / 2
    # A triangle's balance point is a third of the way up; the folded spare lies lower, the ridge share higher.
    gable_z = rail_z + (top_z - rail_z) / 3
    for x in (front, far):
        lumps.append((ends_m2 / 2 * per_m2, (x, middle_y, gable_z)))
    long_m2 = film.overhang_m * length_m
    end_m2 = film.overhang_m * film.girth_m
    for y in (left[0], right[0]):
        lumps.append((long_m2 * per_m2, ((front + far) / 2, y, rail_z)))
    for x in (front, far):
        lumps.append((end_m2 * per_m2, (x, middle_y, rail_z)))
    return lumps


def lath_lumps(film: FilmPlan, frame: Frame, mass_kg: float) -> list[Lump]:
    """Laths and hardware, spread over the four bottom rails by length."""
    half_x, half_y = frame.length_m / 2, frame.width_m / 2
    middles: dict[str, Vec] = {
        "left": (0.0, half_y, 0.0),
        "right": (0.0, -half_y, 0.0),
        "front": (-half_x, 0.0, 0.0),
        "far": (half_x, 0.0, 0.0),
    }
    bottom = [lath for lath in film.laths if lath.side in middles]
    whole_m = sum(lath.wood_m for lath in bottom)
    return [(mass_kg * lath.wood_m / whole_m, middles[lath.side]) for lath in bottom if whole_m > 0]


def _between(a: Vec, b: Vec) -> Vec:
    return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2)


def balance(lumps: Iterable[Lump]) -> Vec:
    """Centre of gravity of lumps [m]."""
    kept = list(lumps)
    whole = sum(mass for mass, _ in kept)
    if whole <= 0:
        return kept[0][1] if kept else (0.0, 0.0, 0.0)
    x, y, z = (sum(mass * place[axis] for mass, place in kept) / whole for axis in range(3))
    return (x, y, z)
