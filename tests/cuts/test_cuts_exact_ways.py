"""Each way to the exact nesting by itself: from a poor start, with the quicker ways shut off."""

from __future__ import annotations

from collections import Counter
from importlib import import_module

import pytest
from hypothesis import given
from hypothesis import strategies as st
from nesting_by_hand import UNIT_M, try_everything

from clochewright.cuts import Cut, nest
from clochewright.cuts.problem import units

columns = import_module("clochewright.cuts.columns")
packing = import_module("clochewright.cuts.packing")
totals = import_module("clochewright.cuts.totals")
nest_file = import_module("clochewright.cuts.nest")


def one_piece_a_stick(problem):
    """The poorest nesting there is, where there are sticks enough for it."""
    alone = []
    for i, (size, wanted) in enumerate(zip(problem.sizes, problem.wanted, strict=True)):
        counts = [int(i == j) for j in range(len(problem.sizes))]
        kind = next((k for k, kind in enumerate(problem.kinds) if kind.available is None and kind.room >= size), None)
        if kind is None:
            return import_module("clochewright.cuts.firstfit").first_fit(problem)
        alone.append((kind, counts, wanted))
    return problem.nesting(alone)


WAYS = {
    "search": {},
    "integer program for each number of sticks": {(columns, "PACKING_STEPS"): 0},
    "one integer program over all patterns": {(totals, "MAX_STEPS"): 0},
}


@pytest.mark.parametrize("way", WAYS)
@given(
    pieces=st.lists(st.integers(5, 60), min_size=2, max_size=7),
    kerf=st.integers(0, 4),
    sale=st.lists(st.tuples(st.integers(40, 90), st.integers(1, 12)), min_size=1, max_size=2),
    shed=st.lists(st.integers(5, 70), max_size=2),
)
def test_each_way_equals_trying_everything(way, pieces, kerf, sale, shed):
    longest = max([*(length for length, _ in sale), *shed])
    pieces = [piece for piece in pieces if piece <= longest]
    counted = sorted(Counter(pieces).items(), reverse=True)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(nest_file, "first_fit", one_piece_a_stick)
        for (module, name), value in WAYS[way].items():
            patch.setattr(module, name, value)
        stock, findings = nest(
            [Cut(f"M{size}", "rail", size * UNIT_M, count) for size, count in counted],
            kerf_m=kerf * UNIT_M,
            sticks=[(length * UNIT_M, price) for length, price in sale],
            on_hand_m=[length * UNIT_M for length in shed],
        )
    lacking, cost, used, _ = try_everything(pieces, kerf, sale, shed)
    assert len(pieces) - sum(len(stick.cuts) for stick in stock.sticks) == lacking
    assert bool(findings) == (lacking > 0)
    assert stock.proven
    if not lacking:
        assert stock.cost == pytest.approx(cost)
        assert sum(units(stick.length_m) for stick in stock.sticks) == used * units(UNIT_M)
