"""What the quantities of places and hands have in common: text that the measures room reads and shows."""

from __future__ import annotations

from abc import abstractmethod
from dataclasses import dataclass
from typing import ClassVar

from typing_extensions import override

from clochewright.errors import MeasureError
from clochewright.measures import Units
from clochewright.plan.fields import Quantity, mistake, shown


def plain_text(value: object, thing: str, example: str) -> str:
    """The text a quantity is read from; everything that is no text is refused."""
    if isinstance(value, str):
        return value
    raise mistake(f"a {thing} is text with a unit.", f'Write it in quotes, such as "{example}".')


def si_number(value: object, *, si: bool) -> float | None:
    """The number, where numbers are taken as SI; else None."""
    taken = si and isinstance(value, (int, float)) and not isinstance(value, bool)
    return float(value) if taken else None  # type: ignore[arg-type]


@dataclass(frozen=True)
class Measured(Quantity):
    """A figure with limits of its own; `thing` and `unit` name it, `same` is how near rounded text has to come."""

    thing: ClassVar[str]
    unit: ClassVar[str]
    same: ClassVar[float] = 1e-6
    decimals: ClassVar[str] = ".6g"
    pattern: ClassVar[str] = r"^\s*[0-9.].*[A-Za-z]\.?\s*$"

    @abstractmethod
    def measure(self, text: str) -> float:
        """The figure in SI; MeasureError where the text says none."""

    @abstractmethod
    def tell(self, value: float, units: Units) -> str:
        """The figure as text, rounded."""

    @abstractmethod
    def fits(self, value: float) -> bool:
        """Whether it is within the limits."""

    @abstractmethod
    def refused(self) -> tuple[str, str]:
        """What a figure past the limits is, after "5 N is", and what to do."""

    @override
    def read(self, value: object, *, si: bool) -> float:
        """The figure in SI; a bare number is taken only where `si` says so."""
        number = si_number(value, si=si)
        if number is not None:
            figure, text = number, f"{value:g} {self.unit}"
        else:
            text = plain_text(value, self.thing, self.examples[0])
            try:
                figure = self.measure(text)
            except (MeasureError, OverflowError) as error:
                raise mistake(str(error)) from None
        if not self.fits(figure):
            what, mend = self.refused()
            raise mistake(f"{shown(text.strip())} is {what}.", mend)
        return figure

    @override
    def write(self, value: float, units: Units) -> str:
        """The figure as text, rounded where that is the same, else with decimals."""
        text = self.tell(value, units)
        return text if abs(self.measure(text) - value) < self.same else f"{value:{self.decimals}} {self.unit}"
