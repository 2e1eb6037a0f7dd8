"""A place and the hours of weather over it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from clochewright.findings import Finding

Hours = NDArray[np.float64]

HOURS = 8760
DAYS = 365
MONTH_DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)


@dataclass(frozen=True, slots=True)
class Place:
    """Where the bed lies.

    `utc_offset_h_count` is how many hours its standard time is ahead of universal time; `wind_share` the share of open
    country's wind, at the same height, that reaches the bed; `shade_from_deg` and `shade_to_deg` the bearings between
    which a wall or a fence stands (clockwise from north), `shade_height_deg` how high its top stands over the bed.
    """

    name: str
    latitude_deg: float
    longitude_deg: float
    utc_offset_h_count: float
    altitude_m: float = 0.0
    wind_share: float = 0.4
    shade_from_deg: float = 0.0
    shade_to_deg: float = 0.0
    shade_height_deg: float = 0.0


@dataclass(frozen=True, slots=True)
class Weather:
    """Hours of weather, one row for each year: arrays of shape (years, 8760), row k covers the hour k to k + 1.

    Hours are counted in local standard time from 1 January, 0:00. Air, dew point, wind, cloud are read at the end of
    the hour; sunshine is the mean over it: both conventions of weather files come to this (see weather_file.py).
    `wind_m_s` is at 10 m in open country; `cloud_share` 0 clear to 1 overcast; `sky_W_m2` is what the sky radiates
    down, None where it was not measured.
    """

    air_degC: Hours
    dew_degC: Hours
    wind_m_s: Hours
    cloud_share: Hours
    global_W_m2: Hours
    beam_W_m2: Hours
    diffuse_W_m2: Hours
    sky_W_m2: Hours | None
    source: str

    @property
    def years(self) -> int:
        """How many years it holds."""
        return int(self.air_degC.shape[0])

    def year(self, first: int, last: int | None = None) -> Weather:
        """The years from `first` up to, not including, `last` (one year if left out)."""
        rows = slice(first, first + 1 if last is None else last)
        parts: dict[str, Any] = {
            name: getattr(self, name)[rows]
            for name in ("air_degC", "dew_degC", "wind_m_s", "cloud_share", "global_W_m2", "beam_W_m2", "diffuse_W_m2")
        }
        return Weather(**parts, sky_W_m2=None if self.sky_W_m2 is None else self.sky_W_m2[rows], source=self.source)


@dataclass(frozen=True, slots=True)
class WeatherFile:
    """What was read from a weather file. `weather` is None where it can't be used; the findings say why, by line."""

    place: Place | None
    weather: Weather | None
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class Normals:
    """Twelve monthly normals, January first, each a tuple of twelve.

    `sun_h_count` are hours of bright sunshine a day; `spread_K` is how much one day's mean strays from the month's.
    """

    high_degC: tuple[float, ...]
    low_degC: tuple[float, ...]
    dew_degC: tuple[float, ...]
    wind_m_s: tuple[float, ...]
    sun_h_count: tuple[float, ...]
    spread_K: float = 3.5


def month_of_day() -> NDArray[np.int64]:
    """The month, 0 to 11, of each day of a year without a leap day."""
    return np.repeat(np.arange(12), MONTH_DAYS)
