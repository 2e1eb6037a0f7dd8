"""Along the members: moment, thrust and movement between the ends, first and second order."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from clochewright.strength.elements import Stability
from clochewright.strength.structure import Floats

STATIONS = 9  # evenly spaced, ends included: a parabola's top is met within 1/256 of its rise


@dataclass(frozen=True, slots=True)
class Along:
    """At each station of each member: `moment_Nm` (..., n, s, 2) about the two axes, `pull_N` (..., n, s), pulled +.

    `moves_m` (..., n, s, 3) are in local axes.
    """

    moment_Nm: Floats
    pull_N: Floats
    moves_m: Floats


def along_members(
    own_ends: Floats,
    end_forces: Floats,
    spread: Floats,
    length_m: Floats,
    EI_Nm2: Floats,
    factors: Stability | None = None,
    stations: int = STATIONS,
) -> Along:
    """Work out what goes on inside the spans.

    Args:
        own_ends: movements of the elastic parts' ends, local (..., n, 12) [m, rad].
        end_forces: forces on these ends, local (..., n, 12) [N, N·m].
        spread: load along them, local (..., n, 3) [N/m].
        length_m: their lengths (n,) [m].
        EI_Nm2: their bending stiffness (n,) [N·m2].
        factors: the stability functions they were solved with, if second order.
        stations: how many places to look at.

    Returns:
        Moments from equilibrium at each place, on the bent shape where second order.
    """
    t = np.linspace(0.0, 1.0, stations)
    x = length_m[:, None] * t
    phi2 = factors.phi2 if factors is not None else np.zeros_like(length_m)
    thrust = phi2 * EI_Nm2 / length_m**2
    moves = np.zeros((*own_ends.shape[:-1], stations, 3))
    moment = np.zeros((*own_ends.shape[:-1], stations, 2))
    moves[..., 0] = own_ends[..., 0, None] * (1 - t) + own_ends[..., 6, None] * t
    for axis, turn, sign in ((1, 5, 1.0), (2, 4, -1.0)):
        ends = (
            own_ends[..., axis],
            sign * own_ends[..., turn],
            own_ends[..., axis + 6],
            sign * own_ends[..., turn + 6],
        )
        shape = _bent(ends, spread[..., axis], length_m, EI_Nm2, phi2, t)
        moves[..., axis] = shape
        moment[..., axis - 1] = (
            -sign * end_forces[..., turn, None]
            + end_forces[..., axis, None] * x
            + spread[..., axis, None] * x**2 / 2
            - thrust[:, None] * (shape - shape[..., :1])
        )
    pull = -end_forces[..., 0, None] - spread[..., 0, None] * x
    return Along(moment, pull, moves)


def _bent(
    ends: tuple[Floats, Floats, Floats, Floats], load: Floats, length_m: Floats, EI: Floats, phi2: Floats, t: Floats
) -> Floats:
    """The bent line (..., n, s) through end movements and slopes under an even load."""
    v0, slope0, v1, slope1 = (end[..., None] for end in ends)
    length = length_m[:, None]
    line = (
        v0 * (1 - 3 * t**2 + 2 * t**3)
        + slope0 * length * (t - 2 * t**2 + t**3)
        + v1 * (3 * t**2 - 2 * t**3)
        + slope1 * length * (t**3 - t**2)
        + load[..., None] * (length**4 / (24 * EI[:, None])) * t**2 * (1 - t) ** 2
    )
    strong = np.abs(phi2) > 1e-3
    if strong.any():
        part = tuple(end[..., strong] for end in ends)
        line[..., strong, :] = _beam_column(part, load[..., strong], length_m[strong], EI[strong], phi2[strong], t)
    return line


def _beam_column(
    ends: tuple[Floats, ...], load: Floats, length_m: Floats, EI: Floats, phi2: Floats, t: Floats
) -> Floats:
    """The same with a thrust: v'''' + (φ/L)² v'' = w/EI, its four constants fitted to the ends."""
    pressed = phi2 > 0
    phi = np.sqrt(np.abs(phi2))
    like_cos = np.where(pressed[:, None], np.cos(phi[:, None] * t), np.cosh(np.minimum(phi, 300.0)[:, None] * t))
    like_sin = np.where(pressed[:, None], np.sin(phi[:, None] * t), np.sinh(np.minimum(phi, 300.0)[:, None] * t))
    ones = np.ones_like(phi)
    turned = np.where(pressed, -1.0, 1.0)  # cos' = -sin, cosh' = sinh
    fit = np.zeros((len(phi), 4, 4))
    fit[:, 0, 0] = fit[:, 0, 2] = ones
    fit[:, 1, 1], fit[:, 1, 3] = ones, phi
    fit[:, 2] = np.stack([ones, ones, like_cos[:, -1], like_sin[:, -1]], axis=1)
    fit[:, 3] = np.stack([0 * ones, ones, turned * phi * like_sin[:, -1], phi * like_cos[:, -1]], axis=1)
    whole = load * length_m**4 / EI / (2 * phi2)  # particular solution at t = 1
    right = np.stack([ends[0], ends[1] * length_m, ends[2] - whole, ends[3] * length_m - 2 * whole], axis=-1)
    a = np.einsum("nij,...nj->...ni", np.linalg.inv(fit), right)
    base = np.stack([np.ones_like(like_cos), np.broadcast_to(t, like_cos.shape), like_cos, like_sin], axis=1)
    bent: Floats = np.einsum("...ni,nis->...ns", a, base) + whole[..., None] * t**2
    return bent
