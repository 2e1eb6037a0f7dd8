"""Marks on paper: the few things a drawing is made of, before any file format.

Paper is measured in millimetres from its lower left corner, x to the right and y up. Marks lie in drawing order, the
first at the bottom. `part` is the id of the pipe, fitting or stick that a mark belongs to, empty for the rest.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Point = tuple[float, float]
Units = Literal["inch", "mm"]
Anchor = Literal["start", "middle", "end"]
Face = Literal["regular", "bold", "italic"]


@dataclass(frozen=True, slots=True)
class Line:
    """A line of two or more points [mm], joined up when `closed`."""

    pen: str
    points: tuple[Point, ...]
    closed: bool = False
    part: str = ""


@dataclass(frozen=True, slots=True)
class Area:
    """A polygon [mm] filled with the pen's tint, without an edge."""

    pen: str
    points: tuple[Point, ...]
    part: str = ""


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle [mm] with the pen's edge, filled with its tint."""

    pen: str
    centre: Point
    radius_mm: float
    part: str = ""


@dataclass(frozen=True, slots=True)
class Text:
    """One line of lettering in the pen's ink.

    `at` lies on the baseline [mm], at the start, middle or end of the text; `size_mm` is the size of the type
    (ascender to descender, about) [mm]; `turn_deg` turns it counter-clockwise about `at` [deg].
    """

    pen: str
    at: Point
    text: str
    size_mm: float = 3.5
    anchor: Anchor = "start"
    turn_deg: float = 0.0
    face: Face = "regular"
    part: str = ""


Mark = Line | Area | Circle | Text


@dataclass(frozen=True, slots=True)
class Drawing:
    """A finished drawing: marks on a sheet of `width_mm` by `height_mm` [mm].

    One millimetre on paper is `scale` millimetres in the garden. `alt_text` says in words what the drawing shows;
    `units` are the plan's, for writers whose files carry a unit.
    """

    title: str
    width_mm: float
    height_mm: float
    scale: float
    units: Units
    marks: tuple[Mark, ...]
    alt_text: str
