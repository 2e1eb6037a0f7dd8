"""Which roll a sheet comes off."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from clochewright.catalogue import FilmRoll
from clochewright.film.rolls import LAP_M, choose_roll, strip_count

ROLLS = tuple(
    FilmRoll(f"{width} x {length}", float(width), float(length), "common practice", "")
    for width, length in ((3, 8), (3, 15), (4, 8), (6, 8))
)
size = st.floats(0.2, 20.0)


def test_the_smallest_roll_that_takes_it_whole():
    choice = choose_roll(ROLLS, 5.0, 2.9)
    assert choice.roll.label == "3 x 8"
    assert [(sheet.length_m, sheet.width_m) for sheet in choice.strips] == [(5.0, 2.9)]


def test_the_sheet_is_turned_where_that_saves_a_roll():
    choice = choose_roll(ROLLS, 2.9, 7.0)
    assert (choice.roll.label, choice.roll.across) == ("3 x 8", True)


def test_a_wide_sheet_is_joined_from_lapped_strips():
    choice = choose_roll(ROLLS, 7.0, 9.0)
    assert len(choice.strips) == 2
    assert sum(strip.width_m for strip in choice.strips) == pytest.approx(9.0 + LAP_M)
    assert choice.roll.count == 2


def test_no_roll_is_long_enough():
    assert choose_roll(ROLLS, 16.0, 16.0) is None
    assert choose_roll((), 1.0, 1.0) is None


def test_strips_by_hand():
    assert strip_count(3.0, 3.0) == 1
    assert strip_count(3.001, 3.0) == 2
    assert strip_count(6.0 - LAP_M, 3.0) == 2
    assert strip_count(9.0, LAP_M) is None


@given(length_m=size, width_m=size)
def test_what_is_bought_always_holds_the_sheet(length_m, width_m):
    choice = choose_roll(ROLLS, length_m, width_m)
    if choice is None:
        assert min(length_m, width_m) > 15.0 or max(length_m, width_m) > 8.0
        return
    roll, strips = choice.roll, choice.strips
    for strip in strips:
        along, wide = (strip.width_m, strip.length_m) if roll.across else (strip.length_m, strip.width_m)
        assert along <= roll.length_m + 1e-6
        assert wide <= roll.width_m + 1e-6
    along = strips[0].width_m if roll.across else strips[0].length_m
    assert len(strips) * along <= roll.count * roll.length_m + 1e-5 * len(strips)
    laps = LAP_M * (len(strips) - 1)
    whole = sum(strip.length_m if roll.across else strip.width_m for strip in strips)
    assert whole - laps == pytest.approx(length_m if roll.across else width_m)
