"""The heat balance, hour by hour: one function, compiled on first use.

Inside air, film and vapour hold next to nothing and balance at every instant; soil and water jugs hold heat. Each step
takes the state at its middle (implicit midpoint rule: second order, stable at any step, and what flows in less what
flows out is stored to the last joule), found by Newton's method in three unknowns: ground surface, air, film.

Left out: freezing of soil water (real beds linger at 0 degC, so frosts inside come out a little harsh), dew on the
outside, heat sideways through the soil below ground level, snow on the film.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import numba
import numpy as np

from clochewright.season.setting import (
    AIR_OUT,
    BY_THERMOMETER,
    DEEP_OUT,
    OPEN,
    OPEN_IF_HOT,
    RADIATION_OUT,
    SHUT,
    STORED,
    SUMS,
    SUN_IN,
    WALLS_OUT,
    WATER_OUT,
    WIND_OUT,
    Forcing,
    Ground,
    Setting,
)
from clochewright.site import Hours

SIGMA = 5.670374419e-8  # W/m2K4, CODATA 2018
ZERO = 273.15
AIR_KG_M3 = 1.2
AIR_J_KG_K = 1006.0
LATENT_J_KG = 2.5e6
GRAVITY = 9.81
# Water on the film that makes it fully wet, and the most it holds before it drips [kg/m2 film] (assumptions).
WET_KG_M2, DRIPS_KG_M2 = 0.03, 0.10
CLOSE_ENOUGH_K = 1e-5
MOST_ROUNDS = 60


def _saturated(t: float) -> tuple[float, float]:
    """Water in saturated air [kg/kg] and its slope [per K]; over ice below 0 degC (see the site room's humidity.py)."""
    a, b = (17.27, 237.3) if t >= 0.0 else (21.875, 265.5)
    w = 0.622 * 610.8 * math.exp(a * t / (t + b)) / 101325.0
    return w, w * a * b / (t + b) ** 2


def _convection(free: float, least: float, difference: float) -> tuple[float, float]:
    """Coefficient [W/m2K] and slope of the flow: free convection in turbulent form, never below `least`."""
    h = free * abs(difference) ** (1.0 / 3.0)
    return (h, 4.0 / 3.0 * h) if h > least else (least, least)


def compiled(function: Callable[..., Any]) -> Callable[..., Any]:
    """The function compiled on its first call and kept beside this file, or in the user's own cache."""
    try:
        return numba.njit(cache=True, nogil=True)(function)
    except RuntimeError:  # nowhere to keep it: compiled anew in every run
        return numba.njit(nogil=True)(function)


saturated: Callable[[float], tuple[float, float]] = compiled(_saturated)
convection: Callable[[float, float, float], tuple[float, float]] = compiled(_convection)


def _march(s: Setting, ground: Ground, f: Forcing, soil: Hours, first: int, last: int, steps: int) -> Any:
    """March through hours `first` to `last` (counted on past the year's end, round and round).

    Args:
        s: cover, bed and coefficients.
        ground: soil nodes.
        f: a year of forcing.
        soil: temperature of each soil node and, last, of the water jugs [degC]; changed in place.
        first: first hour; may be negative, for a run-up in the year before.
        last: one past the last hour.
        steps: steps to the hour.

    Returns:
        Arrays of (last - first) hourly means: air inside, outside [degC], soil at node 2 [degC], share open; then the
        energy sums [J/m2 floor] and the most rounds any step took.
    """
    count = last - first
    inside, outside, under = np.empty(count), np.empty(count), np.empty(count)
    opened, sums = np.empty(count), np.zeros(SUMS)
    nodes = ground.holds.size
    half = 1800.0 / steps
    year = f.air_degC.size
    ratio = s.film_m2 / s.floor_m2
    # What of the tridiagonal soil matrix never changes: each node's weight once all below it is eliminated.
    weight = np.empty(nodes)
    for i in range(nodes - 1, -1, -1):
        weight[i] = ground.holds[i] / half + ground.walls[i] + ground.links[i]
        if i > 0:
            weight[i] += ground.links[i - 1]
        if i < nodes - 1:
            weight[i] -= ground.links[i] ** 2 / weight[i + 1]
    right, middle = np.empty(nodes), np.empty(nodes)
    water_weight = s.water_J_m2_K_factor / half + s.water_W_m2_K
    ts, ta, tc = soil[0], f.air_degC[(first - 1) % year], f.air_degC[(first - 1) % year]
    wet_kg_m2 = DRIPS_KG_M2
    share_open, hand_open = 0.0, 0.0
    most = 0
    for k in range(count):
        h = (first + k) % year
        was = (h - 1) % year
        code = f.hand[h]
        if code == OPEN or (code in (OPEN_IF_HOT, BY_THERMOMETER) and ta > s.open_at_degC):
            hand_open = 1.0
        elif code == SHUT or (code == BY_THERMOMETER and ta < s.shut_at_degC):
            hand_open = 0.0
        blanket = f.covered[h] > 0.0
        sum_in, sum_out, sum_soil, sum_open = 0.0, 0.0, 0.0, 0.0
        for j in range(steps):
            part = (j + 0.5) / steps
            to = f.air_degC[was] + part * (f.air_degC[h] - f.air_degC[was])
            wo = f.water[was] + part * (f.water[h] - f.water[was])
            wind = f.wind_m_s[was] + part * (f.wind_m_s[h] - f.wind_m_s[was])
            around = f.around_W_m2[was] + part * (f.around_W_m2[h] - f.around_W_m2[was])
            wetness = min(1.0, wet_kg_m2 / WET_KG_M2)
            lets_heat = s.heat_dry_share + wetness * (s.heat_wet_share - s.heat_dry_share)
            emits = s.film_emits_dry_share + wetness * (s.film_emits_wet_share - s.film_emits_dry_share)
            skin = s.skin_W_m2_K
            # a second film stays dry: it radiates little itself and lets the wet one behind it shine through
            escapes = emits * s.outer_lets_heat_share
            glows = s.outer_emits_share if s.outer_lets_heat_share > 0.0 else emits
            lets_sun = s.sun_dry_share + wetness * (s.sun_wet_share - s.sun_dry_share)
            if blanket:
                skin = 1.0 / (1.0 / skin + s.blanket_m2_K_W_factor)
                lets_heat, lets_sun, escapes = 0.0, 0.0, 0.0
                glows = s.film_emits_wet_share  # cloth is nearly black as well
            sun = lets_sun * f.sun_W_m2[h]
            film_sun = s.film_takes_share * f.film_sun_W_m2[h]
            leaves = s.leaf_share * s.ground_takes_share * sun
            ground_sun = (1.0 - s.leaf_share) * s.ground_takes_share * sun
            air_sun = leaves * s.leaf_warms_share
            given_off = leaves * (1.0 - s.leaf_warms_share) / LATENT_J_KG
            out_h = s.outside_still_W_m2_K + s.outside_per_m_s_factor * wind
            leak = (s.leak_still_per_h_factor + s.leak_per_m_s_factor * wind) * s.volume_m3 / 3600.0
            exchange = 1.0 / (1.0 / s.ground_emits_share + (1.0 / emits - 1.0) / ratio) * (1.0 - lets_heat)
            # Soil below the surface, from the bottom up: leaves one equation, weight[0] ts = right[0] + flow in.
            for i in range(nodes - 1, -1, -1):
                right[i] = ground.holds[i] / half * soil[i] + ground.walls[i] * to
                if i == nodes - 1:
                    right[i] += ground.links[i] * ground.deep_degC
                else:
                    right[i] += ground.links[i] / weight[i + 1] * right[i + 1]
            water_kept = s.water_J_m2_K_factor / half * soil[nodes]
            water_link = s.water_W_m2_K * (1.0 - s.water_W_m2_K / water_weight) if water_weight > 0.0 else 0.0
            water_gives = s.water_W_m2_K / water_weight * water_kept if water_weight > 0.0 else 0.0
            rounds = 0
            te = tc
            while True:
                rounds += 1
                # air that passes: leaks, and the opening by stack and wind (heads added; see coefficients.py)
                target = hand_open
                if s.wax_span_K > 0.0:
                    target = min(1.0, max(hand_open, (ta - s.wax_from_degC) / s.wax_span_K))
                share_open += (target - share_open) * (0.3 if s.wax_span_K > 0.0 else 1.0)
                flow = leak
                if share_open > 0.0:
                    head = 2.0 * GRAVITY * abs(ta - to) / (to + ZERO) * s.opening_height_m * share_open / 4.0
                    speed = s.discharge_factor * math.sqrt(head + s.wind_pressure_factor * wind * wind)
                    flow += 0.5 * s.opening_m2 * share_open * speed
                passes = AIR_KG_M3 * flow / s.floor_m2
                hs, hs_slope = convection(s.ground_free_factor, s.ground_least_W_m2_K, ts - ta)
                hc, hc_slope = convection(s.film_free_factor, s.film_least_W_m2_K, ta - tc)
                # water in the air, from what evaporates, condenses and passes (Lewis: mass by heat over cp)
                ws, ws_slope = saturated(ts)
                wc, wc_slope = saturated(tc)
                evaporates = 1.0 / (AIR_J_KG_K / hs + s.ground_resists_m2_s_kg_factor)
                dry = evaporates + passes
                wi = (evaporates * ws + passes * wo + given_off) / dry
                deposits = ratio * hc / AIR_J_KG_K
                if wi < wc:
                    deposits *= wetness
                wi = (evaporates * ws + passes * wo + given_off + deposits * wc) / (dry + deposits)
                by_ground, by_film = evaporates / (dry + deposits), deposits / (dry + deposits)
                # radiation, with the coefficient at the last temperatures
                s_K, c_K, e_K = ts + ZERO, tc + ZERO, te + ZERO
                between = exchange * SIGMA * (s_K * s_K + c_K * c_K) * (s_K + c_K)
                through = lets_heat * s.ground_emits_share
                through_slope = 4.0 * through * SIGMA * s_K**3
                # outer face, solved away: te = (skin tc + out_side) / out_weight
                out_slope = 4.0 * glows * SIGMA * e_K**3
                out_side = out_h * to + glows * (around - SIGMA * e_K**4) + out_slope * te
                escape_slope = 4.0 * escapes * SIGMA * c_K**3
                out_weight = skin + out_h + out_slope
                # the three balances, linear about the last temperatures: a (ts, ta, tc) = b
                latent = LATENT_J_KG
                wetting = latent * evaporates * ws_slope * (1.0 - by_ground)
                a11 = weight[0] + hs_slope + between + through_slope + wetting
                a13 = -between - latent * evaporates * by_film * wc_slope
                evaporated = latent * evaporates * (ws - wi)
                b1 = (
                    right[0] + ground_sun + (hs_slope - hs) * (ts - ta)
                    - evaporated + wetting * ts - latent * evaporates * by_film * wc_slope * tc
                    + through * (around - SIGMA * s_K**4) + through_slope * ts
                )  # fmt: skip
                a22 = hs_slope + ratio * hc_slope + water_link + AIR_J_KG_K * passes
                b2 = (
                    air_sun + water_gives + AIR_J_KG_K * passes * to
                    - (hs_slope - hs) * (ts - ta) - ratio * (hc_slope - hc) * (tc - ta)
                )  # fmt: skip
                a31 = -between - latent * deposits * by_ground * ws_slope
                a33 = (
                    ratio * hc_slope + between + latent * deposits * wc_slope * (1.0 - by_film)
                    + ratio * (skin * (1.0 - skin / out_weight) + escape_slope)
                )  # fmt: skip
                settled = latent * deposits * (wi - wc)
                b3 = (
                    film_sun + ratio * (hc_slope - hc) * (tc - ta)
                    + settled - latent * deposits * (by_ground * ws_slope * ts - (1.0 - by_film) * wc_slope * tc)
                    + ratio * (skin * out_side / out_weight + escapes * (around - SIGMA * c_K**4) + escape_slope * tc)
                )  # fmt: skip
                a12, a21, a23, a32 = -hs_slope, -hs_slope, -ratio * hc_slope, -ratio * hc_slope
                # ta = (b2 - a21 ts - a23 tc) / a22, then two by two
                m11, m13, r1 = a11 - a12 * a21 / a22, a13 - a12 * a23 / a22, b1 - a12 * b2 / a22
                m31, m33, r3 = a31 - a32 * a21 / a22, a33 - a32 * a23 / a22, b3 - a32 * b2 / a22
                fresh_s = (r1 * m33 - m13 * r3) / (m11 * m33 - m13 * m31)
                fresh_c = (r3 - m31 * fresh_s) / m33
                fresh_a = (b2 - a21 * fresh_s - a23 * fresh_c) / a22
                moved = max(abs(fresh_s - ts), abs(fresh_a - ta), abs(fresh_c - tc))
                # late rounds go part of the way, which ends any swinging between dry and wet, or shut and open
                pace = 1.0 if rounds < 6 else (0.5 if rounds < 12 else 0.2)
                ts += pace * (fresh_s - ts)
                ta += pace * (fresh_a - ta)
                tc += pace * (fresh_c - tc)
                te = (skin * tc + out_side) / out_weight
                if moved < CLOSE_ENOUGH_K or rounds >= MOST_ROUNDS:
                    break
            most = max(most, rounds)
            # down through the soil, and on to the end of the step
            dt = 2.0 * half
            middle[0] = ts
            sums[STORED] += 2.0 * ground.holds[0] * (ts - soil[0])
            sums[WALLS_OUT] += dt * ground.walls[0] * (ts - to)
            for i in range(1, nodes):
                middle[i] = (right[i] + ground.links[i - 1] * middle[i - 1]) / weight[i]
                sums[STORED] += 2.0 * ground.holds[i] * (middle[i] - soil[i])
                sums[WALLS_OUT] += dt * ground.walls[i] * (middle[i] - to)
            sums[DEEP_OUT] += dt * ground.links[nodes - 1] * (middle[nodes - 1] - ground.deep_degC)
            for i in range(nodes):
                soil[i] = 2.0 * middle[i] - soil[i]
            if water_weight > 0.0:
                jug = (water_kept + s.water_W_m2_K * ta) / water_weight
                sums[STORED] += 2.0 * s.water_J_m2_K_factor * (jug - soil[nodes])
                soil[nodes] = 2.0 * jug - soil[nodes]
            sums[SUN_IN] += dt * (ground_sun + air_sun + leaves * (1.0 - s.leaf_warms_share) + film_sun)
            glow = SIGMA * (te + ZERO) ** 4
            bare = through * (SIGMA * (ts + ZERO) ** 4 - around)
            passed_on = escapes * (SIGMA * (tc + ZERO) ** 4 - around)
            sums[RADIATION_OUT] += dt * (ratio * (glows * (glow - around) + passed_on) + bare)
            sums[WIND_OUT] += dt * ratio * out_h * (te - to)
            sums[AIR_OUT] += dt * AIR_J_KG_K * passes * (ta - to)
            sums[WATER_OUT] += dt * LATENT_J_KG * passes * (wi - wo)
            # water on the film
            gains = dt * deposits * (wi - wc) / ratio
            if gains >= 0.0:
                wet_kg_m2 = min(DRIPS_KG_M2, wet_kg_m2 + gains)
            else:
                wet_kg_m2 = wet_kg_m2 / (1.0 - gains / max(wet_kg_m2, 1e-6))
            sum_in += ta
            sum_out += to
            sum_soil += middle[2]
            sum_open += share_open
        inside[k], outside[k] = sum_in / steps, sum_out / steps
        under[k], opened[k] = sum_soil / steps, sum_open / steps
    return inside, outside, under, opened, sums, most


march: Callable[..., tuple[Hours, Hours, Hours, Hours, Hours, int]] = compiled(_march)
