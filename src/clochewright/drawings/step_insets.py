"""Small pictures beside a build step: one joint, larger; and where in the whole a part belongs."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace

import numpy as np

from clochewright.assembly import Move, ScrewPlace
from clochewright.drawings.apart import Apart, Gap, ids_of, take_apart
from clochewright.drawings.marks import Area, Line, Mark, Text
from clochewright.drawings.members import BedBox, Placing, bed_marks, fitting_solids, pipe_solids
from clochewright.drawings.projection import Array, View
from clochewright.drawings.sheet import Box, box_around, fold, moved
from clochewright.drawings.solids import draw_solids
from clochewright.drawings.step_marks import guide, screw_pins, with_depth_marks
from clochewright.frame import End, Frame, Pipe

_NEAR_M = 0.075  # how much of each pipe an enlarged joint shows beyond its socket
_APART_M = 0.03
_LINE_MM = 3.9
_TEXT_MM = 3.5
_PAD_MM = 1.6


def joint_inset(
    frame: Frame,
    apart: Apart,
    gap: Gap,
    moves_back: Array,
    screws: Sequence[ScrewPlace],
    said: str,
    view: View,
    size_mm: tuple[float, float],
) -> list[Mark]:
    """One joint of a step enlarged, drawn apart, in a frame of that size about (0, 0) [mm], its words below."""
    fitting = next(one for one in frame.fittings if one.id == gap.link.fitting)
    ours = {gap.link.pipe}
    near = [
        trimmed(pipe, k, fitting.port(end.port).socket_depth_m + _NEAR_M)
        for pipe in frame.pipes
        for k, end in enumerate(pipe.ends)
        if end.fitting == fitting.id and end.port is not None and (pipe.id in ours or pipe.id in _shown(apart))
    ]
    small = replace(frame, fittings=(fitting,), pipes=tuple(near))
    opened = _opened(small, gap, moves_back)
    lines = fold(said, _TEXT_MM, size_mm[0] - 2 * _PAD_MM)
    room_h = size_mm[1] - 2 * _PAD_MM - _LINE_MM * len(lines)
    marks = _fitted(opened, screws, view, (size_mm[0] - 2 * _PAD_MM, room_h))
    centre = (0.0, size_mm[1] / 2 - _PAD_MM - room_h / 2)
    return [*_frame(size_mm), *(_nameless(moved(mark, centre)) for mark in marks), *_words(lines, size_mm)]


def _nameless(mark: Mark) -> Mark:
    """The mark without its piece's id: that names the piece in the picture itself."""
    return replace(mark, part="")


def _shown(apart: Apart) -> set[str]:
    return {pipe.id for pipe in apart.frame.pipes}


def _opened(small: Frame, gap: Gap, moves_back: Array) -> Apart:
    x, y, z = (-moves_back).tolist()
    shown = ids_of(small)
    others = tuple(one for one in shown if one != gap.link.pipe)
    move = Move(0, "slide", (x, y, z), (gap.link.pipe,), others, (), False, "")
    return take_apart(small, [move], shown, (), _APART_M)


def trimmed(pipe: Pipe, end: int, length_m: float) -> Pipe:
    """The pipe cut off near one of its ends, as a straight piece."""
    path = np.array(pipe.path_m if end == 0 else pipe.path_m[::-1])
    along = (path[1] - path[0]) / np.linalg.norm(path[1] - path[0])
    length_m = min(length_m, pipe.cut_length_m)
    x, y, z = (path[0] + along * length_m).tolist()
    first, cut = path[0].tolist(), (x, y, z)
    return replace(pipe, path_m=((first[0], first[1], first[2]), cut), ends=(pipe.ends[end], End(None, None, 0.0, cut)))


def _fitted(apart: Apart, screws: Sequence[ScrewPlace], view: View, room_mm: tuple[float, float]) -> list[Mark]:
    """The pieces as large as the room takes, about (0, 0)."""
    whole = box_around(_joint_marks(apart, screws, Placing(view, 4.0)))
    scale = 4.0 * max(whole.width_mm / room_mm[0], whole.height_mm / room_mm[1], 0.4)
    drawn = _joint_marks(apart, screws, Placing(view, scale))
    box = box_around(drawn)
    middle = (-(box.left_mm + box.right_mm) / 2, -(box.bottom_mm + box.top_mm) / 2)
    return [moved(mark, middle) for mark in drawn]


