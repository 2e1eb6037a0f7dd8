"""Springing in: a loop closed by bending the frame, or a hoop bent between its feet."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from clochewright.assembly.types import Spring
from clochewright.frame import Frame, Pipe
from clochewright.sources import Cited, Grade

MOST_N = 100.0  # one hand, steadily: common practice, no source
MOST_STRAIN_share = 0.02  # common practice, no source; PVC yields at about 5.5 %
COLD_DEGC = 10.0  # below it PVC may crack when bent (50 °F): common practice, no source
# Short-term bending at E = 2.76 GPa; makers' tables run from 2.48 to 2.96 GPa.
HOOP_LOW_share, HOOP_HIGH_share = 2.48 / 2.76, 2.96 / 2.76
HOOP_E_Pa = 2.76e9

Gap = tuple[tuple[str, str], tuple[str, str]]  # two sockets that look at one another, by fitting and port


@dataclass(frozen=True, slots=True)
class Opening:
    """What the frame solver is asked: `there` are the ids of what stands, `gaps` open together by `spread_m` [m]."""

    there: frozenset[str]
    gaps: tuple[Gap, ...]
    spread_m: float


@dataclass(frozen=True, slots=True)
class Opened:
    """Its answer: the pull at each gap [N], the highest stress [Pa] and strain."""

    forces_N: tuple[Cited, ...]
    stress_Pa: float
    strain_share: float


Opener = Callable[[Opening], Opened]


def gap_of(pipe: Pipe) -> Gap:
    """The two sockets that a pipe goes between."""
    (a, b) = pipe.ends
    return (str(a.fitting), str(a.port)), (str(b.fitting), str(b.port))


def spread_of(pipe: Pipe) -> float:
    """How far the gap must open for a straight pipe to go in [m]: one seat, the shallower of its two."""
    return min(end.seat_depth_m for end in pipe.ends)


def spring_in(frame: Frame, there: frozenset[str], pipes: Sequence[str], opener: Opener) -> list[Spring]:
    """Spring pipes in one after another, in that order; `there` are the ids of what stands before.

    Each is told with what it would take if all gaps were opened together, before any pipe is in.
    """
    pipe_of = {pipe.id: pipe for pipe in frame.pipes}
    chosen = [pipe_of[pipe] for pipe in pipes]
    together = [0.0] * len(chosen)
    if len(chosen) > 1:
        spread_m = max(spread_of(pipe) for pipe in chosen)
        opened = opener(Opening(there, tuple(gap_of(pipe) for pipe in chosen), spread_m))
        together = [force.value for force in opened.forces_N]
    springs = []
    for pipe, all_N in zip(chosen, together, strict=True):
        spread_m = spread_of(pipe)
        opened = opener(Opening(there, (gap_of(pipe),), spread_m))
        springs.append(Spring(spread_m, opened.forces_N[0], opened.stress_Pa, opened.strain_share, all_N))
        there = there | {pipe.id}
    return springs


def hoop_spring(frame: Frame, pipe: Pipe, bending_N_m2: float) -> Spring:
    """What bending one hoop between its feet takes.

    Its ends are drawn together by hand until they meet the sockets: an elastica between two pins, whose force is
    EI (2K/L)² with the chord L (2E/K - 1), K and E being the complete elliptic integrals (Love, Mathematical Theory of
    Elasticity, art. 263, from memory). The strain is that of the hoop in its place.

    Args:
        frame: knows the hoop.
        pipe: the hoop's pipe.
        bending_N_m2: bending stiffness EI of the pipe, short-term [N m2].
    """
    facts = frame.hoop
    if facts is None:
        raise ValueError("this frame has no hoop")
    length_m = pipe.cut_length_m
    chord_m = min(math.dist(pipe.path_m[0], pipe.path_m[-1]), 0.999 * length_m)
    force_N = bending_N_m2 * (2 * _first_integral(chord_m / length_m) / length_m) ** 2
    source = "elastica between two pins; modulus as pipe makers' tables have it"
    force = Cited(force_N, force_N * HOOP_LOW_share, force_N * HOOP_HIGH_share, Grade.ESTIMATE, source)
    return Spring(length_m - chord_m, force, facts.strain_share * HOOP_E_Pa, facts.strain_share)


def _first_integral(chord_share: float) -> float:
    """K of the elastica whose ends are so far apart, as a share of its length: 2E/K - 1, by halving."""
    low, high = 0.0, 0.999
    for _ in range(60):
        middle = (low + high) / 2
        K, E = _complete(middle)
        low, high = (middle, high) if chord_share < 2 * E / K - 1 else (low, middle)
    return _complete(low)[0]


def _complete(m: float) -> tuple[float, float]:
    """Complete elliptic integrals K and E of the parameter m, by the arithmetic-geometric mean."""
    a, b, c = 1.0, math.sqrt(1 - m), math.sqrt(m)
    lost, power = c * c / 2, 1.0
    while abs(c) > 1e-15:
        a, b, c = (a + b) / 2, math.sqrt(a * b), (a - b) / 2
        lost += power * c * c
        power *= 2
    K = math.pi / (2 * a)
    return K, K * (1 - lost)


def refused(spring: Spring) -> bool:
    """Whether a frame is too stiff for hands, or would be bent too far."""
    return spring.force_N.value > MOST_N or spring.strain_share > MOST_STRAIN_share
