"""Supplies: everything to buy, in packs, with prices."""

from clochewright.supplies.shopping import list_supplies
from clochewright.supplies.table import supplies_csv
from clochewright.supplies.types import Supplies, Supply, Wanted

__all__ = ["Supplies", "Supply", "Wanted", "list_supplies", "supplies_csv"]
