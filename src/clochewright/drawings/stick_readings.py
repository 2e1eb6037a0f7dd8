"""What a tape reads along a stick, and what a cutting diagram calls it.

Every saw mark has its reading. Small pieces that are alike and lie side by side share a name, and from three cuts on a
rule instead of a reading each, where a tape can show that rule without error.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from clochewright.cuts import AtHome, CutList, Stick, at_home
from clochewright.findings import word
from clochewright.measures import Style, Units, round_length, show_length

_RULED = 3  # cuts; fewer than that are read off one by one
_SEEN_M = 1e-6


def alike(cutlist: CutList) -> tuple[tuple[AtHome, ...], ...]:
    """Everything that is sawn at home; what is of one length and cut alike together."""
    kinds: dict[tuple[object, ...], list[AtHome]] = {}
    for one in at_home(cutlist):
        whole_m = cutlist.stock.sticks[one.stick].length_m
        kinds.setdefault((whole_m, one.piece, one.pieces, one.sawn), []).append(one)
    return tuple(tuple(group) for group in kinds.values())


def called(group: Sequence[AtHome], count: int) -> str:
    """What a diagram is called: its sticks by their numbers, of that many, and which piece of them it shows."""
    sticks = word(
        "drawings.sticks" if len(group) > 1 else "drawings.stick",
        numbers=_listed([one.stick + 1 for one in group]),
        of=str(count),
    )
    first = group[0]
    if first.piece:
        return word("drawings.piece-of", sticks=sticks, piece=str(first.piece), pieces=str(first.pieces))
    return word("drawings.alike", sticks=sticks) if len(group) > 1 else sticks


def comes_from(one: AtHome, whole_m: float, units: Units) -> str:
    """Its length and where it comes from: bought, sawn at the shop off a stick `whole_m` [m] long, or on hand."""
    if one.piece:
        return word(
            "drawings.from-shop",
            length=show_length(one.sawn.length_m, units),
            whole=show_length(whole_m, units, style="long"),
        )
    # Old pieces are told by the length that their owner measured, bought ones as the shop calls them.
    style: Style = "long" if one.sawn.origin == "buy" else "plain"
    return word(f"drawings.{one.sawn.origin}", length=show_length(one.sawn.length_m, units, style=style))


def offcut_words(stick: Stick, units: Units) -> str:
    """What is left of the stick."""
    return f"offcut {show_length(stick.offcut_m, units)}" if stick.offcut_m > 0 else "no offcut"


def piece_ends_m(stick: Stick, kerf_m: float) -> list[tuple[float, float]]:
    """Where each piece starts and ends along the stick [m]."""
    ends, reached = [], 0.0
    for _, length_m in stick.cuts:
        ends.append((reached, reached + length_m))
        reached += length_m + kerf_m
    return ends


def saw_marks_m(stick: Stick, kerf_m: float) -> tuple[float, ...]:
    """Where to saw, from the stick's left end: at each figure the saw goes to the right of the mark [m].

    A piece that ends where the stick ends needs no cut.
    """
    return tuple(end for _, end in piece_ends_m(stick, kerf_m) if end < stick.length_m - _SEEN_M)


def runs(stick: Stick) -> list[list[int]]:
    """The pieces by their place in the stick, those that are alike and side by side together."""
    return [[k for k, _ in run] for _, run in groupby(enumerate(stick.cuts), key=lambda piece: piece[1])]


def readings(
    stick: Stick, kerf_m: float, units: Units, named_together: Sequence[Sequence[int]]
) -> list[tuple[float, str]]:
    """What the tape reads where the saw goes in: from the left end [m], and in words.

    Args:
        stick: The stick.
        kerf_m: Width that the saw takes away [m].
        units: How lengths are shown.
        named_together: The `runs` of small pieces that share a name.
    """
    saws = saw_marks_m(stick, kerf_m)
    told = {k: show_length(saw_m, units) for k, saw_m in enumerate(saws)}
    for run in named_together:
        sawn = [k for k in run if k < len(saws)]
        step_m = stick.cuts[run[0]][1] + kerf_m
        # A rule that rounds would be off by more with every piece.
        if len(sawn) < _RULED or abs(round_length(step_m, units) - step_m) > _SEEN_M:
            continue
        step, last = show_length(step_m, units), told[sawn[-1]]
        said = word("drawings.then-every", step=step, last=last)
        if sawn[0] == 0:
            said = word("drawings.first-at", first=told[0], then=said)
        told[sawn[-1]] = said
        for k in sawn[:-1]:
            del told[k]
    return [(saws[k], words) for k, words in told.items()]


def _listed(numbers: Sequence[int]) -> str:
    """The numbers in a row, three or more that follow each other as "3 to 7"."""
    return ", ".join(_stretches(numbers))


def _stretches(numbers: Sequence[int]) -> Iterator[str]:
    for _, run in groupby(enumerate(numbers), key=lambda place: place[1] - place[0]):
        first, *rest = [number for _, number in run]
        if len(rest) > 1:
            yield word("drawings.from-to", first=str(first), last=str(rest[-1]))
        else:
            yield from map(str, (first, *rest))
