"""The sizes that a tape or a level can take of a built frame, each as a function of how much its pipes' spans grew."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.polynomial import Polynomial

from clochewright.cuts.bents import Floats, close_bent, is_rigid
from clochewright.cuts.chains import Base, Bent, Chains, Line, Sprung, find_chains
from clochewright.frame import Frame, HoopFacts, spring_hoop

Name = Literal["length", "width", "diagonal", "height", "rafter gap", "rafter angle"]
_NUDGE_M = 1e-5
_NEARBY = (0.85, 0.95, 1.05, 1.15)  # a hoop's length beyond its span, over the planned one


@dataclass(frozen=True, slots=True)
class Taped:
    """Sizes that hang together: `names`, their values as planned, and how they follow from a few straight lengths.

    `pipes` are all the pipes these lengths are made of, `shares` (lengths, pipes) what a pipe's growth adds to each,
    `planned_m` the lengths as planned [m]. `of` turns lengths (cases, lengths) into sizes (cases, names).
    """

    names: tuple[Name, ...]
    planned_m: Floats
    pipes: tuple[str, ...]
    shares: Floats
    of: Callable[[Floats], Floats]

    def at(self, cases: Sequence[Mapping[str, float]]) -> Floats:
        """The sizes (cases, names) when the span of each pipe grew by so much [m]."""
        grown_m = np.array([[case[pipe] for pipe in self.pipes] for case in cases])
        return self.of(self.planned_m + grown_m @ self.shares.T)

    def slopes(self, grown_m: Floats) -> Floats:
        """What each pipe's growth adds to each size (names, pipes), where they have grown by `grown_m` already [m]."""
        here = self.planned_m + self.shares @ grown_m
        nudge = _NUDGE_M * np.eye(len(here))
        ends = self.of(np.concatenate([here + nudge, here - nudge]))
        by_length = (ends[: len(here)] - ends[len(here) :]).T / (2 * _NUDGE_M)
        by_pipe: Floats = by_length @ self.shares
        return by_pipe


def taped(frame: Frame) -> tuple[Taped, ...]:
    """All sizes of a frame; bents and hoops that are alike are given once, lengths are those of one section."""
    chains = find_chains(frame)
    ends = {i for base in chains.bases for i in (base.front, base.far)}
    corners = [fitting.position_m for fitting in frame.fittings if fitting.role == "corner"] or [(0.0, 0.0, 0.0)]
    # what hubs add to the base's centre lines on a tape over all
    hubs_m = [
        over_all_m - (max(corner[axis] for corner in corners) - min(corner[axis] for corner in corners))
        for axis, over_all_m in enumerate((frame.length_m, frame.width_m))
    ]
    return (
        *(_over_all("length", line, hubs_m[0]) for line in chains.lengths),
        *(_over_all("width", line, hubs_m[1]) for i, line in enumerate(chains.widths) if i in ends),
        *(_diagonal(chains, base) for base in chains.bases),
        *(_cross_section(chains, bent, frame.height_m) for bent in _unlike(chains)),
        *(_hoops(chains, frame.hoop, frame.height_m) if frame.hoop else ()),
    )


def _taped(names: tuple[Name, ...], lengths_m: list[float], made_of: Sequence[Mapping[str, float]],
           of: Callable[[Floats], Floats]) -> Taped:  # fmt: skip
    pipes = tuple(dict.fromkeys(pipe for parts in made_of for pipe in parts))
    shares = np.array([[parts.get(pipe, 0.0) for pipe in pipes] for parts in made_of])
    return Taped(names, np.array(lengths_m), pipes, shares, of)


def _parts(line: Line) -> dict[str, float]:
    return dict.fromkeys(line.pipes, 1.0)


def _over_all(name: Name, line: Line, hubs_m: float) -> Taped:
    return _taped((name,), [line.centres_m + hubs_m], [_parts(line)], lambda lengths: lengths)


