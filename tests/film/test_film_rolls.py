"""Which rolls the sheets come off."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from clochewright.catalogue import FilmRoll
from clochewright.film.develop import LAP_M
from clochewright.film.rolls import plan_rolls
from clochewright.film.types import Leftover, Sheet

ROLLS = tuple(
    FilmRoll(f"{width} x {length}", float(width), float(length), "common practice", "")
    for width, length in ((3, 8), (3, 15), (4, 8), (6, 8))
)
size = st.floats(0.2, 20.0)


def off(length, width, **more):
    return plan_rolls(ROLLS, [Sheet("cover", length, width)], **more)


def test_the_smallest_roll_that_takes_it_whole():
    plan = off(5.0, 2.9)
    assert plan.roll.label == "3 x 8"
    assert [(sheet.length_m, sheet.width_m) for sheet in plan.sheets] == [(5.0, 2.9)]
    assert plan.rolls[0].left == (Leftover("end", 3.0, 3.0),)


def test_the_sheet_is_turned_where_that_saves_a_roll():
    plan = off(2.9, 7.0)
    assert (plan.roll.label, plan.roll.across) == ("3 x 8", True)


def test_the_cheapest_roll_where_all_have_prices():
    prices = {"3 x 8": Decimal(9), "3 x 15": Decimal(5), "4 x 8": Decimal(9), "6 x 8": Decimal(9)}
    assert off(5.0, 2.9, price_of=prices.get).roll.label == "3 x 15"
    del prices["4 x 8"]
    assert off(5.0, 2.9, price_of=prices.get).roll.label == "3 x 8"


def test_a_wide_sheet_is_joined_from_lapped_strips():
    plan = off(7.0, 9.0)
    assert (len(plan.sheets), plan.joins) == (2, 1)
    assert plan.joined_m == pytest.approx(7.0)
    assert sum(strip.width_m for strip in plan.sheets) == pytest.approx(9.0 + LAP_M)
    assert len(plan.rolls) == 2


def test_no_roll_is_long_enough():
    assert off(16.0, 16.0) is None
    assert plan_rolls((), [Sheet("cover", 1.0, 1.0)]) is None


@given(length=size, width=size)
def test_what_is_bought_always_holds_the_sheet(length, width):
    plan = off(length, width)
    if plan is None:
        assert min(length, width) > 15.0 or max(length, width) > 8.0
        return
    for roll in plan.rolls:
        for placed in roll.placed:
            assert placed.along_m + placed.run_m <= roll.length_m + 1e-5
            assert placed.across_m + placed.breadth_m <= roll.width_m + 1e-5
        used = sum(placed.run_m * placed.breadth_m for placed in roll.placed)
        left = sum(piece.length_m * piece.width_m for piece in roll.left)
        assert used + left <= roll.width_m * roll.length_m + 1e-5
    lapped = sum(sheet.area_m2 for sheet in plan.sheets) - plan.joined_m * LAP_M
    assert lapped == pytest.approx(length * width, rel=1e-6)
