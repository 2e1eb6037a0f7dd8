"""Bare pipe: the stretches of a rail between the mouths of its fittings, where a hinge or a latch can sit."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from clochewright.frame import End, Frame, Pipe


@dataclass(frozen=True, slots=True)
class Stretch:
    """One stretch of bare pipe, from `start_m` to `stop_m` along the rail's axis [m]."""

    pipe: str
    start_m: float
    stop_m: float


@dataclass(frozen=True, slots=True)
class Spot:
    """A place found on bare pipe: which pipe, and where along the rail's axis [m]."""

    pipe: str
    along_m: float


def bare_stretches(frame: Frame, pipes: Iterable[Pipe], axis: int) -> tuple[Stretch, ...]:
    """What of these pipes shows between fittings, along axis 0 (x) or 1 (y), in order."""
    found = []
    for pipe in pipes:
        start, stop = sorted(_shows_from(frame, end, axis) for end in pipe.ends)
        if stop > start:
            found.append(Stretch(pipe.id, start, stop))
    return tuple(sorted(found, key=lambda stretch: stretch.start_m))


def _shows_from(frame: Frame, end: End, axis: int) -> float:
    if end.fitting is None or end.port is None:
        return end.point_m[axis]
    fitting = frame.fitting(end.fitting)
    port = fitting.port(end.port)
    return fitting.position_m[axis] + port.direction[axis] * port.centre_to_face_m


def nearest_spot(
    stretches: Sequence[Stretch], wanted_m: float, width_m: float, taken_m: Sequence[float] = ()
) -> Spot | None:
    """The place nearest to `wanted_m` where something `width_m` wide fits on bare pipe, clear of what is there already.

    Args:
        stretches: bare pipe along one rail.
        wanted_m: where its middle is wanted [m].
        width_m: its width along the rail [m].
        taken_m: middles of others of the same width [m].

    Returns:
        The spot, or None when it fits nowhere.
    """
    best: Spot | None = None
    for stretch in stretches:
        low, high = stretch.start_m + width_m / 2, stretch.stop_m - width_m / 2
        if high < low:
            continue
        # The nearest free place is the wanted one itself, an end of the stretch, or right beside another.
        beside = [middle + step for middle in taken_m for step in (-width_m, width_m)]
        for place in (wanted_m, low, high, *beside):
            held = min(max(place, low), high)
            free = all(abs(held - middle) >= width_m - 1e-9 for middle in taken_m)
            if free and (best is None or abs(held - wanted_m) < abs(best.along_m - wanted_m)):
                best = Spot(stretch.pipe, held)
    return best
