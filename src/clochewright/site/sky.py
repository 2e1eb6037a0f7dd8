"""What the sky radiates down, by three readings of the literature, and the wind at a low cover."""

from __future__ import annotations

import math
from typing import Literal

import numpy as np

from clochewright.site.types import Hours

SIGMA_W_m2_K4 = 5.670374419e-8  # CODATA 2018
ZERO_K = 273.15
SkyBook = Literal["clark-allen", "berdahl-martin", "between"]


def sky_emissivity(dew_degC: Hours, cloud_share: Hours, book: SkyBook = "between") -> Hours:
    """How black the sky is, 0 to 1.

    "clark-allen": G. Clark & C. Allen, 2nd National Passive Solar Conference, 1978, with the cloud term that goes
    with it in building simulation programs. "berdahl-martin": P. Berdahl & M. Martin, Solar Energy 32 (1984) 663-664;
    its cloud term is an assumption (clouds fill 0.85 of the gap to black). They differ by 5 to 8 K in sky temperature
    on a clear cold night; "between" is the mean of the two.
    """
    if book == "clark-allen":
        n = 10.0 * cloud_share
        clear = 0.787 + 0.764 * np.log((dew_degC + ZERO_K) / 273.0)
        return np.minimum(clear * (1.0 + 0.0224 * n - 0.0035 * n**2 + 0.00028 * n**3), 1.0)
    if book == "berdahl-martin":
        hundredths = dew_degC / 100.0
        clear = 0.711 + 0.56 * hundredths + 0.73 * hundredths**2
        return np.minimum(clear + (1.0 - clear) * 0.85 * cloud_share, 1.0)
    both = sky_emissivity(dew_degC, cloud_share, "clark-allen") + sky_emissivity(
        dew_degC, cloud_share, "berdahl-martin"
    )
    return np.asarray(both / 2.0, dtype=np.float64)


def sky_radiation_W_m2(air_degC: Hours, dew_degC: Hours, cloud_share: Hours, book: SkyBook = "between") -> Hours:
    """What a level surface gets from the whole sky [W/m2]."""
    emissivity = sky_emissivity(dew_degC, cloud_share, book)
    return np.asarray(emissivity * SIGMA_W_m2_K4 * (air_degC + ZERO_K) ** 4, dtype=np.float64)


def sky_temperature_degC(radiation_W_m2: Hours) -> Hours:
    """The temperature of a black sky that radiates as much."""
    return np.asarray((radiation_W_m2 / SIGMA_W_m2_K4) ** 0.25 - ZERO_K, dtype=np.float64)


def wind_factor_at(height_m: float, wind_share: float) -> float:
    """Share of the wind at 10 m in open country that blows at a height near the ground, behind shelter.

    Logarithmic profile over short grass, roughness 0.03 m (from memory, any handbook of boundary layers); the share
    that passes hedges and fences, 0.3 to 0.5, is an assumption.
    """
    return wind_share * math.log(max(height_m, 0.1) / 0.03) / math.log(10.0 / 0.03)
