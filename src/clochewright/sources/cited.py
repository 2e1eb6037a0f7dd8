"""A figure that carries its source and its spread."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Grade(StrEnum):
    """How far a figure can be trusted, best first."""

    MEASURED = "measured by you"
    PUBLISHED = "published"
    DERIVED = "worked out from published figures"
    COMMON_PRACTICE = "common practice, no source"
    FROM_MEMORY = "from memory"
    ESTIMATE = "estimate"

    @property
    def is_sure(self) -> bool:
        """Whether the figure can be built on without a tape in hand."""
        return self in (Grade.MEASURED, Grade.PUBLISHED, Grade.DERIVED)


@dataclass(frozen=True, slots=True)
class Cited:
    """A value in SI with its band and its source; `low` and `high` equal `value` where no spread is known."""

    value: float
    low: float
    high: float
    grade: Grade
    source: str
