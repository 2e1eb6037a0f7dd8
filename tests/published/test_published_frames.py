"""The frame solver against published answers: beams, portals, a gable, an A-frame, and second order.

Sources stand beside each check. Members are round and stiff along their length (area scaled up), as the formulas leave
out what the thrust shortens.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from clochewright.strength.second_order import second_order
from clochewright.strength.solver import prepare, respond
from clochewright.strength.spans import along_members
from clochewright.strength.structure import Loads, Members, Structure, Support

E_PA, I_M4 = 2.76e9, 3.6355e-8
EI = E_PA * I_M4
ROD = 1e3  # m2: as good as inextensible


def frame(nodes_m, pairs, fixed, springs=None, I_share=None):
    """A frame in the plane y = 0; `fixed` gives (node, freedoms); the plane holds every node."""
    n = len(pairs)
    ones, stiff = np.ones(n), np.full(n, np.inf)
    start_spring, stop_spring = springs if springs is not None else (stiff, stiff)
    start, stop = np.array(pairs, dtype=np.int64).T
    none = np.zeros((n, 3))
    I_m4 = I_M4 * (ones if I_share is None else np.array(I_share))
    members = Members(
        start, stop, none, none, E_PA * ones, 1e9 * ones, ROD * ones, I_m4, 2 * I_m4, start_spring, stop_spring
    )
    supports = [Support(node, freedom) for node, freedoms in fixed for freedom in freedoms]
    held = {(s.node, s.freedom) for s in supports}
    plane = [Support(i, f) for i in range(len(nodes_m)) for f in (1, 3, 5) if (i, f) not in held]
    return Structure(np.array(nodes_m, dtype=float), members, (*supports, *plane))


def loads(structure, nodal=(), spread=()):
    at = np.zeros((1, len(structure.nodes_m), 6))
    along = np.zeros((1, len(structure.members), 3))
    for node, freedom, value in nodal:
        at[0, node, freedom] += value
    for member, freedom, value in spread:
        along[0, member, freedom] += value
    return Loads(at, along)


def solved(structure, load):
    """Movements of the nodes and what goes on along the members, first order."""
    prepared = prepare(structure)
    found = respond(prepared, load)
    assert found.motion is None
    members = structure.members
    along = along_members(
        found.own_ends, found.end_forces, found.spread, prepared.shape.length_m, members.E_Pa * members.I_m4
    )
    return found.moves[0], along.moment_Nm[0], along.moves_m[0], found.end_forces[0]


def biggest(moment):
    return np.linalg.norm(moment, axis=-1)


FIXED, PINNED, ROLLER = range(6), (0, 1, 2, 3, 5), (1, 2, 3, 5)


def test_cantilever():
    """Tip load: y = P L³ / 3EI, M = P L (Roark's Formulas for Stress and Strain, table of beams; from memory)."""
    structure = frame([(0, 0, 0), (1.2, 0, 0)], [(0, 1)], [(0, FIXED)])
    moves, moment, _, _ = solved(structure, loads(structure, [(1, 2, -10.0)]))
    assert moves[1, 2] == pytest.approx(-10 * 1.2**3 / (3 * EI), rel=1e-9)
    assert biggest(moment)[0, 0] == pytest.approx(12.0, rel=1e-9)


def test_propped_cantilever():
    """Even load: prop 3wL/8, fixed end wL²/8, span 9wL²/128 at 3L/8 from the prop (slope-deflection; Roark)."""
    length_m, w = 1.6, 25.0
    structure = frame([(0, 0, 0), (length_m, 0, 0)], [(0, 1)], [(0, FIXED), (1, PINNED)])
    _, moment, _, ends = solved(structure, loads(structure, spread=[(0, 2, -w)]))
    sizes = biggest(moment)[0]
    assert ends[0, 8] == pytest.approx(3 * w * length_m / 8, rel=1e-9)
    assert sizes[0] == pytest.approx(w * length_m**2 / 8, rel=1e-9)
    assert sizes[5] == pytest.approx(9 * w * length_m**2 / 128, rel=1e-9)  # station 5 of 0..8 is 3L/8 from the prop


def test_deflection_inside_a_span():
    """Simply supported, even load: 5wL⁴/384EI in the middle (Roark, from memory)."""
    structure = frame([(0, 0, 0), (2.0, 0, 0)], [(0, 1)], [(0, PINNED), (1, ROLLER)])
    _, _, inside, _ = solved(structure, loads(structure, spread=[(0, 2, -8.0)]))
    assert np.abs(inside[0, 4]).max() == pytest.approx(5 * 8 * 2.0**4 / (384 * EI), rel=1e-9)


@pytest.mark.parametrize("K_Nm_rad", [5.0, 80.0, 1000.0])
def test_semi_rigid_beam(K_Nm_rad):
    """Even load, spring K at each end: M_end = (wL²/12) / (1 + 2EI/(K L)) (slope-deflection)."""
    length_m, w = 1.1, 30.0
    springs = (np.array([K_Nm_rad]), np.array([K_Nm_rad]))
    structure = frame([(0, 0, 0), (length_m, 0, 0)], [(0, 1)], [(0, FIXED), (1, FIXED)], springs)
    _, moment, inside, _ = solved(structure, loads(structure, spread=[(0, 2, -w)]))
    end_Nm = w * length_m**2 / 12 / (1 + 2 * EI / (K_Nm_rad * length_m))
    assert biggest(moment)[0, 0] == pytest.approx(end_Nm, rel=1e-9)
    assert biggest(moment)[0, 4] == pytest.approx(w * length_m**2 / 8 - end_Nm, rel=1e-9)
    sag_m = 5 * w * length_m**4 / (384 * EI) - end_Nm * length_m**2 / (8 * EI)
    assert np.abs(inside[0, 4]).max() == pytest.approx(sag_m, rel=1e-9)


def test_pinned_portal():
    """Even load on the beam: k = (I_beam/I_col)(h/L), H = wL²/(4h(2k+3)), corner M = Hh.

    Hicks, Civil Engineering Formulas, p. 242, equation 9.117, after Roark; here for equal load over the whole beam.
    """
    h, length_m, w, stiffer = 0.9, 1.4, 40.0, 1.7
    k = stiffer * h / length_m
    structure = frame(
        [(0, 0, 0), (0, 0, h), (length_m, 0, h), (length_m, 0, 0)], [(0, 1), (1, 2), (2, 3)],
        [(0, PINNED), (3, PINNED)], I_share=[1, stiffer, 1],
    )  # fmt: skip
    _, moment, _, ends = solved(structure, loads(structure, spread=[(1, 2, -w)]))
    H = w * length_m**2 / (4 * h * (2 * k + 3))
    assert np.hypot(ends[0, 1], ends[0, 2]) == pytest.approx(H, rel=1e-6)
    assert biggest(moment)[1, 0] == pytest.approx(H * h, rel=1e-6)


def test_fixed_portal_pushed_sideways():
    """Load P at the eaves: M_base = Ph/2 (3k+1)/(6k+1), M_top = Ph/2 · 3k/(6k+1) (Kleinlogel, from memory)."""
    h, length_m, P = 1.0, 1.3, 20.0
    k = h / length_m
    structure = frame(
        [(0, 0, 0), (0, 0, h), (length_m, 0, h), (length_m, 0, 0)], [(0, 1), (1, 2), (2, 3)], [(0, FIXED), (3, FIXED)]
    )
    _, moment, _, _ = solved(structure, loads(structure, [(1, 0, P / 2), (2, 0, P / 2)]))
    sizes = biggest(moment)
    assert sizes[0, 0] == pytest.approx(P * h / 2 * (3 * k + 1) / (6 * k + 1), rel=1e-6)
    assert sizes[0, -1] == pytest.approx(P * h / 2 * 3 * k / (6 * k + 1), rel=1e-6)


def test_pinned_gable():
    """Even load on plan: Steel Buildings in Europe, SSB02, section 3.4.1.

    k = I_raf h/(I_col s), φ = f/h, m = 1 + φ, B = 2(k+1) + m, C = 1 + 2m, N = B + mC;
    eaves wL²(3 + 5m)/(16N), apex wL²/8 - m · eaves.
    """
    L, h, f, w = 1.2, 0.45, 0.6, 30.0
    s = math.hypot(L / 2, f)
    k, m = h / s, 1 + f / h
    N = 2 * (k + 1) + m + m * (1 + 2 * m)
    eaves = w * L**2 * (3 + 5 * m) / (16 * N)
    structure = frame(
        [(0, 0, 0), (0, 0, h), (L / 2, 0, h + f), (L, 0, h), (L, 0, 0)], [(0, 1), (1, 2), (2, 3), (3, 4)],
        [(0, PINNED), (4, PINNED)],
    )  # fmt: skip
    on_slope = w * (L / 2) / s
    _, moment, _, _ = solved(structure, loads(structure, spread=[(1, 2, -on_slope), (2, 2, -on_slope)]))
    sizes = biggest(moment)
    assert sizes[1, 0] == pytest.approx(eaves, rel=1e-6)
    assert sizes[1, -1] == pytest.approx(abs(w * L**2 / 8 - m * eaves), rel=1e-6)


def test_three_pin_a_frame():
    """Even load on plan: thrust wL²/(8 rise) and no moment at the apex (statics)."""
    L, rise, w = 1.2, 0.6, 30.0
    stiff = np.full(2, np.inf)
    structure = frame(
        [(0, 0, 0), (L / 2, 0, rise), (L, 0, 0)], [(0, 1), (2, 1)], [(0, PINNED), (2, PINNED)],
        (stiff, np.array([0.0, np.inf])),  # one pin at the apex
    )  # fmt: skip
    on_slope = w * (L / 2) / math.hypot(L / 2, rise)
    _, moment, _, ends = solved(structure, loads(structure, spread=[(0, 2, -on_slope), (1, 2, -on_slope)]))
    assert biggest(moment)[:, -1] == pytest.approx([0, 0], abs=1e-9)
    slope = math.atan2(rise, L / 2)
    level = ends[0, 0] * math.cos(slope) - math.hypot(ends[0, 1], ends[0, 2]) * math.sin(slope)
    assert level == pytest.approx(w * L**2 / (8 * rise), rel=1e-6)


@pytest.mark.parametrize("share", [0.02, 0.3, 0.7, -0.5])
def test_second_order_cantilever(share):
    """Tip load H and thrust P: a = √(PL²/EI), M = HL tan a/a, y = (HL³/3EI) 3(tan a - a)/a³.

    AISC 360 commentary, benchmark problem case 2; with a pull the same with tanh. `share` is of the Euler load.
    """
    length_m, H = 1.0, 4.0
    P = share * math.pi**2 * EI / (4 * length_m**2)
    structure = frame([(0, 0, 0), (0, 0, length_m)], [(0, 1)], [(0, FIXED)])
    case = loads(structure, [(1, 0, H), (1, 2, -P)])
    found = second_order(prepare(structure), case, np.ones(1))
    a = math.sqrt(abs(P) * length_m**2 / EI)
    tangent = math.tan(a) if P > 0 else math.tanh(a)
    lean = (tangent - a) if P > 0 else (a - tangent)
    assert found.stands
    assert biggest(found.along.moment_Nm)[0, 0] == pytest.approx(H * length_m * tangent / a, rel=1e-6)
    assert found.moves[1, 0] == pytest.approx(H * length_m**3 / (3 * EI) * 3 * lean / a**3, rel=1e-6)
    inside = np.abs(found.along.moves_m[0, :, 1:]).max()
    assert inside == pytest.approx(found.moves[1, 0], rel=1e-6)


@pytest.mark.parametrize("share", [0.4, 0.9])
def test_second_order_beam_column(share):
    """Pinned strut with even load: middle M = wL²/8 · 2(sec u - 1)/u², u = (L/2)√(P/EI).

    Timoshenko & Gere, Theory of Elastic Stability, section 1.3; AISC benchmark case 1.
    """
    length_m, w = 1.5, 10.0
    P = share * math.pi**2 * EI / length_m**2
    u = length_m / 2 * math.sqrt(P / EI)
    structure = frame([(0, 0, 0), (length_m, 0, 0)], [(0, 1)], [(0, PINNED), (1, ROLLER)])
    case = loads(structure, [(1, 0, -P)], [(0, 2, -w)])
    found = second_order(prepare(structure), case, np.ones(1))
    middle = biggest(found.along.moment_Nm)[0, 4]
    assert middle == pytest.approx(w * length_m**2 / 8 * 2 * (1 / math.cos(u) - 1) / u**2, rel=1e-6)
    sag_m = 5 * w * length_m**4 / (384 * EI) * 12 * (2 / math.cos(u) - 2 - u**2) / (5 * u**4)
    assert np.abs(found.along.moves_m[0, 4]).max() == pytest.approx(sag_m, rel=1e-6)


def test_euler():
    """A strut stands just under π²EI/L² and not just over it."""
    structure = frame([(0, 0, 0), (1.0, 0, 0)], [(0, 1)], [(0, PINNED), (1, ROLLER)])
    euler_N = math.pi**2 * EI
    for share, stands in ((0.99, True), (1.01, False)):
        case = loads(structure, [(1, 0, -share * euler_N)], [(0, 2, -0.01)])
        assert second_order(prepare(structure), case, np.ones(1)).stands is stands
