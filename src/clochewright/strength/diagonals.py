"""Diagonals in the end bays of a built cover: a pipe clipped on from the foot of one bent to the top of the next."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from clochewright.strength.faces import Face, Outline
from clochewright.strength.model import Model, Piece
from clochewright.strength.structure import Floats, Members


def with_diagonals(model: Model, shape: Outline) -> Model:
    """The model with a diagonal in each face at both ends, free to turn where it is clipped."""
    pairs = [pair for face in shape.faces if face.zone is None for pair in _pairs(model, face)]
    if not pairs:
        return model
    structure, members = model.structure, model.structure.members
    n = len(pairs)
    start, stop = np.array(pairs, dtype=np.int64).T

    def more(old: Floats, value: float) -> Floats:
        return np.concatenate([old, np.full((n, *old.shape[1:]), value)])

    longer = Members(
        np.concatenate([members.start, start]),
        np.concatenate([members.stop, stop]),
        more(members.start_arm_m, 0.0),
        more(members.stop_arm_m, 0.0),
        more(members.E_Pa, float(members.E_Pa[0])),
        more(members.G_Pa, float(members.G_Pa[0])),
        more(members.area_m2, float(members.area_m2[0])),
        more(members.I_m4, float(members.I_m4[0])),
        more(members.J_m4, float(members.J_m4[0])),
        more(members.start_spring_Nm_rad, 0.0),
        more(members.stop_spring_Nm_rad, 0.0),
    )
    names = (*structure.member_names, *["diagonal"] * n)
    pieces = (*model.pieces, *(Piece(f"diagonal {i + 1}", "diagonal") for i in range(n)))
    arms_m = np.concatenate([model.arms_m, np.zeros((n, 2))])
    return replace(
        model, structure=replace(structure, members=longer, member_names=names), pieces=pieces, arms_m=arms_m
    )


def _pairs(model: Model, face: Face) -> list[tuple[int, int]]:
    """Nodes to join on one face: the foot of each end bent and the top of the bent beside it."""
    nodes, members = model.structure.nodes_m, model.structure.members
    ends = []
    for m in face.members:
        a, b = int(members.start[m]), int(members.stop[m])
        ends.append((a, b) if nodes[a, 2] <= nodes[b, 2] else (b, a))
    ends.sort(key=lambda pair: float(nodes[pair[0], 0]))
    if len(ends) < 2:
        return []
    return [(ends[0][0], ends[1][1])] + ([(ends[-1][0], ends[-2][1])] if len(ends) > 2 else [])
