"""A leaf seen along its hinge line, turned to any angle, as solids on paper."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

import numpy as np

from clochewright.drawings.marks import Mark, Point
from clochewright.drawings.members import Placing, frame_solids
from clochewright.drawings.projection import View
from clochewright.drawings.solids import draw_solids
from clochewright.findings import word
from clochewright.frame import Fitting, Frame, Pipe, Vec
from clochewright.lid import HingeLine, Leaf

Part = TypeVar("Part")

SAME_M = 0.001  # parts that fall together on paper are drawn once
_ALL_FADED_M = -1e6  # behind this is everything


@dataclass(frozen=True, slots=True)
class Section:
    """Where a leaf's own section (out over the bed, up from the hinge line) lies on paper."""

    line: HingeLine
    placing: Placing

    def at(self, out_m: float, up_m: float) -> Point:
        """A point of the section [m] on paper [mm]."""
        x, y, z = self.line.start_m
        over = self.line.over
        return self.placing.point((x + out_m * over[0], y + out_m * over[1], z + up_m))

    def turned(self, point_m: Vec, angle_deg: float) -> Point:
        """A point of the shut leaf in space, once the leaf has opened by an angle [deg], on paper [mm]."""
        return self.placing.point(self.line.turned(point_m, angle_deg))

    @property
    def out_sign(self) -> float:
        """1 where out over the bed is to the right on paper, else -1."""
        return math.copysign(1.0, float(np.dot(self.line.over, self.placing.view.right)))


def view_along(line: HingeLine) -> View:
    """The view along a hinge line: from the front end, or from the right where the hinges are at an end."""
    over = line.over
    right = (0.0, -1.0, 0.0) if abs(over[1]) > abs(over[0]) else (1.0, 0.0, 0.0)
    toward = (right[1], -right[0], 0.0)
    return View("swing", word("drawings.lid.swing-title"), right, (0.0, 0.0, 1.0), toward)


def leaf_marks(frame: Frame, leaf: Leaf, section: Section, angle_deg: float, *, faded: bool) -> list[Mark]:
    """The leaf at an angle, as its pipes and fittings look along the hinge line."""
    pipes = [pipe for pipe in frame.pipes if pipe.body == leaf.body.id]
    fittings = [fitting for fitting in frame.fittings if fitting.body == leaf.body.id]
    return _marks(
        frame,
        [_turned_pipe(pipe, leaf.line, angle_deg) for pipe in pipes],
        [_turned_fitting(fitting, leaf.line, angle_deg) for fitting in fittings],
        section.placing,
        faded,
    )


def staying_marks(frame: Frame, section: Section) -> list[Mark]:
    """The frame that stays on the bed while its panels open."""
    pipes = [pipe for pipe in frame.pipes if not pipe.body.startswith("panel")]
    fittings = [fitting for fitting in frame.fittings if not fitting.body.startswith("panel")]
    return _marks(frame, pipes, fittings, section.placing, faded=False)


def _marks(frame: Frame, pipes: list[Pipe], fittings: list[Fitting], placing: Placing, faded: bool) -> list[Mark]:
    nearest = {_seen_as(placing, pipe.path_m): pipe for pipe in _far_to_near(placing, pipes, lambda p: p.path_m[0])}
    hubs = {
        _seen_as(placing, [fitting.position_m, *(port.direction for port in fitting.ports)]): fitting
        for fitting in _far_to_near(placing, fittings, lambda f: f.position_m)
    }
    seen = replace(frame, pipes=tuple(nearest.values()), fittings=tuple(hubs.values()))
    return draw_solids(frame_solids(seen, placing, fade_behind_m=_ALL_FADED_M if faded else None))


def _seen_as(placing: Placing, points: Sequence[Vec]) -> tuple[tuple[float, float], ...]:
    """Parts that fall together on paper have this in common."""
    flat = placing.view.project(np.array(points, dtype=float))[:, :2]
    return tuple(sorted((round(x / SAME_M), round(y / SAME_M)) for x, y in flat.tolist()))


def _far_to_near(placing: Placing, parts: Sequence[Part], at: Callable[[Part], Vec]) -> list[Part]:
    toward = np.array(placing.view.toward)
    return sorted(parts, key=lambda part: float(np.dot(at(part), toward)))


def _turned_pipe(pipe: Pipe, line: HingeLine, angle_deg: float) -> Pipe:
    return replace(pipe, path_m=tuple(line.turned(point, angle_deg) for point in pipe.path_m))


def _turned_fitting(fitting: Fitting, line: HingeLine, angle_deg: float) -> Fitting:
    """The fitting turned; a direction is turned as a point beside the hinge line is, less that line's own."""
    start = line.start_m

    def way(direction: Vec) -> Vec:
        there = line.turned((start[0] + direction[0], start[1] + direction[1], start[2] + direction[2]), angle_deg)
        return (there[0] - start[0], there[1] - start[1], there[2] - start[2])

    ports = tuple(replace(port, direction=way(port.direction)) for port in fitting.ports)
    return replace(fitting, position_m=line.turned(fitting.position_m, angle_deg), ports=ports)
