"""How quickly a season is worked out: one year, a hundred, and beside SciPy on the same equations in the same run."""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "season"))
from peer_balance import Peer

from clochewright.season import Gardener, Tent, enclosure_of, run_years
from clochewright.season.balance import forcings, ground_of, setting_of
from clochewright.season.ground import soil_at_start_degC
from clochewright.season.kernel import march
from clochewright.site import SORREL_YARD, SORREL_YARD_NORMALS, draw_years

ROOM = enclosure_of([(0.6, 0.0), (0.6, 0.15), (0.0, 0.65), (-0.6, 0.15), (-0.6, 0.0)], 2.4, 2.3, 1.1, 0.3)
TENT = Tent(ROOM, SORREL_YARD, gardener=Gardener("thermometer"))
FIRST_H, HOURS = 24 * 95, 24 * 10  # ten days of April


def test_one_year(benchmark):
    weather = draw_years(SORREL_YARD_NORMALS, SORREL_YARD, 1)
    run_years(TENT, weather)  # compiles
    benchmark.extra_info.update(what="season: one year", target_s=0.050)
    benchmark(run_years, TENT, weather)


def test_a_hundred_years(benchmark):
    weather = draw_years(SORREL_YARD_NORMALS, SORREL_YARD, 100)
    run_years(TENT, weather.year(0))
    told: list[int] = []
    benchmark.extra_info.update(what="season: a hundred years", target_s=5.0)
    years = benchmark.pedantic(run_years, (TENT, weather, 2, lambda done, _whole: told.append(done)), rounds=2)
    assert told[-1] == 100
    assert years.inside_degC.shape == (100, 8760)


class Days:
    """Ten April days under the shut cover, and air inside by the finest steps, to measure errors against."""

    def __init__(self) -> None:
        weather = draw_years(SORREL_YARD_NORMALS, SORREL_YARD, 1)
        tent = TENT.but(gardener=Gardener("never"))
        self.setting, self.ground = setting_of(tent), ground_of(tent, weather)
        forcing = forcings(tent, weather)[0]
        turned = {name: np.roll(getattr(forcing, name), -FIRST_H) for name in forcing._fields}
        self.forcing = forcing._replace(**turned)
        self.soil = soil_at_start_degC(self.forcing.air_degC, self.ground.deep_degC)
        self.finest = self.ours(64)

    def ours(self, steps):
        """Our march, with so many steps to the hour."""
        return march(self.setting, self.ground, self.forcing, np.append(self.soil, 0.0), 0, HOURS, steps)[0]

    def theirs(self, rtol):
        """SciPy's, at a relative tolerance."""
        return Peer(self.setting, self.ground, self.forcing).solve(self.soil, HOURS, rtol)[0]

    def error_K(self, inside):
        """Root mean square over the hours, but for the first three, in which the wet film starts."""
        return float(np.sqrt(np.mean((inside - self.finest)[3:] ** 2)))


def test_ten_days(benchmark):
    days = Days()
    benchmark.extra_info.update(what="season: ten days, two steps an hour", target_s=0.010)
    inside = benchmark(days.ours, 2)
    benchmark.extra_info["error_K"] = days.error_K(inside)


def test_ten_days_by_scipy(benchmark):
    """solve_ivp (LSODA) on the same equations at a loose tolerance, less exact than ours.

    Its right-hand side is plain Python, which is most of the difference: it asks for it some 7,000 times where our
    march takes 480 steps.
    """
    days = Days()
    benchmark.extra_info.update(what="solve_ivp, LSODA", peer_of="season: ten days, two steps an hour")
    inside = benchmark.pedantic(days.theirs, (1e-2,), rounds=2)
    benchmark.extra_info["error_K"] = days.error_K(inside)
    assert days.error_K(days.ours(2)) <= days.error_K(inside)
