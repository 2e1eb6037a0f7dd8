"""What a saw, a tape and a socket may add up to, and which cuts to make last.

Every spread here is a limit on either side of a middle: what about three standard deviations of a careful worker's
error come to [common practice, no source]. The root-sum-square of such limits is then the limit, three standard
deviations again, that a whole size keeps to in all but about 3 of 1,000 builds; the worst case has every error at its
limit at once, each in the direction that hurts.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from clochewright.catalogue import Catalogue
from clochewright.cuts.bents import Floats
from clochewright.cuts.taped import Name, Taped, taped
from clochewright.cuts.types import CutList
from clochewright.findings import Finding, Level
from clochewright.frame import Frame, Pipe
from clochewright.plan import Plan

SAW_AND_TAPE_M = {"inch": 0.0254 / 16, "mm": 0.001}  # either way, on each cut: common practice, no source
HOME_SHORT_M = 0.0254 / 16  # a cemented joint stops at most this far short of home, never past it: an estimate
SOURCE = "common practice, no source"
MOST_LATE = 3
LEAST_SHARE = 0.10  # a mark with less of the spread than this is not worth waiting for


@dataclass(frozen=True, slots=True)
class Spread:
    """One size and how far it may come out from what was planned. All numbers are in `unit` ("m" or "deg").

    `nominal` is as planned, `likely` where builds gather (printed lengths are rounded, and no joint goes past home).
    `worst_low` to `worst_high` holds whatever happens within the limits; `likely` give or take `rss` holds nearly
    always. `fittings_low` and `fittings_high` are what your fittings may add to all that until you measure them: one
    error, alike in all fittings of a kind, which no luck evens out.
    """

    name: Name
    nominal: float
    likely: float
    worst_low: float
    worst_high: float
    rss: float
    fittings_low: float
    fittings_high: float
    unit: str


@dataclass(frozen=True, slots=True)
class LateCut:
    """A cut to make last, from measurement: `share` is how much of the spread of `size` its pieces and seats bring."""

    mark: str
    role: str
    size: Name
    share: float


@dataclass(frozen=True, slots=True)
class Spreads:
    """The spread of each size, the widest where several of a name differ; None where the frame has no such size.

    `diagonal` is that of the base once both are pushed alike. `rafter_gap` is how much further apart the base holds
    the feet than the rafters' fixed angles would, and `rafter_angle` what those angles together must give; frames
    whose angles turn until fastened have neither: their pitch follows, and `height` says how much.
    """

    length: Spread | None = None
    width: Spread | None = None
    diagonal: Spread | None = None
    height: Spread | None = None
    rafter_gap: Spread | None = None
    rafter_angle: Spread | None = None
    matter_most: tuple[LateCut, ...] = ()
    findings: tuple[Finding, ...] = ()

    @property
    def all(self) -> tuple[Spread, ...]:
        """Those there are, in the order of building."""
        every = (self.length, self.width, self.diagonal, self.height, self.rafter_gap, self.rafter_angle)
        return tuple(one for one in every if one is not None)


def _breadth(one: Spread) -> tuple[float, float]:
    return round(one.rss, 9), one.fittings_high - one.fittings_low


@dataclass(frozen=True, slots=True)
class _Errors:
    """How a pipe's span may err: its middle, the limit either way, and the sum of squared limits [m, m, m2]."""

    middle_m: float
    limit_m: float
    squares_m2: float


