"""Lettering beside a tape, above it or below: each text at its place, in as few rows as it takes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from clochewright.drawings.lettering import CAP_HEIGHT, text_width_mm
from clochewright.drawings.marks import Anchor, Face, Text
from clochewright.drawings.sheet import MARGIN_MM
from clochewright.drawings.spread import spread

_ROW_MM = 4.8
_ROOM_MM = 2.0  # kept free between texts
_LEADER_MM = 1.0  # kept free between a leader and the text beside it
_MOST_ROWS = 6  # more than that are turned upright instead
_UPRIGHT_MM = 3.5  # height of the leaders to upright lettering

Label = tuple[float, str]  # where on the sheet [mm] and what


@dataclass(frozen=True, slots=True)
class Seat:
    """Where a text stands: `at_mm` along the sheet by its `anchor`, in which row, 0 next to the tape, and its place."""

    wanted_mm: float
    at_mm: float
    text: str
    row: int = 0
    anchor: Anchor = "middle"


@dataclass(frozen=True, slots=True)
class Beside:
    """Lettering on one side of the tape; `upright` where it has no room level."""

    seats: tuple[Seat, ...]
    size_mm: float
    face: Face
    upright: bool = False

    @property
    def left_mm(self) -> float:
        """Where the lettering starts on the left; past any sheet, if there is none [mm]."""
        return min((self._span(seat)[0] for seat in self.seats), default=float("inf"))

    @property
    def height_mm(self) -> float:
        """Height that the lettering takes up, its leaders included [mm]."""
        if not self.seats:
            return 0.0
        if self.upright:
            return max(text_width_mm(seat.text, self.size_mm, self.face) for seat in self.seats) + 2.0 + _UPRIGHT_MM
        return (max(seat.row for seat in self.seats) + 1) * _ROW_MM

    def reach_mm(self, seat: Seat) -> float:
        """How far the seat's leader runs from the tape [mm]; 0 where the text stands right at its place."""
        if self.upright:
            return _UPRIGHT_MM
        return 0.0 if seat.anchor == "middle" else (seat.row + 0.6) * _ROW_MM

    def leader_mm(self, seat: Seat) -> float:
        """Where along the sheet the seat's leader ends [mm]."""
        return seat.at_mm if self.upright else seat.wanted_mm

    def text(self, seat: Seat, far_mm: float, pen: str, part: str, *, above: bool) -> Text:
        """The seat's text; `far_mm` is the paper's height at which its leader ends [mm]."""
        cap = CAP_HEIGHT * self.size_mm
        if self.upright:
            away = 1.0 if above else -1.0
            anchor: Anchor = "start" if above else "end"
            at = seat.at_mm + cap / 2, far_mm + away
            return Text(pen, at, seat.text, self.size_mm, anchor, 90.0, self.face, part)
        under = far_mm + 1.2 if above else far_mm - cap - 1.0
        y = under if seat.anchor == "middle" else far_mm - cap / 2
        return Text(pen, (seat.at_mm, y), seat.text, self.size_mm, seat.anchor, face=self.face, part=part)

    def _span(self, seat: Seat) -> tuple[float, float]:
        if self.upright:
            return seat.at_mm - self.size_mm / 2, seat.at_mm + self.size_mm / 2
        return span_mm(seat, text_width_mm(seat.text, self.size_mm, self.face))


def span_mm(seat: Seat, width_mm: float) -> tuple[float, float]:
    """From where to where a level text of that width runs [mm]."""
    left = seat.at_mm - {"start": 0.0, "middle": width_mm / 2, "end": width_mm}[seat.anchor]
    return left, left + width_mm


def beside(labels: Sequence[Label], size_mm: float, face: Face, sheet_mm: float) -> Beside:
    """Seats lettering beside the tape on a sheet of that width [mm], labels from left to right.

    A text stands in the first row, at its place, or left of a leader in the first row in which nothing is in its way;
    near the left edge, where it has no room there, right of one.
    """
    widths = [text_width_mm(text, size_mm, face) for _, text in labels]
    stood: list[tuple[Seat, tuple[float, float]]] = []
    for k, ((wanted, text), width) in enumerate(zip(labels, widths, strict=True)):
        after = labels[k + 1][0] if k + 1 < len(labels) else sheet_mm - MARGIN_MM / 2
        seats = [Seat(wanted, wanted, text)] if wanted + width / 2 + _ROOM_MM / 2 < after else []
        seats += [Seat(wanted, wanted - _LEADER_MM, text, row, "end") for row in range(_MOST_ROWS)]
        seats += [Seat(wanted, wanted + _LEADER_MM, text, row, "start") for row in range(_MOST_ROWS)]
        for seat in seats:
            span = span_mm(seat, width)
            on_paper = span[0] >= MARGIN_MM / 2 and span[1] <= sheet_mm - MARGIN_MM / 2
            if on_paper and not any(_in_the_way(seat, span, *other) for other in stood):
                stood.append((seat, span))
                break
        else:
            return _upright(labels, size_mm, face, sheet_mm)
    return Beside(tuple(seat for seat, _ in stood), size_mm, face)


def _in_the_way(seat: Seat, span: tuple[float, float], other: Seat, others: tuple[float, float]) -> bool:
    """Whether a text or its leader would touch another that stands to its left."""
    if other.row == seat.row and span[0] < others[1] + _ROOM_MM:
        return True
    leader_in_text = other.row > seat.row and span[0] < other.wanted_mm + _LEADER_MM
    text_in_leader = other.row < seat.row and seat.wanted_mm < others[1] + _LEADER_MM
    return leader_in_text or text_in_leader


def _upright(labels: Sequence[Label], size_mm: float, face: Face, sheet_mm: float) -> Beside:
    low, high = MARGIN_MM - _ROOM_MM / 2, sheet_mm - MARGIN_MM + _ROOM_MM / 2
    stands = spread([wanted for wanted, _ in labels], [size_mm * 1.15] * len(labels), low, high)
    seats = (Seat(wanted, at, text) for at, (wanted, text) in zip(stands, labels, strict=True))
    return Beside(tuple(seats), size_mm, face, upright=True)
