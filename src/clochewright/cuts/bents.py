"""How a bent closes when its pipes are not quite as planned: where its top comes, and what its fixed angles must give.

Both feet turn on their rails. The legs keep their lengths and the feet the distance that the base gives them. Angles
that no fitting holds turn as they must; where that leaves the shape open (two butted eaves), the feet keep the
direction they were planned with, as set by a level. Where every angle is held, the bent has a width of its own, and the
difference is shared among its angles so that the sum of their squares is least.
"""

from __future__ import annotations

from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from clochewright.cuts.chains import Bent

Floats: TypeAlias = NDArray[np.float64]

# Stiffness of a held angle is 1; feet, and then legs, only decide what nothing else does.
_FOOT = 1e-6
_LEG = 1e-9
_ROUNDS = 12
_DONE_RAD = 1e-13


def is_rigid(bent: Bent) -> bool:
    """Whether fittings hold every angle between the legs, so that rafters and base must fit each other."""
    return all(bent.fixed)


def close_bent(bent: Bent, lengths_m: Floats, apart_m: Floats) -> Floats:
    """Close a bent with other lengths.

    Args:
        bent: The bent as planned.
        lengths_m: Lengths of its legs, one row for each case (cases, legs) [m].
        apart_m: Distance between its feet, across the bed (cases,) [m].

    Returns:
        (cases, 3): how much higher its top comes [m]; how much further apart the base holds the feet than its fixed
        angles would [m]; and how much those angles must open, all together [deg]. The last two mean something only
        where `is_rigid`.
    """
    planned = np.array([leg.heading_rad for leg in bent.legs])
    drop = np.stack([-np.asarray(apart_m), np.full(len(apart_m), bent.rise_m)], axis=1)
    turned = _turned(_stiffness(bent), planned, lengths_m, drop)
    top_m = _top_m(planned, turned, lengths_m, [leg.length_m for leg in bent.legs])
    own_m = np.hypot((lengths_m * np.cos(planned)).sum(1), (lengths_m * np.sin(planned)).sum(1))
    gap_m = np.hypot(drop[:, 0], drop[:, 1]) - own_m
    opened = turned[:, 0] - turned[:, -1]  # on the way from left to right each leg's heading is more than the last's
    return np.stack([top_m, gap_m, np.degrees(opened)], axis=1)


def _stiffness(bent: Bent) -> Floats:
    n = len(bent.legs)
    stiff = _LEG * np.eye(n)
    for end in (0, n - 1):
        stiff[end, end] += _FOOT
    for joint, held in enumerate(bent.fixed):
        if held:
            stiff[joint : joint + 2, joint : joint + 2] += ((1.0, -1.0), (-1.0, 1.0))
    return stiff


def _turned(stiff: Floats, planned: Floats, lengths_m: Floats, drop: Floats) -> Floats:
    """How far each leg turns [rad] (cases, legs): least strain under closure, by Newton's method."""
    cases, n = lengths_m.shape
    turned = np.zeros((cases, n))
    pull = np.zeros((cases, 2))
    system = np.zeros((cases, n + 2, n + 2))
    legs = np.arange(n)
    for _ in range(_ROUNDS):
        heading = planned + turned
        y, z = lengths_m * np.cos(heading), lengths_m * np.sin(heading)
        system[:, :n, :n] = stiff
        system[:, legs, legs] -= pull[:, :1] * y + pull[:, 1:] * z
        system[:, n, :n] = system[:, :n, n] = -z
        system[:, n + 1, :n] = system[:, :n, n + 1] = y
        short = drop - np.stack([y.sum(1), z.sum(1)], axis=1)
        step = np.linalg.solve(system, np.concatenate([-turned @ stiff, short], axis=1)[..., None])[..., 0]
        turned = turned + step[:, :n]
        pull = step[:, n:]
        if np.abs(step[:, :n]).max() < _DONE_RAD:
            break
    return turned


def _top_m(planned: Floats, turned: Floats, lengths_m: Floats, planned_m: list[float]) -> Floats:
    """How much higher the highest corner comes than planned [m]; the mean where several are as high."""
    before = np.concatenate([[0.0], np.cumsum(planned_m * np.sin(planned))])
    now = np.cumsum(lengths_m * np.sin(planned + turned), axis=1)
    now = np.concatenate([np.zeros((len(now), 1)), now], axis=1)
    highest = before > before.max() - 1e-6
    top: Floats = now[:, highest].mean(axis=1) - before[highest].mean()
    return top
