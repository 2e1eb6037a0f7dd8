"""Old parts used first: pipe with a fitting cemented to its end, sawn to length or spliced with a new piece.

A plain offcut simply goes into the nesting. A piece that carries a fitting can only serve where the frame has that
fitting at a pipe's end: long enough, it is sawn to length; too short, a coupling joins a new piece to it, whose two
sockets and stop count in the length.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence, Set
from dataclasses import dataclass

from clochewright.cuts.types import OldPiece, Reuse
from clochewright.frame import Frame, Pipe

Worth = Callable[[str, float], bool]  # whether a splice that saves this kind of fitting and this much pipe [m] pays

# Sockets that can stand in for each other once the fitting is turned round; where a kind has several such groups, only
# the builder can see which one the old pipe sits in.
_RUN, _OUT, _ROUND = ("run-a", "run-b"), ("branch", "side"), ("run-a", "run-b", "arm-a", "arm-b")
ALIKE: Mapping[str, tuple[tuple[str, ...], ...]] = {
    "tee": (("branch",), _RUN),
    "side-outlet-tee": (_OUT, _RUN),
    "five-way-cross": (_ROUND, ("side",)),
}


def sockets_meant(kind: str, port: str) -> tuple[str, ...] | None:
    """The sockets that an old pipe in `port` can serve in; () where any will do, None where that can't be told.

    "run" means either end of the run, "arm" either arm.
    """
    groups = ALIKE.get(kind)
    if groups is None:
        return ()
    fitting = [group for group in groups if any(name == port or name[:-2] == port for name in group)]
    return fitting[0] if fitting else None


def reuse_old(
    frame: Frame,
    pieces: Iterable[OldPiece],
    coupling: tuple[float, float] | None,
    mark_of: Mapping[str, str],
    worth: Worth,
    done: Set[str] = frozenset(),
) -> tuple[Reuse, ...]:
    """Which old piece with a fitting on its end serves as which pipe, the longest piece first.

    Args:
        frame: The solved frame.
        pieces: Old pieces; those without a fitting are passed over.
        coupling: Centre to stop and socket depth of a coupling [m]; None where nothing shall be spliced.
        mark_of: The mark of each pipe by its id.
        worth: Says whether splicing pays.
        done: Ids of the pipes that are cut already.

    Returns:
        One record for each piece used. No pipe and no fitting of the frame is served twice.
    """
    taken_pipes = set(done)
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
        used = _sawn(piece, places)
        if used is None and coupling is not None:
            used = _spliced(piece, places, *coupling, worth)
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
    meant = sockets_meant(piece.cemented, piece.port)
    if meant is None:
        return
    fittings = {fitting.id: fitting for fitting in frame.fittings if fitting.kind == piece.cemented}
    for pipe in frame.pipes:
        if pipe.shape != "straight":
            continue
        for end in pipe.ends:
            if end.fitting in fittings and end.port is not None and (not meant or end.port in meant):
                fitting = fittings[end.fitting]
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
