"""The best ways to fill one stick, for given worths of the pieces: dynamic programming over whole lengths."""

from __future__ import annotations

from math import gcd

import numpy as np
import numpy.typing as npt

from clochewright.cuts.problem import Pattern, Problem

Floats = npt.NDArray[np.float64]


class Fill:
    """Worth of the best filling, from each size on and for each room; `rows[i][r]` uses sizes i, i+1, ... in room r."""

    def __init__(self, problem: Problem, worth: Floats) -> None:
        """Work the table out.

        Args:
            problem: Sizes, how often each is wanted, and the kinds of stick.
            worth: What one piece of each size is worth, not negative, in any unit; shape (sizes,).
        """
        self.worth = worth
        self.step = gcd(*problem.sizes)  # every sum of sizes is a multiple, so all else can be rounded down to it
        self.sizes = [size // self.step for size in problem.sizes]
        widest = max(kind.room for kind in problem.kinds) // self.step
        self.most = [min(wanted, widest // size) for wanted, size in zip(problem.wanted, self.sizes, strict=True)]
        row = np.zeros(widest + 1)
        self.rows = [row]
        for size, most, each in zip(reversed(self.sizes), reversed(self.most), reversed(worth.tolist()), strict=True):
            row = row.copy()
            while most > 0 and each > 0.0:  # bundles of 1, 2, 4, ... give every number up to `most`
                bundle = self._bundle(most)
                shift = bundle * size
                if shift <= widest:
                    row[shift:] = np.maximum(row[shift:], row[: widest + 1 - shift] + bundle * each)
                most -= bundle
            self.rows.append(row)
        self.rows.reverse()

    @staticmethod
    def _bundle(most: int) -> int:
        return (most + 1) // 2

    def worth_of(self, room: int) -> float:
        """Worth of the best filling of that room (in the problem's units)."""
        return float(self.rows[0][room // self.step])

    def best(self, room: int) -> Pattern:
        """The best filling of that room; of equals the one with most of the longest pieces."""
        rest = room // self.step
        counts = []
        for i, (size, most) in enumerate(zip(self.sizes, self.most, strict=True)):
            fitting = min(most, rest // size)
            after = self.rows[i + 1]
            worths = [n * self.worth[i] + after[rest - n * size] for n in range(fitting, -1, -1)]
            take = fitting - int(np.argmax(np.asarray(worths) >= max(worths) - 1e-9))
            counts.append(take)
            rest -= take * size
        return tuple(counts)

    def all_worth(self, room: int, low: float, limit: int) -> list[Pattern] | None:
        """Every filling that is worth `low` at least and has no room for another piece; None if more than `limit`."""
        found: list[Pattern] = []
        counts = [0] * len(self.sizes)
        last = len(self.sizes)
        steps = 8 * limit
        worths = self.worth.tolist()

        def walk(i: int, rest: int, worth: float) -> bool:
            nonlocal steps
            steps -= 1
            if steps < 0:
                return False
            if i == last:
                full = all(n == m or s > rest for n, m, s in zip(counts, self.most, self.sizes, strict=True))
                if full:
                    found.append(tuple(counts))
                return len(found) <= limit
            size, each, after = self.sizes[i], worths[i], self.rows[i + 1]
            for n in range(min(self.most[i], rest // size), -1, -1):
                if worth + n * each + after[rest - n * size] >= low:
                    counts[i] = n
                    if not walk(i + 1, rest - n * size, worth + n * each):
                        return False
            counts[i] = 0
            return True

        return found if walk(0, room // self.step, 0.0) else None
