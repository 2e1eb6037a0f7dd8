"""Turns what is needed into rows of the list, with packs and prices."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from clochewright.catalogue import Catalogue, GoodsRow, Prices
from clochewright.findings import word
from clochewright.measures import Units, show_length
from clochewright.supplies.packs import Pack, choose_packs, sticks_for
from clochewright.supplies.types import Supply

# A handsaw's cut through lath; common practice, no source.
LATH_KERF_M = 0.002


class Shelf:
    """The goods of one market with their prices."""

    def __init__(self, catalogue: Catalogue, prices: Prices, units: Units) -> None:
        self.catalogue = catalogue
        self.prices = prices
        self.units = units

    def goods(self, group: str) -> GoodsRow:
        """The first goods of a group, as the plan's market sells them."""
        return self.catalogue.goods(group, self.units)[0]

    def in_packs(self, group: str, quantity: float, note: str, name: str | None = None) -> tuple[Supply, ...]:
        """Rows for so much of a group, in its unit, packs rounded up; of the goods of that name if one is given."""
        row = self.goods(group) if name is None else self.catalogue.find_goods(group, name)
        packs = [Pack(label, size, self.prices.price(row.key, label)) for label, size in row.packs]
        return tuple(
            Supply(group, row.key, row.name, count, pack.label, pack.price, note)
            for pack, count in choose_packs(quantity, packs)
        )

    def in_lengths(self, group: str, pieces_m: Sequence[float]) -> tuple[Supply, ...]:
        """One row for pieces that are sawn from sticks of a group; the stick that costs or wastes least."""
        if not pieces_m:
            return ()
        row = self.goods(group)
        best: tuple[tuple[Decimal | float, int], Supply] | None = None
        priced = all(self.prices.price(row.key, label) is not None for label, _ in row.packs)
        for label, stick_m in row.packs:
            needed = sticks_for(pieces_m, stick_m, LATH_KERF_M)
            price = self.prices.price(row.key, label)
            burden = needed.sticks * price if priced and price is not None else needed.sticks * stick_m
            supply = Supply(group, row.key, row.name, needed.sticks, label, price, self._pieces(pieces_m, needed.joins))
            if best is None or (burden, needed.joins) < best[0]:
                best = ((burden, needed.joins), supply)
        return (best[1],) if best is not None else ()

    def _pieces(self, pieces_m: Sequence[float], joins: int) -> str:
        """Which pieces come off, longest first, and how many joins that makes."""
        counts: dict[str, int] = {}
        for piece in sorted(pieces_m, reverse=True):
            shown = show_length(piece, self.units)
            counts[shown] = counts.get(shown, 0) + 1
        pieces = ", ".join(f"{count} × {shown}" for shown, count in counts.items())
        if joins:
            return word("supplies.note.pieces-joined", pieces=pieces, joins=joins)
        return word("supplies.note.pieces", pieces=pieces)
