"""Old parts used first: pipe with a fitting cemented to its end, sawn to length or spliced with a new piece.

A plain offcut simply goes into the nesting. A piece that carries a fitting can only serve where the frame has that
fitting at a pipe's end: long enough, it is sawn to length; too short, a coupling joins a new piece to it, whose two
sockets and stop count in the length.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from clochewright.cuts.types import OldPiece, Reuse
from clochewright.findings import Finding, Level
from clochewright.frame import Frame, Pipe

AGEING = "pipe makers' two-year exposure study: sun takes impact strength first, strength and stiffness hardly"
Worth = Callable[[str, float], bool]  # whether a splice that saves this kind of fitting and this much pipe [m] pays


def reuse_old(
    frame: Frame, pieces: Iterable[OldPiece], coupling: tuple[float, float], mark_of: dict[str, str], worth: Worth
) -> tuple[Reuse, ...]:
    """Which old piece with a fitting on its end serves as which pipe, the longest piece first.

    Args:
        frame: The solved frame.
        pieces: Old pieces; those without a fitting are passed over.
        coupling: Centre to stop and socket depth of a coupling [m].
        mark_of: The mark of each pipe by its id.
        worth: Says whether splicing pays.

    Returns:
        One record for each piece used. No pipe and no fitting of the frame is served twice.
    """
    stop_m, depth_m = coupling
    taken_pipes: set[str] = set()
    taken_fittings: set[str] = set()
    out: list[Reuse] = []
    for piece in sorted(pieces, key=lambda piece: -piece.sound_m):
        if not piece.cemented:
            continue
        places = [
            place
            for place in _places(frame, piece)
            if place.pipe.id not in taken_pipes and place.fitting not in taken_fittings
        ]
        used = _sawn(piece, places) or _spliced(piece, places, stop_m, depth_m, worth)
        if used is None:
            continue
        place, new_m = used
        taken_pipes.add(place.pipe.id)
        taken_fittings.add(place.fitting)
        out.append(Reuse(piece, place.pipe.id, mark_of[place.pipe.id], place.fitting, place.need_m, new_m))
    return tuple(out)


@dataclass(frozen=True, slots=True)
class _Place:
    """Where a piece could serve: a pipe, the fitting it ends in, and how long the piece must be from its stop [m].

    A cemented end is home; where the frame's own pipe would stop short of that, the old one must be so much longer.
    """

    pipe: Pipe
    fitting: str
    need_m: float


def _places(frame: Frame, piece: OldPiece) -> Iterator[_Place]:
    for pipe in frame.pipes:
        if pipe.shape != "straight":
            continue
        for end in pipe.ends:
            if end.fitting is None or end.port is None or piece.port not in ("", end.port):
                continue
            fitting = frame.fitting(end.fitting)
            if fitting.kind == piece.cemented:
                deeper_m = fitting.port(end.port).socket_depth_m - end.seat_depth_m
                yield _Place(pipe, fitting.id, pipe.cut_length_m + deeper_m)


Used = tuple[_Place, float]


def _sawn(piece: OldPiece, places: Sequence[_Place]) -> Used | None:
    """The longest pipe that this piece gives when it is sawn to length."""
    fit = [place for place in places if place.need_m <= piece.sound_m + 1e-9]
    return (max(fit, key=lambda place: place.need_m), 0.0) if fit else None


def _spliced(piece: OldPiece, places: Sequence[_Place], stop_m: float, depth_m: float, worth: Worth) -> Used | None:
    """The shortest pipe that this piece gives with a new piece coupled on, where both fill their sockets."""
    if piece.sound_m < 2 * depth_m or not worth(piece.cemented, piece.sound_m):
        return None
    fit = [(place, place.need_m - piece.sound_m - 2 * stop_m) for place in places]
    fit = [(place, new_m) for place, new_m in fit if new_m >= 2 * depth_m]
    return min(fit, key=lambda used: used[1]) if fit else None


def old_findings(reused: Sequence[Reuse], pieces: Sequence[OldPiece], fittings: int) -> tuple[Finding, ...]:
    """What becomes of the old parts, and how to tell a brittle one."""
    if not pieces and not fittings:
        return ()
    found = [Finding(Level.NOTE, "cuts", "cuts.old-pipe-ages", "stock.on_hand", {}, AGEING)]
    for use in reused:
        old = use.piece.mark or use.piece.cemented
        values = {"old": old, "mark": use.mark, "length_m": use.length_m, "new_m": use.new_m}
        found.append(
            Finding(Level.NOTE, "cuts", "cuts.old-spliced" if use.new_m else "cuts.old-sawn", use.mark, values)
        )
    used = [use.piece for use in reused]
    left = [piece for piece in pieces if piece.cemented and piece not in used]
    if left:
        values = {"pieces": tuple(piece.mark or piece.cemented for piece in left)}
        found.append(Finding(Level.NOTE, "cuts", "cuts.old-left-over", "stock.on_hand", values))
    return tuple(found)
