"""The Beaufort scale against its law and its table."""

from __future__ import annotations

import pytest

from clochewright.strength import beaufort, mean_of_gust

MPH = 0.44704


@pytest.mark.parametrize("number", range(1, 13))
def test_the_law_of_the_scale(number):
    """From memory: v = 0.836 B^1.5 m/s gives the middle of each band."""
    assert beaufort(0.836 * number**1.5).number == number


def test_band_edges_leave_no_hole():
    assert beaufort(5.4).number == 3
    assert beaufort(5.44).number == 3
    assert beaufort(5.46).number == 4


def test_gusts_are_half_as_much_again_or_more():
    """From memory, WMO/TD-1555: 3 s gusts over land are 1.5 to 1.7 times the 10-minute mean."""
    assert 1.5 <= 10.0 / mean_of_gust(10.0) <= 1.7


@pytest.mark.parametrize("speed", [-0.1, float("nan")])
def test_no_wind_is_less_than_nothing(speed):
    with pytest.raises(ValueError, match="m/s"):
        beaufort(speed)
