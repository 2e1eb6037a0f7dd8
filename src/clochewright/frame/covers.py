"""A long cover is two or three that stand end to end: each taken by itself."""

from __future__ import annotations

from dataclasses import replace

from clochewright.frame.parts import End, Fitting, Frame, Pipe
from clochewright.frame.size import measure_frame


def covers(frame: Frame) -> tuple[tuple[Frame, float], ...]:
    """Each cover as a frame of its own with its middle at x = 0, and where that middle stands [m].

    Panels are left out: they lie on a cover that is whole without them.
    """
    names = tuple(dict.fromkeys(pipe.body for pipe in frame.pipes if not is_panel(pipe.body)))
    if len(names) <= 1 and not any(is_panel(pipe.body) for pipe in frame.pipes):
        return ((frame, 0.0),)
    return tuple(_alone(frame, name, index, len(names)) for index, name in enumerate(names))


def is_panel(body: str) -> bool:
    """Whether a body of that name is a panel, which lies on a cover."""
    return body.startswith("panel")


def _alone(frame: Frame, name: str, index: int, count: int) -> tuple[Frame, float]:
    fittings = [fitting for fitting in frame.fittings if fitting.body == name]
    along_m = [fitting.position_m[0] for fitting in fittings]
    middle_m = (min(along_m) + max(along_m)) / 2
    moved = tuple(_moved_fitting(fitting, -middle_m) for fitting in fittings)
    pipes = tuple(_moved_pipe(pipe, -middle_m) for pipe in frame.pipes if pipe.body == name)
    bents = len(frame.stations_m) // count
    mine = slice(index * bents, (index + 1) * bents)
    return replace(
        frame,
        fittings=moved,
        pipes=pipes,
        length_m=measure_frame(moved)[0],
        stations_m=tuple(x - middle_m for x in frame.stations_m[mine]),
        bent_spans_m=tuple((a - middle_m, b - middle_m) for a, b in frame.bent_spans_m[mine]),
    ), middle_m


def _moved_fitting(fitting: Fitting, by_m: float) -> Fitting:
    x, y, z = fitting.position_m
    return replace(fitting, position_m=(x + by_m, y, z))


def _moved_pipe(pipe: Pipe, by_m: float) -> Pipe:
    first, last = (
        End(end.fitting, end.port, end.seat_depth_m, (end.point_m[0] + by_m, end.point_m[1], end.point_m[2]))
        for end in pipe.ends
    )
    return replace(pipe, ends=(first, last), path_m=tuple((x + by_m, y, z) for x, y, z in pipe.path_m))
