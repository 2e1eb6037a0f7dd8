"""Reads "number unit number unit ..." exactly; the part that lengths, masses, speeds and the rest have in common."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from itertools import pairwise

from clochewright.errors import MeasureError

LONGEST_TEXT = 100

# What people and their keyboards put for the foot and inch marks, the minus, the slash and the degree sign.
_SAME_SIGN = str.maketrans({
    "′": "'", "’": "'", "‘": "'", "´": "'", "`": "'", "ʹ": "'",
    "″": '"', "”": '"', "“": '"', "ʺ": '"', "‶": '"',
    "−": "-", "–": "-", "—": "-", "‐": "-", "‑": "-",
    "⁄": "/", "∕": "/", "º": "°", "˚": "°", "μ": "u", "µ": "u", "²": "2",
})  # fmt: skip

_MIXED = re.compile(r"([0-9]+)(?:\s+|\s*-\s*)([0-9]+)\s*/\s*([0-9]+)(?![0-9./,])")
_FRACTION = re.compile(r"([0-9]+)\s*/\s*([0-9]+)(?![0-9./,])")
_DECIMAL = re.compile(r"[0-9][0-9.,]*(?<![.,])|[.,][0-9]+")
_BETWEEN_TERMS = re.compile(r"\s*(?:,|-|\band\b)?\s*")


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit: its family ("metric", "imperial", or one of its own) and its size in SI, exactly."""

    family: str
    size: Fraction


@dataclass(frozen=True)
class Quantity:
    """What is being read: its name with article, the units by every spelling, an example.

    `hints` are what to offer for a bare number, which goes in place of the braces: "{} in".
    """

    noun: str
    spellings: Mapping[str, Unit]
    hints: tuple[str, ...]
    example: str

    @cached_property
    def unit_pattern(self) -> re.Pattern[str]:
        """Matches any spelling, longest first, with a full stop after it if the writer put one."""
        longest_first = sorted(self.spellings, key=len, reverse=True)
        words = "|".join(re.escape(word).replace(r"\ ", r"\s+") for word in longest_first)
        return re.compile(rf"\s*({words})(?:(?<![a-z])|(?![a-z])\.?)")


@dataclass(frozen=True, slots=True)
class Term:
    """One number and its unit."""

    amount: Fraction
    unit: Unit
    written: str


@dataclass(frozen=True, slots=True)
class Reading:
    """All terms of a text, in order, and whether a minus stands before them."""

    negative: bool
    terms: tuple[Term, ...]


def spell(unit: Unit, words: str) -> dict[str, Unit]:
    """The same unit under each of several spellings, parted by commas."""
    return {word.strip(): unit for word in words.split(",")}


def text_of(given: object, quantity: Quantity) -> str:
    """The text to read, or a MeasureError for what is no text, is empty, or is far too long."""
    if isinstance(given, (int, float)) and not isinstance(given, bool):
        if not abs(given) < 10**15:  # infinite, not a number, or too long to print
            raise MeasureError(f"That number is far too large for {quantity.noun}; write it like {quantity.example}.")
        raise bare(str(given), quantity)
    if not isinstance(given, str):
        raise MeasureError(f"{_capital(quantity.noun)} is written as text, like {quantity.example}.")
    if len(given) > LONGEST_TEXT:
        raise MeasureError(f"{quoted(given)} is far too long for {quantity.noun}; write it like {quantity.example}.")
    if not given.strip():
        raise MeasureError(f"{_capital(quantity.noun)} is missing here; write it like {quantity.example}.")
    return given


def plain_signs(text: str) -> str:
    """The text in small letters and plain signs: vulgar fractions, primes, dashes and odd spaces spelled out."""
    spelled = "".join(_spelled_out(letter) for letter in text)
    return " ".join(spelled.lower().translate(_SAME_SIGN).replace("''", '"').split())


def scan(text: str, quantity: Quantity) -> Reading:
    """Reads all terms of a text.

    Args:
        text: What the user wrote, at most `LONGEST_TEXT` characters.
        quantity: What it should be.

    Raises:
        MeasureError: A number without a unit, an unknown unit, a division by nothing, or no measure at all.
    """
    plain = plain_signs(text)
    negative = plain.startswith("-")
    place = 1 + (plain[1:2] == " ") if negative else 0
    terms: list[Term] = []
    while place < len(plain):
        if terms:
            place = _after(_BETWEEN_TERMS, plain, place)
        amount, written, place = _number(plain, place, text, quantity)
        found = quantity.unit_pattern.match(plain, place)
        if found is None:
            raise _no_unit(plain, place, written, text, quantity)
        terms.append(Term(amount, quantity.spellings[" ".join(found[1].split())], f"{written} {found[1]}"))
        place = found.end()
    if not terms:
        raise no_sense(text, quantity)
    return Reading(negative, tuple(terms))


