"""Prices: a file that the user edits, one pack a row; the one that comes along is invented."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from decimal import Decimal, InvalidOperation
from functools import cache
from pathlib import Path
from types import MappingProxyType

from clochewright.catalogue.book import Catalogue
from clochewright.catalogue.figures import DATA
from clochewright.catalogue.types import PipeRow
from clochewright.errors import CatalogueError, FolderError, MeasureError, Mistake
from clochewright.measures import read_length

_COLUMNS = ("item", "pack", "price")
_DEAREST = Decimal(100_000)
_LARGEST_FILE = 5_000_000  # bytes
_FOOT_M = 0.3048
_SAME_M = 1e-6

Key = tuple[str, str]  # item, pack


@dataclass(frozen=True, slots=True)
class Prices:
    """What each pack of each item costs, in no currency. `invented` says that these are the demo's made-up prices.

    Items are "pipe:1 in Sch 40" (the pack is the stick's length, "10 ft"), "fitting:tee:1 in Sch 40" (pack "each")
    and the keys of goods (pack labels as the catalogue has them).
    """

    rows: Mapping[Key, Decimal] = field(default_factory=dict)
    invented: bool = False

    def price(self, item_key: str, pack_label: str) -> Decimal | None:
        """The price of one pack, or None where there is no price for it."""
        return self.rows.get(_key(item_key, pack_label))


def stick_label(length_m: float, pipe: PipeRow) -> str:
    """A stick's length as its price row has it: "10 ft" or "126 in" for inch pipe, "3 m" for metric."""
    feet = length_m / _FOOT_M
    if pipe.system in ("inch", "own") and abs(feet - round(feet)) < _SAME_M:
        return f"{round(feet)} ft"
    if pipe.system == "inch":
        return f"{round(12 * feet, 4):g} in"
    return f"{round(length_m, 6):g} m"


def load_prices(file: Path | None = None, catalogue: Catalogue | None = None) -> Prices:
    """The prices in the user's file, or the invented ones; the price of an own pipe in the catalogue wins over both.

    The file is CSV with the columns item, pack and price; others are passed over.

    Raises:
        CatalogueError: with every row that can't be used, each with its row number.
        FolderError: if the file can't be read.
    """
    rows = dict(_invented()) if file is None else _read(file)
    for pipe in catalogue.pipes if catalogue is not None else ():
        if pipe.own_price is not None and pipe.sticks_m:
            rows[_key(f"pipe:{pipe.key}", stick_label(pipe.sticks_m[0], pipe))] = pipe.own_price
    return Prices(rows, invented=file is None)


@cache
def _invented() -> Mapping[Key, Decimal]:
    """Our own price list, read once: it doesn't change while the program runs."""
    return MappingProxyType(_read(DATA / "prices.csv"))


def _read(path: Path) -> dict[Key, Decimal]:
    lines = csv.reader(_text(path).splitlines())
    rows: dict[Key, Decimal] = {}
    mistakes: list[Mistake] = []
    try:
        header = [name.strip().casefold() for name in next(lines, [])]
        missing = [name for name in _COLUMNS if name not in header]
        if missing:
            what = f"the first row has no column called {' or '.join(missing)}."
            raise CatalogueError((Mistake(path.name, what, "It should read: item,pack,price"),))
        places = [header.index(name) for name in _COLUMNS]
        for cells in lines:
            if any(cell.strip() for cell in cells):
                where = f"{path.name}, row {lines.line_num}"
                _read_row(
                    [cells[place].strip() if place < len(cells) else "" for place in places], where, rows, mistakes
                )
    except csv.Error as error:
        mistakes.append(Mistake(f"{path.name}, row {lines.line_num}", f"this is not CSV: {error}."))
    if mistakes:
        raise CatalogueError(tuple(mistakes))
    return rows


def _read_row(cells: list[str], where: str, rows: dict[Key, Decimal], mistakes: list[Mistake]) -> None:
    item, pack, written = cells
    if not item or not pack:
        mistakes.append(Mistake(where, "it needs an item and a pack.", "Write the pack as the catalogue has it."))
        return
    amount = _amount(written)
    if amount is None:
        mend = f'Write a plain number from 0 to {_DEAREST}, such as 4.50, and no sign. You wrote "{written[:40]}".'
        mistakes.append(Mistake(where, f"the price of {item[:60]} can't be read.", mend))
    elif _key(item, pack) in rows:
        mistakes.append(Mistake(where, f"{item[:60]} ({pack[:40]}) has a price already.", "Keep one of the two rows."))
    else:
        rows[_key(item, pack)] = amount


def _amount(written: str) -> Decimal | None:
    try:
        amount = Decimal(written) if len(written) <= 20 else None
    except InvalidOperation:
        return None
    return amount if amount is not None and amount.is_finite() and 0 <= amount <= _DEAREST else None


def _key(item: str, pack: str) -> Key:
    """Item and pack in one spelling; a stick goes by its length, so "10 ft" and "120 in" are the same."""
    plain = " ".join(pack.casefold().split())
    if item.startswith("pipe:"):
        with suppress(MeasureError, OverflowError):
            plain = f"{round(float(read_length(plain)) * 1000)} mm"
    return " ".join(item.split()), plain


def _text(path: Path) -> str:
    try:
        raw = path.read_bytes()
    except OSError as error:
        raise FolderError(f"The price file {path.name} can't be read: {error.strerror or error}.") from None
    if len(raw) > _LARGEST_FILE:
        raise CatalogueError((Mistake(path.name, "this is far too long for a price file."),))
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise CatalogueError((Mistake(path.name, "this is no text file.", "Save it as CSV in UTF-8."),)) from None