def _diagonal(chains: Chains, base: Base) -> Taped:
    lines = [chains.lengths[base.left], chains.lengths[base.right], chains.widths[base.front], chains.widths[base.far]]

    def diagonal(lengths: Floats) -> Floats:
        """Corner to corner once both diagonals are pushed alike: together their squares are those of the four sides.

        What it leaves out, four times the square of the distance between the diagonals' middles, is of second order.
        """
        squares: Floats = (lengths**2).sum(axis=1, keepdims=True)
        return np.sqrt(squares / 2)

    return _taped(("diagonal",), [line.centres_m for line in lines], [_parts(line) for line in lines], diagonal)


def _unlike(chains: Chains) -> Iterator[Bent]:
    """One of each sort of bent: same legs, of as many pipes, held apart by lines of as many pipes."""
    seen = set()
    for bent in chains.bents:
        legs = tuple((len(leg.pipes), round(leg.length_m, 9)) for leg in bent.legs)
        if (sort := (legs, bent.fixed, _sort_apart(chains, bent.apart))) not in seen:
            seen.add(sort)
            yield bent


def _unlike_hoops(chains: Chains) -> Iterator[Sprung]:
    """One of each sort of hoop."""
    seen = set()
    for hoop in chains.hoops:
        if (sort := (len(hoop.pipes), _sort_apart(chains, hoop.apart))) not in seen:
            seen.add(sort)
            yield hoop


def _sort_apart(chains: Chains, apart: Iterable[tuple[int, float]]) -> tuple[tuple[int, float], ...]:
    return tuple((len(chains.widths[i].pipes), round(share, 9)) for i, share in apart)


def _apart(chains: Chains, apart: Iterable[tuple[int, float]]) -> dict[str, float]:
    """What each pipe of the lines across adds to the distance between two feet."""
    parts: dict[str, float] = {}
    for i, share in apart:
        parts |= dict.fromkeys(chains.widths[i].pipes, share)
    return parts


def _cross_section(chains: Chains, bent: Bent, height_m: float) -> Taped:
    made_of: list[Mapping[str, float]] = [dict.fromkeys(leg.pipes, 1.0) for leg in bent.legs]
    names: tuple[Name, ...] = ("height", "rafter gap", "rafter angle") if is_rigid(bent) else ("height",)

    def closed(lengths: Floats) -> Floats:
        out = close_bent(bent, lengths[:, :-1], lengths[:, -1])
        out[:, 0] += height_m
        return out[:, : len(names)]

    planned_m = [*(leg.length_m for leg in bent.legs), bent.apart_m]
    return _taped(names, planned_m, [*made_of, _apart(chains, bent.apart)], closed)


def _hoops(chains: Chains, planned: HoopFacts, height_m: float) -> Iterator[Taped]:
    rise = _rise_over_span(planned)
    if rise is None:
        return

    def sprung(lengths: Floats) -> Floats:
        length_m, span_m = lengths[:, 0], lengths[:, 1]
        height: Floats = height_m - planned.rise_m + span_m * rise(length_m / span_m)
        return height[:, None]

    for hoop in _unlike_hoops(chains):
        made_of = [dict.fromkeys(hoop.pipes, 1.0), _apart(chains, hoop.apart)]
        yield _taped(("height",), [planned.length_m, planned.span_m], made_of, sprung)


def _rise_over_span(planned: HoopFacts) -> Polynomial | None:
    """The rise of a hoop over its span, by its length over its span: a cubic through hoops a little shorter and longer.

    Hoops of one foot angle and one such ratio have one shape, whatever their size. None near the kink, where no
    shorter hoop stands.
    """
    ratio = planned.length_m / planned.span_m
    ratios = 1 + (ratio - 1) * np.array(_NEARBY)
    try:
        rises = [spring_hoop(one, 1.0, planned.foot_angle_deg).height_m for one in ratios.tolist()]
    except ValueError:
        return None
    cubic: Polynomial = Polynomial.fit(ratios, rises, 3)
    return cubic + (planned.rise_m / planned.span_m - cubic(ratio))