def add_up(reading: Reading, text: str, quantity: Quantity) -> Fraction:
    """Adds the terms up in SI; each must be of one family and of a smaller unit than the one before it.

    Raises:
        MeasureError: Mixed families ("5 ft 20 cm"), or units that do not run from large to small.
    """
    for before, after in pairwise(reading.terms):
        if before.unit.family != after.unit.family:
            raise MeasureError(f"{quoted(text)} mixes two kinds of unit; write it in one, like {quantity.example}.")
        if after.unit.size >= before.unit.size:
            raise MeasureError(
                f"{quoted(text)} should run from the larger unit to the smaller, like {quantity.example}."
            )
    total = sum((term.amount * term.unit.size for term in reading.terms), Fraction(0))
    return -total if reading.negative else total


def read_positive(text: str, quantity: Quantity) -> Fraction:
    """Reads and adds up a text that may not be less than nothing, in SI, exactly.

    Raises:
        MeasureError: The text is no such measure, or has a minus before it.
    """
    return refuse_negative(add_up(scan(text, quantity), text, quantity), text, quantity)


def refuse_negative(value: Fraction, text: str, quantity: Quantity) -> Fraction:
    """The value itself, or a MeasureError if it is below nothing."""
    if value < 0:
        raise MeasureError(f"{quoted(text)} is less than nothing; {quantity.noun} here can't have a minus.")
    return value


def decimal_number(written: str) -> Fraction | None:
    """A decimal number with a dot or a comma, exactly; None where its comma or dots can be taken two ways.

    A comma with one, two, or more than three digits after it is a decimal comma ("1,5"), and so is one after a lone 0
    ("0,125"). "1,200" could be either, and is None. "1,200.5" and "1,200,000" can only have thousands marked.
    """
    if "," not in written:
        return Fraction(written) if written.count(".") <= 1 else None
    if re.fullmatch(r"[0-9]{1,3}(,[0-9]{3})+\.[0-9]+|[1-9][0-9]{0,2}(,[0-9]{3}){2,}", written):
        return Fraction(written.replace(",", ""))
    if re.fullmatch(r"0?,[0-9]+|[0-9]+,([0-9]{1,2}|[0-9]{4,})|[0-9]{4,},[0-9]{3}", written):
        return Fraction("0" + written.replace(",", "."))
    return None


def no_sense(text: str, quantity: Quantity) -> MeasureError:
    """The error for text that is nothing of the kind."""
    return MeasureError(f"{quoted(text)} can't be read as {quantity.noun}; write it like {quantity.example}.")


def bare(written: str, quantity: Quantity) -> MeasureError:
    """The error for a number that stands alone, with what could be meant."""
    return MeasureError(f"{written} of what? Write {' or '.join(hint.format(written) for hint in quantity.hints)}.")


def quoted(text: str) -> str:
    """The user's own text in quotes, shortened, without line breaks or control signs."""
    printable = "".join(letter if letter.isprintable() else " " for letter in text).strip()
    short = printable if len(printable) <= 40 else printable[:37] + "..."
    return f"“{short}”"


def _number(plain: str, place: int, text: str, quantity: Quantity) -> tuple[Fraction, str, int]:
    """The number at a place: its value, as it was written, and the place after it."""
    if mixed := _MIXED.match(plain, place):
        whole, part, parts = (int(group) for group in mixed.groups())
        return whole + _fraction(part, parts, text), mixed[0], mixed.end()
    if fraction := _FRACTION.match(plain, place):
        part, parts = (int(group) for group in fraction.groups())
        return _fraction(part, parts, text), fraction[0], fraction.end()
    decimal = _DECIMAL.match(plain, place)
    if decimal is None:
        raise no_sense(text, quantity)
    value = decimal_number(decimal[0])
    if value is None:
        raise MeasureError(
            f"{quoted(decimal[0])} is not a clear number; write it with a decimal point and no other marks."
        )
    return value, decimal[0], decimal.end()


def _fraction(part: int, parts: int, text: str) -> Fraction:
    if parts == 0:
        raise MeasureError(f"{quoted(text)} divides by nothing; the lower figure of a fraction can't be 0.")
    return Fraction(part, parts)


def _no_unit(plain: str, place: int, written: str, text: str, quantity: Quantity) -> MeasureError:
    """The error for a number with no unit after it, or with one that is not known."""
    rest = plain[place:].strip()
    if not rest:
        return bare(written, quantity)
    word = re.match(r"[^\W\d_]+", rest)
    if word is None:
        return no_sense(text, quantity)
    return MeasureError(
        f"{quoted(word[0])} is no unit of {quantity.noun.split(' ', 1)[1]} known here; "
        f"write it like {quantity.example}."
    )


def _spelled_out(letter: str) -> str:
    """A vulgar fraction as " 1/2" (the space keeps it off a whole number before it); other letters as they are."""
    kind, _, codes = unicodedata.decomposition(letter).partition(" ")
    if kind != "<fraction>":
        return letter
    return " " + "".join(chr(int(code, 16)) for code in codes.split())


def _after(pattern: re.Pattern[str], text: str, place: int) -> int:
    found = pattern.match(text, place)
    return found.end() if found else place


def _capital(noun: str) -> str:
    return noun[0].upper() + noun[1:]
