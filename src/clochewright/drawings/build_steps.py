"""One picture for each step of the build: new pieces strong and apart, earlier ones pale, always seen from one side."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from clochewright.assembly import AssemblyPlan, Move, ScrewPlace, Step
from clochewright.cuts import CutList
from clochewright.drawings.apart import Apart, Gap, ids_of, links_of, take_apart
from clochewright.drawings.balloons import Labelled, place_balloons
from clochewright.drawings.marks import Area, Circle, Drawing, Line, Mark, Text
from clochewright.drawings.members import BedBox, Placing, bed_marks, fitting_solids, pipe_solids, seen_path_m
from clochewright.drawings.piece_strip import piece_strip
from clochewright.drawings.plain_steps import cut_picture, mark_picture
from clochewright.drawings.projection import THREE_QUARTER, Array, View
from clochewright.drawings.shapes import Solid
from clochewright.drawings.sheet import MARGIN_MM, Box, box_around, moved
from clochewright.drawings.solids import draw_solids
from clochewright.drawings.step_insets import box_at, joint_inset, place_inset
from clochewright.drawings.step_marks import (
    angle_marks,
    diagonal_marks,
    guide,
    order_tags,
    screw_pins,
    spread_marks,
    tie_marks,
    turn_arc,
    twist_marks,
    with_depth_marks,
)
from clochewright.findings import word
from clochewright.frame import Frame, Pipe
from clochewright.joints import JointPlan
from clochewright.measures import Units, show_angle, show_force, show_length

_APART_SHARE = 0.1  # of the size of what is drawn: how far pieces are drawn apart
_LEAST_APART_M = 0.05
_BALLOON_ROOM_MM = 9.0
_FINE_MM = 1.5  # pipes thinner than this on paper get finer lines
_INSET_MM = (46.0, 37.0)
_BESIDE_SHARE = 0.3  # of the width: what stands beside a part that is made by itself
_BESIDE_HIGH = 0.66  # its pictures' height to their width
_MOST_NUMBERED = 30
_ON_THE_BED = ("assemble", "square", "screw")
_TILT_DEG = 35.0
_NEARLY = 0.25  # of its size: so far may pieces lie out of a plane that they are said to lie in


@dataclass(frozen=True, slots=True)
class BuildPictures:
    """What the pictures of a build are drawn from."""

    frame: Frame
    cutlist: CutList
    joints: JointPlan
    order: AssemblyPlan
    bed: BedBox | None
    units: Units


@dataclass(frozen=True, slots=True)
class _Scene:
    """One step's pieces as drawn, and from which side; `alone` where that is without the bed, `moves` those shown."""

    step: Step
    apart: Apart
    view: View
    flat: bool
    alone: bool
    moves: tuple[Move, ...]


def draw_build_steps(build: BuildPictures, paper_mm: tuple[float, float] = (174.0, 92.0)) -> dict[str, Drawing]:
    """The pictures by name, "step-1" and so on; a step that shows nothing has none.

    Steps on the bed share one scale and place, so that the eye finds again what stood there before.

    Args:
        build: Frame, order and the rest.
        paper_mm: Width of each picture and its greatest height, the row of pieces left out [mm].
    """
    scenes = [scene for step in _with_what_stands(build.order.steps) if (scene := _scene(build, step)) is not None]
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
        return cut_picture(step, build.cutlist, title, build.units, width_mm)
    if step.kind == "mark":
        return mark_picture(build.frame, build.joints, title, build.units, width_mm)
    return None


