"""How hard the wind blows down at a garden bed: pressure from gust, by ASCE 7 and by EN 1991-1-4.

A gust here is a 3 s gust 10 m (33 ft) up over open country, as maps and forecasts give it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from clochewright.sources import Cited, Grade

Code = Literal["US", "EN"]
Exposure = Literal["sheltered", "open", "coast"]

HALF_AIR_KG_M3 = 0.613  # ASCE 7-16, equation 26.10-1-SI
DIRECTIONALITY = Cited(0.85, 0.85, 1.0, Grade.PUBLISHED, "ASCE 7-16 table 26.6-1, buildings; high: the worst direction")
GUST_EFFECT = 0.85  # ASCE 7-16, 26.11.1, rigid
LOWEST_M = 4.57  # 15 ft: ASCE 7 takes nothing lower
EN_AIR_KG_M3 = 1.25  # EN 1991-1-4, 4.5 note 2


@dataclass(frozen=True, slots=True)
class Country:
    """One exposure: ASCE's letter with α and z_g [m] (7-05 to 7-16), EN's terrain with z0 and z_min [m] (table 4.1)."""

    letter: str
    power_ratio: float
    top_m: float
    terrain: str
    rough_m: float
    least_m: float


COUNTRIES: dict[Exposure, Country] = {
    "sheltered": Country("B", 7.0, 365.76, "III", 0.3, 5.0),
    "open": Country("C", 9.5, 274.32, "II", 0.05, 2.0),
    "coast": Country("D", 11.5, 213.36, "0", 0.003, 1.0),
}


def height_factor(height_m: float, exposure: Exposure) -> float:
    """K_z = 2.01 (z/z_g)^(2/α), z not below 15 ft (ASCE 7-16 table 26.10-1, note 1)."""
    country = COUNTRIES[exposure]
    return float(2.01 * (max(height_m, LOWEST_M) / country.top_m) ** (2 / country.power_ratio))


def us_pressure_Pa(gust_m_s: float, exposure: Exposure, directionality_factor: float = 0.85) -> float:
    """Velocity pressure q = 0.613 K_z K_zt K_d K_e V² [Pa], flat land at sea level (ASCE 7-16, equation 26.10-1-SI)."""
    return HALF_AIR_KG_M3 * height_factor(0.0, exposure) * directionality_factor * gust_m_s**2


def exposure_factor(height_m: float, exposure: Exposure) -> float:
    """c_e = q_p / q_b at a height [m] (EN 1991-1-4, 4.3 to 4.5), flat land."""
    country = COUNTRIES[exposure]
    slope = math.log(max(height_m, country.least_m) / country.rough_m)
    mean = 0.19 * (country.rough_m / 0.05) ** 0.07 * slope
    return float(mean**2 * (1 + 7 / slope))


def en_pressure_Pa(gust_m_s: float, exposure: Exposure) -> float:
    """Peak pressure at the bed [Pa]: the mean wind that EN's open country turns into this gust, brought down."""
    mean_pressure_Pa = EN_AIR_KG_M3 / 2 * gust_m_s**2 / exposure_factor(10.0, "open")
    return mean_pressure_Pa * exposure_factor(1.0, exposure)


def gust_pressure_Pa(code: Code, gust_m_s: float, exposure: Exposure, directionality_factor: float = 0.85) -> float:
    """Pressure at the bed [Pa] by either code; grows with the square of the gust."""
    if code == "US":
        return us_pressure_Pa(gust_m_s, exposure, directionality_factor)
    return en_pressure_Pa(gust_m_s, exposure)
