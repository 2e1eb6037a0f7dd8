"""Which parts are alike, so that they are made side by side and named once."""

from __future__ import annotations

from collections.abc import Sequence

from clochewright.frame import Frame
from clochewright.joints.boxes import Solids
from clochewright.joints.types import Joint, Part

SAME_M = 0.0001


def parts_by_likeness(
    frame: Frame, joints: Sequence[Joint], rigid: Sequence[tuple[Sequence[str], Sequence[str]]], solids: Solids
) -> tuple[Part, ...]:
    """The parts, numbered M1, M2, ... biggest first; parts alike in box and pieces are `like` the first of them.

    Args:
        frame: the frame.
        joints: all joints, for what is cemented where.
        rigid: pipes and fittings of each part.
        solids: measures the boxes.
    """
    pipe_of = {pipe.id: pipe for pipe in frame.pipes}
    kind_of = {fitting.id: fitting.kind for fitting in frame.fittings}
    cemented = {(joint.fitting, joint.pipe): joint.port for joint in joints if joint.treatment == "cemented"}
    measured = []
    for pipes, fittings in rigid:
        box = solids.smallest((*fittings, *pipes))
        lengths = tuple(sorted(round(pipe_of[pipe].cut_length_m / SAME_M) for pipe in pipes))
        kinds = tuple(sorted(kind_of[fitting] for fitting in fittings))
        held = tuple(sorted((kind_of[f], port) for (f, p), port in cemented.items() if p in pipes and f in fittings))
        shape = tuple(round(side / (10 * SAME_M)) for side in box)
        measured.append((box, (lengths, kinds, held, shape), tuple(pipes), tuple(fittings)))
    measured.sort(key=lambda one: (-len(one[2]) - len(one[3]), one[1]))
    first: dict[object, str] = {}
    parts = []
    for number, (box, likeness, pipes, fittings) in enumerate(measured, start=1):
        name = f"M{number}"
        parts.append(Part(name, pipes, fittings, box, first.setdefault(likeness, name)))
    return tuple(parts)
