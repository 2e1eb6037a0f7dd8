"""Monthly normals read off a year of hours, so that many years can be drawn about it."""

from __future__ import annotations

import numpy as np

from clochewright.site.sun import clear_sky, middles, sun_path
from clochewright.site.types import DAYS, HOURS, Hours, Normals, Place, Weather, month_of_day

LEAST_SPREAD_K, MOST_SPREAD_K = 2.0, 5.0  # of day means about the month's, wherever it is (assumption)


def normals_of(weather: Weather, place: Place) -> Normals:
    """Twelve monthly normals of some hours of weather, with how much its days stray.

    Sunshine hours come from the global sunshine against the clear sky's, by the formula that `under_cloud` draws with
    (FAO-56 equation 35). One year's months are not a place's normals: a mild January stays mild in all drawn years.
    """
    months = month_of_day()
    air = weather.air_degC.reshape(-1, DAYS, 24)
    path = sun_path(place, middles(HOURS))
    clear = clear_sky(path, place.altitude_m)[0].reshape(DAYS, 24).sum(axis=1)
    got = weather.global_W_m2.reshape(-1, DAYS, 24).sum(axis=2).mean(axis=0)
    long_h = (path.altitude_deg > 0).reshape(DAYS, 24).sum(axis=1)

    def by_month(days: Hours) -> tuple[float, ...]:
        return tuple(float(days[..., months == m].mean()) for m in range(12))

    light = [float(got[months == m].sum() / max(clear[months == m].sum(), 1.0)) for m in range(12)]
    sun_h = [
        float(np.clip((0.75 * share - 0.25) / 0.5, 0.05, 0.95) * long_h[months == m].mean())
        for m, share in enumerate(light)
    ]
    means = air.mean(axis=2)
    stray = float(np.std(means - np.asarray(by_month(means))[months]))
    return Normals(
        high_degC=by_month(air.max(axis=2)),
        low_degC=by_month(air.min(axis=2)),
        dew_degC=by_month(weather.dew_degC.reshape(-1, DAYS, 24).mean(axis=2)),
        wind_m_s=by_month(weather.wind_m_s.reshape(-1, DAYS, 24).mean(axis=2)),
        sun_h_count=tuple(sun_h),
        spread_K=float(np.clip(stray, LEAST_SPREAD_K, MOST_SPREAD_K)),
    )
