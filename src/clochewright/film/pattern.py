"""What the pattern is made of: flat pieces with their lines, and each flat face's place in space."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from clochewright.film.outline import Point, length_along
from clochewright.frame import Vec

# rail: middle of a bottom rail. crest: bends over a rail, eave or ridge. bent: lies over an end or inner bent.
# pleat: where an end is folded like a parcel. roll: underside of the rail, where the roll on the lath begins.
Kind = Literal["rail", "crest", "bent", "pleat", "roll"]
Ends = Literal["folded", "cut"]


@dataclass(frozen=True, slots=True)
class PatternLine:
    """A line to draw on the film, in the flat [m]."""

    kind: Kind
    points: tuple[Point, ...]

    @property
    def length_m(self) -> float:
        """Along the line [m]."""
        return length_along(self.points)


@dataclass(frozen=True, slots=True)
class Face:
    """One flat face of the skin: its corners on the sheet and in space, in the same order [m]."""

    flat: tuple[Point, ...]
    space: tuple[Vec, ...]


@dataclass(frozen=True, slots=True)
class PatternPiece:
    """One piece of film as it lies flat, the outside up.

    On a gable the first axis runs along the end rail, from (0, 0) in its middle, and the second one up. On every other
    piece the first axis runs along the bed and the second across it, towards the left; (0, 0) is its middle. `low` and
    `high` are the corners of the rectangle that is cut off the roll; `trim` the line to trim to, last of all; `middles`
    where the centre marks are put: on the edges of that rectangle.
    """

    name: Literal["cover", "strip", "panel", "front gable", "far gable"]
    low: Point
    high: Point
    trim: tuple[Point, ...]
    lines: tuple[PatternLine, ...]
    faces: tuple[Face, ...]

    @property
    def length_m(self) -> float:
        """Along the first axis, as cut off the roll [m]."""
        return self.high[0] - self.low[0]

    @property
    def width_m(self) -> float:
        """Along the second axis, as cut off the roll [m]."""
        return self.high[1] - self.low[1]

    @property
    def middles(self) -> tuple[Point, ...]:
        """Where centre marks go [m]."""
        (x0, y0), (x1, y1) = self.low, self.high
        return (0.0, y0), (0.0, y1), *(() if self.is_gable else ((x0, 0.0), (x1, 0.0)))

    @property
    def is_gable(self) -> bool:
        """Whether it closes an end; every other piece lies along the bed."""
        return self.name in ("front gable", "far gable")


@dataclass(frozen=True, slots=True)
class Pattern:
    """The film for one cover, laid out flat.

    `ends` says whether they are folded like a parcel or cut as pieces of their own; `pleats` how many there are at each
    end. `corners` are the frame's corners in space, and where each lies on the main piece [m].
    """

    ends: Ends
    pieces: tuple[PatternPiece, ...]
    pleats: int
    corners: tuple[tuple[Point, Vec], ...]

    @property
    def main(self) -> PatternPiece:
        """The piece that goes over the bed."""
        return self.pieces[0]

    @property
    def gables(self) -> tuple[PatternPiece, ...]:
        """The pieces that close the ends, where those are cut by themselves."""
        return tuple(piece for piece in self.pieces if piece.is_gable)

    @property
    def panels(self) -> tuple[PatternPiece, ...]:
        """The sheets of the panels of one cover."""
        return tuple(piece for piece in self.pieces if piece.name == "panel")


def area_m2(points: tuple[Point, ...]) -> float:
    """Area of a flat polygon [m2], by the shoelace formula; positive anticlockwise."""
    pairs = zip(points, (*points[1:], points[0]), strict=True)
    return sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in pairs) / 2
