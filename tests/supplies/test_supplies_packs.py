"""Packs and sticks: enough, and no more than need be."""

from __future__ import annotations

import itertools
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from clochewright.supplies.packs import Pack, choose_packs, sticks_for

CANS = (
    Pack("4 oz can", 0.118294, None),
    Pack("half pint can", 0.236588, None),
    Pack("pint can", 0.473176, None),
    Pack("quart can", 0.946353, None),
)


def labels(chosen):
    return {pack.label: count for pack, count in chosen}


@pytest.mark.parametrize(
    ("litres", "cans"),
    [
        (0.0, {}),
        (0.10, {"4 oz can": 1}),
        (0.20, {"half pint can": 1}),
        (0.30, {"half pint can": 1, "4 oz can": 1}),
        (0.47, {"pint can": 1}),
        (2.00, {"quart can": 2, "4 oz can": 1}),
    ],
)
def test_the_smallest_set_of_cans(litres, cans):
    assert labels(choose_packs(litres, CANS)) == cans


def test_the_cheapest_set_where_all_prices_are_known():
    """One box of 100 at 9 costs less than two boxes of 30 at 5."""
    packs = (Pack("30", 30, Decimal(5)), Pack("100", 100, Decimal(9)))
    assert labels(choose_packs(45, packs)) == {"100": 1}
    assert labels(choose_packs(25, packs)) == {"30": 1}


@given(
    need=st.floats(0.01, 50.0),
    packs=st.lists(
        st.tuples(st.floats(0.5, 20.0), st.integers(1, 50)), min_size=1, max_size=3, unique_by=lambda pack: pack[0]
    ),
)
def test_packs_are_enough_and_no_dearer_than_any_one_size(need, packs):
    offered = [Pack(str(i), size, Decimal(price)) for i, (size, price) in enumerate(packs)]
    chosen = choose_packs(need, offered)
    bought = sum(pack.quantity * count for pack, count in chosen)
    assert bought >= need - 1e-6
    if need <= 3 * max(pack.quantity for pack in offered):
        cost = sum(pack.price * count for pack, count in chosen)
        # Brute force over all counts that can matter.
        ranges = [range(int(need / pack.quantity) + 2) for pack in offered]
        best = min(
            sum(pack.price * count for pack, count in zip(offered, counts, strict=True))
            for counts in itertools.product(*ranges)
            if sum(pack.quantity * count for pack, count in zip(offered, counts, strict=True)) >= need - 1e-6
        )
        assert cost == best


@pytest.mark.parametrize(
    ("pieces", "sticks", "joins"),
    [
        ((), 0, 0),
        ((2.0, 2.0), 2, 0),
        ((1.0, 1.0), 1, 0),
        ((2.4, 2.4), 2, 0),
        ((3.0,), 2, 1),
        ((3.0, 3.0), 3, 2),
        ((4.8,), 2, 1),
        ((5.0, 0.9, 0.9), 3, 2),
        ((5.0, 1.2, 1.2), 4, 2),
    ],
)
def test_lath_by_hand(pieces, sticks, joins):
    """Sticks of 2.4 m, no kerf. Two pieces of 3 m are two whole sticks and two rests of 0.6 m off a third."""
    needed = sticks_for(pieces, 2.4, 0.0)
    assert (needed.sticks, needed.joins) == (sticks, joins)


@given(pieces=st.lists(st.floats(0.05, 9.0), max_size=8))
def test_lath_is_never_short(pieces):
    needed = sticks_for(pieces, 2.4, 0.002)
    assert needed.sticks * 2.4 >= sum(pieces) - 1e-6
    assert needed.sticks >= len(pieces) * 0.05 / 2.4
