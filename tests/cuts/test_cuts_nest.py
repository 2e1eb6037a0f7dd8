"""The nesting against trying everything, against first fit, and against a tape."""

from __future__ import annotations

import math
from collections import Counter
from itertools import count

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from nesting_by_hand import UNIT_M, exact, first_fit_decreasing, try_everything

from clochewright.cuts import Cut, nest

INCH = 0.0254
FOOT = 0.3048
MARKS = "ABCDEFGHJKLMNPQRSTUVWXYZ"


def cuts_of(pieces):
    counted = sorted(Counter(pieces).items(), reverse=True)
    return [Cut(mark, "rail", size * UNIT_M, count) for mark, (size, count) in zip(MARKS, counted, strict=False)]


def nested(pieces, kerf, sale, shed=(), **more):
    return nest(
        cuts_of(pieces),
        kerf_m=kerf * UNIT_M,
        sticks=[(length * UNIT_M, price) for length, price in sale],
        on_hand_m=[length * UNIT_M for length in shed],
        **more,
    )


def check_with_tape(stock, cuts, sale_m, shed_m):
    """Every piece comes off once, each stick is long enough with its saw cuts, and the figures add up."""
    sawn = Counter(piece for stick in stock.sticks for piece in stick.cuts)
    assert sawn == {(cut.mark, cut.length_m): cut.count for cut in cuts}
    kerf = exact(stock.kerf_m)
    for stick in stock.sticks:
        assert stick.cuts
        lengths = [exact(length_m) for _, length_m in stick.cuts]
        assert lengths == sorted(lengths, reverse=True)
        rest = exact(stick.length_m) - sum(lengths) - kerf * (len(lengths) - 1)  # the last piece needs no saw behind it
        assert rest >= 0
        assert exact(stick.offcut_m) == max(0, rest - kerf)
    used = Counter(exact(stick.length_m) for stick in stock.sticks if stick.origin == "on-hand")
    there = Counter(exact(length_m) for length_m in shed_m)
    assert all(used[length] <= there[length] for length in used)
    prices = {}
    for length_m, price in sale_m:
        prices[exact(length_m)] = min(price, prices.get(exact(length_m), price))
    bought = [stick for stick in stock.sticks if stick.origin == "buy"]
    assert stock.cost == pytest.approx(sum(prices[exact(stick.length_m)] for stick in bought))
    waste = sum(exact(stick.length_m) for stick in stock.sticks) - sum(
        exact(length_m) for stick in stock.sticks for _, length_m in stick.cuts
    )
    assert stock.waste_m == pytest.approx(float(waste))
    assert stock.patterns == len({(stick.origin, stick.length_m, stick.cuts) for stick in stock.sticks})


small = {
    "pieces": st.lists(st.integers(1, 60), min_size=1, max_size=6),
    "kerf": st.integers(0, 4),
    "sale": st.lists(st.tuples(st.integers(20, 90), st.integers(1, 12)), max_size=2),
    "shed": st.lists(st.integers(5, 70), max_size=2),
}


@given(**small, priced=st.booleans())
def test_equals_trying_everything(pieces, kerf, sale, shed, priced):
    """Pieces lacking, then cost, then waste, then different sticks: all four as by trying everything."""
    longest = max([*(length for length, _ in sale), *shed], default=0)
    possible = [piece for piece in pieces if piece <= longest]
    stock, findings = nested(pieces, kerf, [(length, price if priced else 0) for length, price in sale], shed)
    lacking, cost, used, patterns = try_everything(possible, kerf, sale, shed, priced)

    given_out = [round(length_m / UNIT_M) for stick in stock.sticks for _, length_m in stick.cuts]
    assert len(possible) - len(given_out) == lacking
    assert stock.proven
    assert stock.fewest_proven
    assert stock.gap == 0.0
    if lacking == 0:  # which pieces are left out is free where some are lacking
        bought = sum(round(stick.length_m / UNIT_M) for stick in stock.sticks if stick.origin == "buy")
        assert (stock.cost if priced else bought) == pytest.approx(cost)
        assert sum(round(stick.length_m / UNIT_M) for stick in stock.sticks) == used
        assert stock.patterns == patterns
    stopped = {finding.where for finding in findings}
    assert bool(stopped) == (len(given_out) < len(pieces))


