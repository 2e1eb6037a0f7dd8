"""One picture for each step of the build: new pieces strong and apart, earlier ones pale, always seen from one side."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from clochewright.assembly import Move, Step
from clochewright.drawings.apart import Apart, Gap, ids_of
from clochewright.drawings.balloons import place_balloons
from clochewright.drawings.marks import Area, Drawing, Line, Mark, Text
from clochewright.drawings.members import Placing, bed_marks, fitting_solids, pipe_solids
from clochewright.drawings.piece_strip import piece_strip
from clochewright.drawings.plain_steps import cut_picture, mark_picture
from clochewright.drawings.projection import THREE_QUARTER
from clochewright.drawings.shapes import Solid
from clochewright.drawings.sheet import MARGIN_MM, Box, box_around, fold, moved
from clochewright.drawings.shorten import break_marks
from clochewright.drawings.solids import draw_solids
from clochewright.drawings.step_marks import (
    angle_marks,
    diagonal_marks,
    guide,
    screw_pins,
    spread_marks,
    tie_marks,
    turn_arc,
    twist_marks,
    with_depth_marks,
)
from clochewright.drawings.step_scene import BuildPictures, Scene, scene_of
from clochewright.drawings.step_tags import order_tags
from clochewright.drawings.step_words import INSET_MM, corner_pictures, labels, screws_of
from clochewright.findings import word
from clochewright.measures import Units, show_angle, show_force, show_length

_BALLOON_ROOM_MM = 9.0
_FINE_MM = 1.5  # pipes thinner than this on paper get finer lines
_BESIDE_SHARE = 0.3  # of the width: what stands beside a part that is made by itself
_ON_THE_BED = ("assemble", "square", "screw")
_HIGHER = {"test-fit": 0.8, "cement": 1.15, "screw": 1.5}  # than others: some have small things to tell apart
_HIGHEST = {"cement": 1.19, "screw": 2.1}  # and where there are more
_MANY, _MANY_PIECES = 30, 14  # than so many screws or pieces
_FEW_share, _FEW_PIECES = 0.58, 3  # and how high for so few
_FLOOR_MM, _FLOOR_LINE_MM = 3.6, 4.5


def draw_build_steps(build: BuildPictures, paper_mm: tuple[float, float] = (174.0, 92.0)) -> dict[str, Drawing]:
    """The pictures by name, "step-1" and so on; a step that shows nothing has none.

    Steps on the bed share one scale and place, so that the eye finds again what stood there before.

    Args:
        build: Frame, order and the rest.
        paper_mm: Width of each picture and its greatest height, the row of pieces left out [mm].
    """
    scenes = [scene for step in _with_what_stands(build.order.steps) if (scene := scene_of(build, step)) is not None]
    common = [scene for scene in scenes if not scene.alone]
    room = _common_room(build, common) if common else None
    drawn = {scene.step.number: _draw(build, scene, paper_mm, room) for scene in scenes}
    for step in build.order.steps:
        plain = _plain(build, step, paper_mm[0])
        if plain is not None:
            drawn[step.number] = plain
    return {f"step-{number}": drawn[number] for number in sorted(drawn)}


def _with_what_stands(steps: Sequence[Step]) -> list[Step]:
    """The steps, those that don't say what stands already given all that was put up before them."""
    stands: dict[str, None] = {}
    told = []
    for step in steps:
        there = step.there or tuple(one for one in stands if one not in step.new)
        told.append(replace(step, there=there) if step.kind in _ON_THE_BED else step)
        if step.kind in _ON_THE_BED:
            stands |= dict.fromkeys((*step.there, *step.new))
    return told


def _plain(build: BuildPictures, step: Step, width_mm: float) -> Drawing | None:
    """The picture of a step that cuts or marks."""
    title = word("drawings.build.title", number=step.number, title=step.title)
    if step.kind == "cut":
        return cut_picture(step, build.order.steps, build.cutlist, title, build.units, width_mm)
    if step.kind == "mark":
        return mark_picture(build.frame, build.joints, title, build.units, width_mm)
    return None


