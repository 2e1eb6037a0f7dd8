"""Small ways of saying things that several pages share."""

from __future__ import annotations

from collections.abc import Iterable

from clochewright.findings import word
from clochewright.measures import Units, show_length


def between(low: str, high: str) -> str:
    """A band in words; one figure where both ends read the same."""
    return low if low == high else word("booklet.figure.range", low=low, high=high)


def unbroken(lengths: Iterable[str]) -> str:
    """Several lengths in a row; a line may end between two of them, never within one."""
    return ", ".join(length.replace(" ", "\N{NO-BREAK SPACE}") for length in lengths)


def area(length_m: float, width_m: float, units: Units) -> str:
    """Length and width [m] beside each other."""
    long, wide = (show_length(side_m, units, style="long") for side_m in (length_m, width_m))
    return word("booklet.figure.times", length=long, width=wide)


def capital(text: str) -> str:
    """The text with a capital at its start."""
    return text[:1].upper() + text[1:]
