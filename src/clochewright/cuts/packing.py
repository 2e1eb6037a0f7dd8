"""Do the pieces go into just these sticks? A search stick by stick, the fullest filling first."""

from __future__ import annotations

from collections.abc import Sequence

from clochewright.cuts.problem import Nesting, Pattern, Problem


def pack(problem: Problem, numbers: Sequence[int], steps: int) -> tuple[Nesting | None, int]:
    """Put every piece into that many sticks of each kind, some of which may stay empty.

    Args:
        problem: What is wanted.
        numbers: How many sticks of each kind there are.
        steps: When to give up. A count of steps, not a clock, so that the same list always comes out the same.

    Returns:
        The nesting or None, and the steps that are left: None is sure unless they are 0.
    """
    slack = sum(kind.room * n for kind, n in zip(problem.kinds, numbers, strict=True)) - problem.fill(problem.wanted)
    if slack < 0:
        return None, steps
    search = _Search(problem, steps)
    sticks = search.run(problem.wanted, tuple(numbers), slack)
    if sticks is None:
        return None, search.steps
    return problem.nesting((kind, counts, 1) for kind, counts in sticks), search.steps


class _Search:
    def __init__(self, problem: Problem, steps: int) -> None:
        self.problem = problem
        self.steps = steps
        self.hopeless: set[tuple[Pattern, Pattern]] = set()

    def run(self, left: Pattern, numbers: Pattern, slack: int) -> list[tuple[int, Pattern]] | None:
        """Sticks for what is left: the longest piece goes into one of them, so try each filling with it.

        `slack` is the room that may still be wasted. A filling that leaves room for a further piece needs no try:
        the same with that piece in it is as good.
        """
        if not any(left):
            return []
        if (left, numbers) in self.hopeless or self.steps <= 0:
            return None
        fillings = []
        for k, kind in enumerate(self.problem.kinds):
            if numbers[k]:
                fillings += [(waste, k, counts) for waste, counts in self._fillings(left, kind.room, slack)]
        fillings.sort(key=lambda f: (f[0], tuple(-n for n in f[2])))
        for waste, k, counts in fillings:
            rest = tuple(n - c for n, c in zip(left, counts, strict=True))
            fewer = (*numbers[:k], numbers[k] - 1, *numbers[k + 1 :])
            sticks = self.run(rest, fewer, slack - waste)
            if sticks is not None:
                return [(k, counts), *sticks]
        if self.steps > 0:
            self.hopeless.add((left, numbers))
        return None

    def _fillings(self, left: Pattern, room: int, slack: int) -> list[tuple[int, Pattern]]:
        """Every full filling of that room which holds the longest piece left and wastes no more than `slack`."""
        sizes = self.problem.sizes
        longest = next(i for i, n in enumerate(left) if n)
        reach = [0] * (len(sizes) + 1)  # what the sizes from here on can still add
        for i in range(len(sizes) - 1, longest - 1, -1):
            reach[i] = reach[i + 1] + sizes[i] * left[i]
        counts = [0] * len(sizes)
        found: list[tuple[int, Pattern]] = []

        def walk(i: int, rest: int, shortest_out: int) -> None:
            """`shortest_out` is the shortest piece left out so far: the rest must come out shorter than that."""
            if self.steps <= 0:
                return
            self.steps -= 1
            while i < len(sizes) and not left[i]:
                i += 1
            if i == len(sizes):
                if rest < shortest_out:
                    found.append((rest, tuple(counts)))
                return
            most = min(left[i], rest // sizes[i])
            for n in range(most, (0 if i == longest else -1), -1):
                after = rest - n * sizes[i]
                if after - reach[i + 1] > slack:
                    break
                counts[i] = n
                walk(i + 1, after, sizes[i] if n < left[i] else shortest_out)
            counts[i] = 0

        walk(longest, room, room + 1)
        return found
