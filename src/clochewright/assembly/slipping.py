"""A coupling without a stop: it slides wholly onto one piece, and back over the gap once both are in their sockets.

The pipe is cut into two pieces with a gap between them as long as the deeper of its seats, so that the second piece can
be pulled back far enough to enter its socket; the coupling hides the gap and grips both pieces.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from clochewright.assembly.types import Way
from clochewright.findings import word
from clochewright.frame import End, Fitting, Frame, Pipe, Port, Vec
from clochewright.measures import Units, show_length

PLAY_m = 0.003  # so that the second piece clears the mouth: common practice, no source
GRIP_share = 1.0  # of a socket's depth, on each piece: as much as a socket gives


def slip_sizes(pipe: Pipe) -> tuple[float, float]:
    """Length of each of the two pieces, and the least length of the coupling [m]."""
    seat_m = max(end.seat_depth_m for end in pipe.ends)
    gap_m = min(end.seat_depth_m for end in pipe.ends) + PLAY_m
    return (pipe.cut_length_m - gap_m) / 2, gap_m + 2 * GRIP_share * seat_m


def slip_way(frame: Frame, pipes: Sequence[str], chosen: bool, units: Units) -> Way:
    """The way out for these pipes; possible where each piece is longer than the coupling that slides onto it."""
    pipe_of = {pipe.id: pipe for pipe in frame.pipes}
    sizes = [slip_sizes(pipe_of[pipe]) for pipe in pipes]
    piece_m, coupling_m = min(sizes)
    seat_m = max(end.seat_depth_m for pipe in pipes for end in pipe_of[pipe].ends)
    possible = piece_m > coupling_m + seat_m
    words = {
        "count": len(pipes),
        "piece": show_length(piece_m, units),
        "coupling": show_length(coupling_m, units),
    }
    text = word(f"assembly.ways.{'slip' if possible else 'slip-short'}", **words)
    return Way("slip-coupling", possible, chosen and possible, text, tuple(pipes), (), piece_m, coupling_m)


def with_slip_coupling(frame: Frame, pipe_id: str) -> Frame:
    """The frame with one straight pipe cut in two and joined by a coupling without a stop.

    The pieces are named after the pipe with "a" and "b", the coupling with "s". Its two ports stand a gap apart.
    """
    pipe = next(pipe for pipe in frame.pipes if pipe.id == pipe_id)
    piece_m, coupling_m = slip_sizes(pipe)
    gap_m = pipe.cut_length_m - 2 * piece_m
    start, stop = pipe.path_m[0], pipe.path_m[-1]
    way: Vec = tuple((b - a) / pipe.cut_length_m for a, b in zip(start, stop, strict=True))  # type: ignore[assignment]
    back: Vec = (-way[0], -way[1], -way[2])

    def at(along_m: float) -> Vec:
        return (start[0] + way[0] * along_m, start[1] + way[1] * along_m, start[2] + way[2] * along_m)

    grip_m = (coupling_m - gap_m) / 2
    name = f"{pipe_id}s"
    ports = (Port("a", back, gap_m / 2, grip_m), Port("b", way, gap_m / 2, grip_m))
    hub_m = max(fitting.hub_diameter_m for fitting in frame.fittings)
    middle = at(pipe.cut_length_m / 2)
    coupling = Fitting(name, "slip-coupling", "coupling", middle, hub_m, ports, pipe.body)
    inner = End(name, "a", grip_m, at(piece_m)), End(name, "b", grip_m, at(piece_m + gap_m))
    first = replace(
        pipe, id=f"{pipe_id}a", cut_length_m=piece_m, ends=(pipe.ends[0], inner[0]), path_m=(start, at(piece_m))
    )
    second = replace(
        pipe, id=f"{pipe_id}b", cut_length_m=piece_m, ends=(inner[1], pipe.ends[1]), path_m=(at(piece_m + gap_m), stop)
    )
    pipes = tuple(p for one in frame.pipes for p in ((first, second) if one.id == pipe_id else (one,)))
    return replace(frame, fittings=(*frame.fittings, coupling), pipes=pipes)
