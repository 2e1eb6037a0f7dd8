"""Film: mass by a converter's yield table."""

from __future__ import annotations

import pytest

from clochewright.catalogue import load_catalogue
from clochewright.film import cut_sheet
from clochewright.film.choice import POLYETHYLENE_KG_M3, mass_of
from clochewright.plan import plan_from_si

POUND = 0.45359237
SQUARE_INCH = 0.0254**2


@pytest.mark.parametrize(("kind", "mils"), [("4 mil one-season film", 4), ("6 mil UV film", 6)])
def test_mass_by_the_yield_rule(kind, mils, small_tent):
    """A film converter's table: 30,100 square inches a pound for each mil of linear low-density polyethylene."""
    plan = plan_from_si({"bed": {"length_m": 1.2, "width_m": 0.9}, "film": {"kind": kind}})
    film = cut_sheet(small_tent, plan, load_catalogue())
    pounds = film.area_m2 / SQUARE_INCH * mils / 30_100
    assert film.mass_kg.value == pytest.approx(pounds * POUND, rel=0.005)
    assert film.thickness.value == pytest.approx(mils * 25.4e-6)


@pytest.mark.parametrize(("kind", "mils"), [("4 mil one-season film", 4), ("6 mil UV film", 6)])
def test_mass_of_whole_rolls_by_the_yield_rule(kind, mils):
    """The same rule for every roll on sale: 10 ft by 25 ft of 6 mil is 36,000 x 6 / 30,100 = 7.2 lb."""
    row = load_catalogue().find_goods("film", kind)
    for roll in row.rolls:
        square_inches = roll.width_m * roll.length_m / SQUARE_INCH
        kg = mass_of(row, roll.width_m * roll.length_m).value
        assert kg == pytest.approx(square_inches * mils / 30_100 * POUND, rel=0.005), roll.label


def test_the_yield_rule_agrees_with_its_own_density():
    """The table's density, 0.92 g/cm3, gives its yield: 27.68 cubic inches to the pound for 1 g/cm3, a mil thick."""
    square_inches_per_pound = 27.68 / 0.92 * 1000
    assert square_inches_per_pound == pytest.approx(30_100, rel=0.001)
    assert POLYETHYLENE_KG_M3.value == 920.0
