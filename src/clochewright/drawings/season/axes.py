"""The paper of a graph: where a value stands, its frame, its grid and what is written along its edges."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from clochewright.drawings.lettering import CAP_HEIGHT
from clochewright.drawings.marks import Area, Line, Mark, Point, Text, Units
from clochewright.measures import show_temperature

AXIS_MM = 3.3  # lettering along the edges
_OFF_MM = 1.6  # from an edge to its lettering

Value = float  # in the unit of its edge: hours, days or weeks from the left, degC or a share from below
Values = Sequence[Value]


@dataclass(frozen=True, slots=True)
class Graph:
    """A rectangle on paper [mm] and the values at its edges."""

    left_mm: float
    bottom_mm: float
    width_mm: float
    height_mm: float
    low_x: Value
    high_x: Value
    low_y: Value
    high_y: Value

    def x(self, value: Value) -> float:
        """Where a value stands from the left [mm]."""
        return self.left_mm + (value - self.low_x) / (self.high_x - self.low_x) * self.width_mm

    def y(self, value: Value) -> float:
        """Where a value stands from below [mm]."""
        return self.bottom_mm + (value - self.low_y) / (self.high_y - self.low_y) * self.height_mm

    def at(self, x: Value, y: Value) -> Point:
        """A point on paper."""
        return self.x(x), self.y(y)

    def line(self, pen: str, xs: Values, ys: Values) -> Line:
        """A line through values."""
        return Line(pen, tuple(self.at(x, y) for x, y in zip(xs, ys, strict=True)))

    def band(self, pen: str, xs: Values, lows: Values, highs: Values) -> Area:
        """The area between two lines."""
        lower = [self.at(x, y) for x, y in zip(xs, lows, strict=True)]
        upper = [self.at(x, y) for x, y in zip(xs, highs, strict=True)]
        return Area(pen, (*lower, *reversed(upper)))

    def box(self, pen: str, x0: Value, x1: Value, y0: Value, y1: Value) -> Area:
        """An upright rectangle between values."""
        return Area(pen, (self.at(x0, y0), self.at(x1, y0), self.at(x1, y1), self.at(x0, y1)))

    def frame(self) -> Line:
        """The line around it."""
        x0, y0 = self.left_mm, self.bottom_mm
        x1, y1 = x0 + self.width_mm, y0 + self.height_mm
        return Line("rule", ((x0, y0), (x1, y0), (x1, y1), (x0, y1)), closed=True)

    def below(self, places: Sequence[tuple[Value, str]], *, between: bool = False) -> Iterator[Mark]:
        """Ticks and names along the lower edge.

        Args:
            places: Values with what to write there.
            between: Whether a name stands in the middle between its tick and the next.
        """
        for k, (value, name) in enumerate(places):
            x = self.x(value)
            yield Line("rule", ((x, self.bottom_mm), (x, self.bottom_mm - 1.2)))
            after = places[k + 1][0] if k + 1 < len(places) else self.high_x
            middle = self.x((value + after) / 2) if between else x
            yield Text("note", (middle, self.bottom_mm - _OFF_MM - AXIS_MM * CAP_HEIGHT - 0.4), name, AXIS_MM, "middle")

    def beside(self, places: Sequence[tuple[Value, str]], *, grid: bool = True) -> Iterator[Mark]:
        """Grid lines and names along the left edge."""
        for value, name in places:
            y = self.y(value)
            if grid:
                yield Line("grid", ((self.left_mm, y), (self.left_mm + self.width_mm, y)))
            drop = CAP_HEIGHT * AXIS_MM / 2
            yield Text("note", (self.left_mm - _OFF_MM, y - drop), name, AXIS_MM, "end")


def degrees_beside(low_degC: float, high_degC: float, units: Units) -> list[tuple[float, str]]:
    """Round temperatures from low to high for the left edge: every 20 degF, or every 10 degC."""
    step_K, zero_degC = (20 / 1.8, -32 / 1.8) if units == "inch" else (10.0, 0.0)
    first, last = math.ceil((low_degC - zero_degC) / step_K), math.floor((high_degC - zero_degC) / step_K)
    stops = [zero_degC + k * step_K for k in range(first, last + 1)]
    return [(degC, show_temperature(degC, units)) for degC in stops]
