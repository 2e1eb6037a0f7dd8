"""What the cover can stand."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Limit:
    """One limit: the case, the kind of value ("gust_m_s"), the likely value with its band in SI, and what governs.

    `low` and `high` come from the spread of what it rests on, named in `source`.
    """

    case: str
    kind: str
    value: float
    low: float
    high: float
    governs: str
    source: str
