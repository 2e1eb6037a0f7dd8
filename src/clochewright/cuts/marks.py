"""Cut lengths by mark: pieces that are sawn alike share a letter, the longest comes first."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import count, product

from clochewright.cuts.types import Cut, Reuse
from clochewright.frame import Frame
from clochewright.measures import Units, round_length

LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"  # no I and O: they read like 1 and 0


def cut_lengths(frame: Frame, units: Units) -> tuple[tuple[Cut, ...], dict[str, str]]:
    """The cut list without any nesting.

    Args:
        frame: The solved frame; its exact lengths are rounded here, once.
        units: "inch" rounds to 1/16 in, "mm" to 1 mm.

    Returns:
        The cuts, longest first, and the mark of each pipe by its id. Roles that share a mark are joined in the order
        in which the frame names them.
    """
    rounded_m: dict[float, float] = {}  # many pipes are exactly alike, and rounding is the slow part
    alike: dict[float, tuple[list[str], dict[str, None]]] = {}
    for pipe in frame.pipes:
        exact_m = pipe.cut_length_m
        length_m = rounded_m.get(exact_m)
        if length_m is None:
            length_m = rounded_m[exact_m] = round_length(exact_m, units)
        group = alike.get(length_m)
        if group is None:
            group = alike[length_m] = ([], {})
        group[0].append(pipe.id)
        group[1][pipe.role] = None

    cuts = []
    mark_of = {}
    for mark, length_m in zip(_marks(), sorted(alike, reverse=True), strict=False):
        pipes, roles = alike[length_m]
        cuts.append(Cut(mark, ", ".join(roles), length_m, len(pipes)))
        for pipe_id in pipes:
            mark_of[pipe_id] = mark
    return tuple(cuts), mark_of


def left_to_saw(cuts: Sequence[Cut], mark_of: Mapping[str, str], already: Collection[str]) -> tuple[Cut, ...]:
    """The cuts less the pipes that are there already."""
    done = Counter(mark_of[pipe_id] for pipe_id in already if pipe_id in mark_of)
    return tuple(replace(cut, count=cut.count - done[cut.mark]) for cut in cuts if cut.count > done[cut.mark])


def splice_cuts(cuts: Sequence[Cut], reused: Sequence[Reuse], units: Units) -> tuple[Cut, ...]:
    """The new pieces that are coupled to old ones, as cuts of their own: marked S1, S2, ... beside the pipe's mark."""
    roles = {cut.mark: cut.role for cut in cuts}
    spliced = [use for use in reused if use.new_m > 0]
    return tuple(
        Cut(f"{use.mark}-S{number}", roles[use.mark], round_length(use.new_m, units), 1)
        for number, use in enumerate(spliced, start=1)
    )


def _marks() -> Iterator[str]:
    """A, B, ... Z, then AA, AB, ... without end."""
    for letters in count(1):
        for mark in product(LETTERS, repeat=letters):
            yield "".join(mark)
