"""The place: its sun, its sky, its weather from a file or drawn from monthly normals."""

from clochewright.site.drawing import draw_years
from clochewright.site.humidity import dew_point_degC, saturation_Pa
from clochewright.site.sky import (
    ZERO_K,
    SIGMA_W_m2_K4,
    SkyBook,
    sky_emissivity,
    sky_radiation_W_m2,
    sky_temperature_degC,
    wind_factor_at,
)
from clochewright.site.sorrel_yard import SORREL_YARD, SORREL_YARD_NORMALS
from clochewright.site.sun import SunPath, air_mass, clear_sky, middles, shaded, split_sunshine, sun_path, under_cloud
from clochewright.site.types import DAYS, HOURS, MONTH_DAYS, Hours, Normals, Place, Weather, WeatherFile, month_of_day
from clochewright.site.typical import normals_of
from clochewright.site.weather_file import read_weather, weather_from_text

__all__ = [
    "DAYS",
    "HOURS",
    "MONTH_DAYS",
    "SORREL_YARD",
    "SORREL_YARD_NORMALS",
    "ZERO_K",
    "Hours",
    "Normals",
    "Place",
    "SIGMA_W_m2_K4",
    "SkyBook",
    "SunPath",
    "Weather",
    "WeatherFile",
    "air_mass",
    "clear_sky",
    "dew_point_degC",
    "draw_years",
    "middles",
    "month_of_day",
    "normals_of",
    "read_weather",
    "saturation_Pa",
    "shaded",
    "sky_emissivity",
    "sky_radiation_W_m2",
    "sky_temperature_degC",
    "split_sunshine",
    "sun_path",
    "under_cloud",
    "weather_from_text",
    "wind_factor_at",
]
