"""What the unsure sizes of fittings do to the cuts: one note for each kind that is worth a tape before the saw."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from clochewright.catalogue import BandEnd
from clochewright.findings import Finding, Level, word
from clochewright.frame import Frame, Pipe
from clochewright.job.types import Trial
from clochewright.measures import Units, show_length
from clochewright.plan import Plan

FrameWith = Callable[[Plan, str, BandEnd], Frame]

LEAST_M = {"inch": 0.0254 / 16, "mm": 0.001}  # less than this is not seen on a tape


@dataclass(frozen=True, slots=True)
class _Swing:
    """How much shorter and longer one pipe could come out [m]."""

    pipe: Pipe
    shorter_m: float
    longer_m: float

    @property
    def all_m(self) -> float:
        return self.shorter_m + self.longer_m


def doubts(trial: Trial, again_with: FrameWith) -> tuple[Finding, ...]:
    """A finding for each kind of fitting in the frame whose sizes are not sure, the one that matters most first.

    Only the frame is raised again, with all fittings of that kind at the low and at the high end of their band (those
    out of one box are alike). The number of bents is kept, so that the same pipes are compared.

    Args:
        trial: The finished trial.
        again_with: Raises the frame of a plan with one kind of fitting at one end of its band.
    """
    if trial.made is None or trial.refused:
        return ()
    cover = trial.plan.cover.model_copy(update={"bents": len(trial.frame.stations_m)})
    plan = trial.plan.model_copy(update={"cover": cover})
    found = []
    for row in trial.fitting_rows:
        if not row.is_sure:
            ends: tuple[BandEnd, BandEnd] = ("low", "high")
            found.append(_doubt(trial, row.kind, [again_with(plan, row.kind, end) for end in ends]))
    worth = [(effect_m, finding) for effect_m, finding in found if effect_m >= LEAST_M[trial.plan.units] - 1e-9]
    return tuple(finding for _, finding in sorted(worth, key=lambda pair: -pair[0]))


def paired_pipes(before: Frame, after: Frame) -> tuple[tuple[Pipe, Pipe], ...] | None:
    """The pipes of two frames side by side; None where the frames are put together differently."""
    if [_ends(pipe) for pipe in before.pipes] != [_ends(pipe) for pipe in after.pipes]:
        return None
    return tuple(zip(before.pipes, after.pipes, strict=True))


def _ends(pipe: Pipe) -> tuple[object, ...]:
    return (pipe.id, *((end.fitting, end.port) for end in pipe.ends))


def _doubt(trial: Trial, kind: str, others: Sequence[Frame]) -> tuple[float, Finding]:
    """One kind's effect [m] and its finding."""
    name = word(f"supplies.fitting.{kind}").lower()
    pairs = [paired_pipes(trial.frame, other) for other in others]
    if not all(pairs):
        return float("inf"), Finding(Level.WARN, "cuts", "job.measure-or-stuck", "own.fittings", {"fitting": name})
    swings = []
    for same in zip(*(pair for pair in pairs if pair), strict=True):
        pipe = same[0][0]
        changes = [after.cut_length_m - pipe.cut_length_m for _, after in same]
        swings.append(_Swing(pipe, max(0.0, -min(changes)), max(0.0, max(changes))))
    longest = _longest(swings, trial)
    if longest.all_m < LEAST_M[trial.plan.units]:  # not seen on a tape: the one that swings most is told in its place
        longest = max(swings, key=lambda swing: swing.all_m)
    rest = [_most([swing for swing in swings if swing.pipe.role == "rafter"]), _most(swings)]
    values = {
        "fitting": name,
        "mark": _mark(longest, trial),
        "role": longest.pipe.role,
        "cut_m": longest.pipe.cut_length_m,
        "shorter_m": longest.shorter_m,
        "longer_m": longest.longer_m,
        "swing": _said(longest, trial.plan.units),
        "others": _others(longest, rest, trial),
    }
    effect_m = max(swing.all_m for swing in swings)
    return effect_m, Finding(Level.NOTE, "cuts", "job.measure-first", "own.fittings", values)


def _longest(swings: list[_Swing], trial: Trial) -> _Swing:
    """The longest cut; of several that are alike on a tape, the one that swings most."""
    at_least_m = max(swing.pipe.cut_length_m for swing in swings) - LEAST_M[trial.plan.units] / 2
    longest = _most([swing for swing in swings if swing.pipe.cut_length_m >= at_least_m])
    assert longest is not None
    return longest


def _most(swings: list[_Swing]) -> _Swing | None:
    return max(swings, key=lambda swing: swing.all_m, default=None)


def _others(longest: _Swing, rest: list[_Swing | None], trial: Trial) -> str:
    """A sentence for each further cut that swings, no mark twice."""
    units = trial.plan.units
    told = {_mark(longest, trial)}
    sentences = []
    for swing in rest:
        if swing is None or _mark(swing, trial) in told or swing.all_m < LEAST_M[units]:
            continue
        told.add(_mark(swing, trial))
        shown = {
            "cut": show_length(swing.pipe.cut_length_m, units),
            "swing": _said(swing, units),
        }
        sentences.append(" " + word("job.doubt.other", mark=_mark(swing, trial), role=swing.pipe.role, **shown))
    return "".join(sentences)


def _said(swing: _Swing, units: Units) -> str:
    """How much shorter and longer, without what rounds to nothing on a tape."""
    sides = (("shorter", swing.shorter_m), ("longer", swing.longer_m))
    seen = [(name, side_m) for name, side_m in sides if side_m >= LEAST_M[units] / 2]
    return word("job.doubt.or").join(word(f"job.doubt.{name}", by=show_length(m, units)) for name, m in seen)


def _mark(swing: _Swing, trial: Trial) -> str:
    assert trial.made is not None
    return trial.made.cutlist.mark_of[swing.pipe.id]
