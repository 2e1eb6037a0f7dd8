"""Saturation of moist air, and dew point from humidity."""

from __future__ import annotations

import numpy as np

from clochewright.site.types import Hours


def saturation_Pa(temperature_degC: Hours) -> Hours:
    """Vapour pressure of saturated air [Pa]: over water FAO-56 equation 11; below 0 degC over ice.

    The ice branch is Magnus's form with the constants of D. Murray, J. Applied Meteorology 6 (1967) 203-204, put to
    meet the water branch at 0 degC.
    """
    over_water = 610.8 * np.exp(17.27 * temperature_degC / (temperature_degC + 237.3))
    over_ice = 610.8 * np.exp(21.875 * temperature_degC / (temperature_degC + 265.5))
    return np.where(temperature_degC >= 0.0, over_water, over_ice)


def dew_point_degC(temperature_degC: Hours, humidity_share: Hours) -> Hours:
    """Dew point from the share of saturation over water: FAO-56 equation 11 turned round."""
    over = np.log(np.maximum(humidity_share, 1e-3)) + 17.27 * temperature_degC / (temperature_degC + 237.3)
    return np.asarray(237.3 * over / (17.27 - over), dtype=np.float64)
