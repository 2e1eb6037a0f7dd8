"""Everything the heat balance needs to know about one cover on one bed, in plain floats."""

from __future__ import annotations

from typing import NamedTuple

from clochewright.site import Hours


class Setting(NamedTuple):
    """One cover, one bed, one set of coefficients. "Per m2" means per m2 of bed floor unless it says film."""

    # the enclosure
    floor_m2: float
    film_m2: float
    volume_m3: float
    # the film, and a second layer or an air gap behind it
    sun_dry_share: float  # of the sun, let through square on
    sun_wet_share: float
    film_takes_share: float  # of the sun, warmed by
    heat_dry_share: float  # of heat radiation, let through
    heat_wet_share: float
    film_emits_dry_share: float
    film_emits_wet_share: float
    skin_W_m2_K: float  # inner to outer face: through the film, or across a gap to a second layer
    outer_lets_heat_share: float  # of what the inner layer radiates out, through a dry second film; 0 without one
    outer_emits_share: float  # of that second film
    blanket_m2_K_W_factor: float  # resistance of what is laid over at night
    # air against surfaces
    outside_still_W_m2_K: float
    outside_per_m_s_factor: float
    film_free_factor: float  # times the cube root of the difference of temperature
    film_least_W_m2_K: float
    ground_free_factor: float
    ground_least_W_m2_K: float
    # changes of air
    leak_still_per_h_factor: float
    leak_per_m_s_factor: float
    opening_m2: float
    opening_height_m: float
    discharge_factor: float
    wind_pressure_factor: float
    # ground and crop
    ground_takes_share: float
    ground_emits_share: float
    ground_resists_m2_s_kg_factor: float
    leaf_share: float  # of the floor, under leaves
    leaf_warms_share: float  # of what leaves take in, given to the air as warmth; the rest is water they give off
    # water jugs
    water_J_m2_K_factor: float
    water_W_m2_K: float
    # opening by itself or by thermometer
    wax_from_degC: float
    wax_span_K: float  # 0: no wax opener
    open_at_degC: float
    shut_at_degC: float


class Ground(NamedTuple):
    """Soil as nodes from the surface down: what each holds [J/m2K], the links between them and down [W/m2K].

    `walls` is what each node loses to the outside air through the bed's boards [W/m2K]; `deep_degC` lies below.
    """

    holds: Hours
    links: Hours
    walls: Hours
    deep_degC: float


class Forcing(NamedTuple):
    """A year of what acts on the cover, 8760 hours each.

    Air, water in the air and radiation in are at the hour's end, sun over the hour. `sun` is W per m2 of floor before
    the film; `film_sun` falls on all film, per m2 of floor; `around` is the heat radiation onto the mean m2 of film.
    `hand` says what the gardener does at the hour's start, `covered` whether the night blanket lies on it.
    """

    air_degC: Hours
    water: Hours
    wind_m_s: Hours
    around_W_m2: Hours
    sun_W_m2: Hours
    film_sun_W_m2: Hours
    hand: Hours
    covered: Hours


# What the gardener can do at the start of an hour.
LEAVE, OPEN_IF_HOT, SHUT, OPEN, BY_THERMOMETER = 0, 1, 2, 3, 4
# Places in the sums that the kernel keeps, all J per m2 of floor.
SUN_IN, RADIATION_OUT, WIND_OUT, AIR_OUT, WATER_OUT, WALLS_OUT, DEEP_OUT, STORED, SUMS = range(9)
