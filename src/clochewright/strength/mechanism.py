"""Names how a frame is free to move, in terms of its members; a frame that can move freely gets no other answer."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from clochewright.strength.structure import Flags, Floats, Structure

Way = Literal["along the bed", "across the bed", "up", "twists", "turns"]
WAYS: tuple[Way, ...] = ("along the bed", "across the bed", "up")
MOVES = 0.25  # of the largest movement: less than this is carried along


@dataclass(frozen=True, slots=True)
class FreeMotion:
    """A motion that nothing resists: whether all of it moves, which way most, and the names of what moves most.

    `way` is "twists" where members only turn about themselves, "turns" where the whole goes about an axis.
    """

    whole: bool
    way: Way
    members: tuple[str, ...]


def free_motion(structure: Structure, moves: Floats) -> FreeMotion:
    """Name the motion (nodes, 6) [m, rad]; its size means nothing, only its shape."""
    nodes = structure.nodes_m
    reach_m = max(float(np.ptp(nodes, axis=0).max()), 1e-9) if len(nodes) else 1.0
    shift, turn = moves[:, :3], moves[:, 3:] * reach_m
    sizes = np.linalg.norm(shift, axis=1)
    if sizes.max() < 0.05 * np.abs(turn).max():
        twisting = np.linalg.norm(turn, axis=1)
        return FreeMotion(False, "twists", _named(structure, twisting > MOVES * twisting.max(), twisting))
    moving = sizes > MOVES * sizes.max()
    rigid_off = _off_rigid(nodes, shift)
    way: Way = WAYS[int(np.square(shift).sum(axis=0).argmax())]
    if rigid_off < 0.02:
        even = np.linalg.norm(shift - shift.mean(axis=0), axis=1).max() < 0.1 * sizes.max()
        return FreeMotion(True, way if even else "turns", ())
    return FreeMotion(False, way, _named(structure, moving, sizes))


def _off_rigid(nodes: Floats, shift: Floats) -> float:
    """How far the movements are from those of one stiff body, as a share of their size."""
    arm = nodes - nodes.mean(axis=0)
    rows = np.zeros((len(nodes), 3, 6))
    rows[:, :, :3] = np.eye(3)
    x, y, z = arm.T
    rows[:, 0, 4], rows[:, 0, 5] = z, -y
    rows[:, 1, 3], rows[:, 1, 5] = -z, x
    rows[:, 2, 3], rows[:, 2, 4] = y, -x
    flat = rows.reshape(-1, 6)
    best = np.linalg.lstsq(flat, shift.ravel(), rcond=None)[0]
    off = float(np.linalg.norm(flat @ best - shift.ravel()))
    return off / max(float(np.linalg.norm(shift)), 1e-300)


def _named(structure: Structure, moving: Flags, sizes: Floats) -> tuple[str, ...]:
    """Names of the members with an end that moves, those that move most first, each name once."""
    members = structure.members
    if not structure.member_names:
        return ()
    most = np.maximum(sizes[members.start], sizes[members.stop])
    order = np.argsort(-most, kind="stable")
    names = [structure.member_names[i] for i in order if moving[members.start[i]] or moving[members.stop[i]]]
    return tuple(dict.fromkeys(names))
