"""First cuts at the shop, checked with a tape and against trying everything."""

from __future__ import annotations

from collections import Counter
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st
from nesting_by_hand import exact

from clochewright.cuts import CutList, Stick, Stock, at_home, carried, spare
from clochewright.cuts.car import GROWTH_M, first_cuts

MM = 0.001


def stick_of(length, kerf, pieces, origin="buy"):
    pieces = sorted(pieces, reverse=True)
    offcut = max(0, length - sum(pieces) - kerf * len(pieces))
    cuts = tuple((chr(65 + i), piece * MM) for i, piece in enumerate(pieces))
    return Stick(length * MM, origin, cuts, offcut * MM)


def stock_of(kerf, *sticks):
    return Stock(kerf * MM, True, 0.0, 0.0, sticks)


def growth(length, kerf, pieces, number):
    """The even part of what is left of a stick, or what is enough for a piece to grow (whole millimetres)."""
    return min((length - sum(pieces) - kerf * (len(pieces) - 1)) // number, kerf + round(GROWTH_M / MM))


def ways(pieces, kerf, number):
    """Every way to share pieces out: the lengths of the loads, and how many pieces each holds."""
    for choice in product(range(number), repeat=len(pieces)):
        loads = [[p for p, n in zip(pieces, choice, strict=True) if n == load] for load in range(number)]
        yield [(sum(load) + kerf * max(0, len(load) - 1), len(load)) for load in loads]


def fewest_loads(length, kerf, pieces, car):
    """By trying every way to share the pieces out, the rest of the stick cut wherever it helps (whole millimetres).

    What doesn't go into the car anyway may keep as much to grow as another.
    """
    number = 1
    while True:
        more = growth(length, kerf, pieces, number)
        for loads in ways(pieces, kerf, number):
            if any(full > car and count > 1 for full, count in loads):
                continue
            if sum(max(car, full + more * (full > car)) for full, _ in loads) + kerf * (number - 1) >= length:
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
    stick, stick_lengths = stick_of(length, kerf, pieces), pieces
    cuts, findings = first_cuts(stock_of(kerf, stick), car * MM, "mm")
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
    dust = exact(stick.length_m) - sum(map(exact, first.pieces_m)) - saw * (number - 1)
    assert dust == 0 or len(first.pieces_m) == number - 1

    # Where every load could have an even part of the rest, each has most of it; a cut at a whole figure takes some.
    even = growth(length, kerf, stick_lengths, number)
    if any(all(full + even <= car for full, _ in loads) for loads in ways(stick_lengths, kerf, number)):
        for piece, load in zip(first.pieces_m, first.marks, strict=True):
            spare_there = exact(piece) - sum(size_of[mark] for mark in load) - saw * max(0, len(load) - 1)
            assert not load or spare_there >= min(exact(even * MM), saw + exact((even - kerf) * MM) / 2)


def test_the_rest_stays_in_one_piece_where_it_can():
    """By hand: 2 m car, 3 m stick, 1.2 and 0.9: too long together, so sawn behind 1.2, and the rest goes with 0.9.

    1.2 and the saw and 25 mm to grow are 1.228; a tape reads 1.23 more easily.
    """
    stick = stick_of(3000, 3, [1200, 900])
    (first,), _ = first_cuts(stock_of(3, stick), 2.0, "mm")
    assert first.marks == (("A",), ("B",))
    assert first.positions_m == (1.23,)
    assert first.pieces_m == pytest.approx((1.23, 1.767))
    assert [piece.offcut_m for piece in carried(stick, first, 3 * MM)] == pytest.approx([0.027, 0.864])


def test_what_a_stick_has_to_spare_is_shared_out():
    """By hand: 120 in, car 84 in; 43, 38 9/16, 30 and 5 7/8 with three cuts of 1/8 take 117 13/16 and leave 2 3/16.

    Half of that is 1 3/32 in; 30, a saw cut and 5 7/8 are 36, so the shop saws at 37, and 82 7/8 is left.
    """
    inch = 25.4
    (first,), _ = first_cuts(
        stock_of(inch / 8, stick_of(120 * inch, inch / 8, [n * inch for n in (43, 38.5625, 30, 5.875)])), 84 * 0.0254
    )
    assert [at / 0.0254 for at in first.positions_m] == pytest.approx([37])
    assert [piece / 0.0254 for piece in first.pieces_m] == pytest.approx([37, 82.875])
    assert first.marks == (("C", "D"), ("A", "B"))


def test_a_stick_with_nothing_to_spare_is_sawn_exactly():
    stick = stick_of(3003, 3, [1500, 1500])
    (first,), _ = first_cuts(stock_of(3, stick), 2.0, "mm")
    assert first.positions_m == (1.5,)
    assert [piece.offcut_m for piece in carried(stick, first, 3 * MM)] == [0, 0]


def test_what_lies_at_home_is_what_the_shop_made_of_it():
    long, short = stick_of(3000, 3, [1200, 900]), stick_of(1500, 3, [1000])
    stock = stock_of(3, short, long)
    firsts, _ = first_cuts(stock, 2.0, "mm")
    lying = list(at_home(CutList((), {}, stock, first_cuts=firsts)))
    assert [(one.stick, one.piece, one.pieces) for one in lying] == [(0, 0, 1), (1, 1, 2), (1, 2, 2)]
    assert lying[0].sawn == short
    assert [one.sawn.length_m for one in lying[1:]] == list(firsts[0].pieces_m)
    assert [one.sawn.cuts for one in lying[1:]] == [long.cuts[:1], long.cuts[1:]]


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