def _scene(build: BuildPictures, step: Step) -> _Scene | None:
    frame, there = build.frame, step.there
    shown = set(_shown(frame, step))
    if not shown:
        return None
    alone = step.kind in ("cement", "test-fit") and not there
    size_m = _size_m(frame, shown if alone else set(ids_of(frame)))
    moves = [move for move in step.moves if shown.intersection(move.moving)]
    apart = take_apart(frame, moves, shown, there, max(_APART_SHARE * size_m, _LEAST_APART_M))
    flat = alone and (step.kind == "test-fit" or (step.jig is not None and step.jig.flat))
    view = THREE_QUARTER
    if flat:
        normal, up = _plane(frame, shown)
        upright = any(abs(float(_along(gap) @ normal)) > 0.5 for gap in apart.gaps)
        view = _lying(normal, up, _TILT_DEG if upright else 0.0)
    return _Scene(step, apart, view, flat, alone, tuple(moves))


def _along(gap: Gap) -> Array:
    """The unit vector across an open joint."""
    way = np.array(gap.to_m) - np.array(gap.from_m)
    unit: Array = way / max(float(np.linalg.norm(way)), 1e-12)
    return unit


def _shown(frame: Frame, step: Step) -> tuple[str, ...]:
    """What is drawn: what is new and what stands.

    What is tried dry is drawn with the fittings it is tried in, and the stubs between those.
    """
    shown = (*step.new, *step.there)
    if step.kind in ("cut", "mark"):
        return ()
    if step.kind == "test-fit":
        tried = {link.fitting for link in links_of(frame) if link.pipe in shown}
        between = (pipe.id for pipe in frame.pipes if all(end.fitting in tried for end in pipe.ends))
        return (*shown, *tried, *between)
    return shown


def _size_m(frame: Frame, ids: set[str]) -> float:
    points = [point for pipe in frame.pipes if pipe.id in ids for point in pipe.path_m]
    points += [fitting.position_m for fitting in frame.fittings if fitting.id in ids]
    spans = np.ptp(np.array(points), axis=0)
    return float(np.linalg.norm(spans))


def _plane(frame: Frame, ids: set[str]) -> tuple[Array, Array]:
    """The plane that the pieces lie in nearly: the way square to it, and the way in it that is up in the frame."""
    points = [point for pipe in frame.pipes if pipe.id in ids for point in pipe.path_m]
    points += [fitting.position_m for fitting in frame.fittings if fitting.id in ids]
    centred = np.array(points) - np.mean(points, axis=0)
    normal = np.linalg.svd(centred, full_matrices=False)[2][-1]
    nearest = np.eye(3)[int(np.argmax(np.abs(normal)))]
    if np.ptp(centred @ nearest) < _NEARLY * float(np.ptp(centred, axis=0).max()):
        normal = nearest  # members side by side on their rail don't tilt it
    normal = normal * math.copysign(1.0, float(normal @ np.array([-1.0, -0.9, 1.1])))
    up = np.array([0.0, 0.0, 1.0])
    if abs(normal[2]) > 0.9:  # it lies flat in the frame too: its long side runs across the paper
        wide = np.ptp(centred[:, 0]) >= np.ptp(centred[:, 1])
        up = np.array([0.0, 1.0, 0.0]) if wide else np.array([1.0, 0.0, 0.0])
    up = up - normal * float(up @ normal)
    return normal, up / np.linalg.norm(up)


def _lying(normal: Array, up: Array, tilt_deg: float) -> View:
    """Looking down on what lies on the floor, so much from its lower side that what stands up from it shows [deg]."""
    tilt = math.radians(tilt_deg)
    toward = math.cos(tilt) * normal - math.sin(tilt) * up
    upward = math.cos(tilt) * up + math.sin(tilt) * normal
    return View("flat", word("drawings.build.flat"), _vec(np.cross(upward, toward)), _vec(upward), _vec(toward))


def _vec(way: Array) -> tuple[float, float, float]:
    x, y, z = (round(float(part), 9) + 0.0 for part in way)
    return x, y, z


def _common_room(build: BuildPictures, scenes: Sequence[_Scene]) -> Box:
    """The box that holds every picture on the bed, at full size [mm]."""
    placing = Placing(THREE_QUARTER, 1.0)
    box = box_around(bed_marks(build.bed, placing)) if build.bed else None
    for scene in scenes:
        box = _room(scene.apart, placing, box)
    assert box is not None
    return box


