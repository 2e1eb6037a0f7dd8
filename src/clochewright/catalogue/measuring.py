"""From what a tape reads on a fitting to what the frame needs: centre to stop, socket depth, hub, real bend.

A fitting is stood on a flat table on one mouth, and its height read: from the table to the highest point. For a run of
a tee, a cross or a coupling that is mouth to mouth; for an elbow, or a tee stood on its branch, it is from the mouth to
the far outside of the other hub.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from clochewright.catalogue.figures import ESTIMATE_BAND_M
from clochewright.catalogue.kinds import KINDS
from clochewright.catalogue.types import FittingRow
from clochewright.errors import CatalogueError, Mistake

TAPE_M = 0.0254 / 16  # what a tape can tell: 1/16 in
UNLIKE_M = 2 * TAPE_M  # readings of the same make that differ by more than this are not of the same thing


@dataclass(frozen=True, slots=True)
class Legs:
    """Three tape lengths that give a bend: pipes pushed firmly into both sockets, the whole lying flat.

    `first_m` and `second_m` run along the top of each pipe from the mouth to its end; `apart_m` goes straight across,
    from the middle of one end to the middle of the other [m].
    """

    first_m: float
    second_m: float
    apart_m: float


@dataclass(frozen=True, slots=True)
class MeasuredFitting:
    """One fitting, or one socket of it (`port`), as measured [m, deg].

    `bend_deg` is the elbow's real angle, and `bend_band_deg` how far one mark of the tape, read across from end to end,
    would move it; None where not measured.
    """

    kind: str
    port: str | None
    centre_to_stop_m: float
    socket_depth_m: float
    hub_m: float
    bend_deg: float | None = None
    bend_band_deg: float | None = None

    @property
    def is_bent_otherwise(self) -> bool:
        """Whether the bend differs from the moulded angle's name by more than a tape could be wrong."""
        if self.bend_deg is None or self.bend_band_deg is None:
            return False
        return abs(self.bend_deg - KINDS[self.kind].bend_deg) > self.bend_band_deg


@dataclass(frozen=True, slots=True)
class OddFigure:
    """A measured figure outside what the catalogue leads one to expect: its name, the value and the limits [m]."""

    name: str
    value_m: float
    low_m: float
    high_m: float


def turn_deg(kind: str, port: str | None = None) -> float:
    """The angle between the way in at a socket and the hub that stands highest: 0 for mouth to mouth [deg]."""
    return 90.0 if port in ("branch", "side") else KINDS[kind].bend_deg


def other_sockets(kind: str) -> tuple[tuple[str, ...], ...]:
    """Sockets that may be unlike the first two, in the groups that are measured together: arms are one group."""
    rest = KINDS[kind].sockets[2:]
    arms = tuple(name for name in rest if name.startswith("arm"))
    single = tuple((name,) for name in rest if not name.startswith("arm"))
    return (arms, *single) if arms else single


def mean_m(readings_m: Sequence[float]) -> float:
    """The mean of readings of the same thing on two or three fittings [m]."""
    return math.fsum(readings_m) / len(readings_m)


def unlike_m(readings_m: Sequence[float]) -> float:
    """By how much readings differ, where that is more than fittings of one make do; else 0 [m]."""
    spread_m = max(readings_m) - min(readings_m)
    return spread_m if spread_m > UNLIKE_M * (1 + 1e-6) else 0.0


