"""Sheets on rolls: never worse than shelf first-fit, never over each other, always to be cut from edge to edge."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from clochewright.film.nest import burden, nest_sheets, shelves, strip_count
from clochewright.film.types import Sheet

side = st.floats(0.3, 3.0)
some_sheets = st.lists(st.builds(Sheet, st.just("piece"), side, side), min_size=1, max_size=7)


def overlap(a, b):
    along = min(a.along_m + a.run_m, b.along_m + b.run_m) - max(a.along_m, b.along_m)
    across = min(a.across_m + a.breadth_m, b.across_m + b.breadth_m) - max(a.across_m, b.across_m)
    return along > 1e-6 and across > 1e-6


def can_be_cut(placed):
    """Whether some row of cuts from edge to edge takes a layout apart, piece by piece."""
    if len(placed) < 2:
        return True
    for start, size in (("along_m", "run_m"), ("across_m", "breadth_m")):
        for cut in sorted({getattr(p, start) for p in placed})[1:]:
            before = [p for p in placed if getattr(p, start) + getattr(p, size) <= cut + 1e-6]
            after = [p for p in placed if getattr(p, start) >= cut - 1e-6]
            if before and after and len(before) + len(after) == len(placed):
                return can_be_cut(before) and can_be_cut(after)
    return False


@given(sheets=some_sheets, width=st.floats(3.0, 4.0), length=st.floats(3.0, 9.0))
def test_every_layout_holds_its_sheets_and_beats_the_shelves(sheets, width, length):
    layout = nest_sheets(sheets, width, length)
    assert sorted(p.sheet.area_m2 for roll in layout for p in roll) == sorted(s.area_m2 for s in sheets)
    for roll in layout:
        assert all(p.along_m + p.run_m <= length + 1e-5 and p.across_m + p.breadth_m <= width + 1e-5 for p in roll)
        assert not any(overlap(a, b) for a, b in itertools.combinations(roll, 2))
        assert can_be_cut(roll)
    assert burden(layout) <= burden(shelves(sheets, width, length))


def test_small_cases_are_the_best_there_is_by_hand():
    """Two sheets of 2 x 1 and one of 3 x 1 fill 3 m of a roll 3 m wide... and no less: 7 m2 on 3 m leaves 2 m2."""
    sheets = [Sheet("a", 2.0, 1.0), Sheet("b", 2.0, 1.0), Sheet("c", 3.0, 1.0)]
    assert burden(nest_sheets(sheets, 3.0, 10.0)) == (1, 3.0)


def test_a_gable_goes_beside_the_sheet_or_beside_the_other_gable():
    """By hand: a sheet of 2.99 x 3.34 turned takes 3.34 m, the gables side by side 1.2 m more."""
    sheets = [Sheet("cover", 2.99, 3.34), Sheet("front", 1.5, 1.2), Sheet("far", 1.5, 1.2)]
    assert burden(nest_sheets(sheets, 3.05, 7.6)) == (1, pytest.approx(4.54))


def test_what_fits_no_roll_is_not_laid_out():
    assert nest_sheets([Sheet("a", 5.0, 4.0)], 3.0, 10.0) is None


def test_strips_by_hand():
    assert strip_count(3.0, 3.0, 0.125) == 1
    assert strip_count(3.001, 3.0, 0.125) == 2
    assert strip_count(6.0 - 0.125, 3.0, 0.125) == 2
    assert strip_count(9.0, 0.125, 0.125) is None
