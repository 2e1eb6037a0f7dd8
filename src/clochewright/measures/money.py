"""Prices: an amount and the sign it was written with. Nothing is ever changed from one currency to another."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal

from clochewright.errors import MeasureError
from clochewright.measures.rounding import whole_steps
from clochewright.measures.scanner import Quantity, bare, decimal_number, no_sense, plain_signs, quoted, text_of

MONEY = Quantity(noun="a price", spellings={}, hints=("${}", "{} EUR"), example="$12.50 or 3 EUR")

_SIGN = r"[a-z]{0,3}[$£€¥₹₩₽₺₴₪₱฿]|[a-z]{3}|kr|zł"
_AMOUNT = r"[0-9][0-9.,]*[0-9]|[0-9]|[.,][0-9]+"
_PRICE = re.compile(rf"(-?)\s*(?:({_SIGN})\s*(-?)\s*({_AMOUNT})|({_AMOUNT})\s*({_SIGN}))")
_DOT_THOUSANDS = re.compile(r"[0-9]{1,3}(\.[0-9]{3})+,[0-9]{1,2}")
_COMMA_THOUSANDS = re.compile(r"[1-9][0-9]{0,2}(,[0-9]{3})+")
_UNCLEAR = re.compile(r"[1-9][0-9]{0,2}\.[0-9]{3}|.*,[0-9]{3,}")


@dataclass(frozen=True, slots=True)
class Money:
    """A price: its amount and the sign or code beside it, such as "$" or "EUR"."""

    amount: Decimal
    sign: str


def read_money(text: object) -> Money:
    """Reads a price such as `$12.50`, `12.50 $`, `£3`, `3 EUR` or `$1,250`.

    Raises:
        MeasureError: It is no price, has no sign beside it, or is less than nothing.
    """
    written = text_of(text, MONEY)
    plain = plain_signs(written)
    found = _PRICE.fullmatch(plain)
    if found is None:
        if re.fullmatch(rf"-?\s*(?:{_AMOUNT})", plain):
            raise bare(plain.lstrip("- "), MONEY)
        raise no_sense(written, MONEY)
    amount = _amount(found[4] or found[5])
    if found[1] or found[3]:
        raise MeasureError(f"{quoted(written)} is less than nothing; a price can't have a minus.")
    sign = (found[2] or found[6]).upper()
    return Money(amount, sign.lower() if sign in ("KR", "ZŁ") else sign)


def show_money(amount: Decimal | float, sign: str = "$") -> str:
    """The amount with its sign, to the cent: `$1,250.00`, and behind it where the sign is a word: `3.00 EUR`.

    Raises:
        MeasureError: The amount is infinite or not a number.
    """
    cents = whole_steps(float(amount) * 100)
    whole, part = divmod(abs(cents), 100)
    figure = f"{whole:,}.{part:02d}"
    minus = "-" if cents < 0 else ""
    return f"{minus}{figure} {sign}" if sign[-1:].isalpha() else f"{minus}{sign}{figure}"


def _amount(written: str) -> Decimal:
    """The amount, exactly. Three digits after one comma are thousands here, since prices have no third decimal."""
    if _DOT_THOUSANDS.fullmatch(written):
        written = written.replace(".", "")
    elif _COMMA_THOUSANDS.fullmatch(written):
        written = written.replace(",", "")
    value = None if _UNCLEAR.fullmatch(written) else decimal_number(written)
    if value is None:
        raise MeasureError(f"{quoted(written)} is not a clear price; write it with two decimals, like 12.50.")
    return Decimal(value.numerator) / Decimal(value.denominator)
