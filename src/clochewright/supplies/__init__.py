"""Supplies: everything to buy, in packs, with prices."""

from clochewright.supplies.shopping import list_supplies
from clochewright.supplies.table import supplies_csv
from clochewright.supplies.types import Supplies, Supply

__all__ = ["Supplies", "Supply", "list_supplies", "supplies_csv"]
