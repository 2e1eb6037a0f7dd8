"""Film: mass by a converter's yield table."""

from __future__ import annotations

import pytest

from clochewright.catalogue import load_catalogue
from clochewright.film import cut_sheet
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