def _common_room(build: BuildPictures, scenes: Sequence[Scene]) -> Box:
    """The box that holds every picture on the bed, at full size [mm]."""
    placing = Placing(THREE_QUARTER, 1.0)
    box = box_around(bed_marks(build.bed, placing)) if build.bed else None
    for scene in scenes:
        box = _room(scene.apart, placing, box)
    assert box is not None
    return box


def _high_mm(step: Step, height_mm: float) -> float:
    """How high a step's picture may be [mm]."""
    many = len(step.screws) > _MANY or (step.kind == "cement" and len(step.new) > _MANY_PIECES)
    few = step.kind == "cement" and len(step.new) <= _FEW_PIECES
    return height_mm * (_FEW_share if few else (_HIGHEST if many else _HIGHER).get(step.kind, 1.0))


def _room(apart: Apart, placing: Placing, also: Box | None = None) -> Box:
    """The box around the pieces as drawn [mm]."""
    frame = apart.frame
    points = [point for pipe in frame.pipes for point in pipe.path_m] + [one.position_m for one in frame.fittings]
    r = max((one.hub_diameter_m for one in frame.fittings), default=frame.pipe_outside_diameter_m) * placing.mm_per_m
    paper = placing.place(np.array(points))
    low, high = paper.min(axis=0) - r, paper.max(axis=0) + r
    corners = (float(low[0]), float(low[1])), (float(high[0]), float(high[1]))
    return box_around([Line("inset", corners)], also)


def _draw(build: BuildPictures, scene: Scene, paper_mm: tuple[float, float], common: Box | None) -> Drawing:
    step, view, width = scene.step, scene.view, paper_mm[0]
    height = _high_mm(step, paper_mm[1])
    beside_mm = max(_BESIDE_SHARE * width, INSET_MM[0]) if scene.alone else 0.0
    room = common if not scene.alone and common is not None else _room(scene.apart, Placing(view, 1.0))
    spare = 2 * _BALLOON_ROOM_MM
    scale = max(room.width_mm / (width - beside_mm - spare), room.height_mm / (height - spare / 2), 2.0)
    middle_x = (room.left_mm + room.right_mm) / 2 / scale
    placing = Placing(view, scale, ((width - beside_mm) / 2 - middle_x, -room.bottom_mm / scale))
    words = fold(scene.floor, _FLOOR_MM, width - beside_mm - 2 * MARGIN_MM - 4.0) if scene.flat else []
    low = -_BALLOON_ROOM_MM - _FLOOR_LINE_MM * max(len(words) - 1, 0)
    sheet = Box(MARGIN_MM, low, width - beside_mm - MARGIN_MM, room.height_mm / scale + _BALLOON_ROOM_MM)

    solids = list(_solids(scene.apart, step, placing))
    drawn: list[Mark] = [] if scene.alone else (bed_marks(build.bed, placing) if build.bed else [])
    if scene.flat:
        drawn += _floor(sheet, words)
    drawn += draw_solids(with_depth_marks(solids, scene.apart, placing))
    drawn += break_marks(scene.apart.frame, scene.short, placing, "floor" if scene.flat else "inset")
    actions = list(_actions(build, scene, placing, sheet))
    insets, boxes = corner_pictures(build, scene, placing, sheet, width, beside_mm, solids)
    balloons = place_balloons(list(labels(build, scene, placing)), solids, actions, sheet, boxes)
    tags = order_tags(_tags(scene), [*actions, *balloons], solids, placing) if step.kind == "cement" else []
    whole = [*drawn, *actions, *insets, *tags, *balloons]
    box = box_around(whole, Box(0.0, 0.0, width, room.height_mm / scale))
    strip, strip_mm = piece_strip(
        step.pieces, build.frame, build.cutlist, build.order.stored, THREE_QUARTER, build.units, width,
        each=step.kind == "cement" and len(step.parts) > 1,
    )  # fmt: skip
    top = box.top_mm - box.bottom_mm + strip_mm
    marks = [moved(mark, (0.0, -box.bottom_mm)) for mark in whole] + [moved(mark, (0.0, top)) for mark in strip]
    title = word("drawings.build.title", number=step.number, title=step.title)
    return Drawing(title, width, top, scale, build.units, tuple(marks), _in_words(step))


