"""Which parts are alike, so that they are made side by side and named once."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from clochewright.frame import Frame, Pipe, Vec
from clochewright.joints.boxes import Solids
from clochewright.joints.types import Joint, Part

SAME_M = 0.0001
SEEN_M = 0.001


def parts_by_likeness(
    frame: Frame,
    joints: Sequence[Joint],
    rigid: Sequence[tuple[Sequence[str], Sequence[str]]],
    solids: Solids,
    spaces_m: Sequence[tuple[float, float, float]] = (),
) -> tuple[Part, ...]:
    """The parts, numbered M1, M2, ... biggest first; parts alike in their pieces are `like` the first of them.

    Args:
        frame: the frame.
        joints: all joints, for what is cemented where.
        rigid: pipes and fittings of each part.
        solids: measures the boxes.
        spaces_m: where the parts are to go in; a box that does is preferred to a smaller one that doesn't.
    """
    pipe_of = {pipe.id: pipe for pipe in frame.pipes}
    fitting_of = {fitting.id: fitting for fitting in frame.fittings}
    kind_of = {fitting.id: fitting.kind for fitting in frame.fittings}
    cemented = {(joint.fitting, joint.pipe): joint.port for joint in joints if joint.treatment == "cemented"}
    alike: dict[tuple[object, ...], list[tuple[tuple[str, ...], tuple[str, ...]]]] = {}
    for pipes, fittings in rigid:
        lengths = tuple(sorted(round(pipe_of[pipe].cut_length_m / SAME_M) for pipe in pipes))
        kinds = tuple(sorted(kind_of[fitting] for fitting in fittings))
        held = tuple(sorted((kind_of[f], _side(p)) for (f, _), p in cemented.items() if f in fittings))
        at = [(fitting_of[one].position_m, _weight(kind_of[one])) for one in fittings]
        at += [(_half(pipe_of[one]), pipe_of[one].cut_length_m) for one in pipes]
        likeness = (-len(pipes) - len(fittings), lengths, kinds, held, _shape(at))
        alike.setdefault(likeness, []).append((tuple(pipes), tuple(fittings)))
    parts: list[Part] = []
    for _, same in sorted(alike.items()):
        pipes, fittings = same[0]
        box = solids.smallest((*fittings, *pipes), spaces_m)
        first = f"M{len(parts) + 1}"
        parts += [Part(f"M{len(parts) + 1 + k}", *pieces, box, first) for k, pieces in enumerate(same)]
    return tuple(parts)


def _side(port: str) -> str:
    """A port's name without the end it is at: a tee may be turned end for end, an elbow too."""
    return port.removesuffix("-a").removesuffix("-b") if len(port) > 1 else ""


def _half(pipe: Pipe) -> Vec:
    a, b = pipe.path_m[0], pipe.path_m[-1]
    return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2)


def _weight(kind: str) -> float:
    """A number that tells one kind of fitting from another."""
    return 1.0 + sum(map(ord, kind)) % 97 / 10


def _shape(at: Sequence[tuple[Vec, float]]) -> tuple[int, ...]:
    """Where the pieces are to each other, however the part is turned: distances from the middle, and handedness."""
    points = np.array([point for point, _ in at])
    points = points - points.mean(axis=0)
    weights = np.array([weight for _, weight in at])
    away = np.linalg.norm(points, axis=1)
    # three weighted sums turn with the part, and their volume changes sign in a mirror
    sums = np.stack([weights @ points, (weights * away) @ points, away @ points])
    hand = int(np.rint(np.linalg.det(sums) / SEEN_M))
    return (*sorted(round(x / SEEN_M) for x in away), hand)
