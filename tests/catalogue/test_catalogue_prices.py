"""The price file."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest

from clochewright.catalogue import load_catalogue, load_prices, stick_label
from clochewright.errors import CatalogueError, FolderError


def price_file(folder: Path, text: str) -> Path:
    path = folder / "prices.csv"
    path.write_text(text, encoding="utf-8")
    return path


def test_the_users_prices_stand_alone(tmp_path: Path) -> None:
    path = price_file(tmp_path, "pack,Item,price,shop\n10 ft,pipe:1 in Sch 40,7.15,corner\n\neach,latch,0,\n")
    prices = load_prices(path)
    assert not prices.invented
    assert prices.price("pipe:1 in Sch 40", "10 ft") == Decimal("7.15")
    assert prices.price("latch", "each") == 0
    assert prices.price("hinge-inch", "pair") is None


@pytest.mark.parametrize("written", ["10 ft", "120 in", "10'", "3.048 m"])
def test_a_stick_goes_by_its_length_however_it_is_written(tmp_path: Path, written: str) -> None:
    prices = load_prices(price_file(tmp_path, f"item,pack,price\npipe:1 in Sch 40,{written},7\n"))
    pipe = load_catalogue().find_pipe("1 in")
    assert prices.price(f"pipe:{pipe.key}", stick_label(3.048, pipe)) == 7


def test_labels_of_sticks() -> None:
    catalogue = load_catalogue()
    inch, metric = catalogue.find_pipe("1 in"), catalogue.find_pipe("32 mm PN 16")
    assert [stick_label(length_m, inch) for length_m in (3.048, 6.096, 3.2004)] == ["10 ft", "20 ft", "126 in"]
    assert [stick_label(length_m, metric) for length_m in (5.0, 2.5)] == ["5 m", "2.5 m"]


def test_every_bad_row_is_told_with_its_number(tmp_path: Path) -> None:
    rows = (
        "item,pack,price\nlatch,each,cheap\n,each,3\nlatch,each,4\nlatch,each,5\nlatch,pair,-1\nx,y,1e9\nx,y,NaN\nx\n"
    )
    with pytest.raises(CatalogueError) as error:
        load_prices(price_file(tmp_path, rows))
    told = [mistake.where for mistake in error.value.mistakes]
    assert told == [f"prices.csv, row {number}" for number in (2, 3, 5, 6, 7, 8, 9)]


@pytest.mark.parametrize("text", ["", "item;pack;price\nlatch;each;3\n", "item,price\nlatch,3\n"])
def test_a_file_without_the_three_columns_is_refused(tmp_path: Path, text: str) -> None:
    with pytest.raises(CatalogueError, match="item,pack,price"):
        load_prices(price_file(tmp_path, text))


def test_a_file_that_cannot_be_read_is_said_plainly(tmp_path: Path) -> None:
    with pytest.raises(FolderError, match=r"none\.csv can't be read"):
        load_prices(tmp_path / "none.csv")
    path = tmp_path / "picture.csv"
    path.write_bytes(b"\x89PNG\xff\xfe")
    with pytest.raises(CatalogueError, match="UTF-8"):
        load_prices(path)
