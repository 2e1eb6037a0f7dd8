"""Two sizes of one frame: as a dry test fit shows it, and as it is with every joint home.

In a tapered socket dry pipe stops a third to two thirds of the way in, so that every joint stands proud; a builder who
trims to suit ends up short once it is cemented.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from clochewright.catalogue import Catalogue
from clochewright.cuts.chains import find_chains
from clochewright.cuts.taped import taped
from clochewright.findings import Finding, Level
from clochewright.frame import Frame
from clochewright.sources import Cited, Grade

NOT_SEEN_M = 0.0005  # what no tape shows is not worth a word


@dataclass(frozen=True, slots=True)
class DrySize:
    """One size of the frame.

    `finished_m` is as planned, `dry_m` what a tape shows with every pipe pushed in by hand, uncemented, somewhere from
    `dry_low_m` (all joints deep) to `dry_high_m` (all joints shallow), `home_m` with every joint home [m]. One of a
    frame planned home has `finished_m` the same as `home_m`.
    """

    name: str
    finished_m: float
    dry_m: float
    dry_low_m: float
    dry_high_m: float
    home_m: float


@dataclass(frozen=True, slots=True)
class DrySizes:
    """The sizes to check a test fit with: length, width, diagonal, height, and the members of the bents by role.

    Members ("rafter", "post") are from centre to centre. `rafter gap` is how much further apart the base holds the feet
    than rafters at fixed angles would. `joint_m` is how far one joint stands proud, the deepest of all kinds of socket.
    """

    sizes: tuple[DrySize, ...] = ()
    joint_m: Cited | None = None
    findings: tuple[Finding, ...] = ()

    def size(self, name: str) -> DrySize | None:
        """The size of that name, or None."""
        return next((size for size in self.sizes if size.name == name), None)


Grown = Mapping[str, float]


def dry_size(frame: Frame, catalogue: Catalogue) -> DrySizes:
    """What a dry test fit of this frame will show on a tape, and what the frame is once every joint is home.

    Args:
        frame: The solved frame, planned home, dry or some of both.
        catalogue: For the depth at which dry pipe stops in each socket.

    Returns:
        The sizes, and a note where dry and home differ by what a tape can show. Empty for a frame without parts.
    """
    if not frame.stands:
        return DrySizes()
    seats = _seats(frame, catalogue)
    cases = [_grown(frame, seats, seat) for seat in (_value, _high, _low, _home)]
    sizes: dict[str, DrySize] = {}
    for name, finished, sized in _sizes(frame, cases):
        dry, deep, shallow, home = sized
        size = DrySize(name, finished, dry, min(deep, shallow), max(deep, shallow), home)
        if name not in sizes or size.dry_high_m > sizes[name].dry_high_m:
            sizes[name] = size
    found = tuple(sizes.values())
    joint = max((_proud(seat) for seat in seats.values()), key=lambda proud: proud.high, default=None)
    return DrySizes(found, joint, _say(found, joint))


@dataclass(frozen=True, slots=True)
class _Seat:
    """One kind of socket: where dry pipe stops in it, and its depth [m]."""

    dry: Cited
    depth_m: float


def _value(seat: _Seat) -> float:
    return seat.dry.value


def _high(seat: _Seat) -> float:
    return seat.dry.high


def _low(seat: _Seat) -> float:
    return seat.dry.low


def _home(seat: _Seat) -> float:
    return seat.depth_m


def _proud(seat: _Seat) -> Cited:
    dry, depth_m = seat.dry, seat.depth_m
    return Cited(depth_m - dry.value, depth_m - dry.high, depth_m - dry.low, dry.grade, dry.source)


def _seats(frame: Frame, catalogue: Catalogue) -> dict[tuple[str, str], _Seat]:
    """Every socket that holds a pipe, by the fitting's id and the port."""
    fittings = {fitting.id: fitting for fitting in frame.fittings}
    known: dict[tuple[str, str], _Seat] = {}
    seats = {}
    for pipe in frame.pipes:
        for end in pipe.ends:
            if end.fitting is None or end.port is None:
                continue
            fitting = fittings[end.fitting]
            key = (fitting.kind, end.port)
            if key not in known:
                depth_m = fitting.port(end.port).socket_depth_m
                known[key] = _Seat(_dry_seat(frame, key, depth_m, catalogue), depth_m)
            seats[end.fitting, end.port] = known[key]
    return seats


def _dry_seat(frame: Frame, socket: tuple[str, str], depth_m: float, catalogue: Catalogue) -> Cited:
    """Where dry pipe stops; in what is no fitting of the catalogue (a sleeve) it slides to the bottom."""
    if catalogue.fitting(frame.pipe_key, socket[0]) is None:
        return Cited(depth_m, depth_m, depth_m, Grade.DERIVED, "a sleeve is wider than the pipe")
    return catalogue.dry_seat(frame.pipe_key, *socket)


def _grown(frame: Frame, seats: Mapping[tuple[str, str], _Seat], seat_m: Callable[[_Seat], float]) -> dict[str, float]:
    """How much further apart the two fittings of each pipe stand than planned, with its ends at such seats [m]."""
    return {
        pipe.id: sum(
            end.seat_depth_m - seat_m(seats[end.fitting, end.port])
            for end in pipe.ends
            if end.fitting is not None and end.port is not None
        )
        for pipe in frame.pipes
    }


def _sizes(frame: Frame, cases: list[dict[str, float]]) -> list[tuple[str, float, list[float]]]:
    """Each size by name: as planned, and in each case [m]."""
    out: list[tuple[str, float, list[float]]] = []
    as_planned = dict.fromkeys(cases[0], 0.0)
    for group in taped(frame):
        planned, *others = group.at([as_planned, *cases]).tolist()
        out += [
            (name, planned[i], [other[i] for other in others])
            for i, name in enumerate(group.names)
            if name != "rafter angle"
        ]
    for bent in find_chains(frame).bents:
        for leg in bent.legs:
            if leg.role != "stub":
                grown = [sum(case[pipe] for pipe in leg.pipes) for case in cases]
                out.append((leg.role, leg.length_m, [leg.length_m + more for more in grown]))
    return out


def _say(sizes: tuple[DrySize, ...], joint: Cited | None) -> tuple[Finding, ...]:
    length = next((size for size in sizes if size.name == "length"), None)
    if length is None or joint is None:
        return ()
    found = []
    if length.dry_high_m - length.finished_m > NOT_SEEN_M:
        values = {
            "finished_m": length.finished_m,
            "likely_m": length.dry_m,
            "low_m": length.dry_low_m,
            "high_m": length.dry_high_m,
            "joint_m": joint.high,
        }
        found.append(Finding(Level.NOTE, "cuts", "cuts.dry-fit-longer", "joints", values, joint.source))
    if length.finished_m - length.home_m > NOT_SEEN_M:
        values = {"finished_m": length.finished_m, "home_m": length.home_m}
        found.append(Finding(Level.NOTE, "cuts", "cuts.cement-shortens", "joints", values, joint.source))
    return tuple(found)
