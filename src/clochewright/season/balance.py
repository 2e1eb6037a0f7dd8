"""Puts cover, place, weather and gardener together and runs years of it."""

from __future__ import annotations

import os
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from clochewright.season import coefficients as c
from clochewright.season.coefficients import FilmOptics, Lean, leaning
from clochewright.season.enclosure import Enclosure, opening_at
from clochewright.season.gardener import Gardener, hands, night_blanket
from clochewright.season.ground import lay_ground, soil_at_start_degC
from clochewright.season.setting import Forcing, Ground, Setting
from clochewright.season.sunlight import light_of, sun_inside
from clochewright.site import (
    HOURS,
    ZERO_K,
    Hours,
    Place,
    SIGMA_W_m2_K4,
    Weather,
    saturation_Pa,
    sky_radiation_W_m2,
    wind_factor_at,
)

Second = Literal["none", "film", "fleece"]
STEPS_TO_THE_HOUR = 2
FILM_REFLECTS_SHARE = 0.1  # of heat radiation, dry (assumption)
RUN_UP_DAYS = 40  # of the year's own end, run before it so that the top soil has forgotten how it began
JUG_W_K_PER_KG = 1.2  # an 8 kg jug, 0.2 m2 of side, 5 W/m2K (assumption)
WATER_J_kg_K = 4186.0
OWN_HANDS = Gardener()
Progress = Callable[[int, int], None]


def no_progress(done: int, whole: int) -> None:
    """Watch nothing."""


@dataclass(frozen=True, slots=True)
class Tent:
    """Everything about one cover that the season turns on. `extra_hole_m2` is cut out of the film for good."""

    enclosure: Enclosure
    place: Place
    left_faces_deg: float = 0.0
    film: FilmOptics = c.PLAIN_FILM
    second: Second = "none"
    blanket: bool = False
    water_kg: float = 0.0
    prop_deg: float = 30.0
    gardener: Gardener = OWN_HANDS
    lean: Lean = "likely"
    extra_hole_m2: float = 0.0

    def but(self, **changes: object) -> Tent:
        """The same with some of it otherwise."""
        return replace(self, **changes)  # type: ignore[arg-type]


@dataclass(frozen=True, slots=True)
class Years:
    """Hours inside and out, shape (years, 8760): hourly means, row k the hour k to k + 1 in standard time.

    `sums_J_m2` are the energy sums of each year per m2 of floor, by the places named in setting.py.
    """

    inside_degC: Hours
    outside_degC: Hours
    soil_degC: Hours
    open_share: Hours
    sums_J_m2: Hours
    most_rounds: int


def setting_of(tent: Tent) -> Setting:
    """The cover and its coefficients at one lean, as the kernel takes them."""
    lean, film, room = tent.lean, tent.film, tent.enclosure
    opening_m2, opening_height_m = opening_at(room, tent.prop_deg)
    lets = {"none": 1.0, "film": leaning(c.SECOND_LAYER_LETS, lean), "fleece": leaning(c.FLEECE_LETS, lean)}
    across = {"none": 2000.0, "film": _gap_W_m2_K(tent), "fleece": leaning(c.FLEECE_GAP_W_m2_K, lean)}
    heat_dry, heat_wet = leaning(film.heat_dry, lean), leaning(film.heat_wet, lean)
    outer = _outer_lets_heat_share(tent)
    behind_dry, behind_wet = {"none": (1.0, 1.0), "film": (outer, outer), "fleece": (heat_dry, heat_wet)}[tent.second]
    return Setting(
        floor_m2=room.floor_m2,
        film_m2=room.film_m2,
        volume_m3=room.volume_m3,
        sun_dry_share=leaning(film.sun_dry, lean) * lets[tent.second],
        sun_wet_share=leaning(film.sun_wet, lean) * lets[tent.second],
        film_takes_share=leaning(c.FILM_TAKES, lean),
        heat_dry_share=heat_dry * behind_dry,
        heat_wet_share=heat_wet * behind_wet,
        film_emits_dry_share=1.0 - heat_dry - FILM_REFLECTS_SHARE,
        film_emits_wet_share=leaning(c.FILM_EMITS_WET, lean),
        skin_W_m2_K=across[tent.second],
        outer_lets_heat_share=outer,
        outer_emits_share=1.0 - outer - FILM_REFLECTS_SHARE,
        blanket_m2_K_W_factor=leaning(c.BLANKET_m2_K_W, lean),
        outside_still_W_m2_K=leaning(c.OUTSIDE_STILL_W_m2_K, lean),
        outside_per_m_s_factor=leaning(c.OUTSIDE_PER_m_s, lean),
        film_free_factor=leaning(c.FILM_FREE, lean),
        film_least_W_m2_K=leaning(c.FILM_LEAST_W_m2_K, lean),
        ground_free_factor=leaning(c.GROUND_FREE, lean),
        ground_least_W_m2_K=leaning(c.GROUND_LEAST_W_m2_K, lean),
        leak_still_per_h_factor=leaning(c.LEAK_STILL_PER_H, lean),
        leak_per_m_s_factor=leaning(c.LEAK_PER_m_s, lean),
        opening_m2=opening_m2,
        opening_height_m=opening_height_m,
        discharge_factor=leaning(c.DISCHARGE, lean),
        wind_pressure_factor=leaning(c.WIND_PRESSURE, lean),
        ground_takes_share=leaning(c.GROUND_TAKES, lean),
        ground_emits_share=leaning(c.GROUND_EMITS, lean),
        ground_resists_m2_s_kg_factor=leaning(c.GROUND_RESISTS_m2_s_kg, lean),
        leaf_share=leaning(c.LEAF_SHARE, lean),
        leaf_warms_share=leaning(c.LEAF_WARMS, lean),
        water_J_m2_K_factor=tent.water_kg * WATER_J_kg_K / room.floor_m2,
        water_W_m2_K=tent.water_kg * JUG_W_K_PER_KG / room.floor_m2,
        wax_from_degC=tent.gardener.wax_from_degC,
        wax_span_K=tent.gardener.wax_span_K if tent.gardener.way == "wax-opener" else 0.0,
        open_at_degC=tent.gardener.open_at_degC,
        shut_at_degC=tent.gardener.shut_at_degC,
    )


