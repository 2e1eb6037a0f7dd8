"""What wind lifts at a shut and latched panel: its own pipes as beams between hinges, latches and rails.

Under snow and where wind presses on it, a panel lies down on the frame's roof, which is worked out with all the film on
it. Suction is borne by the panel alone: its rafters span from rail to rail, and each rail spans between its hinges or
latches and stands out past the outer ones. Every span is taken as resting freely on its ends, which is the worse way.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from clochewright.catalogue import pipe_section
from clochewright.findings import Finding, Level, word
from clochewright.frame import Frame, covers
from clochewright.lid import Leaf
from clochewright.strength import material
from clochewright.strength.air import DIRECTIONALITY, Code, gust_pressure_Pa
from clochewright.strength.opening.wind_loads import worst_suction
from clochewright.strength.study import Asked, code_of
from clochewright.strength.types import Limit

SOURCE = "beams resting freely on their ends, M = q s^2 / 8 and q a^2 / 2 past the last (statics handbooks)"


@dataclass(frozen=True, slots=True)
class Beam:
    """One pipe or rail of a panel under 1 Pa on the panel: its greatest bending moment, as an area times a length [m3].

    `role` is the pipe's, and `pipe` the id of one of its pieces.
    """

    role: str
    pipe: str
    moment_per_Pa_m3: float


def panel_limit(asked: Asked) -> Limit | None:
    """The gust that a shut and latched panel stands; None where no panel opens or nothing holds it.

    The pipe's wall must be known.
    """
    leaves = [leaf for leaf in asked.lid.leaves if leaf.body.kind == "panel" and leaf.hinges and leaf.latches]
    if not leaves or asked.pipe.wall is None:
        return None
    worst = max((beam for leaf in leaves for beam in beams_of(asked.frame, leaf)), key=lambda b: b.moment_per_Pa_m3)
    cover = covers(asked.frame)[0][0]
    code, plan = code_of(asked.plan), asked.plan
    suction = worst_suction(cover, plan.bed.height_m, code)
    section = pipe_section(asked.pipe.outside_diameter.value, asked.pipe.wall.low)
    bears = material.allowable_stress(material.ROOM_DEGC, material.GUST_S)

    def gust_m_s(stress_Pa: float, directionality: float) -> float:
        pressure_Pa = stress_Pa * section.I_m4 / (asked.pipe.outside_diameter.value / 2) / worst.moment_per_Pa_m3
        return math.sqrt(pressure_Pa / (suction * _unit_Pa(code, asked, directionality)))

    mark = asked.mark_of.get(worst.pipe, "")
    return Limit(
        word("strength.case.panel-shut"),
        "gust_m_s",
        gust_m_s(bears.value, DIRECTIONALITY.value),
        gust_m_s(bears.low, DIRECTIONALITY.high),
        gust_m_s(bears.high, DIRECTIONALITY.low),
        word("strength.governs.pipe", role=worst.role, mark=f" {mark}" if mark else ""),
        f"{SOURCE}; {bears.source}",
        "panel-shut",
    )


def panel_findings(limit: Limit | None, shut: Limit | None) -> Iterator[Finding]:
    """What a panel stands; a warning where it gives before the frame does."""
    if limit is None:
        return
    values = {"gust_m_s": limit.value, "low_m_s": limit.low, "high_m_s": limit.high, "governs": limit.governs}
    if shut is not None and limit.value < shut.value:
        yield Finding(Level.WARN, "strength", "strength.panel-first", "panel.count", values, limit.source)
    else:
        yield Finding(Level.NOTE, "strength", "strength.panel", "panel.count", values, limit.source)


def beams_of(frame: Frame, leaf: Leaf) -> tuple[Beam, ...]:
    """The rafters and the two rails of a panel, as beams under 1 Pa square to it."""
    fittings = [fitting for fitting in frame.fittings if fitting.body == leaf.body.id]
    corners = [fitting.position_m for fitting in fittings if fitting.role == "panel corner"]
    low, high = min(corners, key=lambda at: at[2]), max(corners, key=lambda at: at[2])
    deep_m = math.dist(low[1:], high[1:])
    places = sorted({round(f.position_m[0], 6) for f in fittings if f.role in ("panel corner", "panel rafter foot")})
    halves = [0.0, *((b - a) / 2 for a, b in pairwise(places)), 0.0]
    carried_m = max(a + b for a, b in pairwise(halves))
    rafter = next(p for p in frame.pipes if p.body == leaf.body.id and p.role == "panel rafter")
    beams = [Beam("panel rafter", rafter.id, carried_m * deep_m**2 / 8)]
    for fixings, pipes in ((leaf.hinges, leaf.body.hinge_pipes), (leaf.latches, leaf.body.free_pipes)):
        held = sorted(fixing.position_m[0] for fixing in fixings)
        beams.append(Beam("panel rail", pipes[0], deep_m / 2 * rail_moment_m2(places[0], places[-1], held)))
    return tuple(beams)


def rail_moment_m2(start_m: float, end_m: float, held_m: Sequence[float]) -> float:
    """The greatest moment of a rail under 1 N/m, held at some places along it [m2, that is Nm for 1 N/m]."""
    past_m = max(held_m[0] - start_m, end_m - held_m[-1], 0.0)
    span_m = max((b - a for a, b in pairwise(held_m)), default=0.0)
    return max(past_m**2 / 2, span_m**2 / 8)


def _unit_Pa(code: Code, asked: Asked, directionality: float) -> float:
    """The pressure of a gust of 1 m/s [Pa]."""
    return gust_pressure_Pa(code, 1.0, asked.plan.site.exposure, directionality)
