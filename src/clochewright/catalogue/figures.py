"""Raw figures: one a row in the data files, each with its unit, its status and its source."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from clochewright.errors import CatalogueError, Mistake
from clochewright.sources import Cited, Grade

DATA = Path(__file__).parent / "data"

# No estimate of a length is trusted to better than this, either way: 1/8 in [m].
ESTIMATE_BAND_M = 0.003175

GRADE_OF_STATUS = {
    "published": Grade.PUBLISHED,
    "derived": Grade.DERIVED,
    "common practice": Grade.COMMON_PRACTICE,
    "from memory": Grade.FROM_MEMORY,
    "estimate": Grade.ESTIMATE,
}

# SI per unit; exact by definition (NIST SP 811, appendix B).
_POUND_KG = 0.45359237
_FOOT_M = 0.3048
_SI = {
    "in": 0.0254,
    "ft": _FOOT_M,
    "mm": 0.001,
    "m": 1.0,
    "micron": 1e-6,
    "mil": 0.0000254,
    "lb": _POUND_KG,
    "lb/ft": _POUND_KG / _FOOT_M,
    "kg": 1.0,
    "g": 0.001,
    "kg/m": 1.0,
    "kg/m2": 1.0,
    "m2/L": 1.0,
    "L": 1.0,
    "W/m2K": 1.0,
    "years": 1.0,
    "joints": 1.0,
    "1": 1.0,
}


@dataclass(frozen=True, slots=True)
class Figure:
    """One row of a data file: what it belongs to (a tuple of names), which figure it is, and the figure in SI."""

    owner: tuple[str, ...]
    dimension: str
    cited: Cited


def read_rows(name: str) -> Iterator[dict[str, str]]:
    """The rows of one data file, by column name."""
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        yield from csv.DictReader(file)


def cited_from(row: dict[str, str]) -> Cited:
    """The figure of a row in SI; a blank low or high is the value itself.

    Raises:
        CatalogueError: if the row has no known status, no source, or no known unit.
    """
    grade, source, unit = GRADE_OF_STATUS.get(row["status"]), row["source"], row["unit"]
    if grade is None or not source or unit not in _SI:
        raise CatalogueError((Mistake("the catalogue's own data", f"a row lacks its status, source or unit: {row}"),))
    scale = _SI[unit]
    value, low, high = (float(row[name] or row["value"]) * scale for name in ("value", "low", "high"))
    return Cited(value, low, high, grade, source)


def read_figures(name: str, owner_columns: tuple[str, ...]) -> Iterator[Figure]:
    """The figures of one data file, in its order; `owner_columns` say what each belongs to."""
    for row in read_rows(name):
        yield Figure(tuple(row[column] for column in owner_columns), row["dimension"], cited_from(row))


def with_least_band(cited: Cited, band_m: float = ESTIMATE_BAND_M) -> Cited:
    """The figure with its band widened, if it is unsure, to at least `band_m` either way; no length falls below 0."""
    if cited.grade.is_sure:
        return cited
    low = max(0.0, min(cited.low, cited.value - band_m))
    return replace(cited, low=low, high=max(cited.high, cited.value + band_m))


def estimated_from(cited: Cited, why: str, band_m: float = ESTIMATE_BAND_M) -> Cited:
    """The same figure taken over as an estimate for another part, with the reason put before its source."""
    return with_least_band(replace(cited, grade=Grade.ESTIMATE, source=f"{why} ({cited.source})"), band_m)


def measured(value: float, source: str = "") -> Cited:
    """A figure the user measured."""
    return Cited(value, value, value, Grade.MEASURED, source or "measured by you")
