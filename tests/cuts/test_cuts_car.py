"""First cuts at the shop, checked with a tape and against trying everything."""

from __future__ import annotations

from collections import Counter
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st
from nesting_by_hand import exact

from clochewright.cuts import CutList, Stick, Stock, spare
from clochewright.cuts.car import first_cuts

MM = 0.001


def stick_of(length, kerf, pieces, origin="buy"):
    pieces = sorted(pieces, reverse=True)
    offcut = max(0, length - sum(pieces) - kerf * len(pieces))
    cuts = tuple((chr(65 + i), piece * MM) for i, piece in enumerate(pieces))
    return Stick(length * MM, origin, cuts, offcut * MM)


def stock_of(kerf, *sticks):
    return Stock(kerf * MM, True, 0.0, 0.0, sticks)


def fewest_loads(length, kerf, pieces, car):
    """By trying every way to share the pieces out, the rest of the stick cut wherever it helps (whole millimetres)."""
    number = 1
    while True:
        for choice in product(range(number), repeat=len(pieces)):
            loads = [[p for p, n in zip(pieces, choice, strict=True) if n == load] for load in range(number)]
            room = 0
            for load in loads:
                full = sum(load) + kerf * max(0, len(load) - 1)
                if full > car and len(load) > 1:
                    break
                room += max(car, full)
            else:
                if room + kerf * (number - 1) >= length:
                    return number
        number += 1


@given(
    length=st.integers(60, 200),
    kerf=st.integers(0, 3),
    pieces=st.lists(st.integers(3, 90), min_size=1, max_size=5),
    car=st.integers(40, 150),
)
def test_first_cuts_with_a_tape(length, kerf, pieces, car):
    while sum(pieces) + kerf * (len(pieces) - 1) > length:
        pieces = pieces[:-1] if len(pieces) > 1 else [length]
    stick = stick_of(length, kerf, pieces)
    cuts, findings = first_cuts(stock_of(kerf, stick), car * MM)
    too_long = {mark for mark, length_m in stick.cuts if exact(length_m) > exact(car * MM)}
    assert {finding.where for finding in findings} == (too_long if length > car else set())

    number = fewest_loads(length, kerf, pieces, car)
    if not cuts:
        assert number == 1
        return
    (first,) = cuts
    assert len(first.positions_m) == number - 1
    size_of = {mark: exact(length_m) for mark, length_m in stick.cuts}
    assert Counter(mark for load in first.marks for mark in load) == Counter(size_of.keys())
    start = exact(0.0)
    ends = [*map(exact, first.positions_m), exact(stick.length_m)]
    saw = exact(kerf * MM)
    for i, end in enumerate(ends):
        if i == len(first.pieces_m):
            assert end - start <= 0  # dust
            break
        piece, load = exact(first.pieces_m[i]), first.marks[i]
        assert piece == end - start
        assert sum(size_of[mark] for mark in load) + saw * max(0, len(load) - 1) <= piece
        if not set(load) & too_long:
            assert piece <= exact(car * MM)
        start = end + saw


def test_the_rest_stays_in_one_piece_where_it_can():
    """By hand: 2 m car, 3 m stick, 1.2 and 0.9: too long together, so sawn behind 1.2, and the rest goes with 0.9."""
    (first,), _ = first_cuts(stock_of(3, stick_of(3000, 3, [1200, 900])), 2.0)
    assert first.marks == (("A",), ("B",))
    assert first.positions_m == (1.2,)
    assert first.pieces_m == pytest.approx((1.2, 1.797))


def test_the_rest_is_shared_where_that_saves_a_cut():
    """By hand: 40 and 40 in a stick of 120, car 62: one cut near the middle, some rest with each."""
    (first,), _ = first_cuts(stock_of(0, stick_of(120, 0, [40, 40])), 62 * MM)
    assert len(first.positions_m) == 1
    assert max(first.pieces_m) <= 0.062


def test_short_sticks_and_pieces_on_hand_are_left_alone():
    assert first_cuts(stock_of(3, stick_of(2000, 3, [900])), 2.0) == ((), ())
    assert first_cuts(stock_of(3, stick_of(4000, 3, [3000], "on-hand")), 2.0) == ((), ())


def test_a_piece_longer_than_the_car_is_named_once():
    sticks = (stick_of(3000, 3, [2500, 400]), stick_of(3000, 3, [2500]))
    cuts, findings = first_cuts(stock_of(3, *sticks), 2.0)
    assert [(f.level, f.key, f.where, f.values["cut_m"]) for f in findings] == [
        ("warn", "cuts.longer-than-car", "A", 2.5)
    ]
    assert [c.stick for c in cuts] == [0, 1]


def test_spare_says_how_little_is_lacking():
    """By hand: 600 + 3 goes where 500 + 3 is left: 100 short; the stick of 900 would lack more."""
    sticks = (stick_of(1000, 3, [497]), stick_of(1000, 3, [600]))
    near = spare(CutList((), {}, stock_of(3, *sticks)))
    assert near is not None
    assert near.short_m == pytest.approx(0.1)
    assert (near.stick, near.shorten, near.marks) == (0, (1,), ("A",))
    assert spare(CutList((), {}, stock_of(3, sticks[0]))) is None


@given(st.lists(st.lists(st.integers(20, 320), min_size=1, max_size=3), min_size=2, max_size=4))
def test_spare_holds_when_it_is_done(sticks):
    """Shortened as it says, the other sticks together have room for all."""
    near = spare(CutList((), {}, stock_of(2, *(stick_of(1000, 2, pieces) for pieces in sticks))))
    assert near is not None
    room = sum(1002 - sum(piece + 2 for piece in pieces) for i, pieces in enumerate(sticks) if i != near.stick)
    wanted = sum(piece + 2 for piece in sticks[near.stick])
    assert wanted <= room + round(near.short_m * 1000)
    assert (near.short_m == 0) == (near.shorten == ())
