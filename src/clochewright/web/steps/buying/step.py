"""The buying: whole packs of everything, and what it costs."""

from __future__ import annotations

from dataclasses import dataclass

from clochewright.findings import word
from clochewright.measures import show_money
from clochewright.plan import Plan
from clochewright.web.steps.kit import Seen, Shown, Step

_BY_THE_PIECE = "each"


@dataclass(frozen=True, slots=True)
class SupplyLine:
    """One line of the shopping list."""

    what: str
    note: str
    quantity: str
    each: str
    price: str


@dataclass(frozen=True, slots=True)
class BuyingShown(Shown):
    """The shopping list with its total."""

    rows: tuple[SupplyLine, ...] = ()
    total: str = ""


def _fields(plan: Plan) -> tuple[str, ...]:  # noqa: ARG001
    return ("prices.budget", "prices.currency", "prices.file")


def _show(seen: Seen) -> BuyingShown:
    supplies, sign = seen.made.supplies, seen.plan.prices.currency
    rows = tuple(
        SupplyLine(
            row.what,
            row.note,
            str(row.quantity) if row.unit == _BY_THE_PIECE else f"{row.quantity} × {row.unit}",
            show_money(row.unit_price, sign) if row.unit_price is not None and row.quantity > 1 else "",
            show_money(row.price, sign) if row.price is not None else word("booklet.shop.no-price"),
        )
        for row in supplies.rows
    )
    total = show_money(supplies.total, sign)
    missing = sum(row.price is None for row in supplies.rows)
    invented = any(finding.key == "supplies.invented-prices" for finding in supplies.findings)
    note = "total-missing" if missing else "total-invented" if invented else "total-note"
    figures = (seen.figure("total", total, note, missing=missing),)
    return BuyingShown(word("web.gist.buying", total=total), figures, (), rows, total)


STEP = Step("buying", _fields, _show, finding_steps=("supplies",), finding_wheres=("prices",))
