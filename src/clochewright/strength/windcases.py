"""Which winds a shut cover has to meet: from either side, along the bed, with every pressure from inside."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from clochewright.strength import coefficients as cp
from clochewright.strength.air import GUST_EFFECT, Code
from clochewright.strength.faces import Face, Outline


@dataclass(frozen=True, slots=True)
class WindCase:
    """One wind: net pressure inwards over the pressure of the gust [1], on each face and on the two ends."""

    name: str
    face_ratio: tuple[float, ...]
    front_ratio: float
    far_ratio: float


def wind_cases(shape: Outline, rim_m: float, code: Code, open_end: bool) -> tuple[WindCase, ...]:
    """All winds on a cover whose rim stands so high [m]; with its front end open, or all shut.

    A lean-to against a wall is met as if it stood free.
    """
    high_m = rim_m + shape.rise_m
    outside = [*_across(shape, high_m, code), *_along(shape, high_m, code)]
    cases = []
    for name, faces, front, far in outside:
        for inside in _inside(code, open_end, front):
            net = tuple(value - inside for value in faces)
            front_net = 0.0 if open_end else front - inside
            cases.append(WindCase(name, net, front_net, far - inside))
    return tuple(dict.fromkeys(cases))


Outside = tuple[str, tuple[float, ...], float, float]


def _inside(code: Code, open_end: bool, front: float) -> tuple[float, ...]:
    """Pressure inside; with an open end it is that of the end (EN), or the code's bound (ASCE)."""
    if code == "US":
        inside = cp.US_INSIDE_OPEN if open_end else cp.US_INSIDE
        return (inside, -inside)
    return (cp.EN_DOMINANT * front,) if open_end else cp.EN_INSIDE


def _across(shape: Outline, high_m: float, code: Code) -> Iterator[Outside]:
    """From the left (+1) and from the right (-1), with the lowest and the highest pressure on the face that is met."""
    ratio = (high_m - shape.rise_m / 2) / shape.span_m
    strip_share = min(min(shape.length_m, 2 * high_m) / 10 / (shape.span_m / 2), 1.0)
    for from_side, name in ((1.0, "from the left"), (-1.0, "from the right")):
        pairs = [_one_across(face, from_side, ratio, strip_share, shape, code) for face in shape.faces]
        side = GUST_EFFECT * cp.US_SIDE if code == "US" else cp.EN_SIDE
        for which in (0, 1):
            yield name, tuple(pair[which] for pair in pairs), side, side


def _one_across(
    face: Face, from_side: float, ratio: float, strip_share: float, shape: Outline, code: Code
) -> tuple[float, float]:
    """Lowest and highest on one face."""
    met = face.side * from_side > 0
    gust = GUST_EFFECT if code == "US" else 1.0
    if face.zone is not None:
        vault = cp.us_vault if code == "US" else cp.en_vault
        zone = face.zone if from_side > 0 else 2 - face.zone
        value = gust * vault(shape.rise_m / shape.span_m)[zone]
        return value, value
    if code == "US":
        if met:
            low, high = cp.us_windward(face.slope_deg, ratio)
            return gust * low, gust * high
        value = gust * cp.us_leeward(face.slope_deg, ratio, shape.span_m / shape.length_m)
        return value, value
    single = sum(other.slope_deg < cp.WALL_DEG for other in shape.faces) == 1
    low, high, lee = cp.en_across(face.slope_deg, strip_share)
    if met:
        return low, high
    if single and face.slope_deg < cp.WALL_DEG:
        lee = cp.en_high_edge(face.slope_deg, strip_share)
    return lee, lee


def _along(shape: Outline, high_m: float, code: Code) -> Iterator[Outside]:
    """From the front end along the bed; the far end's wind is its mirror image."""
    single = sum(other.slope_deg < cp.WALL_DEG for other in shape.faces) == 1
    if code == "US":
        roof, wall = GUST_EFFECT * cp.us_along(shape.length_m, high_m), GUST_EFFECT * cp.US_SIDE
        front = GUST_EFFECT * cp.US_WALL
        far = GUST_EFFECT * cp.us_leeward(90.0, 1.0, shape.length_m / shape.span_m)
        for value in (roof, GUST_EFFECT * cp.US_ALONG_MILD):
            faces = tuple(wall if face.slope_deg >= cp.WALL_DEG else value for face in shape.faces)
            yield "along the bed", faces, front, far
        return
    strip_m = min(shape.span_m, 2 * high_m)
    faces = tuple(
        cp.EN_SIDE if face.slope_deg >= cp.WALL_DEG else cp.en_along(face.slope_deg, shape.length_m, strip_m, single)
        for face in shape.faces
    )
    yield "along the bed", faces, cp.EN_WALL, cp.EN_LEE_WALL
