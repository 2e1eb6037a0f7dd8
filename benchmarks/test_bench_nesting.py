"""How quickly the cut list is nested, beside first fit, which proves nothing, as a peer."""

from __future__ import annotations

from dataclasses import replace
from importlib import import_module

import pytest

from clochewright.cuts import Cut, cut_lengths, nest

INCH = 0.0254
KERF_M = 0.125 * INCH
TEN_FEET = [(3.048, 6.48)]
TEN_AND_TWENTY = [(3.048, 6.48), (6.096, 12.25)]
ON_HAND_M = [1.2192, 1.2192, 2.032, 0.7112]

# Made up, of the size of a bed of 4 by 10 ft with four bents: rails, rafters, ridge, braces, stubs.
TYPICAL = [
    Cut(mark, "pipe", sixteenths * INCH / 16, count)
    for mark, sixteenths, count in [
        ("A", 1000, 6), ("B", 928, 2), ("C", 736, 8), ("D", 641, 16), ("E", 447, 4), ("F", 404, 4), ("G", 33, 8),
    ]
]  # fmt: skip


def first_fit_only(cuts, sticks, on_hand_m):
    """First fit on the same problem."""
    nesting = import_module("clochewright.cuts.nest")
    problem_file = import_module("clochewright.cuts.problem")
    kerf = problem_file.units(KERF_M)
    sizes = tuple(problem_file.units(cut.length_m) + kerf for cut in cuts)
    kinds = tuple(nesting._kinds(sticks, on_hand_m, kerf))
    return nesting.first_fit(problem_file.Problem(sizes, tuple(cut.count for cut in cuts), kinds))


@pytest.mark.parametrize("sticks", [TEN_FEET, TEN_AND_TWENTY], ids=["10 ft", "10 and 20 ft"])
@pytest.mark.parametrize("on_hand_m", [[], ON_HAND_M], ids=["empty shed", "offcuts"])
def test_nest(benchmark, sticks, on_hand_m):
    stock, _ = benchmark(nest, TYPICAL, kerf_m=KERF_M, sticks=sticks, on_hand_m=on_hand_m)
    assert stock.proven


@pytest.mark.parametrize("sticks", [TEN_FEET, TEN_AND_TWENTY], ids=["10 ft", "10 and 20 ft"])
def test_first_fit_peer(benchmark, sticks):
    assert benchmark(first_fit_only, TYPICAL, sticks, []).uses


def test_marks_of_a_thousand_frames(benchmark, frame_of_fifty_pipes):
    def marks():
        for _ in range(1000):
            cut_lengths(frame_of_fifty_pipes, "inch")

    benchmark.pedantic(marks, rounds=3)


@pytest.fixture
def frame_of_fifty_pipes():
    """Nothing but pipes: the marks look at nothing else. Every exact length is a little different."""
    from clochewright.frame import End, Frame, Pipe

    end = End(None, None, 0.0, (0.0, 0.0, 0.0))
    path = ((0.0, 0.0, 0.0), (1.0, 0.0, 0.0))
    pipes = tuple(Pipe(f"P{i}", "rail", 0.3 + (i % 12) * 0.1 + i * 1e-9, (end, end), path) for i in range(50))
    return replace(Frame("tent", "1 in", 0.0334, (), (), (), *[0.0] * 8), pipes=pipes)
