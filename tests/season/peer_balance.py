"""The same balance written a second time, plainly, for SciPy's solvers: a check on the kernel, and its peer in speed.

Soil nodes and water on the film are states; air and both faces of the film are solved for at every call.
"""

from __future__ import annotations

import math

import numpy as np
from scipy.integrate import solve_ivp

SIGMA, ZERO, LATENT, CP = 5.670374419e-8, 273.15, 2.5e6, 1006.0
WET, DRIPS = 0.03, 0.10


def saturated(t):
    a, b = (17.27, 237.3) if t >= 0 else (21.875, 265.5)
    return 0.622 * 610.8 * math.exp(a * t / (t + b)) / 101325.0


class Peer:
    """The heat balance of a shut cover without jugs, wax or blanket."""

    def __init__(self, setting, ground, forcing):
        self.s, self.g, self.f = setting, ground, forcing
        self.ratio = setting.film_m2 / setting.floor_m2
        self.guess = None

    def outside(self, t_s):
        hour = t_s / 3600.0
        k = min(int(hour), 8759)
        part = hour - k
        at = {}
        for name in ("air_degC", "water", "wind_m_s", "around_W_m2"):
            row = getattr(self.f, name)
            at[name] = row[k - 1] + part * (row[k] - row[k - 1])
        return at, self.f.sun_W_m2[k], self.f.film_sun_W_m2[k]

    def balance(self, x, ts, wet, at, sun, film_sun):
        """What is left over at air, inner face and outer face; and the flow into the ground and onto the film."""
        s, (ta, tc, te) = self.s, x
        wetness = min(1.0, wet / WET)
        mix = lambda dry, soaked: dry + wetness * (soaked - dry)  # noqa: E731
        lets_heat = mix(s.heat_dry_share, s.heat_wet_share)
        emits = mix(s.film_emits_dry_share, s.film_emits_wet_share)
        outer_emits = s.outer_emits_share if s.outer_lets_heat_share > 0 else emits
        passed_on = emits * s.outer_lets_heat_share * (SIGMA * (tc + ZERO) ** 4 - at["around_W_m2"])
        taken = s.ground_takes_share * mix(s.sun_dry_share, s.sun_wet_share) * sun
        leaves = s.leaf_share * taken
        given_off = leaves * (1 - s.leaf_warms_share) / LATENT
        wind, to = at["wind_m_s"], at["air_degC"]
        leak = (s.leak_still_per_h_factor + s.leak_per_m_s_factor * wind) * s.volume_m3 / 3600
        passes = 1.2 * leak / s.floor_m2
        hs = max(s.ground_free_factor * abs(ts - ta) ** (1 / 3), s.ground_least_W_m2_K)
        hc = max(s.film_free_factor * abs(ta - tc) ** (1 / 3), s.film_least_W_m2_K)
        evaporates = 1 / (CP / hs + s.ground_resists_m2_s_kg_factor)
        ws, wc = saturated(ts), saturated(tc)
        wi = (evaporates * ws + passes * at["water"] + given_off) / (evaporates + passes)
        deposits = self.ratio * hc / CP * (1.0 if wi >= wc else wetness)
        wi = (evaporates * ws + passes * at["water"] + given_off + deposits * wc) / (evaporates + passes + deposits)
        exchange = 1 / (1 / s.ground_emits_share + (1 / emits - 1) / self.ratio) * (1 - lets_heat)
        between = exchange * SIGMA * ((ts + ZERO) ** 4 - (tc + ZERO) ** 4)
        through = lets_heat * s.ground_emits_share * (SIGMA * (ts + ZERO) ** 4 - at["around_W_m2"])
        out = s.outside_still_W_m2_K + s.outside_per_m_s_factor * wind
        skin = s.skin_W_m2_K * (tc - te)
        air = hs * (ts - ta) + self.ratio * hc * (tc - ta) + CP * passes * (to - ta) + leaves * s.leaf_warms_share
        inner = (self.ratio * hc * (ta - tc) + LATENT * deposits * (wi - wc) + between
                 + s.film_takes_share * film_sun - self.ratio * (skin + passed_on))  # fmt: skip
        outer = skin - out * (te - to) - outer_emits * (SIGMA * (te + ZERO) ** 4 - at["around_W_m2"])
        down = taken - leaves - hs * (ts - ta) - between - through - LATENT * evaporates * (ws - wi)
        return np.array([air, inner, outer]), down, deposits * (wi - wc) / self.ratio

    def settle(self, ts, wet, at, sun, film_sun):
        x = np.array([at["air_degC"]] * 3) if self.guess is None else self.guess.copy()
        left, down, gains = self.balance(x, ts, wet, at, sun, film_sun)
        for turn in range(40):
            slopes = np.empty((3, 3))
            for i in range(3):
                moved = x.copy()
                moved[i] += 1e-5
                slopes[:, i] = (self.balance(moved, ts, wet, at, sun, film_sun)[0] - left) / 1e-5
            step = np.linalg.solve(slopes, -left)
            x = x + step * (1.0 if turn < 6 else 0.5)
            left, down, gains = self.balance(x, ts, wet, at, sun, film_sun)
            if np.abs(step).max() < 1e-6:
                break
        self.guess = x
        return x, down, gains

    def rates(self, t_s, state):
        soil, wet = state[:-1], min(max(state[-1], 0.0), DRIPS)
        at, sun, film_sun = self.outside(t_s)
        _, down, gains = self.settle(soil[0], wet, at, sun, film_sun)
        below = np.append(soil[1:], self.g.deep_degC)
        flow = self.g.links * (soil - below)
        rate = -flow + self.g.walls * (at["air_degC"] - soil)
        rate[1:] += flow[:-1]
        rate[0] += down
        full = (wet >= DRIPS and gains > 0) or (wet <= 0 and gains < 0)
        return np.append(rate / self.g.holds, 0.0 if full else gains)

    def solve(self, soil, hours, rtol, method="LSODA"):
        """Air inside at the middle of each half hour, from state `soil` and a wet film."""
        times = (np.arange(2 * hours) + 0.5) * 1800.0
        start = np.append(soil, DRIPS)
        got = solve_ivp(self.rates, (0.0, hours * 3600.0), start, method, times, rtol=rtol, atol=rtol, max_step=1800.0)
        assert got.success, got.message
        air = []
        for t_s, state in zip(got.t, got.y.T, strict=True):
            at, sun, film_sun = self.outside(t_s)
            air.append(self.settle(state[0], min(max(state[-1], 0), DRIPS), at, sun, film_sun)[0][0])
        return np.array(air).reshape(hours, 2).mean(axis=1), got.nfev
