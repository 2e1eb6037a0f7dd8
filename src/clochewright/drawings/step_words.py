"""What is written into a build step's picture: marks of pipes, parts and screws, and small pictures beside it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np

from clochewright.assembly import ScrewPlace, Step
from clochewright.drawings.apart import Gap
from clochewright.drawings.balloons import Labelled
from clochewright.drawings.marks import Circle, Line, Mark
from clochewright.drawings.members import Placing, seen_path_m
from clochewright.drawings.projection import THREE_QUARTER
from clochewright.drawings.shapes import Solid
from clochewright.drawings.sheet import MARGIN_MM, Box, moved
from clochewright.drawings.step_insets import box_at, joint_inset, place_inset
from clochewright.drawings.step_scene import BuildPictures, Scene
from clochewright.findings import word
from clochewright.frame import Pipe
from clochewright.measures import show_length

INSET_MM = (46.0, 37.0)
_FEW = 2  # open joints: so small a part is drawn large
_BESIDE_HIGH = 0.66  # the height of the pictures beside a part to their width


def screws_of(build: BuildPictures, step: Step) -> tuple[ScrewPlace, ...]:
    """The screws that a step puts in."""
    if build.order.screws is None:
        return ()
    return tuple(place for place in build.order.screws.places if place.joint in step.screws)


def labels(build: BuildPictures, scene: Scene, placing: Placing) -> Iterator[list[Labelled]]:
    """Marks for new pipes, ids for new parts of several pieces; like pipes in a large step share a balloon."""
    step, frame = scene.step, scene.apart.frame
    if step.kind == "screw":
        yield from _screw_labels(screws_of(build, step), placing)
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
    """The number of each joint at its screw; all of them, since the labels of pipe and fitting go by it."""
    for place in places:
        at, way = np.array(place.position_m), np.array(place.way)
        path = placing.place(np.array([at - way * 0.03, at - way * 0.02]))
        yield [Labelled(place.joint, str(place.number), path, always=True)]


def _labelled(pipe: Pipe, mark: str, placing: Placing) -> Labelled:
    path = seen_path_m(pipe)
    return Labelled(pipe.id, mark, placing.place(path if len(path) > 1 else np.array(pipe.path_m)))


def corner_pictures(
    build: BuildPictures,
    scene: Scene,
    placing: Placing,
    sheet: Box,
    width_mm: float,
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
        size = (beside_mm - MARGIN_MM, _BESIDE_HIGH * (beside_mm - MARGIN_MM)) if scene.alone else INSET_MM
        made.append((_joint(build, scene, gap, size), size))
    if scene.alone:
        marks, boxes, y = [], [], sheet.top_mm
        for inset, size in made:
            centre = width_mm - beside_mm / 2 - MARGIN_MM / 2, y - size[1] / 2
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


def _shown_joint(scene: Scene) -> Gap | None:
    """The open joint that stands nearest to the eye; None where the picture itself shows it as large."""
    few = scene.alone and len(scene.apart.gaps) <= _FEW
    if scene.step.kind not in ("assemble", "cement") or not scene.apart.gaps or few:
        return None
    toward = np.array(scene.view.toward)
    return max(scene.apart.gaps, key=lambda gap: (round(float(np.array(gap.to_m) @ toward), 2), gap.link.pipe))


def _joint(build: BuildPictures, scene: Scene, gap: Gap, size: tuple[float, float]) -> list[Mark]:
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
