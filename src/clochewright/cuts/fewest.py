"""Among nestings of equal cost and waste, the one with the fewest different sticks."""

from __future__ import annotations

from collections.abc import Iterator
from math import gcd

from clochewright.cuts.problem import Nesting, Pattern, Problem, Use

MAX_STEPS = 14_000  # a count of steps, not a clock, so that the same list always comes out the same


def fewest_patterns(problem: Problem, start: Nesting) -> tuple[Nesting, bool]:
    """Search for a nesting of no greater cost and length with fewer different sticks than `start`.

    Args:
        problem: What is wanted; everything in it must be given by `start`.
        start: A nesting of least cost and least length.

    Returns:
        The nesting, and whether no better one exists (the search ends after a fixed number of steps).
    """
    search = _Search(problem, problem.cost(start), problem.length(start))
    best = start
    search.steps, search.full = MAX_STEPS // 2, True  # with full sticks: one fewer, and again, while that is easy ...
    while (found := search.run(len(best.uses) - 1)) is not None:
        best = found
    search.full, search.complete = False, True  # ... then with any: up from one, so that the first success is the best
    for patterns in range(1, len(best.uses)):
        search.steps += MAX_STEPS // 2 // (len(best.uses) - 1)
        found = search.run(patterns)
        if found is not None:
            return found, search.complete
    return best, search.complete


class _Search:
    """Depth first: take the longest piece still wanted, try each stick that holds it, as often as it can be used."""

    def __init__(self, problem: Problem, cost: int, length: int) -> None:
        self.problem = problem
        self.cost = cost
        self.length = length
        self.steps = 0
        self.complete = True
        self.full = False

    def run(self, patterns: int) -> Nesting | None:
        """A nesting with that many different sticks at most, or None."""
        available = [kind.available for kind in self.problem.kinds]
        uses = self._from(self.problem.wanted, patterns, self.cost, self.length, available)
        if uses is None:
            return None
        return self.problem.nesting((use.kind, use.counts, use.times) for use in uses)

    def _from(
        self, left: Pattern, patterns: int, cost: int, length: int, available: list[int | None]
    ) -> list[Use] | None:
        if not any(left):
            return []
        if patterns < 1:
            return None
        if patterns == 1:
            return self._all_alike(left, cost, length, available)
        for kind, counts, most in self._next_sticks(left, cost, length, available):
            for times in range(most, 0, -1):
                if self.steps <= 0:
                    self.complete = False
                    return None
                self.steps -= 1
                row = self.problem.kinds[kind]
                rest = tuple(n - times * c for n, c in zip(left, counts, strict=True))
                number = available[kind]
                if number is not None:
                    available[kind] = number - times
                found = self._from(rest, patterns - 1, cost - times * row.price, length - times * row.length, available)
                available[kind] = number
                if found is not None:
                    return [Use(kind, counts, times), *found]
        return None

    def _all_alike(self, left: Pattern, cost: int, length: int, available: list[int | None]) -> list[Use] | None:
        """Everything that is left from sticks sawn alike, if that can be."""
        common = gcd(*left)
        fill = self.problem.fill(left)
        for times in range(1, common + 1):
            if common % times:
                continue
            for k, kind in enumerate(self.problem.kinds):
                if fill <= kind.room * times and self._most(k, cost, length, available) >= times:
                    return [Use(k, tuple(n // times for n in left), times)]
        return None

    def _most(self, kind: int, cost: int, length: int, available: list[int | None]) -> int:
        """How many sticks of a kind the cost, the length and the shed still allow."""
        row = self.problem.kinds[kind]
        most = length // row.length
        if row.price:
            most = min(most, cost // row.price)
        number = available[kind]
        return most if number is None else min(most, number)

    def _next_sticks(
        self, left: Pattern, cost: int, length: int, available: list[int | None]
    ) -> list[tuple[int, Pattern, int]]:
        """Sticks that hold the longest piece still wanted: (kind, counts, most times), those that clear most first.

        Sticks that waste more than can be wasted are left out: the rest would no longer fit.
        """
        longest = next(i for i, n in enumerate(left) if n)
        wanted_room = self.problem.fill(left)
        kerf = max((kind.room - kind.length for kind in self.problem.kinds), default=0)
        shortest = min(kind.length for kind in self.problem.kinds)
        slack = length + kerf * (length // shortest) - wanted_room
        found: list[tuple[int, int, Pattern, Pattern, int]] = []  # the first three to sort by
        for k, kind in enumerate(self.problem.kinds):
            most = self._most(k, cost, length, available)
            if most < 1 or slack < 0:
                continue
            for counts, fill in self._fillings(left, longest, kind.room, kind.room - slack):
                times = min(most, *(n // c for n, c in zip(left, counts, strict=True) if c))
                if kind.room > fill:
                    times = min(times, slack // (kind.room - fill))
                if times:
                    found.append((-times * fill, k, tuple([-n for n in counts]), counts, times))
        return [(k, counts, times) for _, k, _, counts, times in sorted(found)]

    def _fillings(self, left: Pattern, longest: int, room: int, least: int) -> Iterator[tuple[Pattern, int]]:
        """Every way to fill a stick to at least `least` with what is left, one of size `longest` among it."""
        sizes = self.problem.sizes
        reach = [0] * (len(sizes) + 1)  # what the sizes from here on can still add
        for i in range(len(sizes) - 1, -1, -1):
            reach[i] = reach[i + 1] + sizes[i] * left[i]
        counts = [0] * len(sizes)

        last = max(i for i, n in enumerate(left) if n)

        def walk(i: int, fill: int, shortest_out: int) -> Iterator[tuple[Pattern, int]]:
            if self.steps <= 0:
                self.complete = False
                return
            self.steps -= 1
            while i <= last and not left[i]:
                i += 1
            if i > last:
                if not self.full or room - fill < shortest_out:
                    yield tuple(counts), fill
                return
            most = min(left[i], (room - fill) // sizes[i])
            for n in range(most, (0 if i == longest else -1), -1):
                if fill + n * sizes[i] + reach[i + 1] < least:
                    break
                counts[i] = n
                yield from walk(i + 1, fill + n * sizes[i], sizes[i] if n < left[i] else shortest_out)
                if self.full and i == last:
                    break
            counts[i] = 0

        yield from walk(longest, 0, room + 1)
