"""The stiffness of straight round members, in closed form, all at once.

Euler-Bernoulli bending; twist by St Venant; axial force on bending by the stability functions (Livesley & Chandler,
Stability Functions for Structural Frameworks, 1956; Przemieniecki, Theory of Matrix Structural Analysis, ch. 15), so
that one member is exact however near it is to buckling. End springs are condensed into the member.
Local freedoms: along, across, across, about each of them, at the start and then at the stop.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from clochewright.strength.structure import Flags, Floats, Members, Shape

SLENDER_SERIES = 0.05  # below this φ² the series is better than the differences of the closed form


@dataclass(frozen=True, slots=True)
class Stability:
    """Factors φ1 to φ4 on 12EI/L³, 6EI/L², 4EI/L, 2EI/L; all 1 without axial force. `phi2` is φ², pressed positive."""

    f1: Floats
    f2: Floats
    f3: Floats
    f4: Floats
    phi2: Floats


def stability(thrust_N: Floats, EI_Nm2: Floats, length_m: Floats) -> Stability:
    """The stability functions for a thrust, pressed positive [N]."""
    phi2 = thrust_N * length_m**2 / EI_Nm2
    # Series to the third order (from the closed forms; the error at φ² = 0.05 is below 1e-10).
    f1 = 1 - phi2 / 10 - phi2**2 / 8400 - phi2**3 / 756000
    f2 = 1 - phi2 / 60 - phi2**2 / 8400 - phi2**3 / 756000
    f3 = 1 - phi2 / 30 - 11 * phi2**2 / 25200 - phi2**3 / 108000
    f4 = 1 + phi2 / 60 + 13 * phi2**2 / 25200 + 11 * phi2**3 / 756000
    pressed, drawn = phi2 > SLENDER_SERIES, phi2 < -SLENDER_SERIES
    if pressed.any():
        phi = np.sqrt(phi2[pressed])
        s, c = np.sin(phi), np.cos(phi)
        _closed((f1, f2, f3, f4), pressed, phi, s, c, 2 - 2 * c - phi * s, 1.0)
    if drawn.any():
        phi = np.minimum(np.sqrt(-phi2[drawn]), 300.0)
        s, c = np.sinh(phi), np.cosh(phi)
        _closed((f1, f2, f3, f4), drawn, phi, s, c, 2 - 2 * c + phi * s, -1.0)
    return Stability(f1, f2, f3, f4, phi2)


def _closed(out: tuple[Floats, ...], at: Flags, phi: Floats, s: Floats, c: Floats, r: Floats, sign: float) -> None:
    f1, f2, f3, f4 = out
    f1[at] = phi**3 * s / (12 * r)
    f2[at] = sign * phi**2 * (1 - c) / (6 * r)
    f3[at] = sign * phi * (s - phi * c) / (4 * r)
    f4[at] = sign * phi * (phi - s) / (2 * r)


def member_stiffness(members: Members, length_m: Floats, factors: Stability) -> Floats:
    """Stiffness (n, 12, 12) of the elastic parts alone, stiff-ended, local axes."""
    k = np.zeros((len(members), 12, 12))
    EI = members.E_Pa * members.I_m4
    a = members.E_Pa * members.area_m2 / length_m
    t = members.G_Pa * members.J_m4 / length_m
    for i, j, stiff in ((0, 6, a), (3, 9, t)):
        k[:, i, i] = k[:, j, j] = stiff
        k[:, i, j] = k[:, j, i] = -stiff
    shear, lean = 12 * EI / length_m**3 * factors.f1, 6 * EI / length_m**2 * factors.f2
    near, far = 4 * EI / length_m * factors.f3, 2 * EI / length_m * factors.f4
    # across 1 turns about axis 3 as it rises; across 2 about axis 2 the other way
    for move, turn, sign in ((1, 5, 1.0), (2, 4, -1.0)):
        u, r, v, q = move, turn, move + 6, turn + 6
        k[:, u, u] = k[:, v, v] = shear
        k[:, u, v] = k[:, v, u] = -shear
        for one, two, value in ((u, r, lean), (u, q, lean), (v, r, -lean), (v, q, -lean)):
            k[:, one, two] = k[:, two, one] = sign * value
        k[:, r, r] = k[:, q, q] = near
        k[:, r, q] = k[:, q, r] = far
    return k


def fixed_end_loads(spread: Floats, length_m: Floats, factors: Stability) -> Floats:
    """Loads (..., n, 12) on the ends that a spread load (..., n, 3) [N/m, local axes] amounts to.

    With a thrust the end moment is w L²/12 over φ2 (from the same differential equation).
    """
    out = np.zeros((*spread.shape[:-1], 12))
    half = spread * (length_m / 2)[:, None]
    out[..., 0:3] = half
    out[..., 6:9] = half
    moment = spread * (length_m**2 / 12 / factors.f2)[:, None]
    out[..., 5], out[..., 11] = moment[..., 1], -moment[..., 1]
    out[..., 4], out[..., 10] = -moment[..., 2], moment[..., 2]
    return out


@dataclass(frozen=True, slots=True)
class Elements:
    """Members ready for use, local axes, (n, 12, 12) each.

    `stiffness` is between the joints, springs included; `follow` gives how the member's own ends follow the joints, and
    `slip` how they slip in their springs under a member's own load; `pass_on` is what of that load reaches the joints.
    `bare` is the stiffness of the elastic part alone. `turn` (n, 12, 12) brings the frame's freedoms at the nodes to
    local ones at the elastic ends.
    """

    bare: Floats
    stiffness: Floats
    follow: Floats
    slip: Floats
    pass_on: Floats
    turn: Floats
    factors: Stability


def elements(members: Members, shape: Shape, thrust_N: Floats | None = None, turn: Floats | None = None) -> Elements:
    """Stiffness of all members, end springs condensed in; with the thrust in each, pressed positive [N], if given."""
    n, length_m = len(members), shape.length_m
    EI = members.E_Pa * members.I_m4
    factors = stability(np.zeros(n) if thrust_N is None else thrust_N, EI, length_m)
    bare = member_stiffness(members, length_m, factors)
    turn = turn_to_local(members, shape) if turn is None else turn
    one = np.broadcast_to(np.eye(12), bare.shape)
    sprung = np.isfinite(members.start_spring_Nm_rad) | np.isfinite(members.stop_spring_Nm_rad)
    if not sprung.any():
        return Elements(bare, bare, one, np.zeros_like(bare), one, turn, factors)
    # A spring of stiffness s between joint and member: s (joint - own) = K own - load. With the fixity r = s/(s + EI/L)
    # this is r EI/L (joint - own) = (1 - r)(K own - load), which also holds for pins (r = 0) and stiff ends (r = 1).
    soft = np.zeros((n, 12))
    for at, spring in (((4, 5), members.start_spring_Nm_rad), ((10, 11), members.stop_spring_Nm_rad)):
        soft[:, at] = 1 / (1 + spring * length_m / EI)[:, None]
    held = (1 - soft) * np.where(soft > 0, (EI / length_m)[:, None], 1.0)
    inverse = np.linalg.inv(soft[:, :, None] * bare + held[:, :, None] * np.eye(12))
    follow = inverse * held[:, None, :]
    slip = inverse * soft[:, None, :]
    stiffness = bare @ follow
    stiffness = (stiffness + stiffness.transpose(0, 2, 1)) / 2
    return Elements(bare, stiffness, follow, slip, one - bare @ slip, turn, factors)


def turn_to_local(members: Members, shape: Shape) -> Floats:
    """The matrices (n, 12, 12) that bring node freedoms to local freedoms at the ends of the stiff arms."""
    turn = np.zeros((len(members), 12, 12))
    for first, arm in ((0, members.start_arm_m), (6, members.stop_arm_m)):
        turn[:, first : first + 3, first : first + 3] = shape.axes
        turn[:, first + 3 : first + 6, first + 3 : first + 6] = shape.axes
        turn[:, first : first + 3, first + 3 : first + 6] = -shape.axes @ cross_matrix(arm)
    return turn


def cross_matrix(v: Floats) -> Floats:
    """Matrices (n, 3, 3) that take the cross product with the vectors (n, 3)."""
    out = np.zeros((len(v), 3, 3))
    out[:, 0, 1], out[:, 0, 2], out[:, 1, 2] = -v[:, 2], v[:, 1], -v[:, 0]
    out[:, 1, 0], out[:, 2, 0], out[:, 2, 1] = v[:, 2], -v[:, 1], v[:, 0]
    return out


def arm_stiffness(arm: Floats, force_N: Floats) -> Floats:
    """What the force at the tip of a stiff arm (n, 3) adds to the node's turning stiffness (n, 3, 3); symmetric."""
    outer = arm[:, :, None] * force_N[:, None, :]
    dot = np.sum(arm * force_N, axis=1)
    both: Floats = (outer + outer.transpose(0, 2, 1)) / 2 - dot[:, None, None] * np.eye(3)
    return both
