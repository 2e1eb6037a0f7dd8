"""Wind on a leaf that is propped open: when it comes off its pin, turns over, or breaks something; what to tie."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from clochewright.sources import Cited, Grade
from clochewright.strength.opening.statics import Turning, lever_m, moment_Nm, turned
from clochewright.strength.opening.types import OpenWind, Point
from clochewright.strength.structure import Floats

TOLD_m_s = 13.4  # 30 mph: gusts in which covers were lifted in gardeners' accounts

# Net pressure on an open leaf over that of the gust, by its tilt from level: (tilt [deg], likely, low, high).
# Up, with the open edge to the wind: EN 1991-1-4 table 7.6, 20 deg -1.3 and -1.4, 30 deg -1.4 to -1.8; ASCE 7 figure
# 27.4-4, 45 deg, the mean of its rows 1.8 (from memory); upright a plate on the ground 1.3, clear of it 1.8.
UP = ((0.0, 1.3, 0.8, 1.4), (20.0, 1.35, 1.3, 1.4), (30.0, 1.8, 1.4, 2.5), (45.0, 1.8, 1.3, 2.3), (90.0, 1.4, 1.3, 1.8))
# Down, with the hinge side to the wind: EN table 7.6, 20 deg +0.8, 30 deg +1.2; ASCE 45 deg 2.4 (from memory).
DOWN = (
    (0.0, 0.8, 0.4, 0.8),
    (20.0, 0.8, 0.8, 1.2),
    (30.0, 1.8, 1.2, 2.6),
    (45.0, 2.4, 1.4, 2.6),
    (90.0, 1.4, 1.3, 1.8),
)
SOURCE = (
    "EN 1991-1-4 table 7.6 (canopies) and ASCE 7 figure 27.4-4 (open single slopes, from memory); a solid plate "
    "standing on the ground for an upright leaf: ASCE 7 figure 29.3-1 (from memory)"
)
Table = tuple[tuple[float, float, float, float], ...]
UNEVEN_factor = 1.5  # the worst hinge, over the mean of all: common practice, no source


@dataclass(frozen=True, slots=True)
class Held:
    """What holds an open leaf: bars from pins on the bed to pivots on the leaf [m], hinges, and what each bears [N].

    Where there is no bar, `bars` is 0.
    """

    pivot_m: Point
    pin_m: Point
    bars: int
    pin_bears_N: float
    hinges: int
    hinge_bears_N: float

    def lever_m(self, angle_deg: float) -> float:
        """The bars' lever arm about the hinge line at an angle [m]."""
        if not self.bars:
            return 0.0
        heads = turned(self.pivot_m, np.array([angle_deg]))
        return max(0.0, float(lever_m(heads, 2 * heads - np.array([self.pin_m]))[0]))


def net_factor(tilt_deg: float, table: Table) -> Cited:
    """Net pressure coefficient of an open leaf at a tilt from level."""
    value, low, high = net_factors(np.array([tilt_deg]), table)[:, 0].tolist()
    return Cited(value, low, high, Grade.ESTIMATE, SOURCE)


def net_factors(tilts_deg: Floats, table: Table) -> Floats:
    """The same at each of several tilts: likely, low and high (3, n)."""
    up = np.abs(tilts_deg)
    tilts = np.where(up <= 180, np.minimum(up, 180 - up), 0.0)
    rows = np.array(table).T
    return np.stack([np.interp(tilts, rows[0], row) for row in rows[1:]])


