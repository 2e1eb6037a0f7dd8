"""Where the sun stands and how strong it shines through a clear sky."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from clochewright.site.types import Hours, Place

SOLAR_CONSTANT_W_M2 = 1361.0  # Kopp & Lean, Geophysical Research Letters 38, 2011
# Haze of ordinary country air (Linke turbidity): 2 very clear, 3 clean, 5 hazy. From memory, Remund et al. 2003.
TURBIDITY = 3.0
# Days from noon of 1 January 2000 to midnight before 1 January 2023, which stands for every year: the calendar
# slips by at most a quarter of a degree of the sun's path against it.
_FROM_2000_DAYS = 8400.5


@dataclass(frozen=True, slots=True)
class SunPath:
    """The sun at given hours: arrays of one shape. `bearing_deg` is clockwise from north."""

    altitude_deg: Hours
    bearing_deg: Hours
    beyond_air_W_m2: Hours


def sun_path(place: Place, hours: Hours) -> SunPath:
    """Where the sun stands.

    Args:
        place: latitude, longitude, and the offset of its standard time.
        hours: hours of the year in local standard time, 0 at 1 January 0:00; for an hour's mean, take its middle.

    Returns:
        True altitude (without the lift by the air), bearing, and the sun's strength outside the air, square to it.

    Source: the low-precision formulas of the Astronomical Almanac as in J. Michalsky, Solar Energy 40 (1988) 227-235,
    good to 0.01 deg between 1950 and 2050.
    """
    days = _FROM_2000_DAYS + (hours - place.utc_offset_h_count) / 24.0
    anomaly = np.radians((357.528 + 0.9856003 * days) % 360)
    mean_longitude_deg = (280.460 + 0.9856474 * days) % 360
    longitude = np.radians(mean_longitude_deg + 1.915 * np.sin(anomaly) + 0.020 * np.sin(2 * anomaly))
    tilt = np.radians(23.439 - 0.0000004 * days)
    ascension_deg = np.degrees(np.arctan2(np.cos(tilt) * np.sin(longitude), np.cos(longitude)))
    declination = np.arcsin(np.sin(tilt) * np.sin(longitude))
    # Mean sidereal time at longitude 0: 280.46062 deg + 360.98564737 deg a day (same source).
    sidereal_deg = 280.46062 + 360.98564737 * days + place.longitude_deg
    turned = np.radians(sidereal_deg - ascension_deg)
    north = np.radians(place.latitude_deg)
    sine = np.sin(north) * np.sin(declination) + np.cos(north) * np.cos(declination) * np.cos(turned)
    altitude = np.arcsin(np.clip(sine, -1.0, 1.0))
    bearing = np.arctan2(
        -np.cos(declination) * np.sin(turned),
        np.sin(declination) * np.cos(north) - np.cos(declination) * np.cos(turned) * np.sin(north),
    )
    distance = 1.00014 - 0.01671 * np.cos(anomaly) - 0.00014 * np.cos(2 * anomaly)
    return SunPath(np.degrees(altitude), np.degrees(bearing) % 360, SOLAR_CONSTANT_W_M2 / distance**2)


def air_mass(altitude_deg: Hours) -> Hours:
    """How much more air the sun shines through than from overhead: Kasten & Young, Applied Optics 28 (1989) 4735."""
    up = np.maximum(altitude_deg, 0.0)
    return np.asarray(1.0 / (np.sin(np.radians(up)) + 0.50572 * (up + 6.07995) ** -1.6364), dtype=np.float64)


def clear_sky(sun: SunPath, altitude_m: float = 0.0, turbidity_factor: float = TURBIDITY) -> tuple[Hours, Hours, Hours]:
    """Global, beam and diffuse sunshine through a clear sky [W/m2]: level ground, square to the sun, level ground.

    Source: P. Ineichen & R. Perez, Solar Energy 73 (2002) 151-157.
    """
    sine = np.maximum(np.sin(np.radians(sun.altitude_deg)), 0.0)
    pressure_share = np.exp(-altitude_m / 8435.2)
    mass = air_mass(sun.altitude_deg) * pressure_share
    low, high = np.exp(-altitude_m / 8000.0), np.exp(-altitude_m / 1250.0)
    first, second = 5.09e-5 * altitude_m + 0.868, 3.92e-5 * altitude_m + 0.0387
    haze = turbidity_factor - 1.0
    level = first * sun.beyond_air_W_m2 * sine * np.exp(-second * mass * (low + high * haze))
    beam = (0.664 + 0.163 / low) * sun.beyond_air_W_m2 * np.exp(-0.09 * mass * haze)
    share = 1.0 - (0.1 - 0.2 * np.exp(-turbidity_factor)) / (0.1 + 0.882 / low)
    beam = np.where(sine > 0, np.minimum(beam, level * share / np.maximum(sine, 1e-9)), 0.0)
    return level, beam, level - beam * sine


def under_cloud(clear_W_m2: Hours, cloud_share: Hours) -> Hours:
    """Global sunshine left of a clear sky's where cloud takes a share of the bright hours [W/m2].

    Source: FAO-56 equation 35 (Angstrom), 0.25 + 0.50 n/N, against the 0.75 that it gives a clear day.
    """
    return np.asarray(clear_W_m2 * (0.25 + 0.50 * (1.0 - cloud_share)) / 0.75, dtype=np.float64)


def split_sunshine(global_W_m2: Hours, sun: SunPath) -> tuple[Hours, Hours]:
    """Beam (square to the sun) and diffuse (level) parts of a given global sunshine [W/m2].

    Source: D. Erbs, S. Klein & J. Duffie, Solar Energy 28 (1982) 293-302.
    """
    sine = np.maximum(np.sin(np.radians(sun.altitude_deg)), 0.0)
    most = sun.beyond_air_W_m2 * np.maximum(sine, 0.065)
    k = np.clip(global_W_m2 / most, 0.0, 1.0)
    middle = 0.9511 - 0.1604 * k + 4.388 * k**2 - 16.638 * k**3 + 12.336 * k**4
    share = np.where(k <= 0.22, 1.0 - 0.09 * k, np.where(k <= 0.80, middle, 0.165))
    diffuse = share * global_W_m2
    beam = np.where(sun.altitude_deg > 3.0, (global_W_m2 - diffuse) / np.maximum(sine, 0.05), 0.0)
    return beam, np.where(sun.altitude_deg > 3.0, diffuse, global_W_m2)


def shaded(sun: SunPath, place: Place) -> NDArray[np.bool_]:
    """Whether the sun stands behind the wall or fence."""
    wide_deg = (place.shade_to_deg - place.shade_from_deg) % 360
    within = (sun.bearing_deg - place.shade_from_deg) % 360 <= wide_deg
    return np.asarray(within & (sun.altitude_deg < place.shade_height_deg), dtype=np.bool_)


def middles(count: int) -> Hours:
    """The middles of the first `count` hours of the year."""
    return np.arange(count, dtype=np.float64) + 0.5