medium = {
    "pieces": st.lists(st.integers(16, 1500), min_size=1, max_size=25),
    "kerf": st.sampled_from([0, 1, 2, 3]),
    "sale": st.lists(
        st.tuples(st.integers(1500, 4000), st.integers(1, 2000).map(lambda p: p / 100)), min_size=1, max_size=2
    ),
    "shed": st.lists(st.integers(100, 1900), max_size=3),
}


@settings(max_examples=40)
@given(**medium)
def test_never_worse_than_first_fit_and_never_too_long(pieces, kerf, sale, shed):
    cuts = cuts_of(pieces)[:24]
    pieces = [round(cut.length_m / UNIT_M) for cut in cuts for _ in range(cut.count)]
    stock, findings = nested(pieces, kerf, sale, shed, patience_s=0.3)  # true with or without proof
    assert not findings
    check_with_tape(
        stock, cuts, [(length * UNIT_M, price) for length, price in sale], [length * UNIT_M for length in shed]
    )
    cost, used = first_fit_decreasing(pieces, kerf, sale, shed)
    assert (round(stock.cost, 6), sum(round(stick.length_m / UNIT_M) for stick in stock.sticks)) <= (
        round(cost, 6),
        used,
    )


@given(**small)
@settings(max_examples=20)
def test_same_list_same_nesting(pieces, kerf, sale, shed):
    assert nested(pieces, kerf, sale, shed) == nested(pieces, kerf, sale, shed)


def test_metric_kerf_with_inch_lengths_is_exact():
    """A 2.2 mm saw in an inch list: 120 in holds 40 in three times only without the kerf."""
    cuts = [Cut("A", "rail", 40 * INCH, 3)]
    stock, _ = nest(cuts, kerf_m=0.0022, sticks=[(120 * INCH, 5.0)])
    check_with_tape(stock, cuts, [(120 * INCH, 5.0)], [])
    assert len(stock.sticks) == 2
    stock, _ = nest(cuts, kerf_m=0.0, sticks=[(120 * INCH, 5.0)])
    assert len(stock.sticks) == 1
    assert stock.sticks[0].offcut_m == 0.0


def test_a_cut_as_long_as_the_stick_needs_no_saw():
    stock, findings = nest([Cut("A", "ridge", 10 * FOOT, 2)], kerf_m=0.125 * INCH, sticks=[(10 * FOOT, 6.48)])
    assert not findings
    assert [stick.offcut_m for stick in stock.sticks] == [0.0, 0.0]
    assert stock.waste_m == 0.0


def test_the_last_kerf_may_run_off_the_end():
    """Two cuts and one kerf fill the stick but for less than a second kerf: it turns into dust."""
    stock, _ = nested([50, 47], 2, [(100, 1)])
    assert len(stock.sticks) == 1
    assert stock.sticks[0].offcut_m == 0.0
    stock, _ = nested([50, 49], 2, [(100, 1)])
    assert len(stock.sticks) == 2


def test_no_cuts():
    stock, findings = nest([], kerf_m=0.003, sticks=[(3.0, 5.0)])
    assert (stock.sticks, stock.cost, stock.proven, findings) == ((), 0.0, True, ())


def test_a_piece_on_hand_is_taken_only_where_it_saves_something():
    cut = [Cut("A", "brace", 1.0, 1)]
    stock, _ = nest(cut, kerf_m=0.003, sticks=[(3.0, 5.0)], on_hand_m=[1.5])
    assert [stick.origin for stick in stock.sticks] == ["on-hand"]
    stock, _ = nest([Cut("A", "brace", 1.4, 2)], kerf_m=0.003, sticks=[(3.0, 5.0)], on_hand_m=[1.5])
    assert [stick.origin for stick in stock.sticks] == ["buy"]  # one stick must be bought, and has room for both
    stock, _ = nest(cut, kerf_m=0.003, sticks=[(3.0, 0.0)], on_hand_m=[1.5])
    assert [stick.origin for stick in stock.sticks] == ["on-hand"]  # no prices known: buy as little as can be


