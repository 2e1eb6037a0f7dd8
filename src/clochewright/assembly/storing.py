"""The parts as they are stored: boxes, masses, and where each lies."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from itertools import pairwise

from clochewright.assembly.types import Packed, Packing, StoredPart
from clochewright.findings import Finding, Level
from clochewright.frame import Frame, Vec
from clochewright.joints import JointPlan, Part
from clochewright.plan import Plan
from clochewright.sources import Cited
from clochewright.weights import Weights

AIR_m = 0.003  # between boxes, so that they go in by hand: common practice, no source


def store_parts(
    frame: Frame, joints: JointPlan, weights: Weights, name_of: Callable[[Part], str]
) -> tuple[StoredPart, ...]:
    """Each part with its box, its mass and where its mass is [m]; masses are those that the lid was weighed with."""
    pipes = {pipe.id: pipe for pipe in frame.pipes}
    fittings = {fitting.id: fitting for fitting in frame.fittings}
    whole_m = sum(pipe.cut_length_m for pipe in frame.pipes)
    per_m = [x / whole_m for x in (weights.pipe_kg.value, weights.pipe_kg.low, weights.pipe_kg.high)]
    stored = []
    for part in joints.parts:
        lumps: list[tuple[float, Vec]] = []
        kg = [0.0, 0.0, 0.0]
        for pipe in part.pipes:
            lumps.append((per_m[0] * pipes[pipe].cut_length_m, _middle(pipes[pipe].path_m)))
            kg = [have + each * pipes[pipe].cut_length_m for have, each in zip(kg, per_m, strict=True)]
        for fitting in part.fittings:
            each = weights.fitting_kg[fittings[fitting].kind]
            lumps.append((each.value, fittings[fitting].position_m))
            kg = [have + more for have, more in zip(kg, (each.value, each.low, each.high), strict=True)]
        grade = weights.fittings_kg.grade if part.fittings else weights.pipe_kg.grade
        mass = Cited(kg[0], kg[1], kg[2], grade, weights.pipe_kg.source)
        centre = _balance(lumps)
        stored.append(
            StoredPart(part.id, part.like, name_of(part), part.pipes, part.fittings, part.box_m, mass, centre)
        )
    return tuple(stored)


def pack(stored: Sequence[StoredPart], plan: Plan) -> tuple[Packing, tuple[Finding, ...]]:
    """Lay every part down: layer upon layer, in each layer row behind row, the biggest first.

    Without a space, the heap is as long and as deep as its biggest part and as high as it gets.
    """
    store = plan.store
    sides = [side_m for side_m in (store.length_m, store.depth_m, store.height_m) if side_m is not None]
    if not sides:
        long_m = max((part.box_m[0] for part in stored), default=0.0)
        deep_m = max((part.box_m[1] for part in stored), default=0.0)
        packed, _ = _heap(stored, (long_m, deep_m, math.inf))
        high_m = max((one.corner_m[2] + one.box_m[2] for one in packed), default=0.0)
        return Packing((long_m, deep_m, high_m), False, packed), ()
    long_m = max(sides)
    space = (store.length_m or long_m, store.depth_m or long_m, store.height_m or long_m)
    tries = [_heap(stored, space), *(_turned_heap(stored, space, order) for order in ((0, 2, 1), (1, 0, 2)))]
    packed, left = min(tries, key=lambda tried: len(tried[1]))
    found: tuple[Finding, ...] = ()
    if left:
        values = {"count": len(left), "parts": tuple(left)}
        found = (Finding(Level.WARN, "assembly", "assembly.not-all-packed", "store", values, _SOURCE),)
    return Packing(space, True, packed, tuple(left)), found


_SOURCE = "our own packing, layer by layer; a patient hand may do better"


def _turned_heap(
    stored: Sequence[StoredPart], space: Vec, order: tuple[int, int, int]
) -> tuple[tuple[Packed, ...], list[str]]:
    """The heap built in a space looked at from another side, told in the space's own sides again."""
    packed, left = _heap(stored, (space[order[0]], space[order[1]], space[order[2]]))
    back = [order.index(k) for k in range(3)]

    def turned(sides: Vec) -> Vec:
        return (sides[back[0]], sides[back[1]], sides[back[2]])

    return tuple(Packed(one.part, turned(one.corner_m), turned(one.box_m)) for one in packed), left


def _heap(stored: Sequence[StoredPart], space: Vec) -> tuple[tuple[Packed, ...], list[str]]:
    """Layers of rows; parts that don't go in are left."""
    long_m, deep_m, high_m = space
    todo = sorted(stored, key=lambda part: (-part.box_m[2], -part.box_m[1], -part.box_m[0], part.id))
    packed: list[Packed] = []
    floor_m = 0.0
    while todo:
        layer, rest = _layer(todo, long_m, deep_m, high_m - floor_m)
        if not layer:
            break
        thick_m = max(box[2] for _, _, _, box in layer)
        packed += [Packed(name, (x, y, floor_m), box) for name, x, y, box in layer]
        floor_m += thick_m + AIR_m
        todo = rest
    return tuple(packed), [part.id for part in todo]


def _layer(
    todo: Sequence[StoredPart], long_m: float, deep_m: float, high_m: float
) -> tuple[list[tuple[str, float, float, Vec]], list[StoredPart]]:
    """One layer, filled row by row; gives back what lies where, and what is left."""
    placed: list[tuple[str, float, float, Vec]] = []
    left = list(todo)
    row_y, row_deep, row_x = 0.0, 0.0, 0.0
    thick_m: float | None = None
    rest: list[StoredPart] = []
    for part in left:
        done = False
        for length, depth in ((part.box_m[0], part.box_m[1]), (part.box_m[1], part.box_m[0])):
            height = part.box_m[2]
            if height > (high_m if thick_m is None else thick_m) + 1e-9:
                continue
            if row_deep and row_x + length <= long_m + 1e-9 and depth <= row_deep + 1e-9:
                x, y = row_x, row_y
            elif length <= long_m + 1e-9 and row_y + row_deep + depth <= deep_m + 1e-9:
                row_y += row_deep + (AIR_m if row_deep and row_y + row_deep + AIR_m + depth <= deep_m else 0.0)
                row_deep, x, y = depth, 0.0, row_y
            else:
                continue
            placed.append((part.id, x, y, (length, depth, height)))
            row_x = x + length + AIR_m
            thick_m = height if thick_m is None else thick_m
            done = True
            break
        if not done:
            rest.append(part)
    return placed, rest


def _middle(path: Sequence[Vec]) -> Vec:
    return _balance([(math.dist(a, b), _half(a, b)) for a, b in pairwise(path)])


def _half(a: Vec, b: Vec) -> Vec:
    return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2)


def _balance(lumps: Sequence[tuple[float, Vec]]) -> Vec:
    whole = sum(mass for mass, _ in lumps)
    if whole <= 0:
        return lumps[0][1] if lumps else (0.0, 0.0, 0.0)
    x, y, z = (sum(mass * at[k] for mass, at in lumps) / whole for k in range(3))
    return (x, y, z)
