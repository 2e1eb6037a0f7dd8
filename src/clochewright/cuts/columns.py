"""The exact nesting: column generation for a bound, then the numbers of sticks that could better the nesting, in turn.

Where no lighter numbers of sticks have room for the pieces, the nesting is the best. Else the relaxed program (patterns
may be used in part) is solved by adding, again and again, the filling of a stick that is worth most at the current
price of each piece (Gilmore and Gomory, Operations Research 9, 1961). Its value is a lower bound. From there up, each
number of sticks of each kind is tried, lightest first: by a quick search, and where that gives up, by an integer
program over all fillings that leave no more room than those sticks have to spare.

Where that won't do (pieces are missing, or there are too many numbers to try), one integer program over all patterns
settles it: a pattern whose reduced cost is more than the distance from the bound to the best nesting known can't be in
a better one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, gcd, inf

import numpy as np

from clochewright.cuts.fill import Fill, Floats
from clochewright.cuts.packing import pack
from clochewright.cuts.patience import CELL_S, COLUMN_S, FILLING_S, PACKING_STEP_S, RELAXED_S, Patience
from clochewright.cuts.problem import Nesting, Pattern, Problem
from clochewright.cuts.solver import Column, Relaxed, Rows, whole
from clochewright.cuts.totals import totals

MAX_PATTERNS = 20_000
MAX_ROUNDS = 400
PACKING_STEPS = 4_000
SLACK = 1e-4  # more than the solver's tolerances can add up to; costs are whole numbers


@dataclass(frozen=True, slots=True)
class Answer:
    """The best nesting found, the least that its objective can be, and whether the two are known to meet."""

    nesting: Nesting
    bound: int
    proven: bool


def least(
    problem: Problem,
    weights: Sequence[int],
    start: Nesting,
    *,
    missing_weight: int | None = None,
    most_cost: int | None = None,
    patience: Patience,
) -> Answer:
    """The nesting whose sticks weigh least.

    Args:
        problem: What is wanted and what there is.
        weights: What a stick of each kind counts in the objective.
        start: A nesting that keeps to all conditions.
        missing_weight: What a missing piece counts; None where nothing may be missing.
        most_cost: The most that all sticks together may cost; None for any.
        patience: Work that may still be spent; what is done here comes off it.

    Returns:
        The answer; `bound` is in the unit of the weights.
    """
    return _Columns(problem, weights, missing_weight, most_cost, patience).run(start)


class _Columns:
    def __init__(
        self,
        problem: Problem,
        weights: Sequence[int],
        missing_weight: int | None,
        most_cost: int | None,
        patience: Patience,
    ) -> None:
        self.problem = problem
        self.unit = gcd(*weights, missing_weight or 0) or 1
        self.weights = [weight // self.unit for weight in weights]
        self.missing_weight = None if missing_weight is None else missing_weight // self.unit
        self.most_cost = most_cost
        self.patience = patience
        sizes = len(problem.sizes)
        self.shed_row = {}  # kind -> row that says how many there are
        lower = [float(n) for n in problem.wanted]
        upper = [inf] * sizes
        for k, kind in enumerate(problem.kinds):
            if kind.available is not None:
                self.shed_row[k] = len(lower)
                lower.append(-inf)
                upper.append(float(kind.available))
        self.cost_unit = gcd(*(kind.price for kind in problem.kinds)) or 1
        if most_cost is not None:
            lower.append(-inf)
            upper.append(float(most_cost // self.cost_unit))
        self.rows = Rows(np.array(lower), np.array(upper))
        self.patterns: list[tuple[int, Pattern]] = []
        self.missing_of: list[int] = []

    def run(self, start: Nesting) -> Answer:
        best = self._objective(start)
        if self._none_lighter(start, best):
            return Answer(start, best * self.unit, True)
        relaxed = self._relaxed(start)
        if relaxed is None:
            return Answer(start, 0, False)
        value, prices = relaxed
        bound = max(0, ceil(value - SLACK))
        if best <= bound:
            return Answer(start, best * self.unit, True)

        if not any(start.missing):
            start, bound = self._by_totals(start, bound)
            best = self._objective(start)
            if best <= bound:
                return Answer(start, best * self.unit, True)
        return self._by_patterns(start, prices, value, bound)

    def _none_lighter(self, start: Nesting, best: int) -> bool:
        """Whether no lighter numbers of sticks have room for all pieces, laid end to end."""
        if any(start.missing):
            return False
        lightest = totals(self.problem, self.weights, 0, best, most_cost=self.most_cost)
        return lightest.complete and not lightest.numbers

    def _by_patterns(self, start: Nesting, prices: Floats, value: float, bound: int) -> Answer:
        """The answer from one integer program over every pattern that could be in a better nesting than `start`."""
        best = self._objective(start)
        patterns = self._worth_trying(prices, best - 1 - value + SLACK)
        complete = patterns is not None
        columns = [*self._missing(), *(self._column(k, counts) for k, counts in patterns or self.patterns)]
        if not self._may_solve(columns):
            return Answer(start, bound * self.unit, False)
        numbers, whole_bound, ended = whole(self.rows, columns, bound)
        nesting = start
        if numbers is not None:
            of_patterns = numbers[len(self.missing_of) :]
            sticks = [(*p, n) for p, n in zip(patterns or self.patterns, of_patterns, strict=True) if n]
            found = self.problem.nesting(sticks)
            if self._objective(found) < best:
                nesting, best = found, self._objective(found)
        if complete and whole_bound is not None:
            bound = max(bound, min(best, ceil(whole_bound - SLACK)))
        proven = best <= bound or (complete and ended)
        return Answer(nesting, (best if proven else bound) * self.unit, proven)

    def _by_totals(self, start: Nesting, bound: int) -> tuple[Nesting, int]:
        """A better nesting if there is one, and a better bound, from trying the lightest numbers of sticks in turn."""
        best = self._objective(start)
        lightest = totals(self.problem, self.weights, bound, best, most_cost=self.most_cost)
        sure = lightest.complete
        for numbers in lightest.numbers:
            if sure:
                bound = sum(weight * n for weight, n in zip(self.weights, numbers, strict=True))
            nesting, steps = pack(self.problem, numbers, PACKING_STEPS)
            self.patience.spend((PACKING_STEPS - steps) * PACKING_STEP_S)
            if nesting is None and not steps:
                nesting, certain = self._decide(numbers)
                sure = sure and certain
            if nesting is not None:
                return nesting, bound
            if not self.patience.allows():
                return start, bound
        return start, best if sure else bound

    def _decide(self, numbers: Sequence[int]) -> tuple[Nesting | None, bool]:
        """Whether the pieces go into just these sticks, by an integer program: the nesting or None, and if it is sure.

        No stick in it can leave more room than all of them have to spare.
        """
        kinds, sizes = self.problem.kinds, len(self.problem.sizes)
        spare = sum(kind.room * n for kind, n in zip(kinds, numbers, strict=True))
        spare -= self.problem.fill(self.problem.wanted)
        fill = self._fill(np.array(self.problem.sizes, dtype=float))
        patterns: list[tuple[int, Pattern]] = []
        for k, kind in enumerate(kinds):
            if numbers[k]:
                fillings = self._fillings(fill, kind.room, kind.room - spare - 0.5, len(patterns))
                if fillings is None:
                    return None, False
                patterns += [(k, counts) for counts in fillings]
        rows = Rows(
            np.array([*self.problem.wanted, *(-inf for _ in kinds)], dtype=float),
            np.array([*(inf for _ in range(sizes)), *numbers], dtype=float),
        )
        columns = []
        for k, counts in patterns:
            entries = [(i, float(n)) for i, n in enumerate(counts) if n]
            columns.append(Column(0.0, (*entries, (sizes + k, 1.0)), inf))
        if not self._may_solve(columns):
            return None, False
        times, _, ended = whole(rows, columns, 0)
        if times is None:
            return None, ended
        return self.problem.nesting((*p, n) for p, n in zip(patterns, times, strict=True) if n), True

    def _fill(self, worth: Floats) -> Fill:
        """The table of fillings for those worths."""
        fill = Fill(self.problem, worth)
        self.patience.spend(CELL_S * sum(len(row) for row in fill.rows))
        return fill

    def _fillings(self, fill: Fill, room: int, low: float, already: int) -> list[Pattern] | None:
        """Every filling worth `low` at least; None if, with those `already` found, there are too many to try."""
        limit = min(MAX_PATTERNS, int(max(self.patience.left_s, 0.0) / COLUMN_S)) - already
        fillings = fill.all_worth(room, low, limit) if limit > 0 else None
        self.patience.spend(FILLING_S * (limit if fillings is None else len(fillings)))
        return fillings

    def _may_solve(self, columns: Sequence[Column]) -> bool:
        """Whether there is patience for an integer program of so many unknowns; if so, it is spent."""
        cost_s = COLUMN_S * len(columns)
        if not self.patience.allows(cost_s):
            return False
        self.patience.spend(cost_s)
        return True

    def _objective(self, nesting: Nesting) -> int:
        sticks = sum(self.weights[use.kind] * use.times for use in nesting.uses)
        return sticks + (self.missing_weight or 0) * sum(nesting.missing)

    def _column(self, kind: int, counts: Pattern) -> Column:
        entries = [(i, float(n)) for i, n in enumerate(counts) if n]
        if kind in self.shed_row:
            entries.append((self.shed_row[kind], 1.0))
        price = self.problem.kinds[kind].price
        if self.most_cost is not None and price:
            entries.append((len(self.rows.lower) - 1, float(price // self.cost_unit)))
        return Column(float(self.weights[kind]), tuple(entries), inf)

    def _missing(self) -> list[Column]:
        """Unknowns for the pieces that may stay without a stick."""
        if self.missing_weight is None:
            return []
        self.missing_of = [i for i, scarce in enumerate(self.problem.scarce()) if scarce]
        return [Column(float(self.missing_weight), ((i, 1.0),), float(self.problem.wanted[i])) for i in self.missing_of]

    def _relaxed(self, start: Nesting) -> tuple[float, Floats] | None:
        """Value of the relaxed program and the price of each row, once no filling can better it."""
        self.patterns = list(dict.fromkeys((use.kind, use.counts) for use in start.uses))
        known = set(self.patterns)
        program = Relaxed(self.rows, [*self._missing(), *(self._column(k, counts) for k, counts in self.patterns)])
        for _ in range(MAX_ROUNDS):
            self.patience.spend(RELAXED_S)
            solved = program.solve() if self.patience.allows() else None
            if solved is None:
                return None
            value, prices = solved
            fill = self._fill(np.maximum(prices[: len(self.problem.sizes)], 0.0))
            fresh = []
            for k, kind in enumerate(self.problem.kinds):
                if fill.worth_of(kind.room) > self._stick_price(k, prices) + 1e-7:
                    pattern = (k, fill.best(kind.room))
                    if pattern not in known:
                        known.add(pattern)
                        fresh.append(pattern)
            if not fresh:
                return value, prices
            self.patterns += fresh
            program.add([self._column(k, counts) for k, counts in fresh])
        return None

    def _stick_price(self, kind: int, prices: Floats) -> float:
        """What a stick of a kind really costs the objective: its weight, its scarcity, its share of the money."""
        price = self.weights[kind] - (prices[self.shed_row[kind]] if kind in self.shed_row else 0.0)
        if self.most_cost is not None:
            price -= prices[-1] * (self.problem.kinds[kind].price // self.cost_unit)
        return float(price)

    def _worth_trying(self, prices: Floats, margin: float) -> list[tuple[int, Pattern]] | None:
        """Every pattern whose reduced cost is at most `margin`; None if there are too many."""
        fill = self._fill(np.maximum(prices[: len(self.problem.sizes)], 0.0))
        found: list[tuple[int, Pattern]] = []
        for k, kind in enumerate(self.problem.kinds):
            fillings = self._fillings(fill, kind.room, self._stick_price(k, prices) - margin, len(found))
            if fillings is None:
                return None
            found += [(k, counts) for counts in fillings]
        return found
