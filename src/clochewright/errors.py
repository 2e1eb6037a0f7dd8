"""One small family of errors. A check that fails is a result (a finding), not an error.

ClochewrightError
    MeasureError    a length, angle, weight or price that can't be read
    PlanError       a plan file with one or more mistakes, each with its key path
    CatalogueError  a part list with one or more mistakes, each with its file and row
    FolderError     a file or folder that can't be read or written
"""

from __future__ import annotations

from dataclasses import dataclass


class ClochewrightError(Exception):
    """Base of the family; its text is one or more plain sentences for the user."""


class MeasureError(ClochewrightError, ValueError):
    """Text that is no length, angle, weight, speed, temperature or price."""


@dataclass(frozen=True, slots=True)
class Mistake:
    """One mistake in what the user gave: where it stands, what is wrong, what to do."""

    where: str
    what: str
    mend: str = ""

    def __str__(self) -> str:
        sentence = f"{self.where}: {self.what}" if self.where else self.what
        return f"{sentence} {self.mend}".rstrip()


class _MistakesError(ClochewrightError, ValueError):
    def __init__(self, mistakes: tuple[Mistake, ...]) -> None:
        self.mistakes = mistakes
        super().__init__("\n".join(str(m) for m in mistakes))


class PlanError(_MistakesError):
    """A plan that can't be used; `mistakes` holds every one of them, in the plan's order."""


class CatalogueError(_MistakesError):
    """A part list that can't be used; `mistakes` holds every one of them."""


class FolderError(ClochewrightError, OSError):
    """A file or folder that can't be read or written."""
