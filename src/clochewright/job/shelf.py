"""Opens the shelf for a plan: the catalogue with the user's own parts, and the prices."""

from __future__ import annotations

from pathlib import Path

from clochewright.catalogue import Catalogue, Prices, load_catalogue, load_prices
from clochewright.plan import Plan


def open_shelf(plan: Plan, folder: Path) -> tuple[Catalogue, Prices]:
    """Catalogue and prices for a plan; files the plan names are looked for beside it, in `folder`.

    Raises CatalogueError for parts or prices that can't be used, FolderError for files that can't be read.
    """
    catalogue = load_catalogue(
        folder / plan.own.file if plan.own.file else None,
        [pipe.model_dump() for pipe in plan.own.pipes],
        [fitting.model_dump() for fitting in plan.own.fittings],
        plan.pipe.size,
    )
    return catalogue, load_prices(folder / plan.prices.file if plan.prices.file else None, catalogue)
