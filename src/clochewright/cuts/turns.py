"""Which sticks the pieces of each step come off, where not everything is cut at once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from clochewright.cuts.home import at_home
from clochewright.cuts.types import CutList


@dataclass(slots=True)
class _Left:
    """What is still to come off one length that is sawn at home, in sawing order."""

    stick: int
    bought: bool
    marks: list[str]

    def begins_with(self, wanted: Mapping[str, int]) -> list[str]:
        """The pieces that it begins with, as far as they are wanted."""
        open_, found = Counter(wanted), list[str]()
        for mark in self.marks:
            if open_[mark] < 1:
                break
            open_[mark] -= 1
            found.append(mark)
        return found


def off_sticks(cutlist: CutList, turns: Sequence[Mapping[str, int]]) -> tuple[dict[str, tuple[int, ...]], ...]:
    """For each turn, the sticks that so many pieces of each mark come off; no piece is told twice.

    A piece at a stick's beginning is taken before one that lies behind others, whose lengths a dry trial may yet
    change, and a bought stick before an old one.

    Args:
        cutlist: The sticks.
        turns: How many pieces of each mark are cut, in the order of the turns.

    Returns:
        Numbers of sticks from 1 on, in their order, by mark; a mark that comes off no stick is left out.
    """
    left = [
        _Left(home.stick + 1, home.sawn.origin == "buy", [mark for mark, _ in home.sawn.cuts])
        for home in at_home(cutlist)
    ]
    return tuple(_turn(left, Counter(turn)) for turn in turns)


def _turn(left: Sequence[_Left], wanted: Counter[str]) -> dict[str, tuple[int, ...]]:
    off: dict[str, set[int]] = {}

    def take(one: _Left, mark: str, at: int) -> None:
        del one.marks[at]
        wanted[mark] -= 1
        off.setdefault(mark, set()).add(one.stick)

    while beginnings := [(found, one) for one in left if (found := one.begins_with(wanted))]:
        found, one = max(beginnings, key=lambda begins: (len(set(begins[0])), len(begins[0]), begins[1].bought))
        for mark in found:
            take(one, mark, 0)
    for mark in wanted:
        while wanted[mark] > 0 and (there := [one for one in left if mark in one.marks]):
            one = max(there, key=lambda one: (one.bought, one.marks.count(mark)))
            take(one, mark, len(one.marks) - 1 - one.marks[::-1].index(mark))
    return {mark: tuple(sorted(sticks)) for mark, sticks in off.items()}
