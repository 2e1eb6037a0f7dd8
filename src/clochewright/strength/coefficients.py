"""How wind of pressure 1 bears on each face: tables of ASCE 7 and EN 1991-1-4. Positive is towards the face."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

# ASCE 7-10 figure 27.4-1 = 7-16 figure 27.3-1, across the ridge, by h/L: (slope [deg], lowest, highest) windward.
# Slopes of 10 to 25 deg are from memory.
WINDWARD: dict[float, tuple[tuple[float, float, float], ...]] = {
    0.25: ((10, -0.7, -0.18), (15, -0.5, 0.0), (20, -0.3, 0.2), (25, -0.2, 0.3), (30, -0.2, 0.3), (35, 0.0, 0.4),
           (45, 0.0, 0.4), (60, 0.6, 0.6), (80, 0.8, 0.8)),
    0.5: ((10, -0.9, -0.18), (15, -0.7, -0.18), (20, -0.4, 0.0), (25, -0.3, 0.2), (30, -0.2, 0.2), (35, -0.2, 0.3),
          (45, 0.0, 0.4), (60, 0.6, 0.6), (80, 0.8, 0.8)),
    1.0: ((10, -1.3, -0.18), (15, -1.0, -0.18), (20, -0.7, -0.18), (25, -0.5, 0.0), (30, -0.3, 0.2), (35, -0.2, 0.2),
          (45, 0.0, 0.3), (60, 0.6, 0.6), (80, 0.8, 0.8)),
}  # fmt: skip
LEEWARD: dict[float, tuple[tuple[float, float], ...]] = {
    0.25: ((10, -0.3), (15, -0.5), (20, -0.6)),
    0.5: ((10, -0.5), (15, -0.5), (20, -0.6)),
    1.0: ((10, -0.7), (15, -0.6), (20, -0.6)),
}
WALL_DEG = 80.0  # steeper is a wall
US_WALL = 0.8
US_LEE_WALL = ((1.0, -0.5), (2.0, -0.3), (4.0, -0.2))  # by length along the wind over width across it
US_SIDE = -0.7
US_ALONG = ((1.0, -0.9), (2.0, -0.5), (math.inf, -0.3))  # along the ridge: up to so many heights from the windward end
US_ALONG_MILD = -0.18
US_INSIDE, US_INSIDE_OPEN = 0.18, 0.55

# EN 1991-1-4 tables 7.3 and 7.4 (c_pe,10): slope [deg]: edge F/G lowest, highest; H lowest, highest; I; J.
EN_ACROSS = (
    (15, -0.85, 0.2, -0.3, 0.2, -0.4, -1.0),
    (30, -0.5, 0.7, -0.2, 0.4, -0.4, -0.5),
    (45, 0.0, 0.7, 0.0, 0.6, -0.2, -0.3),
    (60, 0.7, 0.7, 0.7, 0.7, -0.2, -0.3),
    (75, 0.8, 0.8, 0.8, 0.8, -0.2, -0.3),
)  # fmt: skip
EN_ALONG = ((15, -1.3, -0.6, -0.5), (30, -1.3, -0.8, -0.5), (45, -1.25, -0.9, -0.5))  # edge, H, I
EN_MONO_HIGH = ((15, -1.9, -0.9), (30, -0.95, -0.8), (45, -0.55, -0.7))  # wind on the high edge: edge, H
EN_MONO_SIDE = ((15, -1.9, -0.8, -0.7), (30, -1.5, -1.0, -0.8), (45, -1.4, -1.0, -0.9))
EN_WALL, EN_LEE_WALL, EN_SIDE = 0.8, -0.5, -0.9
EN_INSIDE = (0.2, -0.3)
EN_DOMINANT = 0.9  # of the pressure at the open end

# Arches from the ground: ASCE 7 figure 27.3-3 (from memory); EN figure 7.11, f/d = 0.5 (from memory; its reliability is
# questioned by Blackmore & Tsokri, J. Wind Eng. 94 (2006) 833-844). Windward quarter, middle half, leeward quarter.
EN_VAULT = (0.8, -1.2, -0.4)


def us_vault(rise_over_span_ratio: float) -> tuple[float, float, float]:
    """Windward quarter, middle half, leeward quarter of an arch that springs from the ground."""
    r = min(rise_over_span_ratio, 0.6)
    return 1.4 * r, -0.7 - r, -0.5


def en_vault(rise_over_span_ratio: float) -> tuple[float, float, float]:
    """The same by EN 1991-1-4, in proportion to the rise up to f/d = 0.5 for the windward quarter."""
    return EN_VAULT[0] * min(rise_over_span_ratio / 0.5, 1.0), EN_VAULT[1], EN_VAULT[2]


def us_windward(slope_deg: float, height_over_length_ratio: float) -> tuple[float, float]:
    """Lowest and highest C_p of the face that the wind meets."""
    if slope_deg >= WALL_DEG:
        return US_WALL, US_WALL
    rows = {h: _between(table, slope_deg) for h, table in WINDWARD.items()}
    low, high = _mix(rows, height_over_length_ratio)
    return low, high


def us_leeward(slope_deg: float, height_over_length_ratio: float, length_over_width_ratio: float) -> float:
    """C_p of the face behind the ridge, or of the wall behind."""
    if slope_deg >= WALL_DEG:
        return _between(tuple((a, b) for a, b in US_LEE_WALL), length_over_width_ratio)[0]
    return _mix({h: _between(table, slope_deg) for h, table in LEEWARD.items()}, height_over_length_ratio)[0]


def us_along(length_m: float, height_m: float) -> float:
    """Mean C_p of a roof whose ridge runs with the wind: -0.9 for one height from its end, -0.5 for two, then -0.3."""
    total, reached_m = 0.0, 0.0
    for heights, value in US_ALONG:
        stop_m = min(heights * height_m, length_m)
        total += value * max(stop_m - reached_m, 0.0)
        reached_m = max(reached_m, stop_m)
    return total / length_m


def en_across(slope_deg: float, edge_share: float) -> tuple[float, float, float]:
    """Lowest and highest windward, and leeward c_pe; `edge_share` is how much of a face its edge strip e/10 takes."""
    if slope_deg >= WALL_DEG:
        return EN_WALL, EN_WALL, EN_LEE_WALL
    edge_low, edge_high, low, high, lee, ridge = _between(EN_ACROSS, slope_deg)
    rest = 1 - edge_share
    return edge_share * edge_low + rest * low, edge_share * edge_high + rest * high, rest * lee + edge_share * ridge


def en_high_edge(slope_deg: float, edge_share: float) -> float:
    """c_pe of a single slope with the wind on its high edge."""
    edge, rest = _between(EN_MONO_HIGH, slope_deg)
    return edge_share * edge + (1 - edge_share) * rest


def en_along(slope_deg: float, length_m: float, strip_m: float, single: bool) -> float:
    """Mean c_pe with the wind along the bed: edge to e/10, H to e/2, then I; `strip_m` is e."""
    edge, h, i = _between(EN_MONO_SIDE if single else EN_ALONG, slope_deg)
    first, second = min(strip_m / 10, length_m), min(strip_m / 2, length_m)
    return (edge * first + h * (second - first) + i * (length_m - second)) / length_m


def _between(table: Sequence[tuple[float, ...]], at: float) -> tuple[float, ...]:
    """The entries of a table at a place between its rows, held at its ends."""
    if at <= table[0][0]:
        return tuple(table[0][1:])
    for one, two in pairwise(table):
        if at <= two[0]:
            share = (at - one[0]) / (two[0] - one[0])
            return tuple(a + (b - a) * share for a, b in zip(one[1:], two[1:], strict=True))
    return tuple(table[-1][1:])


def _mix(rows: dict[float, tuple[float, ...]], at: float) -> tuple[float, ...]:
    return _between([(key, *values) for key, values in rows.items()], at)
