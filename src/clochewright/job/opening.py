"""The lid between its steps: as many hinges as strength asks for, and what opening it wants from the shop."""

from __future__ import annotations

from collections.abc import Callable

from clochewright.findings import word
from clochewright.strength import Asked, Opening, study_opening
from clochewright.supplies import Wanted


def strong_enough(hung: Callable[[int], Asked]) -> tuple[Asked, Opening]:
    """Hang the lid by practice, and once more where strength asks for more hinges than practice.

    Args:
        hung: hangs the lid with at least so many hinges to a leaf, and makes all that follows from it.
    """
    asked = hung(0)
    opening = study_opening(asked)
    more = _hinges_asked(opening)
    if more == 0:
        return asked, opening
    again = hung(more)
    if len(again.lid.hinges) <= len(asked.lid.hinges):
        return asked, opening  # no more of them find a place
    return again, study_opening(again)


def _hinges_asked(opening: Opening) -> int:
    """Hinges to a leaf where that is more than are placed, else 0."""
    works = [work for leaf in opening.leaves for work in leaf.fixings if work.what == "hinge"]
    return max((work.strength for work in works if work.strength > work.placed), default=0)


def wanted_for(opening: Opening) -> tuple[Wanted, ...]:
    """What opening and holding down want from the shop, in words."""
    return tuple(Wanted(buy.group, buy.quantity, word(buy.note, **buy.values)) for buy in opening.buys)