def _room(apart: Apart, placing: Placing, also: Box | None = None) -> Box:
    """The box around the pieces as drawn [mm]."""
    frame = apart.frame
    points = [point for pipe in frame.pipes for point in pipe.path_m] + [one.position_m for one in frame.fittings]
    r = max((one.hub_diameter_m for one in frame.fittings), default=frame.pipe_outside_diameter_m) * placing.mm_per_m
    paper = placing.place(np.array(points))
    low, high = paper.min(axis=0) - r, paper.max(axis=0) + r
    corners = (float(low[0]), float(low[1])), (float(high[0]), float(high[1]))
    return box_around([Line("inset", corners)], also)


def _draw(build: BuildPictures, scene: _Scene, paper_mm: tuple[float, float], common: Box | None) -> Drawing:
    step, view, (width, height) = scene.step, scene.view, paper_mm
    beside_mm = max(_BESIDE_SHARE * width, _INSET_MM[0]) if scene.alone else 0.0
    room = common if not scene.alone and common is not None else _room(scene.apart, Placing(view, 1.0))
    spare = 2 * _BALLOON_ROOM_MM
    scale = max(room.width_mm / (width - beside_mm - spare), room.height_mm / (height - spare / 2), 2.0)
    middle_x = (room.left_mm + room.right_mm) / 2 / scale
    placing = Placing(view, scale, ((width - beside_mm) / 2 - middle_x, -room.bottom_mm / scale))
    low, high = -_BALLOON_ROOM_MM, room.height_mm / scale + _BALLOON_ROOM_MM
    sheet = Box(MARGIN_MM, low, width - beside_mm - MARGIN_MM, high)

    solids = list(_solids(scene.apart, step, placing))
    drawn: list[Mark] = [] if scene.alone else (bed_marks(build.bed, placing) if build.bed else [])
    if scene.flat:
        drawn += _floor(sheet)
    drawn += draw_solids(with_depth_marks(solids, scene.apart, placing))
    actions = list(_actions(build, scene, placing, sheet))
    insets, boxes = _insets(build, scene, placing, sheet, width, beside_mm, solids)
    balloons = place_balloons(list(_labels(build, scene, placing)), solids, actions, sheet, boxes)
    tags = order_tags(_tags(scene), [*actions, *balloons], placing) if step.kind == "cement" else []
    whole = [*drawn, *actions, *insets, *tags, *balloons]
    box = box_around(whole, Box(0.0, 0.0, width, room.height_mm / scale))
    strip, strip_mm = piece_strip(
        step.pieces, build.frame, build.cutlist, build.order.stored, THREE_QUARTER, build.units, width
    )
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


def _floor(sheet: Box) -> list[Mark]:
    corners = (
        (sheet.left_mm, sheet.bottom_mm + 1),
        (sheet.right_mm, sheet.bottom_mm + 1),
        (sheet.right_mm, sheet.top_mm - 1),
        (sheet.left_mm, sheet.top_mm - 1),
    )
    said = word("drawings.build.flat")
    at = sheet.left_mm + 2.0, sheet.bottom_mm + 3.0
    return [Area("floor", corners), Line("floor", corners, closed=True), Text("note", at, said, 3.6)]


def _actions(build: BuildPictures, scene: _Scene, placing: Placing, sheet: Box) -> Iterator[Mark]:
    """Guide lines, arcs, ties, angles, diagonals and screws of a step."""
    step, apart = scene.step, scene.apart
    for gap in apart.gaps:
        yield from guide(gap, apart, placing)
    told: set[str] = set()
    for move in scene.moves:
        if move.kind == "turn":
            turned = turn_arc(build.frame, move, apart.poses, placing)
            yield from turned or twist_marks(apart.frame, move, placing)
        elif move.kind == "tie":
            yield from tie_marks(build.frame, move, apart.poses, placing)
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
        yield from diagonal_marks(apart.frame, show_length(step.diagonals.length_m, build.units), placing)
    if step.kind == "screw":
        places = _places(build, step)
        yield from screw_pins(places, placing)