def work_out(
    kind: str, *, overall_m: float, depth_m: float, hub_m: float, legs: Legs | None = None, port: str | None = None
) -> MeasuredFitting:
    """The figures of one fitting from its readings.

    Args:
        kind: The kind of fitting.
        overall_m: Height over the table when it stands on one mouth [m]; not looked at for a cap.
        depth_m: From the mouth to the ledge that stops the pipe [m].
        hub_m: Outside diameter of the hub [m].
        legs: For an elbow, the lengths that give its real bend.
        port: The one socket it stands on, where only that one is meant ("branch").

    Raises:
        CatalogueError: Readings that no such fitting can have, each with what to measure again.
    """
    if kind not in KINDS:
        raise _odd(f'there is no kind of fitting called "{kind[:40]}".', f"There is {', '.join(KINDS)}.")
    if port is not None and port not in KINDS[kind].sockets:
        raise _odd(f'a {kind} has no socket called "{port[:40]}".', f"It has {', '.join(KINDS[kind].sockets)}.")
    if min(depth_m, hub_m) <= 0 or not all(map(math.isfinite, (overall_m, depth_m, hub_m))):
        raise _odd("depth and hub must be more than nothing.", "Measure again.")
    if legs is not None and (not kind.startswith("elbow") or port is not None):
        raise _odd(f"a {kind} has no bend to measure.", "Leave the bend out.")
    if kind == "cap":
        return MeasuredFitting(kind, port, 0.0, depth_m, hub_m)
    turn = turn_deg(kind, port)
    face_m = _face_m(overall_m, hub_m, turn)
    bend_deg = band_deg = None
    if legs is not None:
        nearer = replace(legs, apart_m=legs.apart_m - TAPE_M)
        band_deg = _bend(nearer, overall_m, hub_m, face_m)[0]
        bend_deg, face_m = _bend(legs, overall_m, hub_m, face_m)
        band_deg -= bend_deg
    stop_m = face_m - depth_m
    if stop_m <= 0:
        _refuse_depth(turn)
    return MeasuredFitting(kind, port, stop_m, depth_m, hub_m, bend_deg, band_deg)


def arm_off_m(bend_deg: float, nominal_deg: float, arm_m: float = 0.3048) -> float:
    """How far the end of an arm, one foot long if not told, lands from where the moulded angle would put it [m]."""
    return 2 * arm_m * math.sin(math.radians(abs(bend_deg - nominal_deg)) / 2)


def odd_figures(measured: MeasuredFitting, row: FittingRow | None) -> tuple[OddFigure, ...]:
    """The figures that lie outside the catalogue's band; it is taken as no narrower than 1/8 in, and a tape is added.

    A kind that the catalogue doesn't know has nothing to be held against.
    """
    if row is None:
        return ()
    socket = row.socket(measured.port or row.sockets[0].name)
    known = {
        "centre-to-stop": (measured.centre_to_stop_m, socket.centre_to_stop),
        "depth": (measured.socket_depth_m, socket.depth),
        "hub": (measured.hub_m, row.hub_diameter),
    }
    odd = []
    for name, (value_m, cited) in known.items():
        low_m = max(0.0, min(cited.low, cited.value - ESTIMATE_BAND_M) - TAPE_M)
        high_m = max(cited.high, cited.value + ESTIMATE_BAND_M) + TAPE_M
        if not low_m <= value_m <= high_m:
            odd.append(OddFigure(name, value_m, low_m, high_m))
    return tuple(odd)


def _face_m(overall_m: float, hub_m: float, turn: float) -> float:
    """Centre to mouth [m], from the height over the table.

    The other hub's rim lies `face` along its own axis and half a hub off it, so the height is
    face + face * cos(turn) + hub / 2 * sin(turn). A bend past 90 degrees is read as 90: there the highest point is the
    hub's inner end, and the difference is under 1/32 in for the 92.5 degrees of swept bends.
    """
    angle = math.radians(min(turn, 90.0))
    return (overall_m - hub_m / 2 * math.sin(angle)) / (1 + math.cos(angle))


def _bend(legs: Legs, overall_m: float, hub_m: float, face_m: float) -> tuple[float, float]:
    """The real bend [deg] and the centre to mouth [m] that goes with it: each needs the other, so in turns."""
    bend_deg = 0.0
    for _ in range(20):
        a_m, b_m = legs.first_m + face_m, legs.second_m + face_m
        if min(legs.first_m, legs.second_m) <= 0 or not abs(a_m - b_m) < legs.apart_m <= a_m + b_m:
            raise _odd(
                "the three lengths of the bend make no triangle.",
                "Measure along each pipe from the mouth to its end, and straight across from end to end.",
            )
        between = math.acos((a_m**2 + b_m**2 - legs.apart_m**2) / (2 * a_m * b_m))
        bend_deg = 180.0 - math.degrees(between)
        face_m = _face_m(overall_m, hub_m, bend_deg)
    return bend_deg, face_m


def _refuse_depth(turn: float) -> None:
    what = "the socket's depth comes out at half the overall length or more, which leaves no middle."
    if turn:
        what = "the socket's depth leaves nothing between the ledge and the middle of the fitting."
    raise _odd(what, "Measure the overall length and the depth again.")


def _odd(what: str, mend: str) -> CatalogueError:
    return CatalogueError((Mistake("", what[0].upper() + what[1:], mend),))