def open_wind(leaf: Turning, mass: Cited, angle_deg: float, length_m: float, unit_Pa: float, held: Held) -> OpenWind:
    """What wind does to a leaf propped at one angle.

    Args:
        leaf: the leaf.
        mass: its mass with its band [kg].
        angle_deg: how far it is open, from shut [deg].
        length_m: of its hinge line [m].
        unit_Pa: pressure at the bed of a gust of 1 m/s [Pa].
        held: its bars and hinges.
    """
    radius = leaf.handle_radius_m
    tilt = angle_deg + _lean_deg(leaf)
    area_m2 = length_m * radius
    here = np.array([angle_deg])
    holds = max(float(moment_Nm(leaf, here)[0]), 0.0)
    up, down = net_factor(tilt, UP), net_factor(tilt, DOWN)
    turns = unit_Pa * area_m2 * radius / 2  # moment of a coefficient of 1 in a gust of 1 m/s [Nm]
    light, heavy = mass.low / mass.value, mass.high / mass.value

    def gust(scale: float, factor: float) -> float:
        return math.sqrt(holds * scale / (turns * factor))

    off = Cited(gust(1.0, up.value), gust(light, up.high), gust(heavy, up.low), Grade.ESTIMATE, SOURCE)
    over = _over(leaf, mass, angle_deg, turns)
    lever, told = held.lever_m(angle_deg), TOLD_m_s**2
    bar_Nm = held.bars * held.pin_bears_N * lever
    breaks, gives = _breaks(leaf, holds, turns, unit_Pa * area_m2, bar_Nm, held, up, down)
    surplus = max(0.0, turns * up.value * told - holds)
    pull = surplus / lever / held.bars if lever > 0 else 0.0
    push = (turns * down.value * told + holds) / lever / held.bars if lever > 0 else 0.0
    normal = unit_Pa * area_m2 * max(up.value, down.value) * told
    hinge = UNEVEN_factor * (normal / 2 + leaf.weight_N / 2) / max(held.hinges, 1)
    tie = surplus / max(float(turned(leaf.handle_m, here)[0, 0]), 0.1 * radius)
    return OpenWind(angle_deg, off, over, breaks, gives, TOLD_m_s, pull, push, hinge, tie)


def _lean_deg(leaf: Turning) -> float:
    """How far the line from hinges to handle stands up from level while it is shut [deg]."""
    return math.degrees(math.atan2(leaf.handle_m[1], leaf.handle_m[0]))


def _over(leaf: Turning, mass: Cited, angle_deg: float, turns_Nm: float) -> Cited:
    """The gust that carries the leaf on over its hinges, were it not held: the most it takes on the way."""
    way = np.linspace(angle_deg, max(angle_deg, leaf.over_centre_deg), 12)
    moments = np.maximum(moment_Nm(leaf, way), 0.0)
    value, least, greatest = net_factors(way + _lean_deg(leaf), UP)

    def most(scale: float, factors: Floats) -> float:
        return float(np.sqrt(scale * moments / (turns_Nm * factors)).max())

    likely = most(1.0, value)
    low = most(mass.low / mass.value, greatest)
    high = most(mass.high / mass.value, least)
    return Cited(likely, low, high, Grade.ESTIMATE, SOURCE)


def _breaks(
    leaf: Turning, holds_Nm: float, turns_Nm: float, unit_N: float, bar_Nm: float, held: Held, up: Cited, down: Cited
) -> tuple[Cited, str]:
    """The gust at which a bar held on its pin, or a hinge, has all it bears; and which of them gives."""
    # Half of the wind on a leaf is borne along its hinged edge, at most.
    hinges_N = max(2 * held.hinges * held.hinge_bears_N / UNEVEN_factor - leaf.weight_N, 0.0)
    gusts = []
    for rises, falls in ((up.value, down.value), (up.high, down.high), (up.low, down.low)):
        pulled = math.sqrt((bar_Nm + holds_Nm) / (turns_Nm * rises))
        pushed = math.sqrt(max(bar_Nm - holds_Nm, 0.0) / (turns_Nm * falls)) if held.bars else pulled
        hinged = math.sqrt(hinges_N / (unit_N * max(rises, falls)))
        gusts.append((min(pulled, pushed), hinged))
    gives = "bar" if gusts[0][0] <= gusts[0][1] else "hinge"
    likely, low, high = (min(pair) for pair in gusts)
    return Cited(likely, low, high, Grade.ESTIMATE, SOURCE), gives