def spread(frame: Frame, cutlist: CutList, plan: Plan, catalogue: Catalogue) -> Spreads:
    """How far the sizes of a frame may come out from the plan.

    Args:
        frame: The solved frame.
        cutlist: Its cut list; only marks and printed lengths are used.
        plan: For its units (a tape in inches or in mm) and its seats.
        catalogue: For the depth at which dry pipe stops and for the bands of unmeasured fittings.

    Returns:
        Worst case and root-sum-square of length, width, diagonal, height and rafter fit, and the two or three cuts
        that matter most. Empty for a frame without parts.
    """
    errors = _errors(frame, cutlist, plan, catalogue)
    stretch = _Stretch(frame, catalogue)
    widest: dict[Name, tuple[Spread, dict[str, float]]] = {}
    for group in taped(frame):
        for one, variance in _spreads(group, errors, stretch):
            best = widest.get(one.name)
            if best is None or _breadth(one) > _breadth(best[0]):
                widest[one.name] = (one, variance)
    late = _matter_most(widest, frame, cutlist.mark_of)
    found = {name.replace(" ", "_"): one for name, (one, _) in widest.items()}
    return Spreads(**found, matter_most=late, findings=_say(late))


def _errors(frame: Frame, cutlist: CutList, plan: Plan, catalogue: Catalogue) -> dict[str, _Errors]:
    printed_m = {cut.mark: cut.length_m for cut in cutlist.cuts}
    seats = {seat.role: seat.seat for seat in plan.joints.seats}
    saw_m = SAW_AND_TAPE_M[plan.units]
    known: dict[tuple[str, str, float, bool], tuple[float, float]] = {}
    kinds = {fitting.id: fitting.kind for fitting in frame.fittings}
    out = {}
    for pipe in frame.pipes:
        middle_m = printed_m[cutlist.mark_of[pipe.id]] - pipe.cut_length_m
        limit_m, squares_m2 = saw_m, saw_m**2
        dry = seats.get(pipe.role, plan.joints.seat) == "dry"
        for end in pipe.ends:
            if end.fitting is None or end.port is None:
                continue
            key = (kinds[end.fitting], end.port, end.seat_depth_m, dry)
            if key not in known:
                known[key] = _seat(frame.pipe_key, *key, catalogue)
            low_m, high_m = known[key]
            middle_m += (low_m + high_m) / 2
            limit_m += (high_m - low_m) / 2
            squares_m2 += ((high_m - low_m) / 2) ** 2
        out[pipe.id] = _Errors(middle_m, limit_m, squares_m2)
    return out


def _seat(
    pipe_key: str, kind: str, port: str, planned_m: float, dry: bool, catalogue: Catalogue
) -> tuple[float, float]:
    """The least and the most that one joint may stand out further than planned [m]."""
    if catalogue.fitting(pipe_key, kind) is None:  # a sleeve: the pipe slides to its end
        return 0.0, 0.0
    if not dry:
        return 0.0, HOME_SHORT_M
    seat = catalogue.dry_seat(pipe_key, kind, port)
    return planned_m - seat.high, planned_m - seat.low


class _Stretch:
    """What fittings that are unlike their catalogue figures do to the span of each pipe."""

    def __init__(self, frame: Frame, catalogue: Catalogue) -> None:
        fittings = {fitting.id: fitting for fitting in frame.fittings}
        self._bands: dict[tuple[str, str, str], tuple[float, float]] = {}
        self._of: dict[str, list[tuple[tuple[str, str, str], float]]] = {}
        for pipe in frame.pipes:
            of = self._of[pipe.id] = []
            for end in pipe.ends:
                if end.fitting is None or end.port is None:
                    continue
                fitting = fittings[end.fitting]
                stop, depth = (fitting.kind, end.port, "stop"), (fitting.kind, end.port, "depth")
                if stop not in self._bands and (row := catalogue.fitting(frame.pipe_key, fitting.kind)) is not None:
                    socket = row.socket(end.port)
                    for key, cited in ((stop, socket.centre_to_stop), (depth, socket.depth)):
                        self._bands[key] = (cited.low - cited.value, cited.high - cited.value)
                # a pipe that is home rests on the stop; a dry one hangs on the taper, and part of the depth counts
                standing = 1 - end.seat_depth_m / fitting.port(end.port).socket_depth_m
                of += [(key, part) for key, part in ((stop, 1.0), (depth, standing)) if key in self._bands]

    def worst(self, pipes: tuple[str, ...], slopes: Floats) -> tuple[float, float]:
        """The least and the most that all this may add to a size with these slopes."""
        total: dict[tuple[str, str, str], float] = {}
        for pipe, slope in zip(pipes, slopes.tolist(), strict=True):
            for key, part in self._of[pipe]:
                total[key] = total.get(key, 0.0) + slope * part
        ends = [sorted((slope * self._bands[key][0], slope * self._bands[key][1])) for key, slope in total.items()]
        return sum(low for low, _ in ends), sum(high for _, high in ends)


