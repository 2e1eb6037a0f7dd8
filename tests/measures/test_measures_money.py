"""Prices: amount and sign are kept as written, and nothing ambiguous is guessed at."""

from __future__ import annotations

import math
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from clochewright.errors import MeasureError
from clochewright.measures import Money, read_money, show_money


@pytest.mark.parametrize(
    ("text", "amount", "sign"),
    [
        ("$12.50", "12.50", "$"),
        ("12.50 $", "12.50", "$"),
        ("£3", "3", "£"),
        ("3 EUR", "3", "EUR"),
        ("eur 3", "3", "EUR"),
        ("A$5", "5", "A$"),
        ("12 kr", "12", "kr"),
        ("12,50 €", "12.50", "€"),
        ("$1,250", "1250", "$"),  # no price has three decimals after a comma
        ("$1,250.00", "1250", "$"),
        ("1.250,00 €", "1250", "€"),
        ("$0.125", "0.125", "$"),  # one staple
        ("$0", "0", "$"),
    ],
)
def test_reads_amount_and_sign(text: str, amount: str, sign: str) -> None:
    assert read_money(text) == Money(Decimal(amount), sign)


@pytest.mark.parametrize(
    ("text", "part_of_the_sentence"),
    [
        ("12.5", "12.5 of what? Write $12.5 or 12.5 EUR."),
        (3, "3 of what? Write $3 or 3 EUR."),
        ("1.250 €", "“1.250” is not a clear price"),
        ("$1,2500", "“1,2500” is not a clear price"),
        ("-$3", "less than nothing"),
        ("$-3", "less than nothing"),
        ("$", "can't be read as a price"),
        ("$1e5", "can't be read as a price"),
        ("$12.50 each", "can't be read as a price"),
    ],
)
def test_refuses_in_plain_words(text: object, part_of_the_sentence: str) -> None:
    with pytest.raises(MeasureError) as refusal:
        read_money(text)
    assert part_of_the_sentence in str(refusal.value)


@pytest.mark.parametrize(
    ("amount", "sign", "expected"),
    [
        (Decimal("12.5"), "$", "$12.50"),
        (1250, "$", "$1,250.00"),
        (3, "EUR", "3.00 EUR"),
        (1.005, "£", "£1.01"),  # the float lies just under the half
        (0.1 + 0.2, "$", "$0.30"),
        (-0.001, "$", "$0.00"),
        (-2.5, "$", "-$2.50"),
    ],
)
def test_shows_amount_with_its_sign(amount: Decimal | float, sign: str, expected: str) -> None:
    assert show_money(amount, sign) == expected


@given(st.integers(0, 10**9), st.sampled_from(["$", "£", "€", "EUR", "A$", "kr"]))
def test_what_is_shown_reads_back(cents: int, sign: str) -> None:
    assert read_money(show_money(Decimal(cents) / 100, sign)) == Money(Decimal(cents) / 100, sign)


@pytest.mark.parametrize("amount", [math.nan, math.inf, Decimal("NaN"), Decimal("Infinity")])
def test_no_nonsense_is_written_down(amount: Decimal | float) -> None:
    with pytest.raises(MeasureError):
        show_money(amount)