def _outer_lets_heat_share(tent: Tent) -> float:
    """Of heat radiation, what a second film lets through: no more than the film itself does dry; 0 without one."""
    if tent.second != "film":
        return 0.0
    return min(leaning(c.SECOND_LETS_HEAT, tent.lean), leaning(tent.film.heat_dry, tent.lean))


def _gap_W_m2_K(tent: Tent) -> float:
    """Across the gap between two films, the inner one wet: air, and radiation between two plates at 0 degC."""
    outer_emits = 1.0 - _outer_lets_heat_share(tent) - FILM_REFLECTS_SHARE
    plates = 1.0 / (1.0 / leaning(c.FILM_EMITS_WET, tent.lean) + 1.0 / outer_emits - 1.0)
    return leaning(c.GAP_AIR_W_m2_K, tent.lean) + 4.0 * SIGMA_W_m2_K4 * ZERO_K**3 * plates


def forcings(tent: Tent, weather: Weather) -> list[Forcing]:
    """What acts on the cover, year by year."""
    room, place = tent.enclosure, tent.place
    light = light_of(room, place, tent.left_faces_deg, leaning(c.LOW_SUN_CAUGHT, tent.lean))
    sun, film_sun = sun_inside(light, weather)
    sky = weather.sky_W_m2
    if sky is None:
        sky = sky_radiation_W_m2(weather.air_degC, weather.dew_degC, weather.cloud_share, c.SKY[tent.lean])
    ambient = SIGMA_W_m2_K4 * (weather.air_degC + ZERO_K) ** 4
    seen = room.sky_share * light.open_sky_share
    around = seen * sky + (1.0 - seen) * ambient
    vapour = saturation_Pa(weather.dew_degC)
    water = 0.622 * vapour / 101_325.0  # the same short form as in the kernel; 1 % off for moist warm air
    wind = weather.wind_m_s * wind_factor_at(max(room.height_m, 0.3), place.wind_share)
    out = []
    for y in range(weather.years):
        hand = hands(tent.gardener, weather.air_degC[y], weather.global_W_m2[y])
        covered = night_blanket(tent.gardener, weather.air_degC[y]) if tent.blanket else np.zeros(HOURS)
        out.append(Forcing(weather.air_degC[y], water[y], wind[y], around[y], sun[y], film_sun[y], hand, covered))
    return out


def run_years(tent: Tent, weather: Weather, steps: int = STEPS_TO_THE_HOUR, progress: Progress = no_progress) -> Years:
    """Run every year of the weather through the heat balance, on all cores.

    Args:
        tent: the cover, its place and its gardener.
        weather: one or many years.
        steps: steps to the hour.
        progress: told after each year how many of how many are done.
    """
    from clochewright.season.kernel import march  # compiled on first use, so only asked for where it is needed

    setting = setting_of(tent)
    ground = lay_ground(tent.enclosure, float(weather.air_degC.mean()), tent.lean)
    if tent.extra_hole_m2 > 0.0:
        setting = setting._replace(opening_m2=tent.extra_hole_m2, opening_height_m=0.3)

    def one(forcing: Forcing) -> tuple[Hours, Hours, Hours, Hours, Hours, int]:
        if tent.extra_hole_m2 > 0.0:
            forcing = forcing._replace(hand=np.full(HOURS, 3.0))
        soil = np.append(soil_at_start_degC(forcing.air_degC, ground.deep_degC, tent.lean), forcing.air_degC[0])
        march(setting, ground, forcing, soil, -24 * RUN_UP_DAYS, 0, steps)
        return march(setting, ground, forcing, soil, 0, HOURS, steps)

    parts = []
    jobs = forcings(tent, weather)
    with ThreadPoolExecutor(os.cpu_count()) as pool:
        for done, part in enumerate(pool.map(one, jobs), start=1):
            parts.append(part)
            progress(done, len(jobs))
    inside, outside, soil, opened, sums = (np.stack([part[i] for part in parts]) for i in range(5))
    return Years(inside, outside, soil, opened, sums, max(part[5] for part in parts))


def ground_of(tent: Tent, weather: Weather) -> Ground:
    """The soil that `run_years` takes for this weather."""
    return lay_ground(tent.enclosure, float(weather.air_degC.mean()), tent.lean)