def test_longer_than_every_stick_is_named_and_the_rest_is_nested():
    cuts = [Cut("A", "ridge", 3.5, 1), Cut("B", "rafter", 1.0, 2)]
    stock, findings = nest(cuts, kerf_m=0.003, sticks=[(3.0, 5.0)])
    assert [(f.level, f.key, f.where) for f in findings] == [("stop", "cuts.longer-than-stick", "A")]
    assert findings[0].values["cut_m"] == 3.5
    assert findings[0].values["stick_m"] == 3.0
    assert [mark for stick in stock.sticks for mark, _ in stick.cuts] == ["B", "B"]


def test_only_pieces_on_hand_are_long_enough_and_they_run_out():
    """By hand: 2 + 2 and 1.5 + 1.5 fill both pieces; tightest first would put 2 alone into 3 and fail."""
    cuts = [Cut("A", "ridge", 2.0, 2), Cut("B", "rafter", 1.5, 2)]
    stock, findings = nest(cuts, kerf_m=0.0, sticks=[(1.0, 5.0)], on_hand_m=[4.0, 3.0])
    assert not findings
    assert len(stock.sticks) == 2
    cuts = [Cut("A", "ridge", 2.0, 3), Cut("B", "rafter", 1.5, 2)]
    stock, findings = nest(cuts, kerf_m=0.0, sticks=[(1.0, 5.0)], on_hand_m=[4.0, 3.0])
    assert {f.key for f in findings} == {"cuts.short-of-stock"}
    assert sum(f.values["missing"] for f in findings) == 1


@pytest.mark.parametrize(
    ("kerf_m", "sticks", "on_hand_m"),
    [
        (-0.001, [(3.0, 5.0)], []),
        (0.003, [(0.0, 5.0)], []),
        (0.003, [(3.0, -1.0)], []),
        (0.003, [(math.inf, 5.0)], []),
        (0.003, [(3.0, 5.0)], [math.nan]),
        (0.003, [(3.0, 5.0)], [-1.0]),
    ],
)
def test_senseless_stock_is_refused(kerf_m, sticks, on_hand_m):
    with pytest.raises(ValueError, match=r"must|can't"):
        nest([Cut("A", "rail", 1.0, 1)], kerf_m=kerf_m, sticks=sticks, on_hand_m=on_hand_m)


def test_out_of_time_still_nests_and_says_so():
    """Lengths for which first fit is not known to be best: without any time there is no proof, but a nesting."""
    sizes = [1.38, 1.52, 1.56, 1.71, 1.82, 1.88, 1.93, 2.0, 2.05, 2.1, 2.14, 2.15, 2.2]
    cuts = [Cut(mark, "rail", size, 20) for mark, size in zip(MARKS, reversed(sizes), strict=False)]
    stock, _ = nest(cuts, kerf_m=0.0, sticks=[(5.6, 1.0)], patience_s=0.0)
    check_with_tape(stock, cuts, [(5.6, 1.0)], [])
    assert not stock.proven
    assert 0.0 < stock.gap <= 1.0
    assert not stock.fewest_proven


def test_patience_is_counted_in_work_so_a_slow_machine_nests_the_same(monkeypatch):
    """Many lengths and odd offcuts, which can't be proven with so little patience; every clock runs wild meanwhile."""
    cuts = [Cut(chr(65 + i), "pipe", (1010 - 53 * i) * 0.001, 3 + i % 4) for i in range(12)]
    asked = {"kerf_m": 0.003, "sticks": [(3.0, 5.0), (5.0, 8.1)], "on_hand_m": [1.93, 1.71, 1.37, 1.11, 0.83]}
    first = nest(cuts, **asked, patience_s=0.2)
    assert not first[0].proven
    for name in ("perf_counter", "monotonic", "time", "process_time"):
        monkeypatch.setattr(f"time.{name}", count(0.0, 1000.0).__next__)
    assert nest(cuts, **asked, patience_s=0.2) == first
