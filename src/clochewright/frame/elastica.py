"""A pipe sprung between two feet: the planar elastica, symmetric about its middle.

The pipe is slender, straight before it was bent, keeps its length and bends elastically; its weight is left out. Its
ends are either clamped (a foot tee whose branch points a given way) or free to turn (a loose sleeve). By symmetry the
only force between the feet is horizontal, H, positive where the hoop pushes its feet apart. With θ the slope of the
pipe below level at the arc s from the crown, and κ its curvature there,

    θ'' = -(H/EI) sin θ,    κ² = κ_crown² - 4 (H/EI) sin²(θ/2)

so that arc, width and rise are elliptic integrals of θ/2 with n = 4 (H/EI) / κ_crown². For given end slopes the
shapes are one family, followed here from the taut pipe (feet pull inwards, H < 0) over the arc of a circle (H = 0) and
the pipe that bears on its feet without moment (as if pinned) to legs that are bent the other way and bulge.

What the weight left out would do, found once by shooting with it in, for lengths of 1.2 to 3 spans and feet at 0, 60
and 90 degrees and free: the crown moves by less than 2e-4 · w · length⁴ / EI, w being the pipe's weight per length
(half-inch pipe 2 m long: 0.4 mm at most), and the push on a foot grows by about half of the hoop's weight at most.
Whether a high, narrow hoop would rather lean over to one side is not looked at.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from clochewright.frame.elliptic import amplitude, integrals

MOST_END_DEG = 110.0  # feet that lean out further were never tried
LEAST_EXCESS = 1e-9  # share by which a pipe must be longer than its span
LEVEL = 1e-6  # sine of half the end slope from which feet count as level: the stretch before no end moment is nothing
TAUT = 300.0  # logarithm of end over crown curvature at which a taut pipe is no hoop but a line with two kinks


@dataclass(frozen=True, slots=True)
class Hoop:
    """A sprung pipe at rest. Between the seats: what goes on straight inside a foot's socket is not part of it.

    `height_m` is from the seats to the pipe's middle at the crown; `end_deg` the slope of the pipe at its seats, up
    from the inward level (90 straight up, more leans outwards); `pinned` says that it found that slope freely. Per
    E·I: `push_over_EI_per_m2` the level push on each foot, outwards positive [1/m2], and `end_moment_over_EI_per_m`
    the moment at the seats [1/m], positive where it bends the pipe the same way as the crown. `widest_half_m` is the
    greatest distance from the hoop's middle line, `neck_half_m` the least one below the widest place; negative where
    the legs cross.
    """

    length_m: float
    span_m: float
    height_m: float
    end_deg: float
    pinned: bool
    push_over_EI_per_m2: float
    end_moment_over_EI_per_m: float
    crown_curvature_per_m: float
    widest_half_m: float
    neck_half_m: float

    @property
    def curvature_max_per_m(self) -> float:
        """The sharpest curvature [1/m]; one over the smallest radius."""
        return max(self.crown_curvature_per_m, abs(self.end_moment_over_EI_per_m))

    @property
    def where(self) -> Literal["crown", "feet"]:
        """Where the pipe is bent most; the crown where both are alike."""
        return "feet" if abs(self.end_moment_over_EI_per_m) > self.crown_curvature_per_m * (1 + 1e-9) else "crown"

    @property
    def bulges(self) -> bool:
        """Whether the hoop is wider somewhere than at its feet."""
        return self.widest_half_m > self.span_m / 2 * (1 + 1e-9)

    @property
    def crosses_itself(self) -> bool:
        """Whether the two legs would have to pass through each other."""
        return self.neck_half_m < 0

    def path(self, n: int) -> tuple[tuple[float, float], ...]:
        """The centre line in `n` pieces of equal arc, as n + 1 points (y, z) [m] from the left seat to the right.

        y is 0 at the middle, z is 0 at the seats. The points lie on the curve, so the chords between them are a
        little shorter than it, by (turn of one piece [rad])² / 24 of its length.

        Raises:
            ValueError: n is less than 2.
        """
        if n < 2:
            raise ValueError("A hoop takes at least two pieces to draw.")
        right = [self._place(self.length_m * (i / n - 0.5)) for i in range((n + 1) // 2, n + 1)]
        left = [(-y, z) for y, z in reversed(right)]
        return tuple(left[: n + 1 - len(right)] + right)

    def slope_rad(self, arc_m: float) -> float:
        """Slope of the pipe below level [rad] at an arc to the right of the crown [m], 0 to half the length."""
        return 2 * math.atan2(*self._half_slope(arc_m)[:2])

    def _half_slope(self, arc_m: float) -> tuple[float, float, float]:
        """Sine and cosine of half the slope, and the curvature there over that at the crown."""
        crown, h = self.crown_curvature_per_m, self.push_over_EI_per_m2
        if 4 * h > crown * crown:  # the legs turn back, or would further on: the slope swings
            k = crown / (2 * math.sqrt(h))
            swing = amplitude(math.sqrt(h) * arc_m, (1 - k) * (1 + k))
            sine = k * math.sin(swing)
            return sine, math.sqrt(1 - sine * sine), math.cos(swing)
        if h >= 0:
            half = amplitude(crown * arc_m / 2, 1 - 4 * h / (crown * crown))
            sine = math.sin(half)
            return sine, math.cos(half), math.sqrt(1 - 4 * h / (crown * crown) * sine * sine)
        # Taut: counted from the feet, since a crown that is all but straight says nothing about where they are.
        sharpest = math.hypot(crown, 2 * math.sqrt(-h))
        flat = crown / sharpest
        half_end = math.radians(self.end_deg) / 2
        sine, cosine = math.sin(half_end), math.cos(half_end)
        at_foot, _ = integrals(cosine, sine, math.hypot(sine, flat * cosine))
        rest = amplitude(at_foot + sharpest / 2 * (self.length_m / 2 - arc_m), flat * flat)
        sine, cosine = max(math.cos(rest), 0.0), math.sin(rest)
        return sine, cosine, math.hypot(sine, flat * cosine) / flat

    def _place(self, arc_m: float) -> tuple[float, float]:
        """The point (y, z) at an arc to the right of the crown [m]."""
        crown, h = self.crown_curvature_per_m, self.push_over_EI_per_m2
        sine, cosine, bend = self._half_slope(arc_m)
        _, d = integrals(sine, cosine, abs(bend))
        if bend < 0:  # past the steepest place: there and back again
            k = crown / (2 * math.sqrt(h))
            d = 2 * integrals(k, math.sqrt((1 - k) * (1 + k)), 0.0)[1] - d
        n = 4 * h / (crown * crown)
        fall = 2 * sine * sine / (1 + bend) if bend >= 0 else 2 * (1 - bend) / n
        return arc_m - 4 * d / crown, self.height_m - 2 * fall / crown


def spring_hoop(length_m: float, span_m: float, end_deg: float | None) -> Hoop:
    """The hoop that a pipe makes between two feet.

    Args:
        length_m: free pipe between the two seats [m].
        span_m: from seat to seat [m].
        end_deg: slope at which the feet hold the pipe, 0 (level, inwards) over 90 (straight up) to 110 [deg]; None
            for feet in which it turns freely.

    Returns:
        The hoop at rest.

    Raises:
        ValueError: no such hoop: one plain sentence.
    """
    _refuse_odd(span_m, end_deg)
    if not (math.isfinite(length_m) and length_m > span_m * (1 + LEAST_EXCESS)):
        raise ValueError("A hoop's pipe must be longer than the distance between its feet.")
    excess = (length_m - span_m) / length_m
    half = _find(end_deg, lambda half: half.shrink < excess * half.arc)
    if half is None:
        raise ValueError(
            "The pipe is hardly longer than the distance between its feet, so it would kink where they hold it upwards."
        )
    return _hoop(half, length_m, span_m, length_m / 2 / half.arc, end_deg)


def hoop_for_height(height_m: float, span_m: float, end_deg: float | None) -> Hoop:
    """The hoop of a given height over two feet; its length is what the pipe needs between the seats.

    Args:
        height_m: from the seats to the pipe's middle at the crown [m].
        span_m: from seat to seat [m].
        end_deg: slope at which the feet hold the pipe [deg], or None, as in `spring_hoop`.

    Returns:
        The hoop at rest.

    Raises:
        ValueError: no such hoop: one plain sentence.
    """
    _refuse_odd(span_m, end_deg)
    if not (math.isfinite(height_m) and height_m > span_m * 1e-4):
        raise ValueError("A hoop must stand higher than its feet.")
    half = _find(end_deg, lambda half: half.rise * span_m < 2 * half.width * height_m)
    if half is None:
        raise ValueError("So low a hoop would kink where its feet hold the pipe upwards.")
    unit_m = span_m / 2 / half.width
    return _hoop(half, 2 * half.arc * unit_m, span_m, unit_m, end_deg)


def strain(hoop: Hoop, outside_diameter_m: float) -> float:
    """Bending strain at the outside of the pipe where it is bent most (share): half the diameter over the radius."""
    return outside_diameter_m / 2 * hoop.curvature_max_per_m


def push_N(hoop: Hoop, EI_N_m2: float) -> float:
    """Level push of the hoop on each foot, outwards positive [N], for a pipe of stiffness E·I [N m2]."""
    return hoop.push_over_EI_per_m2 * EI_N_m2


def end_moment_N_m(hoop: Hoop, EI_N_m2: float) -> float:
    """Moment that each foot holds [N m], positive where it bends the pipe as at the crown; 0 in free feet."""
    return hoop.end_moment_over_EI_per_m * EI_N_m2


def _refuse_odd(span_m: float, end_deg: float | None) -> None:
    if not (math.isfinite(span_m) and span_m > 0):
        raise ValueError("The distance between a hoop's feet must be more than nothing.")
    if end_deg is not None and not 0 <= end_deg <= MOST_END_DEG:
        raise ValueError(f"A hoop's feet can point from level (0°) to {MOST_END_DEG:.0f}°, a little past upright.")


@dataclass(frozen=True, slots=True)
class _Half:
    """Half a hoop, sized so that its crown curvature is 2: `bend` is the foot's curvature over the crown's."""

    n: float
    end_sine: float
    bend: float
    arc: float
    shrink: float
    width: float
    rise: float


def _half(n: float, end_sine: float, bend: float) -> _Half:
    """Half a hoop; `end_sine` is the sine of half the slope at the foot."""
    cosine = math.sqrt((1 - end_sine) * (1 + end_sine))
    f, d = integrals(end_sine, cosine, abs(bend))
    rise = 2 * end_sine * end_sine / (1 + bend) if bend >= 0 else 2 * (1 - bend) / n
    if bend < 0:
        f_steepest, d_steepest = _to_steepest(n)
        f, d = 2 * f_steepest - f, 2 * d_steepest - d
    return _Half(n, end_sine, bend, f, 2 * d, f - 2 * d, rise)


def _to_steepest(n: float) -> tuple[float, float]:
    """F and D from the crown to where a swinging slope is steepest."""
    k = 1 / math.sqrt(n)
    return integrals(k, math.sqrt((1 - k) * (1 + k)), 0.0)


def _find(end_deg: float | None, further: Callable[[_Half], bool]) -> _Half | None:
    """The shape at which `further` (it must be sprung more than this) turns false; None where even a kink is too far.

    The family's three stretches: free feet, by the sine of half the end slope; clamped feet up to the shape without
    end moment, by the logarithm of end over crown curvature; and beyond it, by the sine of half the steepest slope.
    """
    if end_deg is None:
        return _bisect(lambda k: _half(1 / (k * k), k, 0.0), 0.0, 1.0, further)
    sine = math.sin(math.radians(end_deg) / 2)
    if sine > LEVEL and not further(_half(1 / (sine * sine), sine, 0.0)):

        def stiff(minus_log: float) -> _Half:
            bend = math.exp(-minus_log)
            return _half((1 - bend) * (1 + bend) / (sine * sine), sine, bend)

        return _bisect(stiff, -TAUT, 40.0, further) if further(stiff(-TAUT)) else None

    def bulging(k: float) -> _Half:
        return _half(1 / (k * k), sine, -math.sqrt(max((k - sine) * (k + sine), 0.0)) / k)

    return _bisect(bulging, sine, 1.0, further)


def _bisect(shape: Callable[[float], _Half], low: float, high: float, further: Callable[[_Half], bool]) -> _Half:
    """Halve the bracket down to the last digits; its two ends themselves are not tried."""
    while True:
        middle = (low + high) / 2
        half = shape(middle)
        if not low < middle < high or high - low < 1e-16:
            return half
        if further(half):
            low = middle
        else:
            high = middle


def _hoop(half: _Half, length_m: float, span_m: float, unit_m: float, end_deg: float | None) -> Hoop:
    """Bring the unit shape to size: its unit of length, `unit_m`, is twice the radius at the crown."""
    widest, neck = half.width, half.width
    steepest = 1 / math.sqrt(half.n) if half.bend < 0 else half.end_sine
    upright = math.sqrt(0.5)
    if steepest > upright:
        f, d = integrals(upright, upright, math.sqrt(max(1 - half.n / 2, 0.0)))
        widest = max(widest, f - 2 * d)
        if half.bend < 0 and half.end_sine < upright:
            f_steepest, d_steepest = _to_steepest(half.n)
            neck = 2 * (f_steepest - 2 * d_steepest) - (f - 2 * d)
    return Hoop(
        length_m=length_m,
        span_m=span_m,
        height_m=half.rise * unit_m,
        end_deg=math.degrees(2 * math.asin(half.end_sine)) if end_deg is None else float(end_deg),
        pinned=end_deg is None,
        push_over_EI_per_m2=half.n / unit_m**2,
        end_moment_over_EI_per_m=2 * half.bend / unit_m,
        crown_curvature_per_m=2 / unit_m,
        widest_half_m=widest * unit_m,
        neck_half_m=neck * unit_m,
    )