def _solids(apart: Apart, step: Step, placing: Placing) -> Iterator[Solid]:
    fine = "-fine" if apart.frame.pipe_outside_diameter_m * placing.mm_per_m < _FINE_MM else ""
    strong = set(step.new) if step.new and step.kind != "test-fit" else set(ids_of(apart.frame))
    for pipe in apart.frame.pipes:
        pen = f"pipe-new{fine}" if pipe.id in strong else "pipe-there"
        yield from pipe_solids(pipe, pen, apart.frame.pipe_outside_diameter_m, placing)
    for fitting in apart.frame.fittings:
        pen = f"fitting-new{fine}" if fitting.id in strong else "fitting-there"
        yield from fitting_solids(fitting, pen, placing)


def _floor(sheet: Box, lines: Sequence[str]) -> list[Mark]:
    corners = (
        (sheet.left_mm, sheet.bottom_mm + 1),
        (sheet.right_mm, sheet.bottom_mm + 1),
        (sheet.right_mm, sheet.top_mm - 1),
        (sheet.left_mm, sheet.top_mm - 1),
    )
    at = sheet.left_mm + 2.0, sheet.bottom_mm + 3.0
    marks: list[Mark] = [Area("floor", corners), Line("floor", corners, closed=True)]
    for k, line in enumerate(reversed(lines)):
        marks.append(Text("note", (at[0], at[1] + _FLOOR_LINE_MM * k), line, _FLOOR_MM))
    return marks


def _actions(build: BuildPictures, scene: Scene, placing: Placing, sheet: Box) -> Iterator[Mark]:
    """Guide lines, arcs, ties, angles, diagonals and screws of a step."""
    step, apart = scene.step, scene.apart
    for gap in apart.gaps:
        yield from guide(gap, apart, placing)
    told: set[str] = set()
    for move in scene.moves:
        if move.kind == "turn":
            turned = turn_arc(scene.frame, move, apart.poses, placing)
            yield from turned or twist_marks(apart.frame, move, placing)
        elif move.kind == "tie":
            yield from tie_marks(scene.frame, move, apart.poses, placing)
        elif move.kind == "spring-in" and move.spring is not None:
            sprung = [one for one in apart.gaps if {one.link.pipe, one.link.fitting} & set(move.moving)]
            bent = any(pipe.shape == "bent" for pipe in apart.frame.pipes if pipe.id in move.moving)
            said = _spring_words(move, build.units, bent=bent)
            if sprung and said not in told:
                told.add(said)
                edges = sheet.left_mm, sheet.right_mm
                yield from spread_marks(sprung[0], said, placing, edges, arrows=not bent)
    if scene.flat and step.jig is not None and step.jig.angle_deg is not None:
        yield from angle_marks(apart.frame, step.jig.angle_deg, show_angle(step.jig.angle_deg), placing)
    if step.diagonals is not None:
        low, high = (show_length(size_m, build.units) for size_m in (step.diagonals.low_m, step.diagonals.high_m))
        said = low if low == high else word("drawings.build.range", low=low, high=high)
        yield from diagonal_marks(apart.frame, said, placing)
    if step.kind == "screw":
        yield from screw_pins(screws_of(build, step), placing)


def _tags(scene: Scene) -> list[tuple[int, Gap]]:
    """The joints of a part with the number of the move that closes each, where that is more than one."""
    tags = []
    for number, move in enumerate((one for one in scene.moves if one.kind != "turn"), start=1):
        moving, onto = set(move.moving), set(move.onto)
        for gap in scene.apart.gaps:
            pipe, fitting = gap.link.pipe, gap.link.fitting
            if (pipe in moving and fitting in onto) or (fitting in moving and pipe in onto):
                tags.append((number, gap))
    return tags if len(tags) > 1 else []


def _spring_words(move: Move, units: Units, *, bent: bool) -> str:
    assert move.spring is not None
    force = move.spring.force_N
    low, high = show_force(force.low, units), show_force(force.high, units)
    pull = low if low == high else word("drawings.build.range", low=low, high=high)
    if bent:
        return word("drawings.build.bend", pull=pull)
    return word("drawings.build.spread", spread=show_length(move.spring.spread_m, units), pull=pull)


def _in_words(step: Step) -> str:
    """What the picture shows, for those who can't see it."""
    return " ".join([word("drawings.build.title", number=step.number, title=step.title), *step.texts])
