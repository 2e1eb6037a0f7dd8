"""Cut lengths, marks, sticks and first cuts; how far the sizes may come out, and what a dry test fit shows."""

from __future__ import annotations

from collections.abc import Sequence

from clochewright.cuts.car import first_cuts
from clochewright.cuts.dry_size import DrySize, DrySizes, dry_size
from clochewright.cuts.home import at_home, carried
from clochewright.cuts.marks import cut_lengths, left_to_saw, splice_cuts
from clochewright.cuts.nest import PATIENCE_S, nest
from clochewright.cuts.old_parts import reuse_old
from clochewright.cuts.old_words import old_findings
from clochewright.cuts.readings import NO_READINGS, Reading, Readings, readings
from clochewright.cuts.spare import spare
from clochewright.cuts.spread import LateCut, Spread, Spreads, spread
from clochewright.cuts.turns import off_sticks
from clochewright.cuts.types import AtHome, Cut, CutList, FirstCut, OldPiece, Reuse, Spare, Stick, Stock
from clochewright.frame import Frame
from clochewright.measures import Units

__all__ = [
    "NO_READINGS",
    "AtHome",
    "Cut",
    "CutList",
    "DrySize",
    "DrySizes",
    "FirstCut",
    "LateCut",
    "OldPiece",
    "Reading",
    "Readings",
    "Reuse",
    "Spare",
    "Spread",
    "Spreads",
    "Stick",
    "Stock",
    "at_home",
    "carried",
    "cut",
    "cut_lengths",
    "dry_size",
    "nest",
    "off_sticks",
    "old_findings",
    "readings",
    "reuse_old",
    "spare",
    "spread",
]


def cut(
    frame: Frame,
    *,
    units: Units,
    kerf_m: float,
    sticks: Sequence[tuple[float, float]],
    on_hand_m: Sequence[float] = (),
    car_m: float | None = None,
    patience_s: float = PATIENCE_S,
    already: frozenset[str] = frozenset(),
    reused: Sequence[Reuse] = (),
) -> CutList:
    """The cut list of a frame, nested into sticks.

    Args:
        frame: The solved frame.
        units: "inch" rounds to 1/16 in, "mm" to 1 mm; rounding happens here and nowhere else.
        kerf_m: Width that the saw takes away [m].
        sticks: Sticks for sale: length [m] and price.
        on_hand_m: Length of each piece on hand [m].
        car_m: Longest thing that goes into the car [m]; None leaves the first cuts out.
        patience_s: About how long to look for proof before the best nesting found is taken [s].
        already: Ids of pipes that are cut already and come off no stick.
        reused: Old pieces that serve as pipes; only the new pieces of their splices come off a stick.

    Returns:
        Cuts, marks, sticks, first cuts, and findings: marks that no stick can give (stop), or that are longer than
        the car (warn).

    Raises:
        ValueError: A stick without length, a negative price or kerf, or a figure that is not a number.
    """
    cuts, mark_of = cut_lengths(frame, units)
    there = already | {use.pipe for use in reused}
    new = splice_cuts(cuts, reused, units)
    to_saw = (*left_to_saw(cuts, mark_of, there), *new)
    stock, findings = nest(to_saw, kerf_m=kerf_m, sticks=sticks, on_hand_m=on_hand_m, patience_s=patience_s)
    firsts: tuple[FirstCut, ...] = ()
    if car_m is not None:
        firsts, warnings = first_cuts(stock, car_m, units)
        findings += warnings
    return CutList((*cuts, *new), mark_of, stock, findings, firsts, there, tuple(reused))
