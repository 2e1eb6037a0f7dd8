"""One step of the build as a scene: what is shown, how far apart, and from which side."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from clochewright.assembly import AssemblyPlan, Move, Step
from clochewright.cuts import CutList
from clochewright.drawings.apart import Apart, ids_of, links_of, take_apart
from clochewright.drawings.members import BedBox
from clochewright.drawings.projection import THREE_QUARTER, Array, View
from clochewright.drawings.shorten import cut_short
from clochewright.findings import word
from clochewright.frame import Frame, Vec
from clochewright.joints import JointPlan
from clochewright.measures import Units, show_length

_APART_SHARE = 0.1  # of the size of what is drawn: how far pieces are drawn apart
_LEAST_APART_M = 0.05
_TILT_DEG = 36.0
_LOWER, _LEFT = 0.92, 0.39  # how that tilt is shared out: between an upright post and a slope, to hide behind neither
_SLENDER = 1.6  # length to breadth
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
class Scene:
    """One step's pieces as drawn, and from which side.

    `frame` is the whole, with the long pipes `short` cut short where a part is drawn by itself; `alone` says that it is
    drawn without the bed, `flat` that it lies on the floor, `floor` what is written there. `moves` are those shown.
    """

    step: Step
    frame: Frame
    short: frozenset[str]
    apart: Apart
    view: View
    flat: bool
    alone: bool
    floor: str
    moves: tuple[Move, ...]


def scene_of(build: BuildPictures, step: Step) -> Scene | None:
    """The scene of a step; None where it shows nothing."""
    frame, there = build.frame, step.there
    shown = set(_shown(frame, step))
    if not shown:
        return None
    alone = step.kind in ("cement", "test-fit") and not there
    moves = [move for move in step.moves if shown.intersection(move.moving)]
    flat = alone and (step.kind == "test-fit" or (step.jig is not None and step.jig.flat))
    view, floor, short = THREE_QUARTER, "", frozenset[str]()
    if alone:
        drawn = cut_short(frame, shown)
        frame, short = drawn.frame, drawn.pipes
    size_m = _size_m(frame, shown if alone else set(ids_of(frame)))
    apart = take_apart(frame, moves, shown, there, max(_APART_SHARE * size_m, _LEAST_APART_M))
    if flat:
        normal, up = _plane(build.frame, shown, step.jig.up if step.jig is not None else None)
        view = _lying(normal, up)
        floor = _floor_words(build, step, view, normal, bool(short))
    return Scene(step, frame, short, apart, view, flat, alone, floor, tuple(moves))


def _floor_words(build: BuildPictures, step: Step, view: View, normal: Array, short: bool) -> str:
    """That it lies on the floor, which of it lies higher, and that long pipes are drawn short."""
    said = word("drawings.build.flat")
    if step.jig is not None and step.jig.raise_m > 0:
        how, marks = _higher(build, step, view, normal)
        pack = show_length(step.jig.raise_m, build.units)
        said = word(f"drawings.build.flat-{how}", pack=pack, marks=marks)
    return f"{said} {word('drawings.build.short')}" if short else said


def _higher(build: BuildPictures, step: Step, view: View, normal: Array) -> tuple[str, str]:
    """Which long pipes lie higher, off the floor: those of some marks, those of one side, or "some"."""
    pipes = [pipe for pipe in build.frame.pipes if pipe.id in step.new and pipe.role != "stub"]
    if not pipes:
        return "some", ""
    points = np.array([np.mean(pipe.path_m, axis=0) for pipe in pipes])
    high, across = points @ normal, points @ np.array(view.right)
    up = high > (high.min() + high.max()) / 2
    marks = [build.cutlist.mark_of.get(pipe.id, "") for pipe in pipes]
    above = {mark for mark, is_up in zip(marks, up, strict=True) if is_up}
    below = {mark for mark, is_up in zip(marks, up, strict=True) if not is_up}
    if up.all() or not up.any():
        return "some", ""
    if not above & below:
        return "marks", ", ".join(sorted(above))
    lean = float(across[up].mean() - across[~up].mean())
    if abs(lean) > _NEARLY * float(np.ptp(across)):
        return ("right" if lean > 0 else "left"), ""
    return "some", ""


def _shown(frame: Frame, step: Step) -> tuple[str, ...]:
    """What is drawn: what is new and what stands; what is tried dry with the fittings it is tried in."""
    shown = (*step.new, *step.there)
    if step.kind in ("cut", "mark"):
        return ()
    if step.kind == "test-fit":
        return (*shown, *{link.fitting for link in links_of(frame) if link.pipe in shown})
    return shown


def _size_m(frame: Frame, ids: set[str]) -> float:
    points = [point for pipe in frame.pipes if pipe.id in ids for point in pipe.path_m]
    points += [fitting.position_m for fitting in frame.fittings if fitting.id in ids]
    spans = np.ptp(np.array(points), axis=0)
    return float(np.linalg.norm(spans))


def _plane(frame: Frame, ids: set[str], lies: Vec | None = None) -> tuple[Array, Array]:
    """The plane that the pieces lie in nearly: the way square to it, and the way in it that is up in the frame.

    `lies` is the way square to it where that is known; else the side nearer to the eye lies up.
    """
    points = [point for pipe in frame.pipes if pipe.id in ids for point in pipe.path_m]
    points += [fitting.position_m for fitting in frame.fittings if fitting.id in ids]
    centred = np.array(points) - np.mean(points, axis=0)
    if lies is not None:
        normal = np.array(lies)
    else:
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
    up = up / np.linalg.norm(up)
    right = np.cross(up, normal)
    if np.ptp(centred @ up) > _SLENDER * np.ptp(centred @ right):
        up = -right  # what is little but long lies across the paper
    return normal, up


def _lying(normal: Array, up: Array) -> View:
    """Looking down on what lies on the floor, from its lower left, so that sockets that look up are seen as such."""
    tilt, right = math.radians(_TILT_DEG), np.cross(up, normal)
    toward = math.cos(tilt) * normal - math.sin(tilt) * (_LOWER * up + _LEFT * right)
    upward = up - toward * float(up @ toward)
    upward /= np.linalg.norm(upward)
    return View("flat", word("drawings.build.flat"), _vec(np.cross(upward, toward)), _vec(upward), _vec(toward))


def _vec(way: Array) -> tuple[float, float, float]:
    x, y, z = (round(float(part), 9) + 0.0 for part in way)
    return x, y, z
