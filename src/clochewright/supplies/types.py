"""The shopping list."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from clochewright.findings import Finding


@dataclass(frozen=True, slots=True)
class Wanted:
    """Something another step asks for: its group, how much of it in the goods' unit, and what for, in words."""

    group: str
    quantity: float
    note: str


@dataclass(frozen=True, slots=True)
class Supply:
    """One row: `item` as the price file names it, `what` as a shop would, `quantity` of `unit` (a pack's label).

    Prices are in the plan's currency; None where the price file has none. `note` says what it is for or how much of
    the pack is needed.
    """

    group: str
    item: str
    what: str
    quantity: int
    unit: str
    unit_price: Decimal | None
    note: str = ""

    @property
    def price(self) -> Decimal | None:
        """Price of the whole row, or None."""
        return None if self.unit_price is None else self.unit_price * self.quantity


@dataclass(frozen=True, slots=True)
class Supplies:
    """Everything to buy, in the order it is used."""

    rows: tuple[Supply, ...]
    findings: tuple[Finding, ...] = ()

    @property
    def total(self) -> Decimal:
        """Sum of all prices that are known."""
        return sum((row.price for row in self.rows if row.price is not None), Decimal(0))

    @property
    def complete(self) -> bool:
        """Whether every row has its price, so that the total is the cost."""
        return all(row.price is not None for row in self.rows)
