"""The fewest screws with which every part fits and the whole goes together: a search by number of screws.

Like joints are decided together (a group). Choices are tried in order of the screws they take, so that the first that
holds is the best; a choice whose cemented joints already make a part too big is not followed further.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

MOST_LOOKED_AT = 40_000  # choices, whole or in part
MOST_JUDGED = 400


@dataclass(frozen=True, slots=True)
class Problem:
    """What is to be decided.

    `atoms` are pieces (pipes and fittings) by number; `links` joins two of them a joint. `groups` are the joints, by
    their number, that are decided together; joints in no group are settled: `settled_cement` are those of them that
    are cemented.
    """

    atoms: int
    links: tuple[tuple[int, int], ...]
    groups: tuple[tuple[int, ...], ...]
    settled_cement: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Choice:
    """The groups that are screwed, by number, and whether fewer screws were proven not to do."""

    screwed: frozenset[int]
    proven: bool


Labels = list[int]
Fits = Callable[[frozenset[int]], bool]  # the atoms of one part
Judge = Callable[[frozenset[int]], bool]  # the groups that are screwed


class _TooManyError(Exception):
    """The search was given up."""


def fewest_screws(problem: Problem, fits: Fits, judge: Judge) -> Choice | None:
    """The choice with the fewest screws, of those the one with the fewest parts; None where none was found.

    Args:
        problem: pieces, joints and groups.
        fits: whether a part made of these atoms goes where it has to.
        judge: whether the whole goes together with these groups screwed and the rest cemented.
    """
    search = _Search(problem, fits, judge)
    try:
        for count in search.counts():
            best = search.at(count)
            if best is not None:
                return Choice(best, True)
    except _TooManyError:
        pass
    else:
        return None
    found = _greedy(problem, fits, judge)
    return Choice(found, False) if found is not None else None


class _Search:
    def __init__(self, problem: Problem, fits: Fits, judge: Judge) -> None:
        self._problem, self._fits, self._judge = problem, fits, judge
        self._order = sorted(range(len(problem.groups)), key=lambda g: -len(problem.groups[g]))
        self._sizes = [len(problem.groups[g]) for g in self._order]
        # sums that the groups from k on can make, as bits
        self._reach = [1] * (len(self._order) + 1)
        for k in reversed(range(len(self._order))):
            self._reach[k] = self._reach[k + 1] | (self._reach[k + 1] << self._sizes[k])
        self._looked = self._judged = 0

    def counts(self) -> Iterator[int]:
        """The numbers of screws that can be had, fewest first."""
        return (count for count in range(sum(self._sizes) + 1) if self._reach[0] >> count & 1)

    def at(self, count: int) -> frozenset[int] | None:
        """The choice of exactly so many screws with the fewest parts, if any holds."""
        start = parts_of(self._problem, self._problem.settled_cement)
        if not all(self._fits(part) for part in as_sets(start)):
            return None
        leaves = sorted(self._leaves(0, count, start, frozenset()), key=lambda leaf: (leaf[0], sorted(leaf[1])))
        for _, screwed in leaves:
            self._judged += 1
            if self._judged > MOST_JUDGED:
                raise _TooManyError
            if self._judge(screwed):
                return screwed
        return None

    def _leaves(
        self, k: int, left: int, labels: Labels, screwed: frozenset[int]
    ) -> Iterator[tuple[int, frozenset[int]]]:
        """Number of parts and screwed groups of each whole choice whose parts fit."""
        self._looked += 1
        if self._looked > MOST_LOOKED_AT:
            raise _TooManyError
        if k == len(self._order):
            yield len(set(labels)), screwed
            return
        group, size = self._order[k], self._sizes[k]
        if left >= size and self._reach[k + 1] >> (left - size) & 1:
            yield from self._leaves(k + 1, left - size, labels, screwed | {group})
        if self._reach[k + 1] >> left & 1:
            merged, touched = merge(labels, [self._problem.links[j] for j in self._problem.groups[group]])
            if all(self._fits(frozenset(i for i, x in enumerate(merged) if x == label)) for label in touched):
                yield from self._leaves(k + 1, left, merged, screwed)


def _greedy(problem: Problem, fits: Fits, judge: Judge) -> frozenset[int] | None:
    """All screwed, then one group after another cemented while that still does, the biggest first."""
    screwed = frozenset(range(len(problem.groups)))
    if not all(fits(part) for part in as_sets(_parts(problem, screwed))) or not judge(screwed):
        return None
    for group in sorted(screwed, key=lambda g: -len(problem.groups[g])):
        fewer = screwed - {group}
        if all(fits(part) for part in as_sets(_parts(problem, fewer))) and judge(fewer):
            screwed = fewer
    return screwed


def _parts(problem: Problem, screwed: frozenset[int]) -> Labels:
    cemented = [j for g, group in enumerate(problem.groups) if g not in screwed for j in group]
    return parts_of(problem, [*problem.settled_cement, *cemented])


def parts_of(problem: Problem, cemented: Sequence[int]) -> Labels:
    """A label for each atom; atoms of one part share it."""
    return merge(list(range(problem.atoms)), [problem.links[j] for j in cemented])[0]


def merge(labels: Labels, links: Sequence[tuple[int, int]]) -> tuple[Labels, set[int]]:
    """Labels with these links cemented as well, and the labels that have grown."""
    parent: dict[int, int] = {}

    def root(label: int) -> int:
        while label in parent:
            label = parent[label]
        return label

    for a, b in links:
        one, other = root(labels[a]), root(labels[b])
        if one != other:
            parent[max(one, other)] = min(one, other)
    if not parent:
        return labels, set()
    merged = [root(label) for label in labels]
    return merged, {root(label) for label in parent}


def as_sets(labels: Labels) -> list[frozenset[int]]:
    """The atoms of each part."""
    parts: dict[int, list[int]] = {}
    for atom, label in enumerate(labels):
        parts.setdefault(label, []).append(atom)
    return [frozenset(part) for part in parts.values()]
