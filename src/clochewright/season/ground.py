"""The soil of the bed as layers, and how warm they are to begin with."""

from __future__ import annotations

import math

import numpy as np

from clochewright.season.coefficients import (
    DEEP_OVER_AIR_K,
    Lean,
    SOIL_CONDUCTS_W_m_K,
    SOIL_HOLDS_J_m3_K,
    WALL_W_m2_K,
    leaning,
)
from clochewright.season.enclosure import Enclosure
from clochewright.season.setting import Ground
from clochewright.site import DAYS, Hours

# Depth of the nodes [m]: the first is the surface itself, the third is where roots and seeds are.
DEPTHS_M = np.array([0.0, 0.02, 0.05, 0.10, 0.18, 0.30, 0.50, 0.80, 1.20, 1.70])
BOTTOM_M = 2.0
YEAR_S = DAYS * 86_400.0


def lay_ground(enclosure: Enclosure, mean_air_degC: float, lean: Lean = "likely") -> Ground:
    """Soil nodes per m2 of bed, their links, what the boards lose, and the steady soil at 2 m."""
    conducts, holds = leaning(SOIL_CONDUCTS_W_m_K, lean), leaning(SOIL_HOLDS_J_m3_K, lean)
    edges = np.concatenate(([0.0], (DEPTHS_M[1:] + DEPTHS_M[:-1]) / 2, [BOTTOM_M]))
    below = np.append(DEPTHS_M[1:], BOTTOM_M)
    above_ground = np.clip(np.minimum(edges[1:], enclosure.wall_height_m) - edges[:-1], 0.0, None)
    walls = leaning(WALL_W_m2_K, lean) * enclosure.wall_perimeter_m * above_ground / enclosure.floor_m2
    deep_degC = mean_air_degC + leaning(DEEP_OVER_AIR_K, lean)
    return Ground(holds * np.diff(edges), conducts / (below - DEPTHS_M), walls, deep_degC)


def damping_depth_m(conducts_W_m_K_factor: float, holds_J_m3_K_factor: float, period_s: float) -> float:
    """Depth at which a wave of temperature is down to 1/e: sqrt(2 kappa / omega) (Hillel 1982)."""
    return math.sqrt(2 * conducts_W_m_K_factor / holds_J_m3_K_factor / (2 * math.pi / period_s))


def soil_at_start_degC(air_degC: Hours, deep_degC: float, lean: Lean = "likely") -> Hours:
    """Soil down to 2 m at the start of the year: the year's wave of air temperature, damped and late with depth.

    Source: the same solution of the heat equation for a sine at the surface (Hillel 1982).
    """
    angle = 2 * np.pi * np.arange(air_degC.size) / air_degC.size
    wave = 2 * np.mean(air_degC * np.exp(-1j * angle))
    deep = damping_depth_m(leaning(SOIL_CONDUCTS_W_m_K, lean), leaning(SOIL_HOLDS_J_m3_K, lean), YEAR_S)
    return np.asarray(deep_degC + np.real(wave * np.exp(-(1 + 1j) * DEPTHS_M / deep)), dtype=np.float64)
