"""What a lid needs from the shop besides hinges and latches: bolts, pins and clips, cord, straps and their screws."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from clochewright.lid import LidPlan
from clochewright.plan import Plan
from clochewright.strength.opening.anchors import STRAP_SCREWS
from clochewright.strength.opening.types import Buy, HoldDown, LeafOpening

LONG_m = 0.02  # board screws come long or short; a long one is an inch (common practice, no source)
KNOTS_m = 0.3  # of cord for two knots: common practice, no source


def buys_for(
    lid: LidPlan, leaves: Sequence[LeafOpening], held: HoldDown | None, covers: int, plan: Plan
) -> tuple[Buy, ...]:
    """Everything to buy for opening and holding down all covers, in the goods' units."""
    return tuple(_buys(lid, leaves, held, covers, plan))


def _buys(lid: LidPlan, leaves: Sequence[LeafOpening], held: HoldDown | None, covers: int, plan: Plan) -> Iterator[Buy]:
    bolts = sum(f.placed * f.each for leaf in leaves for f in leaf.fixings if f.how == "bolts")
    if bolts:
        yield Buy("hinge bolts", bolts, "strength.buy.bolts", {"count": bolts})
    yield from _board_screws(lid, leaves)
    saddles = sum(f.placed for leaf in leaves for f in leaf.fixings if f.how == "saddles")
    if saddles:
        yield Buy("strap", saddles, "strength.buy.saddles", {"count": saddles})
        yield Buy("saddle bolts", 2 * saddles, "strength.buy.saddle-bolts", {"count": 2 * saddles})
    bars = len(lid.props)
    if bars:
        yield Buy("prop pin", 2 * bars, "strength.buy.pins", {"bars": bars})
        cord_m = sum((leaf.prop.stop_m + KNOTS_m) * leaf.prop.bars for leaf in leaves if leaf.prop is not None)
        yield Buy("check cord", cord_m, "strength.buy.check", {"bars": bars})
    if held is not None and held.straps:
        straps = held.straps * covers
        yield Buy("hold-down strap", held.strap_m * straps, "strength.buy.straps", {"straps": straps})
        yield Buy("strap screws", 2 * STRAP_SCREWS * straps, "strength.buy.strap-screws", {"straps": straps})
    if held is not None and plan.hold_down.by == "weights" and held.weights.sandbags * covers > 0:
        bags = held.weights.sandbags * covers
        yield Buy("sandbag", bags, "strength.buy.sandbags", {"bags": bags})


def _board_screws(lid: LidPlan, leaves: Sequence[LeafOpening]) -> Iterator[Buy]:
    """Screws for the halves of hinges and latches on the board; a panel has its halves on the frame that stays."""
    on_board = {leaf.body.id for leaf in lid.leaves if leaf.body.kind != "panel"}
    works = [fixing for leaf in leaves if leaf.body in on_board for fixing in leaf.fixings]
    count = sum(fixing.placed * fixing.each for fixing in works)
    if count:
        long = min(fixing.screw_length_m for fixing in works) >= LONG_m
        group = "board screws" if long else "short board screws"
        yield Buy(group, count, "strength.buy.board-screws", {"count": count})
