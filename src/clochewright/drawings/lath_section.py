"""A bottom rail cut through, full size: how its lath sits, with film, screw, fitting and rim."""

from __future__ import annotations

import math
from itertools import pairwise

from clochewright.drawings.dimensions import chain, level_below, upright_right
from clochewright.drawings.lettering import CAP_HEIGHT
from clochewright.drawings.marks import Area, Circle, Drawing, Line, Mark, Point, Text
from clochewright.drawings.sheet import fold, on_sheet
from clochewright.findings import word
from clochewright.job import Job
from clochewright.measures import show_drill, show_length

_TEXT_MM, _ROW_MM = 3.5, 4.6
_BOARD_MM, _FILM_MM = 34.0, 30.0  # of the board below its rim and of the film above the lath
_LEFT_MM, _RIGHT_MM, _WIDE_MM = -45.0, 46.0, 40.0  # where labels end and begin, and how wide they may be
_FLAT_M = 0.05  # the section's first edge longer than this is the film's slope beside the rail
_HEAD_MM = (2.2, 8.0)
_WALL_SHARE = 0.07  # of a pipe that does not tell its wall


def draw_lath(job: Job, width_mm: float) -> Drawing | None:
    """The section, outside on the right; None where there is no rail or the lath is not known.

    Args:
        job: The finished job.
        width_mm: Width of the sheet of paper [mm].
    """
    if job.made is None or job.made.film.seat is None or job.made.film.lath_roll is None:
        return None
    film, seat, roll, units = job.made.film, job.made.film.seat, job.made.film.lath_roll, job.plan.units
    radius, up = job.frame.pipe_outside_diameter_m * 500, seat.rail_up_m * 1000
    low, wide, thick, core = seat.edge_up_m * 1000, roll.width_m * 1000, roll.thickness_m * 1000, roll.lath_m * 1000
    face = radius + thick - seat.proud_m * 1000  # of the board, from the rail's middle
    wall = job.pipe.wall.value * 1000 if job.pipe.wall else 2 * radius * _WALL_SHARE
    hub = max(f.hub_diameter_m for f in job.frame.fittings if abs(f.position_m[2] - seat.rail_up_m) < 1e-6) * 500
    board = _box(face - job.plan.bed.board_m * 1000, -_BOARD_MM, face, 0.0)
    drawn: list[Mark] = [Area("bed", board), Line("bed", (board[0], board[3], board[2], board[1]))]
    drawn += [Circle("fitting-hidden", (0.0, up), hub), Circle("pipe", (0.0, up), radius)]
    drawn.append(Circle("pipe", (0.0, up), radius - wall))
    side = (thick - core) / 2
    outer, inner = _box(radius, low - side, radius + thick, low + wide + side), (radius + side, low)
    lath = _box(inner[0], inner[1], inner[0] + core, low + wide)
    drawn += [Area("band", outer), Line("curve", outer, closed=True), Area("bar", lath), Line("bar", lath, closed=True)]
    slope = _slope(film.section_m)
    top = outer[2]
    end = (top[0] - _FILM_MM * math.cos(slope), top[1] + _FILM_MM * math.sin(slope))
    drawn.append(Line("curve", (top, end)))
    if film.screw is not None:
        drawn += _screw((radius + thick, up), film.screw.length_m * 1000, film.screw.pilot_m * 1000)
    marks = [(face, 0.0), (radius + thick, low), (radius + thick, up)]
    texts = [show_drill(seat.edge_up_m, units), show_length(seat.screw_up_m, units)]
    drawn += chain(upright_right(face + thick + 12.0), marks, texts)[0]
    board_text = show_length(job.plan.bed.board_m, units)
    drawn += chain(level_below(-_BOARD_MM - 4.0), [board[0], board[1]], [board_text])[0]
    rolled = word("drawings.lath.rolled", thickness=show_length(roll.thickness_m, units))
    drill = show_drill(film.screw.pilot_m, units) if film.screw else ""
    drawn += _labels(_RIGHT_MM, [
        (word("drawings.lath.film"), ((top[0] + end[0]) / 2, (top[1] + end[1]) / 2)),
        (rolled, (radius + thick, low + 0.85 * wide)),
        *([(word("drawings.lath.screw", drill=drill), (radius + thick + _HEAD_MM[0], up))] if film.screw else []),
    ], end[1])  # fmt: skip
    drawn += _labels(_LEFT_MM, [
        (word("drawings.lath.rail"), (-radius * 0.7, up + radius * 0.7)),
        (word("drawings.lath.hub"), (-hub * 0.8, up - hub * 0.6)),
        (word("drawings.lath.rim"), (board[0][0], -6.0)),
    ], up + radius + 6.0)  # fmt: skip
    alt = word("drawings.lath.alt", up=texts[0], screw_up=texts[1])
    title, note = word("drawings.lath.title"), word("drawings.lath.note")
    return on_sheet(drawn, title, note, width_mm, 1.0, units, alt, left_mm=-width_mm / 2, bar=False)


def _box(left: float, low: float, right: float, high: float) -> tuple[Point, Point, Point, Point]:
    return (left, low), (right, low), (right, high), (left, high)


def _slope(section_m: tuple[Point, ...]) -> float:
    """How film goes on above the left rail, from level inwards [rad]."""
    for (y0, z0), (y1, z1) in pairwise(section_m[1:]):
        if math.dist((y0, z0), (y1, z1)) > _FLAT_M:
            return math.atan2(z1 - z0, y0 - y1)
    return math.pi / 2


def _screw(at: Point, length: float, pilot: float) -> list[Mark]:
    """A screw driven level from outside, its head against the roll at `at` [mm]."""
    x, y = at
    half, (head, tall) = pilot / 2, _HEAD_MM
    shank = ((x, y - half), (x, y + half), (x - length + 2.0, y + half), (x - length, y), (x - length + 2.0, y - half))
    return [Area("fitting-strong", shank), Area("fitting-strong", _box(x, y - tall / 2, x + head, y + tall / 2))]


def _labels(x: float, labels: list[tuple[str, Point]], top: float) -> list[Mark]:
    """Labels in a column that begins or ends at `x`, from `top` down, each with a leader to its point [mm]."""
    marks: list[Mark] = []
    y, right = top, x > 0
    for text, (to_x, to_y) in labels:
        lines = fold(text, _TEXT_MM, _WIDE_MM)
        y = min(y, to_y + 4.0)
        for k, row in enumerate(lines):
            marks.append(Text("note", (x, y - k * _ROW_MM), row, _TEXT_MM, "start" if right else "end"))
        beside = (x - 1.5 if right else x + 1.5, y + CAP_HEIGHT * _TEXT_MM / 2)
        marks += [Line("leader", (beside, (to_x, to_y))), Circle("leader", (to_x, to_y), 0.5)]
        y -= len(lines) * _ROW_MM + 3.0
    return marks
