"""The shopping list as a table that a spreadsheet opens."""

from __future__ import annotations

import csv
import io
from decimal import Decimal

from clochewright.supplies.types import Supplies

HEAD = ("item", "what", "quantity", "unit", "unit_price", "price", "note")


def supplies_csv(supplies: Supplies) -> str:
    """The list as CSV text: one row a pack, a last row with the total; the same list gives the same text."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(HEAD)
    for row in supplies.rows:
        writer.writerow(
            (row.item, row.what, row.quantity, row.unit, _money(row.unit_price), _money(row.price), row.note)
        )
    writer.writerow(("total", "", "", "", "", _money(supplies.total), ""))
    return out.getvalue()


def _money(amount: Decimal | None) -> str:
    return "" if amount is None else f"{amount:.2f}"
