"""Snow on a slope, by ASCE 7 and by EN 1991-1-3, and what snow weighs."""

from __future__ import annotations

from clochewright.measures import GRAVITY_M_S2
from clochewright.sources import Cited, Grade
from clochewright.strength.air import Code

PCF_KG_M3, PSF_Pa = 16.0185, 47.880

# Densities [kg/m3]: published alpine table.
FRESH_kg_m3 = Cited(100.0, 50.0, 200.0, Grade.PUBLISHED, "bound fresh snow, published alpine table of snow densities")
SETTLED_kg_m3 = Cited(250.0, 200.0, 400.0, Grade.PUBLISHED, "dry old snow, the same table")
WET_kg_m3 = Cited(400.0, 300.0, 500.0, Grade.PUBLISHED, "wet old snow, the same table")

# ASCE 7-16 7.3: an unheated cover, partly exposed, of low importance.
THERMAL, EXPOSED, IMPORTANCE = 1.2, 1.0, 0.8
FLAT = 0.7


def us_slope_factor(slope_deg: float, slippery: bool = True, thermal_factor: float = THERMAL) -> float:
    """C_s of a roof [1]: 1 up to a0, falling to 0 at 70 deg (ASCE 7-16 figure 7.4-1).

    a0 is 5, 10, 15 deg for slippery surfaces with nothing in the way and room for snow to land, by C_t = 1.0, 1.1, 1.2;
    30, 37.5 and 45 deg for all others.
    """
    step = 0 if thermal_factor <= 1.0 else 1 if thermal_factor <= 1.1 else 2
    start_deg = ((5.0, 10.0, 15.0) if slippery else (30.0, 37.5, 45.0))[step]
    return min(max((70.0 - slope_deg) / (70.0 - start_deg), 0.0), 1.0)


def us_roof_share(slope_deg: float, slippery: bool = True) -> float:
    """p_s / p_g = 0.7 C_e C_t I_s C_s, on plan (ASCE 7-16 equations 7.3-1 and 7.4-1)."""
    return FLAT * EXPOSED * THERMAL * IMPORTANCE * us_slope_factor(slope_deg, slippery)


def en_shape_factor(slope_deg: float, held: bool = False) -> float:
    """μ1: 0.8 up to 30 deg, falling to 0 at 60 (EN 1991-1-3 table 5.2); 0.8 where snow can't slide off (5.3.2(2))."""
    return 0.8 if held else 0.8 * min(max((60.0 - slope_deg) / 30.0, 0.0), 1.0)


def roof_share(code: Code, slope_deg: float, slides: bool = True) -> float:
    """Snow on the cover over snow on the ground, on plan [1]; `slides` where nothing keeps it from sliding off."""
    if code == "US":
        return us_roof_share(slope_deg, slides)
    return en_shape_factor(slope_deg, not slides)


def us_density_kg_m3(ground_Pa: float) -> float:
    """γ = 0.13 p_g + 14 <= 30 pcf (ASCE 7-16 equation 7.7-1; the cap from memory)."""
    return min(0.13 * ground_Pa / PSF_Pa + 14.0, 30.0) * PCF_KG_M3


def depth_m(pressure_Pa: float, density_kg_m3: float) -> float:
    """How deep snow of that density lies to weigh so much [m]."""
    return pressure_Pa / (density_kg_m3 * GRAVITY_M_S2)
