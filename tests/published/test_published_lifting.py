"""Lifting and screws: worked examples of the sources."""

from __future__ import annotations

import pytest

from clochewright.strength.opening.lifting import recommended_kg
from clochewright.strength.resistance import LB_N, INCH_m, LB_IN_N_m, screw_withdrawal_N_m

POUND_kg = 0.45359237


def test_niosh_worked_cover():
    """NIOSH 94-110 with H 45, V 40, D 60 cm and a poor grip: RWL 9.2 kg (worked by hand from its formulas)."""
    assert recommended_kg(0.45, 0.40, 0.60, grip="poor") == pytest.approx(9.2, abs=0.05)


@pytest.mark.parametrize(("height_in", "pounds", "grip"), [(15, 16.3, "fair"), (64, 14.5, "fair")])
def test_niosh_loading_a_punch_press(height_in, pounds, grip):
    """NIOSH 94-110, example 1 (from memory): H 23 in, V 15 and 64 in, D 49 in, fair grip: RWL 16.3 and 14.5 lb.

    Ours is the metric form, with 23 kg and 25 cm where the example has 51 lb and 10 in (together 2 % less), and the
    example rounds each multiplier to two places (up to 2.3 % more).
    """
    found = recommended_kg(23 * INCH_m, height_in * INCH_m, 49 * INCH_m, grip=grip)
    assert found / POUND_kg == pytest.approx(pounds, rel=0.06)


@pytest.mark.parametrize(
    ("what", "args", "factor"),
    [
        ("H at 25 cm", (0.25, 0.75, 0.25), 1.0),
        ("H at 50 cm", (0.50, 0.75, 0.25), 0.5),
        ("V at the floor", (0.25, 0.0, 0.25), 0.775),
        ("D of 1 m", (0.25, 0.75, 1.0), 0.82 + 4.5 / 100),
        ("too far out", (0.64, 0.75, 0.25), 0.0),
        ("too high", (0.25, 1.76, 0.25), 0.0),
    ],
)
def test_niosh_multipliers(what, args, factor):
    """NIOSH 94-110: LC 23 kg; HM 25/H; VM 1 - 0.003 |V - 75|; DM 0.82 + 4.5/D; zero past 63 cm out and 175 cm up."""
    assert recommended_kg(*args, grip="good") == pytest.approx(23 * factor)


def test_niosh_asymmetry_and_coupling():
    """AM 1 - 0.0032 A, none past 135 deg; CM fair 0.95 below 75 cm and 1 above, poor 0.90."""
    assert recommended_kg(0.25, 0.75, 0.25, 90, "good") == pytest.approx(23 * (1 - 0.288))
    assert recommended_kg(0.25, 0.75, 0.25, 136, "good") == 0
    low, high = recommended_kg(0.25, 0.74, 0.25, grip="fair"), recommended_kg(0.25, 0.76, 0.25, grip="fair")
    assert low / high == pytest.approx(0.95)
    assert recommended_kg(0.25, 0.75, 0.25, grip="poor") == pytest.approx(23 * 0.9)


@pytest.mark.parametrize(
    ("number_in", "gravity", "pounds"),
    [(0.164, 0.36, 61), (0.164, 0.50, 117), (0.190, 0.42, 96), (0.190, 0.55, 164), (0.216, 0.73, 328)],
)
def test_screw_withdrawal(number_in, gravity, pounds):
    """NDS 12.2.2, W = 2850 G2 D lb per inch of thread: No. 8 in cedar 61, No. 10 in spruce-pine-fir 96 lb and so on."""
    found = screw_withdrawal_N_m(gravity, number_in * INCH_m)
    assert found / LB_IN_N_m == pytest.approx(pounds, rel=0.01)


def test_a_screw_in_cedar_pulls_out_at():
    """The same worked through: a No. 10 with 1 in of thread in western cedar holds 70 lb, 311 N."""
    assert screw_withdrawal_N_m(0.36, 0.190 * INCH_m) * INCH_m == pytest.approx(70 * LB_N, rel=0.01)
