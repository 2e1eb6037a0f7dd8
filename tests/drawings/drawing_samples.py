"""Frames and cut lists put together by hand, so that these tests rest on no other step."""

from __future__ import annotations

from clochewright.cuts import Cut, CutList, Stick, Stock
from clochewright.drawings import BedBox

INCH, FOOT = 0.0254, 0.3048


def marked(frame):
    """A cut list of the frame: a mark for each length to 1/16 in, longest first, and no sticks."""
    lengths = {pipe.id: round(pipe.cut_length_m / INCH * 16) for pipe in frame.pipes}
    order = sorted(set(lengths.values()), reverse=True)
    letters = {length: chr(ord("A") + k) for k, length in enumerate(order)}
    roles = {lengths[pipe.id]: pipe.role for pipe in frame.pipes}
    cuts = tuple(
        Cut(letters[n], roles[n], n * INCH / 16, sum(1 for other in lengths.values() if other == n)) for n in order
    )
    return CutList(cuts, {pipe: letters[n] for pipe, n in lengths.items()}, Stock(0.125 * INCH, True, 0.0, 0.0, ()))


def bed_for(frame):
    return BedBox(frame.length_m, frame.width_m, 11 * INCH, 1.5 * INCH)


def sticks(*rows, kerf_m=0.125 * INCH):
    """A cut list of sticks given in inches: (stick, piece, piece, ...), pieces marked A, B, C by their place."""
    made = []
    for length, *pieces in rows:
        rest = length - sum(pieces) - kerf_m / INCH * len(pieces)
        cuts = tuple((chr(ord("A") + k), piece * INCH) for k, piece in enumerate(pieces))
        made.append(Stick(length * INCH, "buy", cuts, max(rest, 0.0) * INCH))
    return CutList((), {}, Stock(kerf_m, True, 0.0, 0.0, tuple(made)))


BEDS = {
    "small": (4 * FOOT, 3 * FOOT, 2),
    "usual": (8 * FOOT, 4 * FOOT, 3),
    "long": (20 * FOOT, 3 * FOOT, 7),
    "narrow": (10 * FOOT, 1.5 * FOOT, 4),
    "wide": (5 * FOOT, 8 * FOOT, 2),
}
