"""The nesting as whole numbers: sizes wanted, kinds of stick, and what a nesting costs."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from operator import mul

UNITS_PER_M = 10_000_000  # 0.1 micrometre: 1/16 in, 1 mm and any saw's kerf are whole numbers of it
MONEY_UNITS = 10_000

Pattern = tuple[int, ...]  # how many of each size come off one stick


def units(length_m: float) -> int:
    """A length in whole units of 0.1 micrometre."""
    return round(length_m * UNITS_PER_M)


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of stick. `room` is its length and one kerf, since the last cut may need no saw; `available` None: any."""

    length: int
    room: int
    price: int
    available: int | None


@dataclass(frozen=True, slots=True)
class Use:
    """So many sticks of one kind, all sawn alike."""

    kind: int
    counts: Pattern
    times: int


@dataclass(frozen=True, slots=True)
class Nesting:
    """A way to saw everything; `missing` counts the pieces of each size that no stick was left for."""

    uses: tuple[Use, ...]
    missing: Pattern


@dataclass(frozen=True, slots=True)
class Problem:
    """What is wanted and what there is. `sizes` are cut and kerf together, longest first."""

    sizes: tuple[int, ...]
    wanted: tuple[int, ...]
    kinds: tuple[Kind, ...]

    def scarce(self) -> tuple[bool, ...]:
        """Which sizes only a piece on hand can give, so that some may stay without a stick."""
        widest = max((kind.room for kind in self.kinds if kind.available is None), default=-1)
        return tuple(size > widest for size in self.sizes)

    def missing_price(self) -> int:
        """What a missing piece counts for: more than all sticks together can cost."""
        return 1 + sum(self.wanted) * max((kind.price for kind in self.kinds), default=0)

    def cost(self, nesting: Nesting) -> int:
        """Price of all sticks, with the penalty for missing pieces."""
        sticks = sum(self.kinds[use.kind].price * use.times for use in nesting.uses)
        return sticks + self.missing_price() * sum(nesting.missing)

    def length(self, nesting: Nesting) -> int:
        """Length of all sticks sawn into. The cuts are given, so the least of it wastes least."""
        return sum(self.kinds[use.kind].length * use.times for use in nesting.uses)

    def without(self, missing: Pattern) -> Problem:
        """The same problem with those pieces no longer wanted."""
        return Problem(self.sizes, tuple(w - m for w, m in zip(self.wanted, missing, strict=True)), self.kinds)

    def fill(self, counts: Iterable[int]) -> int:
        """Room taken up by that many of each size."""
        return sum(map(mul, self.sizes, counts))

    def nesting(self, sticks: Iterable[tuple[int, Sequence[int], int]]) -> Nesting:
        """A nesting from (kind, counts, times): pieces that are cut too often are dropped, and like sticks joined."""
        left = list(self.wanted)
        uses: Counter[tuple[int, Pattern]] = Counter()
        for kind, counts, times in sticks:
            for _ in range(times):
                kept = tuple(min(n, rest) for n, rest in zip(counts, left, strict=True))
                left = [rest - n for rest, n in zip(left, kept, strict=True)]
                if any(kept):
                    uses[kind, kept] += 1
        ordered = sorted(uses.items(), key=lambda item: (item[0][0], tuple(-n for n in item[0][1])))
        return Nesting(tuple(Use(kind, counts, times) for (kind, counts), times in ordered), tuple(left))
