"""The lid between its steps: as many hinges and latches as strength asks for, and what opening wants from the shop."""

from __future__ import annotations

from collections.abc import Callable

from clochewright.findings import word
from clochewright.lid import LidPlan, hang_lid
from clochewright.strength import Asked, Opening, study_opening
from clochewright.supplies import Wanted

MOST_LATCHES = 6  # to a leaf; what these don't hold, straps do


def strong_enough(asked: Asked, covered: Callable[[LidPlan], Asked]) -> tuple[Asked, Opening]:
    """Hang the lid once more where strength asks for more hinges or latches than practice.

    Args:
        asked: the lid as it hangs by practice, and all that follows from it.
        covered: makes all that follows from another lid.
    """
    opening = study_opening(asked)
    hinges, latches = _asked_of(opening, "hinge"), min(_asked_of(opening, "latch"), MOST_LATCHES)
    if not hinges and not latches:
        return asked, opening
    again = covered(hang_lid(asked.frame, asked.plan, hinges, latches))
    more = len(again.lid.hinges) > len(asked.lid.hinges) or len(again.lid.latches) > len(asked.lid.latches)
    return (again, study_opening(again)) if more else (asked, opening)  # where no more of them find a place


def _asked_of(opening: Opening, what: str) -> int:
    """How many to a leaf where that is more than are placed, else 0."""
    works = [work for leaf in opening.leaves for work in leaf.fixings if work.what == what]
    return max((work.strength for work in works if work.strength > work.placed), default=0)


def wanted_for(opening: Opening) -> tuple[Wanted, ...]:
    """What opening and holding down want from the shop, in words."""
    return tuple(Wanted(buy.group, buy.quantity, word(buy.note, **buy.values)) for buy in opening.buys)