def _tags(scene: _Scene) -> list[tuple[int, Gap]]:
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


def _places(build: BuildPictures, step: Step) -> tuple[ScrewPlace, ...]:
    """The screws of a step, those of joints drawn apart left out."""
    if build.order.screws is None:
        return ()
    return tuple(place for place in build.order.screws.places if place.joint in step.screws)


def _labels(build: BuildPictures, scene: _Scene, placing: Placing) -> Iterator[list[Labelled]]:
    """Marks for new pipes, ids for new parts of several pieces; like pipes in a large step share a balloon."""
    step, frame = scene.step, scene.apart.frame
    if step.kind == "screw":
        yield from _screw_labels(_places(build, step), placing)
        return
    pipes = {pipe.id: pipe for pipe in frame.pipes}
    in_parts: set[str] = set()
    for part in build.order.stored:
        whole = [one for one in part.pipes if one in pipes and one in step.new]
        if step.kind == "assemble" and len(part.pipes) + len(part.fittings) > 1 and part.id in step.parts:
            in_parts.update(part.pipes)
            longest = sorted(whole, key=lambda one: -pipes[one].cut_length_m)[:4]
            yield [_labelled(pipes[one], part.id, placing) for one in longest]
    by_mark: dict[str, list[Labelled]] = {}
    for one in step.new:
        if one in pipes and one not in in_parts and one in build.cutlist.mark_of and len(seen_path_m(pipes[one])) > 1:
            mark = build.cutlist.mark_of[one]
            by_mark.setdefault(mark, []).append(_labelled(pipes[one], mark, placing))
    few = sum(map(len, by_mark.values())) <= 14
    for group in by_mark.values():
        yield from ([one] for one in group) if few else [group]


def _screw_labels(places: Sequence[ScrewPlace], placing: Placing) -> Iterator[list[Labelled]]:
    """The number of each joint at its screw, where they are few enough to read."""
    if len(places) > _MOST_NUMBERED:
        return
    for place in places:
        at, way = np.array(place.position_m), np.array(place.way)
        yield [Labelled(place.joint, str(place.number), placing.place(np.array([at - way * 0.03, at - way * 0.02])))]


def _labelled(pipe: Pipe, mark: str, placing: Placing) -> Labelled:
    path = seen_path_m(pipe)
    return Labelled(pipe.id, mark, placing.place(path if len(path) > 1 else np.array(pipe.path_m)))


def _insets(
    build: BuildPictures,
    scene: _Scene,
    placing: Placing,
    sheet: Box,
    width: float,
    beside_mm: float,
    solids: Sequence[Solid],
) -> tuple[list[Mark], list[Box]]:
    """Where a part belongs, and a joint enlarged: beside a part by itself, else in a free corner."""
    step = scene.step
    made: list[tuple[list[Mark], tuple[float, float]]] = []
    if scene.alone:
        size = beside_mm - MARGIN_MM, _BESIDE_HIGH * (beside_mm - MARGIN_MM)
        strong = _alike(build, step)
        said = word("drawings.build.belong" if len(step.parts) > 1 else "drawings.build.belongs")
        made.append((place_inset(build.frame, strong, build.bed, said, THREE_QUARTER, size), size))
    gap = _shown_joint(scene)
    if gap is not None:
        size = (beside_mm - MARGIN_MM, _BESIDE_HIGH * (beside_mm - MARGIN_MM)) if scene.alone else _INSET_MM
        made.append((_joint(build, scene, gap, size), size))
    if scene.alone:
        marks, boxes, y = [], [], sheet.top_mm
        for inset, size in made:
            centre = width - beside_mm / 2 - MARGIN_MM / 2, y - size[1] / 2
            marks += [moved(mark, centre) for mark in inset]
            boxes.append(box_at(centre, size))
            y -= size[1] + 2.0
        return marks, []
    marks, boxes = [], []
    for inset, size in made:
        centre = _free_corner(size, sheet, solids)
        box = box_at(centre, size)
        assert gap is not None
        at = placing.point(gap.to_m)
        edge = min(max(at[0], box.left_mm), box.right_mm), min(max(at[1], box.bottom_mm), box.top_mm)
        marks += [Circle("inset-ring", at, 3.0), Line("inset-ring", (_toward(at, edge, 3.0), edge))]
        marks += [moved(mark, centre) for mark in inset]
        boxes.append(box)
    return marks, boxes


