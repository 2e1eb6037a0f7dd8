"""Nesting: which cut comes off which stick. Least cost first, then least waste, then fewest different sticks."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from math import isfinite

from clochewright.cuts.columns import least
from clochewright.cuts.fewest import fewest_patterns
from clochewright.cuts.firstfit import first_fit
from clochewright.cuts.patience import Patience
from clochewright.cuts.problem import MONEY_UNITS, UNITS_PER_M, Kind, Nesting, Problem, units
from clochewright.cuts.types import Cut, Stick, Stock
from clochewright.findings import Finding, Level

PATIENCE_S = 3.0
# With less time than this the third aim is left out: whoever is in such a hurry asks again.
HURRY_S = 0.1


def nest(
    cuts: Sequence[Cut],
    *,
    kerf_m: float,
    sticks: Sequence[tuple[float, float]],
    on_hand_m: Sequence[float] = (),
    patience_s: float = PATIENCE_S,
) -> tuple[Stock, tuple[Finding, ...]]:
    """Nest cuts into sticks, exactly.

    Three aims, each only among what is best by the one before: least cost; least waste (length of all sticks sawn into,
    less the cuts); fewest different sticks. A piece on hand costs nothing and is taken where it saves money, or
    where no stick carries a price, a bought length; one that would save neither stays whole. The
    third aim is searched for a fixed number of steps (`Stock.fewest_proven` says whether to the end).

    Args:
        cuts: Marks, rounded lengths and counts.
        kerf_m: Width that the saw takes away at each cut [m].
        sticks: Sticks for sale: length [m] and price. Where every price is 0, the bought length stands for the cost.
        on_hand_m: Length of each piece on hand [m].
        patience_s: About how long to look for proof before the best nesting found is taken; under 0.1 the third aim is
            left out [s]. It is counted in work, not by the clock, so that the same list always comes out the same.

    Returns:
        The nesting, and a stop finding for each mark that no stick can give.

    Raises:
        ValueError: A stick without length, a negative price or kerf, or a figure that is not a number.
    """
    _check(kerf_m, sticks, on_hand_m)
    cuts = sorted(cuts, key=lambda cut: -cut.length_m)
    kerf = units(kerf_m)
    kinds = _kinds(sticks, on_hand_m, kerf)
    longest = max((kind.length for kind in kinds), default=0)
    usable = [cut for cut in cuts if 0 < units(cut.length_m) <= longest]
    findings = [_cannot_be_cut(cut, longest) for cut in cuts if cut not in usable]

    problem = Problem(
        tuple(units(cut.length_m) + kerf for cut in usable), tuple(cut.count for cut in usable), tuple(kinds)
    )
    nesting, proven, gap, fewest_proven = _solve(problem, patience_s)
    for cut, missing in zip(usable, nesting.missing, strict=True):
        if missing:
            findings.append(_short_of_stock(cut, missing, sticks))
    return _stock(problem, nesting, usable, kerf_m, sticks, proven, gap, fewest_proven), tuple(findings)


def _check(kerf_m: float, sticks: Sequence[tuple[float, float]], on_hand_m: Sequence[float]) -> None:
    figures = [kerf_m, *(figure for stick in sticks for figure in stick), *on_hand_m]
    if not all(isfinite(figure) for figure in figures):
        raise ValueError("every length, price and kerf must be a number")
    if kerf_m < 0.0 or any(price < 0.0 for _, price in sticks):
        raise ValueError("kerf and prices can't be below 0")
    if any(units(length_m) <= 0 for length_m in (*(length_m for length_m, _ in sticks), *on_hand_m)):
        raise ValueError("every stick must have a length")


def _kinds(sticks: Sequence[tuple[float, float]], on_hand_m: Sequence[float], kerf: int) -> list[Kind]:
    """The kinds of stick: pieces on hand first, longest first; of equal lengths for sale only the cheapest."""
    shed = Counter(units(length_m) for length_m in on_hand_m)
    kinds = [Kind(length, length + kerf, 0, count) for length, count in sorted(shed.items(), reverse=True)]
    priced = any(price > 0.0 for _, price in sticks)
    cheapest: dict[int, int] = {}
    for length_m, price in sticks:
        length = units(length_m)
        counted = round(price * MONEY_UNITS) if priced else length
        cheapest[length] = min(counted, cheapest.get(length, counted))
    kinds += [Kind(length, length + kerf, price, None) for length, price in sorted(cheapest.items(), reverse=True)]
    return kinds


def _solve(problem: Problem, patience_s: float) -> tuple[Nesting, bool, float, bool]:
    """The nesting, whether cost and waste are proven, the gap, and whether fewest different sticks is proven."""
    if not problem.kinds or not any(problem.wanted):
        return Nesting((), problem.wanted), True, 0.0, True
    patience = Patience(patience_s)
    nesting = first_fit(problem)

    cost = problem.cost(nesting)
    proven, gap = True, 0.0
    by_volume = _least_cost_by_volume(problem)
    if cost > by_volume:
        missing_weight = problem.missing_price() if any(problem.scarce()) else None
        answer = least(
            problem,
            [kind.price for kind in problem.kinds],
            nesting,
            missing_weight=missing_weight,
            patience=patience,
        )
        nesting, proven = answer.nesting, answer.proven
        gap = 0.0 if proven else 1.0 - max(answer.bound, by_volume) / problem.cost(nesting)

    missing = nesting.missing
    problem = problem.without(missing)
    nesting = replace(nesting, missing=(0,) * len(missing))
    if len(problem.kinds) > 1 and nesting.uses:  # with one kind of stick the cost settles the waste
        answer = least(
            problem,
            [kind.length for kind in problem.kinds],
            nesting,
            most_cost=problem.cost(nesting),
            patience=patience,
        )
        nesting = answer.nesting
        if proven and not answer.proven:
            proven, gap = False, 1.0 - answer.bound / problem.length(nesting)

    fewest_proven = False
    if patience_s >= HURRY_S:
        nesting, fewest_proven = fewest_patterns(problem, nesting)
    return replace(nesting, missing=missing), proven, gap, proven and fewest_proven


def _least_cost_by_volume(problem: Problem) -> int:
    """A cost that can't be bettered: all cuts laid end to end, everything on hand used up, the best value bought."""
    left = problem.fill(problem.wanted)
    left -= sum(kind.room * kind.available for kind in problem.kinds if kind.available is not None)
    for_sale = [kind for kind in problem.kinds if kind.available is None]
    if left <= 0 or not for_sale:
        return 0
    if len(for_sale) == 1:
        return -(-left // for_sale[0].room) * for_sale[0].price
    return min(-(-left * kind.price // kind.room) for kind in for_sale)


def _stock(
    problem: Problem,
    nesting: Nesting,
    cuts: Sequence[Cut],
    kerf_m: float,
    sticks: Sequence[tuple[float, float]],
    proven: bool,
    gap: float,
    fewest_proven: bool,
) -> Stock:
    """The nesting as sticks: pieces on hand first, then bought ones, longest first, like sticks side by side."""
    price_of: dict[int, float] = {}
    for length_m, price in sticks:
        length = units(length_m)
        price_of[length] = min(price, price_of.get(length, price))
    rows = []
    cost = 0
    waste = 0
    for use in nesting.uses:
        kind = problem.kinds[use.kind]
        pieces = tuple((cut.mark, cut.length_m) for cut, n in zip(cuts, use.counts, strict=True) for _ in range(n))
        offcut = max(0, kind.room - problem.fill(use.counts) - (kind.room - kind.length))
        bought = kind.available is None
        stick = Stick(kind.length / UNITS_PER_M, "buy" if bought else "on-hand", pieces, offcut / UNITS_PER_M)
        rows += [stick] * use.times
        if bought:
            cost += round(price_of[kind.length] * MONEY_UNITS) * use.times
        waste += (kind.length - sum(units(length_m) for _, length_m in pieces)) * use.times
    return Stock(
        kerf_m=kerf_m,
        proven=proven,
        gap=gap,
        cost=cost / MONEY_UNITS,
        sticks=tuple(rows),
        waste_m=waste / UNITS_PER_M,
        patterns=len(nesting.uses),
        fewest_proven=fewest_proven,
    )


def _cannot_be_cut(cut: Cut, longest: int) -> Finding:
    if units(cut.length_m) <= 0:
        return Finding(Level.STOP, "cuts", "cuts.no-length", cut.mark, {"mark": cut.mark, "role": cut.role})
    if not longest:
        return Finding(Level.STOP, "cuts", "cuts.no-sticks", cut.mark, {"mark": cut.mark, "cut_m": cut.length_m})
    values = {"mark": cut.mark, "role": cut.role, "cut_m": cut.length_m, "stick_m": longest / UNITS_PER_M}
    return Finding(Level.STOP, "cuts", "cuts.longer-than-stick", cut.mark, values)


def _short_of_stock(cut: Cut, missing: int, sticks: Sequence[tuple[float, float]]) -> Finding:
    values = {"mark": cut.mark, "role": cut.role, "cut_m": cut.length_m, "missing": missing}
    if not sticks:
        return Finding(Level.STOP, "cuts", "cuts.shed-used-up", cut.mark, values)
    values["stick_m"] = max(length_m for length_m, _ in sticks)
    return Finding(Level.STOP, "cuts", "cuts.short-of-stock", cut.mark, values)
