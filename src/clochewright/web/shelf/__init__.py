"""The shelf: a folder of plan files, each with its earlier versions, its ticks, and a lock of its own."""

from clochewright.web.shelf.bench import Bench
from clochewright.web.shelf.plans import KeptPlan, Shelf, ShelfError
from clochewright.web.shelf.versions import Version

__all__ = ["Bench", "KeptPlan", "Shelf", "ShelfError", "Version"]
