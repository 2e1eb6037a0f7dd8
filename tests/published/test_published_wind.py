"""Wind: the Beaufort scale as the Met Office prints it, and uplift as an extension engineer measured it."""

from __future__ import annotations

import pytest

from clochewright.strength import beaufort
from clochewright.strength.hold_down import NET_UPLIFT

MPH = 0.44704


@pytest.mark.parametrize(
    ("low_mph", "high_mph", "number", "name"),
    [
        (1, 3, 1, "light air"),
        (4, 7, 2, "light breeze"),
        (8, 12, 3, "gentle breeze"),
        (13, 18, 4, "moderate breeze"),
        (19, 24, 5, "fresh breeze"),
        (25, 31, 6, "strong breeze"),
        (32, 38, 7, "near gale"),
        (39, 46, 8, "gale"),
        (47, 54, 9, "strong gale"),
        (55, 63, 10, "storm"),
        (64, 72, 11, "violent storm"),
        (73, 100, 12, "hurricane"),
    ],
)
def test_beaufort_bands_in_miles_an_hour(low_mph, high_mph, number, name):
    """Met Office Library Fact sheet 6: bands in whole mph; ours are the same sheet's in m/s, rounded on their own.

    So the two agree half a mile an hour inside each band.
    """
    for mph in (low_mph + 0.5, high_mph - 0.5):
        assert (beaufort(mph * MPH).number, beaufort(mph * MPH).name) == (number, name)


def test_uplift_at_80_mph():
    """Bartok, University of Connecticut, Reduce storm damage to your greenhouses: 220 lb a foot on a 28 ft house.

    Stagnation pressure in psf is 0.00256 V^2, V in mph (ASCE 7-16, equation 26.10-1).
    """
    assert NET_UPLIFT.low * 0.00256 * 80**2 * 28 == pytest.approx(220, rel=0.02)
