"""Pictures of the steps before anything stands: the pipes to cut, side by side, and a joint with its marks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from clochewright.assembly import Count, Move, Step
from clochewright.cuts import CutList, off_sticks
from clochewright.drawings.apart import ids_of, links_of, take_apart
from clochewright.drawings.balloons import RADIUS_MM, letter_mm
from clochewright.drawings.lettering import CAP_HEIGHT, text_width_mm
from clochewright.drawings.marks import Area, Circle, Drawing, Line, Mark, Text
from clochewright.drawings.members import Placing, fitting_solids, pipe_solids
from clochewright.drawings.projection import THREE_QUARTER
from clochewright.drawings.sheet import MARGIN_MM, box_around, fold, moved
from clochewright.drawings.solids import draw_solids
from clochewright.drawings.step_insets import trimmed
from clochewright.drawings.step_marks import guide, with_depth_marks
from clochewright.findings import word
from clochewright.frame import Frame, Port
from clochewright.joints import JointPlan
from clochewright.measures import Units, show_length

_ROW_MM = 9.0
_BAR_MM = 3.4
_TEXT_MM = 4.2
_MARK_HIGH_MM = 52.0
_WORDS_MM = 12.0  # kept for the words below each of the two
_LINE_MM = 4.8
_BESIDE_M = 0.11  # how much of the pipe shows beside its socket
_APART_M = 0.05


def cut_picture(
    step: Step, steps: Sequence[Step], cutlist: CutList, title: str, units: Units, width_mm: float
) -> Drawing | None:
    """A bar for each length to be cut, true to each other, with its mark, its count and its length.

    None where the step cuts nothing that the cut list knows; `steps` are all of the build: who comes first to a stick.
    """
    lengths = {cut.mark: cut.length_m for cut in cutlist.cuts}
    rows = [count for count in step.pieces if count.sort == "pipe" and count.what in lengths]
    if not rows:
        return None
    cut_in = [one for one in steps if one.kind == "cut" and one.number <= step.number]
    off = off_sticks(cutlist, [{row.what: row.count for row in one.pieces if row.sort == "pipe"} for one in cut_in])[-1]
    said = {row.what: _said(row, lengths[row.what], off.get(row.what, ()), units) for row in rows}
    left = MARGIN_MM + 2 * RADIUS_MM + 2.5
    room = width_mm - left - MARGIN_MM - max(text_width_mm(text, _TEXT_MM, "bold") for text in said.values()) - 3.0
    scale = max(lengths[row.what] for row in rows) / room
    height = _ROW_MM * len(rows) + 2.0
    marks: list[Mark] = []
    for k, row in enumerate(rows):
        y = height - 1.0 - _ROW_MM * (k + 0.5)
        marks += [*_balloon(row.what, MARGIN_MM + RADIUS_MM, y)]
        long = max(lengths[row.what] / scale, 1.5)
        corners = (
            (left, y - _BAR_MM / 2), (left + long, y - _BAR_MM / 2),
            (left + long, y + _BAR_MM / 2), (left, y + _BAR_MM / 2),
        )  # fmt: skip
        marks += [Area("piece", corners), Line("piece", corners, closed=True)]
        at = left + long + 3.0, y - CAP_HEIGHT * _TEXT_MM / 2
        marks.append(Text("title", at, said[row.what], _TEXT_MM, face="bold"))
    alt = " ".join([title + ":", *(f"{row.what}, {said[row.what]};" for row in rows)])
    return Drawing(title, width_mm, height, scale * 1000, units, tuple(marks), alt)


def _said(count: Count, length_m: float, sticks: Sequence[int], units: Units) -> str:
    """How many, how long, and off which sticks of the cutting diagrams."""
    said = word("drawings.build.pieces", count=count.count, what=show_length(length_m, units))
    if not sticks:
        return said
    name = "drawings.build.stick" if len(sticks) == 1 else "drawings.build.sticks"
    return word(name, said=said, numbers=", ".join(map(str, sticks)))


def _balloon(mark: str, x: float, y: float) -> list[Mark]:
    size = letter_mm(mark)
    return [
        Circle("mark", (x, y), RADIUS_MM),
        Text("mark", (x, y - CAP_HEIGHT * size / 2), mark, size, "middle", face="bold"),
    ]


def mark_picture(frame: Frame, joints: JointPlan, title: str, units: Units, width_mm: float) -> Drawing | None:
    """One joint twice: apart, with the ring that shows how deep, and together, with the line that shows how turned.

    The joint is a cemented one of a rafter or the like, where there is any. None where there is no joint.
    """
    cemented = {(joint.pipe, joint.fitting) for joint in joints.joints if joint.treatment == "cemented"}
    longest = {pipe.id: pipe.cut_length_m for pipe in frame.pipes if pipe.shape == "straight"}
    links = [link for link in links_of(frame) if link.pipe in longest]
    if not links:
        return None
    link = max(links, key=lambda one: ((one.pipe, one.fitting) in cemented, longest[one.pipe], one.fitting))
    fitting = frame.fitting(link.fitting)
    pipe = next(one for one in frame.pipes if one.id == link.pipe)
    port, end = fitting.port(link.port), pipe.ends[link.end]
    short = trimmed(pipe, link.end, port.socket_depth_m + _BESIDE_M)
    small = replace(frame, fittings=(fitting,), pipes=(short,))
    wet = (pipe.id, fitting.id) in cemented
    depth = show_length(end.seat_depth_m, units)
    words = (
        word("drawings.build.mark-depth", depth=depth),
        word("drawings.build.mark-across" if wet else "drawings.build.mark-home"),
    )

    def halves(scale: float) -> tuple[list[Mark], list[Mark]]:
        placing = Placing(THREE_QUARTER, scale)
        return _joint(small, port, placing, apart=True), _joint(small, port, placing, apart=False, across=wet)

    boxes = [box_around(half) for half in halves(1.0)]
    room_mm = width_mm / 2 - 2 * MARGIN_MM, _MARK_HIGH_MM - _WORDS_MM - 2.0
    scale = max(max(box.width_mm / room_mm[0], box.height_mm / room_mm[1]) for box in boxes)
    marks: list[Mark] = []
    for k, (half, said) in enumerate(zip(halves(scale), words, strict=True)):
        box, centre = box_around(half), width_mm * (0.25 + 0.5 * k)
        up = _WORDS_MM + (room_mm[1] - box.height_mm) / 2 - box.bottom_mm
        marks += [moved(mark, (centre - (box.left_mm + box.right_mm) / 2, up)) for mark in half]
        lines = fold(said, _TEXT_MM, width_mm / 2 - 2 * MARGIN_MM)
        for n, line in enumerate(lines):
            at = centre, 2.0 + _LINE_MM * (1 - n)
            marks.append(Text("title", at, line, _TEXT_MM, "middle"))
    return Drawing(title, width_mm, _MARK_HIGH_MM, scale, units, tuple(marks), " ".join([title + ":", *words]))


def _joint(small: Frame, port: Port, placing: Placing, *, apart: bool, across: bool = False) -> list[Mark]:
    """A fitting and the end of one pipe, apart or home; `across` draws a line over both where they meet."""
    x, y, z = port.direction
    move = Move(0, "slide", (-x, -y, -z), (small.pipes[0].id,), (small.fittings[0].id,), (), False, "")
    drawn = take_apart(small, [move] if apart else [], ids_of(small), (), _APART_M)
    pipes = drawn.frame.pipes
    solids = [one for pipe in pipes for one in pipe_solids(pipe, "pipe-new", small.pipe_outside_diameter_m, placing)]
    solids += [one for fitting in drawn.frame.fittings for one in fitting_solids(fitting, "fitting", placing)]
    marks = draw_solids(with_depth_marks(solids, drawn, placing))
    for gap in drawn.gaps:
        marks += guide(gap, drawn, placing)
    return [*marks, *_line_across(small, port, placing)] if across else marks


def _line_across(small: Frame, port: Port, placing: Placing) -> list[Mark]:
    """A pencil line along pipe and hub on the side that faces the eye, where the socket's mouth is."""
    fitting, along = small.fittings[0], np.array(port.direction)
    mouth = np.array(fitting.position_m) + along * port.centre_to_face_m
    side = np.array(placing.view.toward)
    side = side - along * float(side @ along)
    side /= np.linalg.norm(side)
    marks: list[Mark] = []
    for radius_m, reach_m in ((fitting.hub_diameter_m / 2, -0.6), (small.pipe_outside_diameter_m / 2, 1.0)):
        start = mouth + side * radius_m
        end = start + along * reach_m * port.socket_depth_m
        (ax, ay, _), (bx, by, _) = placing.place(np.array([start, end])).tolist()
        marks.append(Line("move", ((ax, ay), (bx, by))))
    return marks
