"""The bed as it is: four sides and two diagonals make a quadrilateral; the base of a cover is a rectangle on it.

A frame's corners are square fittings, so its base stays a rectangle whatever the bed does. Corners go round from the
front left one: front left, far left, far right, front right; x runs along the bed, y across it, left is +y.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import Literal

Point = tuple[float, float]
CORNERS = ("front left", "far left", "far right", "front right")
# Which corners each reading runs between: left, right, front, far, and the diagonals from the front left and right.
READINGS = ((0, 1), (3, 2), (0, 3), (1, 2), (0, 2), (3, 1))
NAMES = ("left", "right", "front", "far", "diagonal_left", "diagonal_right")
ROUNDS = 30


@dataclass(frozen=True, slots=True)
class BedShape:
    """The bed's outline over its boards, and the rectangle that a cover on it is made to.

    `corners_m` are about the bed's middle, the long sides along x; `angles_deg` the angle at each corner.
    `diagonals_differ_m` is one diagonal less the other, `lean_m` how far the worst corner is off square over the bed's
    width. `closing_m` is how far the six readings are from making one shape; `slip` names the reading that is likeliest
    the wrong one and `slip_should_m` is what it would have to be. `length_m` and `width_m` are the rectangle;
    `stands_in_m` how far each of its corners stands in from the bed's own, along and across the bed; negative where it
    stands past it [m].
    """

    corners_m: tuple[Point, ...]
    angles_deg: tuple[float, ...]
    diagonals_differ_m: float
    lean_m: float
    closing_m: float
    slip: str
    slip_should_m: float
    length_m: float
    width_m: float
    stands_in_m: tuple[Point, ...]


@lru_cache(maxsize=64)
def bed_shape(
    left_m: float,
    right_m: float,
    front_m: float,
    far_m: float,
    diagonal_left_m: float,
    diagonal_right_m: float,
    fit: Literal["inside", "mean"],
) -> BedShape:
    """The outline that six tape readings make [m], and the rectangle on it.

    Five readings settle a quadrilateral; the sixth checks them. The outline is the one that all six agree with best
    (least squares). "inside" is a rectangle that stands past no board, "mean" one of the mean sizes.
    """
    readings = (left_m, right_m, front_m, far_m, diagonal_left_m, diagonal_right_m)
    corners = _turned(_adjusted(readings))
    closing_m = diagonal_right_m - _by_the_others(readings, 5)
    slip, slip_should_m = _likeliest_slip(readings)
    along = [x for x, _ in corners]
    across = [y for _, y in corners]
    if fit == "inside":
        front_x, far_x = max(along[0], along[3]), min(along[1], along[2])
        right_y, left_y = max(across[2], across[3]), min(across[0], across[1])
    else:
        front_x, far_x = (along[0] + along[3]) / 2, (along[1] + along[2]) / 2
        right_y, left_y = (across[2] + across[3]) / 2, (across[0] + across[1]) / 2
    square = ((front_x, left_y), (far_x, left_y), (far_x, right_y), (front_x, right_y))
    outward = ((-1.0, 1.0), (1.0, 1.0), (1.0, -1.0), (-1.0, -1.0))
    stands_in = tuple(
        ((cx - sx) * ox, (cy - sy) * oy)
        for (cx, cy), (sx, sy), (ox, oy) in zip(corners, square, outward, strict=True)
    )
    angles_deg = _angles(corners)
    return BedShape(
        corners_m=corners,
        angles_deg=angles_deg,
        diagonals_differ_m=diagonal_left_m - diagonal_right_m,
        lean_m=(front_m + far_m) / 2 * max(abs(math.cos(math.radians(angle_deg))) for angle_deg in angles_deg),
        closing_m=closing_m,
        slip=slip,
        slip_should_m=slip_should_m,
        length_m=far_x - front_x,
        width_m=left_y - right_y,
        stands_in_m=stands_in,
    )


def _adjusted(readings: tuple[float, ...]) -> tuple[Point, ...]:
    """Corners that agree best with all six readings: Gauss-Newton on eight coordinates, three of them held."""
    import numpy as np

    left_m, right_m, front_m, far_m = readings[:4]
    # start from the rectangle of the mean sides; the front left corner and the left side's direction are held
    length_m, width_m = (left_m + right_m) / 2, (front_m + far_m) / 2
    points = np.array([[0.0, 0.0], [length_m, 0.0], [length_m, -width_m], [0.0, -width_m]])
    free = [2, 4, 5, 6, 7]  # x of the far left corner, both of the far right and the front right one
    for _ in range(ROUNDS):
        steep, off = np.zeros((6, 8)), np.zeros(6)
        for row, (i, j) in enumerate(READINGS):
            apart = points[j] - points[i]
            size = float(np.linalg.norm(apart))
            off[row] = readings[row] - size
            steep[row, 2 * i : 2 * i + 2] = -apart / size
            steep[row, 2 * j : 2 * j + 2] = apart / size
        step = np.linalg.lstsq(steep[:, free], off, rcond=None)[0]
        flat = points.reshape(-1)
        flat[free] += step
        if float(np.abs(step).max()) < 1e-12:
            break
    return tuple((float(x), float(y)) for x, y in points)


def _turned(corners: tuple[Point, ...]) -> tuple[Point, ...]:
    """The outline about its middle, turned until the two long sides lean as much one way as the other."""
    leans = [math.atan2(corners[j][1] - corners[i][1], corners[j][0] - corners[i][0]) for i, j in READINGS[:2]]
    turn = -sum(leans) / 2
    middle = (sum(x for x, _ in corners) / 4, sum(y for _, y in corners) / 4)
    cosine, sine = math.cos(turn), math.sin(turn)
    return tuple(
        (
            (x - middle[0]) * cosine - (y - middle[1]) * sine,
            (x - middle[0]) * sine + (y - middle[1]) * cosine,
        )
        for x, y in corners
    )


def _likeliest_slip(readings: tuple[float, ...]) -> tuple[str, float]:
    """The reading that is likeliest misread, and what it would have to be for the other five to agree with it [m].

    One reading more than needed shows that something is off and not what. But beds are built as rectangles, so the
    likeliest slip is the one whose mending makes opposite sides, and the diagonals, most alike.
    """
    best: tuple[float, str, float] | None = None
    for number, name in enumerate(NAMES):
        should_m = _by_the_others(readings, number)
        mended = (*readings[:number], should_m, *readings[number + 1 :])
        unlike = sum((mended[pair] - mended[pair + 1]) ** 2 for pair in (0, 2, 4))
        if best is None or unlike < best[0]:
            best = (unlike, name, should_m)
    assert best is not None
    return best[1], best[2]


def _by_the_others(readings: tuple[float, ...], number: int) -> float:
    """What one reading must be by the other five [m]: two triangles on the line between the other two corners."""
    size_m = {frozenset(ends): reading_m for ends, reading_m in zip(READINGS, readings, strict=True)}
    i, j = READINGS[number]
    k, m = sorted({0, 1, 2, 3} - {i, j})
    base_m, to_i_m, to_j_m = (size_m[frozenset(pair)] for pair in ((k, m), (k, i), (k, j)))
    at_i = _angle(to_i_m, base_m, size_m[frozenset((m, i))])
    at_j = _angle(to_j_m, base_m, size_m[frozenset((m, j))])
    # the ends of a diagonal lie on either side of the other one, those of a side on one side of the opposite one
    between = at_i + at_j if number >= 4 else at_i - at_j
    return math.sqrt(max(0.0, to_i_m**2 + to_j_m**2 - 2 * to_i_m * to_j_m * math.cos(between)))


def _angle(one_m: float, other_m: float, opposite_m: float) -> float:
    """The angle between two sides of a triangle, by the law of cosines [rad]; the nearest if they don't meet."""
    cosine = (one_m**2 + other_m**2 - opposite_m**2) / (2 * one_m * other_m)
    return math.acos(max(-1.0, min(1.0, cosine)))


def _angles(corners: tuple[Point, ...]) -> tuple[float, ...]:
    out = []
    for before, (here, after) in zip((corners[-1], *corners), pairwise((*corners, corners[0])), strict=False):
        one = (before[0] - here[0], before[1] - here[1])
        other = (after[0] - here[0], after[1] - here[1])
        out.append(
            math.degrees(abs(math.atan2(one[0] * other[1] - one[1] * other[0], one[0] * other[0] + one[1] * other[1])))
        )
    return tuple(out)
