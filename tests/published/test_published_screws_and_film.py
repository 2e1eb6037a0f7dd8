"""Screws in timber and film under wind against the tables and formulas of their sources."""

from __future__ import annotations

import math

import pytest

from clochewright.strength import resistance

INCH_M = 0.0254
NO_8_M, NO_10_M, NO_12_M = 0.164 * INCH_M, 0.190 * INCH_M, 0.216 * INCH_M


@pytest.mark.parametrize(
    ("diameter_m", "gravity", "lb_in"),
    [(NO_8_M, 0.36, 61), (NO_8_M, 0.42, 82), (NO_8_M, 0.50, 117), (NO_10_M, 0.55, 164), (NO_12_M, 0.73, 328)],
)
def test_screw_withdrawal(diameter_m, gravity, lb_in):
    """W = 2850 G² D lb per inch of thread (NDS 12.2.2; Hicks, Civil Engineering Formulas, equation 6.37)."""
    found = resistance.screw_withdrawal_N_m(gravity, diameter_m)
    assert found / (4.448222 / INCH_M) == pytest.approx(lb_in, rel=0.01)


def test_screw_side_load():
    """P = C D², C = 3960 for Douglas fir: No. 8 bears 106.5 lb (Hicks, equation 6.38)."""
    timber, known = resistance.timber_named("Douglas fir, rough sawn")
    assert known
    assert resistance.screw_side_load_N(timber.side_factor, NO_8_M) / 4.448222 == pytest.approx(106.5, rel=0.002)


def test_en_withdrawal():
    """D 6, thread 40 mm, 350 kg/m3: f_ax 15.9 N/mm2, k_d 0.75, 2.87 kN (EN 1995-1-1, 8.7.2, worked from it)."""
    assert resistance.en_withdrawal_N(0.006, 0.040, 350.0) == pytest.approx(2870, rel=0.005)


def test_timbers_by_name():
    assert resistance.timber_named("Western red cedar")[0].name == "cedar"
    assert resistance.timber_named("treated pine")[0].name == "treated pine"
    timber, known = resistance.timber_named("driftwood")
    assert not known
    assert timber.gravity_ratio <= min(t.gravity_ratio for t in resistance.TIMBERS if t.name != "white cedar")


@pytest.mark.parametrize("pressure_Pa", [20.0, 200.0, 1500.0])
def test_film_tension_is_that_of_its_sag(pressure_Pa):
    """T = p R with R = b²/8s + s/2, s the sag (statics of a strip of film; here s = p b²/8T, small against b).

    The strip is as much longer than its chord, 8 s²/3b², as it was slack and has stretched.
    """
    chord_m, film_m, E_Pa, slack = 0.8, 0.15e-3, 200e6, 0.01
    T = resistance.film_tension_N_m(pressure_Pa, chord_m, film_m, E_Pa, slack)
    sag_m = pressure_Pa * chord_m**2 / (8 * T)
    assert 8 * sag_m**2 / (3 * chord_m**2) == pytest.approx(slack + T / (E_Pa * film_m), rel=1e-6)
    radius_m = chord_m**2 / (8 * sag_m) + sag_m / 2
    assert pressure_Pa * radius_m == pytest.approx(T, rel=0.09)  # a flat parabola is not quite a circle


def test_film_tension_grows_with_pressure_and_less_than_it():
    tensions = [resistance.film_tension_N_m(p, 0.8, 0.15e-3, 200e6, 0.01) for p in (0.0, 100.0, 200.0)]
    assert tensions[0] == 0.0
    assert 1.2 < tensions[2] / tensions[1] < 2.0
    assert math.isfinite(tensions[2])
