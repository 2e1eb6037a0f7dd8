"""`clochewright catalogue`: what there is, each figure with its spread and its source."""

from __future__ import annotations

from itertools import groupby
from pathlib import Path

from rich.console import Console
from rich.table import Table
from rich.text import Text

from clochewright.catalogue import ListingRow, listing, load_catalogue
from clochewright.findings import word
from clochewright.job import open_shelf
from clochewright.measures import Units
from clochewright.plan import read_plan

INCH_M = 0.0254


def show_catalogue(words: list[str], plan_file: Path | None, units: Units) -> None:
    """Print the catalogue part by part, or the parts in whose rows all of the words stand; sources at the end."""
    catalogue = open_shelf(read_plan(plan_file), plan_file.parent)[0] if plan_file else load_catalogue()
    wanted = " ".join(words).casefold().split()
    rows = [row for row in listing(catalogue) if _has(row, wanted)]
    console = Console(highlight=False)
    if not rows:
        console.print(Text(word("cli.catalogue.nothing", words=" ".join(words))))
        return
    sources: dict[str, int] = {}
    for part, figures in groupby(rows, key=lambda row: row.part):
        console.print(Text(part, style="bold"))
        table = Table(box=None, show_header=False, padding=(0, 1))
        for justify in ("left", "right", "left", "left"):
            table.add_column(justify=justify)
        for row in figures:
            number = sources.setdefault(row.cited.source, len(sources) + 1)
            what = row.what.removesuffix(f"_{row.unit}").replace("_", " ")
            table.add_row(what, _shown(row, row.cited.value, units), _band(row, units), f"{row.cited.grade} [{number}]")
        console.print(table)
    console.print(Text(word("cli.catalogue.sources"), style="bold"))
    for source, number in sources.items():
        console.print(Text(f" [{number}] {source}"))


def _has(row: ListingRow, wanted: list[str]) -> bool:
    text = f"{row.section} {row.part} {row.what}".casefold()
    return all(each in text for each in wanted)


def _band(row: ListingRow, units: Units) -> str:
    cited = row.cited
    if cited.low == cited.high:
        return ""
    return word("cli.catalogue.band", low=_shown(row, cited.low, units), high=_shown(row, cited.high, units))


def _shown(row: ListingRow, value: float, units: Units) -> str:
    if row.unit == "m":
        return f"{value / INCH_M:.3f} in" if units == "inch" else f"{value * 1000:.1f} mm"
    return f"{value:.4g} {row.unit}".strip()