def _spreads(group: Taped, errors: Mapping[str, _Errors], stretch: _Stretch) -> list[tuple[Spread, dict[str, float]]]:
    """Each size of a group with what each pipe brings to its variance."""
    mine = [errors[pipe] for pipe in group.pipes]
    middle_m = np.array([one.middle_m for one in mine])
    limit_m = np.array([one.limit_m for one in mine])
    squares_m2 = np.array([one.squares_m2 for one in mine])
    slopes = group.slopes(middle_m)
    worst_m = np.sign(slopes) * limit_m
    cases = np.concatenate([np.zeros((2, len(middle_m))), middle_m + worst_m, middle_m - worst_m])
    cases[1] = middle_m
    sizes = group.of(group.planned_m + cases @ group.shares.T)
    count = len(group.names)
    out = []
    for i, name in enumerate(group.names):
        variance = slopes[i] ** 2 * squares_m2
        low, high = stretch.worst(group.pipes, slopes[i])
        one = Spread(
            name=name,
            nominal=float(sizes[0, i]),
            likely=float(sizes[1, i]),
            worst_low=float(sizes[2 + count + i, i]),
            worst_high=float(sizes[2 + i, i]),
            rss=float(np.sqrt(variance.sum())),
            fittings_low=low,
            fittings_high=high,
            unit="deg" if name == "rafter angle" else "m",
        )
        out.append((one, dict(zip(group.pipes, variance.tolist(), strict=True))))
    return out


def _matter_most(
    widest: Mapping[Name, tuple[Spread, dict[str, float]]], frame: Frame, mark_of: Mapping[str, str]
) -> tuple[LateCut, ...]:
    """The marks that bring most to the rafters' fit (or the height) and to the length.

    Stubs are left out: they are too short to take up anything. Of marks that bring as much, the one that is fitted
    later comes first.
    """
    pipes = {pipe.id: pipe for pipe in frame.pipes}
    late: dict[str, LateCut] = {}
    fit: Name = "rafter gap" if "rafter gap" in widest else "height"
    ranked_by: tuple[tuple[Name, int], ...] = ((fit, 2), ("length", MOST_LATE))
    for name, most in ranked_by:
        shares = _shares(widest[name][1], pipes, mark_of) if name in widest else {}
        ranked = sorted(shares, key=lambda mark: (-round(shares[mark][0], 2), shares[mark][1] in _FIRST, mark))
        for mark in ranked[:most]:
            share, role = shares[mark]
            if mark not in late and share >= LEAST_SHARE and len(late) < MOST_LATE:
                late[mark] = LateCut(mark, role, name, share)
    return tuple(late.values())


_FIRST = ("side rail", "end rail", "brace")  # what is fitted before anything stands on it


def _shares(
    variance: Mapping[str, float], pipes: Mapping[str, Pipe], mark_of: Mapping[str, str]
) -> dict[str, tuple[float, str]]:
    total = sum(variance.values())
    shares: dict[str, tuple[float, str]] = {}
    for pipe, part in variance.items():
        role = pipes[pipe].role
        if role != "stub" and part > 0:
            mark = mark_of[pipe]
            shares[mark] = (shares.get(mark, (0.0, role))[0] + part / total, role)
    return shares


def _say(late: tuple[LateCut, ...]) -> tuple[Finding, ...]:
    if not late:
        return ()
    values = {"marks": tuple(dict.fromkeys(cut.mark for cut in late))}
    return (Finding(Level.NOTE, "cuts", "cuts.cut-last", late[0].mark, values, SOURCE),)
