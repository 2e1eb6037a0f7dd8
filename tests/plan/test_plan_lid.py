"""The lid's keys: forces and weights of hands, openings of the bar."""

from __future__ import annotations

import pytest

from clochewright.errors import PlanError
from clochewright.plan import plan_from_text

BED = '[bed]\nlength = "8 ft"\nwidth = "4 ft"\n'


def read(more):
    return plan_from_text(BED + more, "plan.toml")


def test_forces_and_weights_are_read_with_their_units():
    plan = read('[lid]\nforce_limit = "5 lbf"\nopen = "75 deg"\nopenings = ["15 deg"]\n[hold-down]\nweight = "33 lb"\n')
    assert plan.lid.force_limit_N == pytest.approx(22.24, abs=0.005)  # 1 lbf = 4.448222 N, NIST SP 811
    assert plan.lid.open_deg == 75
    assert plan.lid.openings == (15,)
    assert plan.hold_down.weight_kg == pytest.approx(14.969, abs=0.001)


def test_the_usual_limit_is_that_of_a_weak_grip():
    """5 lbf: ADA standards 2010, 309.4."""
    assert read("").lid.force_limit_N == pytest.approx(5 * 4.448222, abs=0.3)


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ('[lid]\nforce_limit = "22"\n', "22 lbf"),
        ("[lid]\nforce_limit = 22\n", "text with a unit"),
        ('[lid]\nforce_limit = "500 lbf"\n', "no force of a hand"),
        ('[lid]\nopen = "130 deg"\n', "130"),
        ('[lid]\nopen = "40 deg"\nopenings = ["50 deg"]\n', "not less than the widest"),
        ('[hold-down]\nweight = "2 t"\n', "weight"),
        ('[hold-down]\nby = "rope"\n', "straps"),
    ],
)
def test_what_can_not_be_meant_is_said(more, says):
    with pytest.raises(PlanError) as told:
        read(more)
    assert says in str(told.value)
