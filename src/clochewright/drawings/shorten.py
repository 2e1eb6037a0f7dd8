"""A part drawn with its long pipes cut short, as in any sketch: so its fittings and stubs are large enough to read."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace

import numpy as np

from clochewright.drawings.marks import Area, Line, Mark, Point
from clochewright.drawings.members import Placing
from clochewright.drawings.projection import Array
from clochewright.frame import Frame, Pipe, Vec

_LENGTHS = 4.5  # of the pipe's diameter: as much of a long pipe is left
_BREAK_AT = 0.42  # of the way along it, beside where a balloon's leader starts
_SLANT, _GAP_MM = 0.35, 0.9


@dataclass(frozen=True, slots=True)
class Short:
    """The frame with some pipes cut short, and their ids; none where the part closes on itself."""

    frame: Frame
    pipes: frozenset[str]


def cut_short(frame: Frame, ids: Collection[str]) -> Short:
    """The frame with the straight pipes of a part cut short and its fittings drawn in; angles stay as they are."""
    most_m = _LENGTHS * frame.pipe_outside_diameter_m
    pipes = [pipe for pipe in frame.pipes if pipe.id in ids]
    by_m = {
        pipe.id: max(pipe.cut_length_m - most_m, 0.0) if pipe.shape == "straight" else 0.0
        for pipe in pipes
    }  # fmt: skip
    shifts = _shifts(pipes, by_m, [fitting.id for fitting in frame.fittings if fitting.id in ids])
    if shifts is None:
        return Short(frame, frozenset())
    fittings = tuple(
        replace(one, position_m=_moved(one.position_m, shifts[one.id])) if one.id in shifts else one
        for one in frame.fittings
    )
    drawn = tuple(_short(pipe, by_m[pipe.id], shifts) if pipe.id in by_m else pipe for pipe in frame.pipes)
    return Short(replace(frame, fittings=fittings, pipes=drawn), frozenset(one for one, less in by_m.items() if less))


def _shifts(pipes: list[Pipe], by_m: Mapping[str, float], fittings: list[str]) -> dict[str, Array] | None:
    """How far each fitting is drawn in [m]; None where pipes and fittings close a ring."""
    meets: dict[str, list[tuple[str, Array]]] = {one: [] for one in fittings}
    for pipe in pipes:
        first, last = (end.fitting for end in pipe.ends)
        if first in meets and last in meets:
            way = _way(pipe) * by_m[pipe.id]
            meets[first].append((last, -way))
            meets[last].append((first, way))
    shifts: dict[str, Array] = {}
    for root in meets:
        if root in shifts:
            continue
        shifts[root], waiting = np.zeros(3), [(root, "")]
        while waiting:
            here, came = waiting.pop()
            back = False
            for there, way in meets[here]:
                if there == came and not back:
                    back = True
                elif there in shifts:
                    return None
                else:
                    shifts[there] = shifts[here] + way
                    waiting.append((there, here))
    return shifts


def _way(pipe: Pipe) -> Array:
    whole = np.array(pipe.path_m[-1]) - np.array(pipe.path_m[0])
    unit: Array = whole / max(float(np.linalg.norm(whole)), 1e-12)
    return unit


def _short(pipe: Pipe, less_m: float, shifts: Mapping[str, Array]) -> Pipe:
    """The pipe with its ends where their fittings are drawn, a free end drawn in by all that is cut off."""
    first, last = pipe.ends
    way = _way(pipe) * less_m
    start, finish = shifts.get(first.fitting or ""), shifts.get(last.fitting or "")
    if start is None:
        start = finish + way if finish is not None else np.zeros(3)
    if finish is None:
        finish = start - way
    ends = replace(first, point_m=_moved(first.point_m, start)), replace(last, point_m=_moved(last.point_m, finish))
    if less_m == 0.0:
        return replace(pipe, ends=ends, path_m=tuple(_moved(point, start) for point in pipe.path_m))
    return replace(pipe, ends=ends, path_m=(_moved(pipe.path_m[0], start), _moved(pipe.path_m[-1], finish)))


def _moved(at_m: Vec, by_m: Array) -> Vec:
    x, y, z = (np.array(at_m) + by_m).tolist()
    return x, y, z


def break_marks(frame: Frame, short: Collection[str], placing: Placing, ground: str) -> list[Mark]:
    """Two slanting strokes across each pipe that was cut short, and the ground between them."""
    marks: list[Mark] = []
    radius = frame.pipe_outside_diameter_m / 2 * placing.mm_per_m
    for pipe in frame.pipes:
        if pipe.id not in short:
            continue
        start, finish = np.array(placing.point(pipe.path_m[0])), np.array(placing.point(pipe.path_m[-1]))
        long_mm = float(np.linalg.norm(finish - start))
        if long_mm < 6 * radius:
            continue
        along = (finish - start) / long_mm
        across = np.array([-along[1], along[0]]) * (radius + 0.6)
        middle, lean = start + (finish - start) * _BREAK_AT, along * _SLANT * (radius + 0.6)
        before, after = (
            (_pair(edge - across - lean), _pair(edge + across + lean))
            for edge in (middle - along * _GAP_MM, middle + along * _GAP_MM)
        )
        marks += [Area(ground, (*before, after[1], after[0])), Line("dimension", before), Line("dimension", after)]
    return marks


def _pair(at_mm: Array) -> Point:
    x, y = at_mm.tolist()
    return x, y