def _joint_marks(apart: Apart, screws: Sequence[ScrewPlace], placing: Placing) -> list[Mark]:
    open_pipes = {gap.link.pipe for gap in apart.gaps}
    solids = [
        solid
        for pipe in apart.frame.pipes
        for solid in pipe_solids(
            pipe, "pipe-new" if pipe.id in open_pipes else "pipe", apart.frame.pipe_outside_diameter_m, placing
        )
    ]
    solids += [solid for fitting in apart.frame.fittings for solid in fitting_solids(fitting, "fitting", placing)]
    marks = draw_solids(with_depth_marks(solids, apart, placing))
    for gap in apart.gaps:
        marks += guide(gap, apart, placing)
    return [*marks, *screw_pins(screws, placing)]


def place_inset(
    frame: Frame, strong: Collection[str], bed: BedBox | None, said: str, view: View, size_mm: tuple[float, float]
) -> list[Mark]:
    """The whole frame, small and pale, one part of it strong, in a frame of that size about (0, 0) [mm]."""
    lines = fold(said, _TEXT_MM, size_mm[0] - 2 * _PAD_MM)
    room = size_mm[0] - 2 * _PAD_MM, size_mm[1] - 2 * _PAD_MM - _LINE_MM * len(lines)

    def drawn(placing: Placing) -> list[Mark]:
        solids = []
        for pipe in frame.pipes:
            pen = "pipe-new-fine" if pipe.id in strong else "pipe-there"
            solids += list(pipe_solids(pipe, pen, frame.pipe_outside_diameter_m, placing))
        for fitting in frame.fittings:
            pen = "fitting-strong" if fitting.id in strong else "fitting-there"
            solids += list(fitting_solids(fitting, pen, placing))
        return [*(bed_marks(bed, placing) if bed else []), *draw_solids(solids)]

    full = Placing(view, 1.0)
    points = full.place(np.array([point for pipe in frame.pipes for point in pipe.path_m]))
    hub_mm = 1000 * max((fitting.hub_diameter_m for fitting in frame.fittings), default=0.0)
    low, high = points.min(axis=0) - hub_mm, points.max(axis=0) + hub_mm
    corners = (float(low[0]), float(low[1])), (float(high[0]), float(high[1]))
    whole = box_around([Line("inset", corners), *(bed_marks(bed, full) if bed else [])])
    marks = drawn(Placing(view, max(whole.width_mm / room[0], whole.height_mm / room[1])))
    box = box_around(marks)
    centre = (
        -(box.left_mm + box.right_mm) / 2,
        size_mm[1] / 2 - _PAD_MM - room[1] / 2 - (box.bottom_mm + box.top_mm) / 2,
    )
    return [*_frame(size_mm), *(_nameless(moved(mark, centre)) for mark in marks), *_words(lines, size_mm)]


def _frame(size_mm: tuple[float, float]) -> list[Mark]:
    x, y = size_mm[0] / 2, size_mm[1] / 2
    corners = ((-x, -y), (x, -y), (x, y), (-x, y))
    return [Area("inset", corners), Line("inset", corners, closed=True)]


def _words(lines: Sequence[str], size_mm: tuple[float, float]) -> list[Mark]:
    bottom = -size_mm[1] / 2 + _PAD_MM + 0.4
    return [
        Text("title", (0.0, bottom + _LINE_MM * (len(lines) - 1 - k)), line, _TEXT_MM, "middle")
        for k, line in enumerate(lines)
    ]


def box_at(centre: tuple[float, float], size_mm: tuple[float, float]) -> Box:
    """The box of an inset about a point [mm]."""
    x, y = centre
    return Box(x - size_mm[0] / 2, y - size_mm[1] / 2, x + size_mm[0] / 2, y + size_mm[1] / 2)
