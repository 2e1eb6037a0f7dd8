"""The nesting against worked examples of the one-dimensional cutting stock problem."""

from __future__ import annotations

from clochewright.cuts import Cut, nest


def nested(stick_m, demand):
    cuts = [Cut(f"M{i}", "roll", size_m, count) for i, (size_m, count) in enumerate(demand.items())]
    return nest(cuts, kerf_m=0.0, sticks=[(stick_m, 1.0)])[0]


def test_paper_rolls_of_5600_mm():
    """Public encyclopaedia, article "Cutting stock problem", its illustration (read in a stored copy).

    13 widths from rolls of 5600 mm: 73 rolls, 0.401 % waste; no solution of that waste has fewer than 10 patterns.
    """
    demand = {
        1.380: 22, 1.520: 25, 1.560: 12, 1.710: 14, 1.820: 18, 1.880: 18, 1.930: 20,
        2.000: 10, 2.050: 12, 2.100: 14, 2.140: 16, 2.150: 18, 2.200: 20,
    }  # fmt: skip
    stock = nested(5.6, demand)
    assert len(stock.sticks) == 73
    assert stock.proven
    assert round(100 * stock.waste_m / (73 * 5.6), 3) == 0.401
    assert stock.patterns >= 10


def test_rolls_of_100_in():
    """Widths 14, 31, 36, 45 from rolls of 100, demands 211, 395, 610, 97: the classic textbook example.

    Data read in a public example model; the optimum, 453 rolls, from memory (V. Chvatal, Linear Programming, ch. 13).
    """
    stock = nested(1.0, {0.14: 211, 0.31: 395, 0.36: 610, 0.45: 97})
    assert len(stock.sticks) == 453
    assert stock.proven