def _toward(at: tuple[float, float], to: tuple[float, float], by: float) -> tuple[float, float]:
    length = math.dist(at, to) or 1.0
    return at[0] + (to[0] - at[0]) * by / length, at[1] + (to[1] - at[1]) * by / length


def _free_corner(size: tuple[float, float], sheet: Box, solids: Sequence[Solid]) -> tuple[float, float]:
    """The middle of an inset in the corner that hides least; below everything, where each hides something."""
    x, y = size[0] / 2, size[1] / 2
    best, least = (sheet.right_mm - x, -y - 1.0), 0.5
    for centre in (
        (sheet.left_mm + x, sheet.top_mm - y),
        (sheet.right_mm - x, sheet.bottom_mm + y),
        (sheet.left_mm + x, sheet.bottom_mm + y),
        (sheet.right_mm - x, sheet.top_mm - y),
    ):
        box = box_at(centre, (size[0] + 2, size[1] + 2))
        hidden = sum(_length_within(box, solid) for solid in solids)
        if hidden < least:
            best, least = centre, hidden
    return best


def _length_within(box: Box, solid: Solid) -> float:
    points = np.linspace(solid.start[:2], solid.end[:2], 12)
    x, y = points[:, 0], points[:, 1]
    within = (x > box.left_mm) & (x < box.right_mm) & (y > box.bottom_mm) & (y < box.top_mm)
    return float(within.mean()) * max(math.dist(solid.start[:2], solid.end[:2]), solid.radius_mm)


def _alike(build: BuildPictures, step: Step) -> set[str]:
    """The pieces of every part that the step makes."""
    strong = set(step.new)
    for part in build.order.stored:
        if part.id in step.parts:
            strong |= {*part.pipes, *part.fittings}
    return strong


def _shown_joint(scene: _Scene) -> Gap | None:
    """The open joint that stands nearest to the eye."""
    if scene.step.kind not in ("assemble", "cement") or not scene.apart.gaps:
        return None
    toward = np.array(scene.view.toward)
    return max(scene.apart.gaps, key=lambda gap: (round(float(np.array(gap.to_m) @ toward), 2), gap.link.pipe))


def _joint(build: BuildPictures, scene: _Scene, gap: Gap, size: tuple[float, float]) -> list[Mark]:
    port = build.frame.fitting(gap.link.fitting).port(gap.link.port)
    joint = next(
        (one for one in build.joints.joints if one.pipe == gap.link.pipe and one.fitting == gap.link.fitting), None
    )
    screws: tuple[ScrewPlace, ...] = ()
    how = "cemented"
    if joint is not None and joint.treatment == "screwed":
        how = "screwed"
        if build.order.screws is not None:
            screws = tuple(place for place in build.order.screws.places if place.joint == joint.id)
    depth = show_length(gap.seat_m, build.units)
    said = word(f"drawings.build.joint-{how}", depth=depth)
    back = np.array(port.direction)
    return joint_inset(build.frame, scene.apart, gap, back, screws, said, THREE_QUARTER, size)


def _in_words(step: Step) -> str:
    """What the picture shows, for those who can't see it."""
    return " ".join([word("drawings.build.title", number=step.number, title=step.title), *step.texts])
