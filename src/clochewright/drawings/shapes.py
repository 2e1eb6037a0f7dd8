"""Round bars, bent pipes and balls as they look on paper: outline, sides and rims, each [mm]."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from clochewright.drawings.marks import Point
from clochewright.drawings.projection import Array

_SHARP = 3.0  # squared sum of two unit directions: bars that turn by more than 60 degrees aren't mitred
_ROUND_STEPS = 6  # corners in half an ellipse
_FLAT = 0.03  # a bar this near to the paper's plane [sine] has straight ends
_HALF_ROUND = tuple(
    (math.cos(a), math.sin(a)) for a in (math.pi * (k / _ROUND_STEPS - 0.5) for k in range(_ROUND_STEPS + 1))
)
_HALF_FLAT = ((0.0, -1.0), (0.0, 1.0))
_RING = tuple((math.cos(a), math.sin(a)) for a in (math.tau * k / 20 for k in range(20)))


@dataclass(frozen=True, slots=True)
class Solid:
    """A convex thing on paper.

    `start` and `end` are its centre line as (right, up, toward) [mm]; `outline` its silhouette, `sides` and `rims` the
    lines to draw. Solids of one `weld` are one casting: their sides run only where the casting as a whole ends.
    """

    part: str
    pen: str
    start: tuple[float, float, float]
    end: tuple[float, float, float]
    radius_mm: float
    outline: tuple[Point, ...]
    sides: tuple[tuple[Point, ...], ...]
    rims: tuple[tuple[Point, ...], ...] = ()
    weld: str = ""


Mitre = tuple[Point, Point]  # where two bars of one bent pipe meet: the left corner and the right one, looking along


def bar(
    part: str,
    pen: str,
    start: Array,
    end: Array,
    radius_mm: float,
    *,
    start_cap: bool,
    end_cap: bool,
    weld: str = "",
    mitres: tuple[Mitre | None, Mitre | None] = (None, None),
) -> Solid:
    """A round bar from `start` to `end`, each (right, up, toward) [mm].

    A cap is the line around an end; a mitre takes the place of that end's roundness.
    """
    along = end - start
    length = float(np.linalg.norm(along))
    lean = float(along[2]) / length if length else 0.0
    flat = math.hypot(along[0], along[1])
    ax, ay = (float(along[0]) / flat, float(along[1]) / flat) if flat > 1e-9 else (1.0, 0.0)
    depth = radius_mm * abs(lean) if abs(lean) > _FLAT else 0.0

    # Half an ellipse about each end: its axes lie across the bar and, shortened by the lean, along it.
    half = _HALF_ROUND if depth else _HALF_FLAT
    x1, y1, x2, y2 = float(start[0]), float(start[1]), float(end[0]), float(end[1])
    bow = [(c * depth * ax - s * radius_mm * ay, c * depth * ay + s * radius_mm * ax) for c, s in half]
    far = tuple((x2 + u, y2 + v) for u, v in bow)
    near = tuple((x1 - u, y1 - v) for u, v in bow)
    if mitres[0]:
        near = mitres[0]
    if mitres[1]:
        far = mitres[1][::-1]
    rims = []
    end_on = flat <= 1e-9  # then the farther end lies behind the nearer
    if start_cap and not (end_on and lean > 0):
        rims.append((*near, *((x1 + u, y1 + v) for u, v in bow[1:])) if lean < -_FLAT else near)
    if end_cap and not (end_on and lean < 0):
        rims.append((*far, *((x2 - u, y2 - v) for u, v in bow[1:])) if lean > _FLAT else far)
    sides = ((near[-1], far[0]), (far[-1], near[0])) if not end_on else ()
    return Solid(part, pen, _triple(start), _triple(end), radius_mm, far + near, sides, tuple(rims), weld)


def tube(
    part: str, pen: str, points: Array, radius_mm: float, *, start_cap: bool, end_cap: bool, weld: str = ""
) -> list[Solid]:
    """A bent pipe through `points`, rows (right, up, toward) [mm]: bars that meet in mitres, its edges unbroken.

    Where it turns back on itself on paper it gets a ball instead.
    """
    last = len(points) - 2
    mitres = [None, *(_mitre(points[k - 1 : k + 2], radius_mm) for k in range(1, last + 1)), None]
    solids = [
        bar(
            part, pen, points[k], points[k + 1], radius_mm,
            start_cap=start_cap and k == 0, end_cap=end_cap and k == last, weld=weld, mitres=(mitres[k], mitres[k + 1]),
        )
        for k in range(last + 1)
    ]  # fmt: skip
    turns = [k for k in range(1, last + 1) if mitres[k] is None]
    return [*solids, *(ball(part, pen, points[k], radius_mm, weld) for k in turns)]


def _mitre(three: Array, radius_mm: float) -> Mitre | None:
    """Where the edges of two bars meet at the middle one of three points; None where they turn too sharply."""
    steps = three[1:, :2] - three[:-1, :2]
    lengths = np.hypot(steps[:, 0], steps[:, 1])
    if lengths.min() < 1e-9:
        return None
    ways = steps / lengths[:, None]
    across = np.array([-(ways[0, 1] + ways[1, 1]), ways[0, 0] + ways[1, 0]])  # to the left
    size2 = float(across @ across)
    if size2 < _SHARP or size2 * lengths.min() ** 2 < (4 - size2) * radius_mm**2:
        return None
    x, y = three[1, :2]
    dx, dy = across * (2 * radius_mm / size2)
    return (float(x + dx), float(y + dy)), (float(x - dx), float(y - dy))


def ball(part: str, pen: str, centre: Array, radius_mm: float, weld: str = "") -> Solid:
    """A ball about `centre`, (right, up, toward) [mm]."""
    at = _triple(centre)
    ring = tuple((at[0] + radius_mm * c, at[1] + radius_mm * s) for c, s in _RING)
    return Solid(part, pen, at, at, radius_mm, ring, ((*ring, ring[0]),), (), weld)


def _triple(point: Array) -> tuple[float, float, float]:
    return float(point[0]), float(point[1]), float(point[2])
