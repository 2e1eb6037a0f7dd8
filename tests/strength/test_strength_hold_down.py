"""The gust that lifts a loose cover."""

from __future__ import annotations

import pytest

from clochewright.frame import Frame
from clochewright.sources import Cited, Grade
from clochewright.strength import lifting_gust, loose_lift_gust
from clochewright.weights import Weights


def weights_of(likely, low, high):
    none = Cited(0.0, 0.0, 0.0, Grade.ESTIMATE, "")
    return Weights(Cited(likely, low, high, Grade.ESTIMATE, ""), none, none, none, none, (0.0, 0.0, 0.3))


FRAME = Frame("tent", "1 in Sch 40", 0.0334, length_m=2.0, width_m=1.45)


def test_a_cover_of_6_kg_on_2_9_m2_lifts_at_about_7_m_s():
    """Worked out by hand in our reference from statics: net coefficient 0.7, about 7 m/s (15 mph)."""
    assert lifting_gust(6.0, 2.9, 0.7) == pytest.approx(7.0, abs=0.25)


def test_lift_balances_weight():
    """Statics: at the lifting gust, uplift on the plan area is the weight. 4 kg on 1.5 m2 at 0.5."""
    speed = lifting_gust(4.0, 1.5, 0.5)
    assert 0.5 * 1.226 * speed**2 * 0.5 * 1.5 == pytest.approx(4.0 * 9.80665)


def test_the_band_takes_the_light_lid_with_the_strong_lift():
    limit, _ = loose_lift_gust(FRAME, weights_of(6.0, 5.0, 7.0))
    assert limit.low == pytest.approx(lifting_gust(5.0, 2.9, 0.7))
    assert limit.high == pytest.approx(lifting_gust(7.0, 2.9, 0.48))
    assert limit.low < limit.value < limit.high
    assert limit.kind == "gust_m_s"


def test_heavier_lids_stand_more_and_larger_ones_less():
    assert lifting_gust(8.0, 2.9, 0.7) > lifting_gust(6.0, 2.9, 0.7) > lifting_gust(6.0, 3.5, 0.7)


def test_the_finding_says_it_in_words():
    _, (finding,) = loose_lift_gust(FRAME, weights_of(6.0, 5.5, 6.5))
    assert finding.values["name"] in {"light breeze", "gentle breeze", "moderate breeze"}
    assert finding.values["low_m_s"] < finding.values["gust_m_s"] < finding.values["high_m_s"]


@pytest.mark.parametrize(("mass", "area", "factor"), [(0.0, 1.0, 0.7), (1.0, 0.0, 0.7), (1.0, 1.0, 0.0)])
def test_nothing_lifts_nothing(mass, area, factor):
    with pytest.raises(ValueError, match="above zero"):
        lifting_gust(mass, area, factor)
