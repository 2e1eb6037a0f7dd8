"""Where the bed lies, what the months are like there, what is grown and who opens the cover."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from clochewright.plan.fields import BedSize, Clearance
from clochewright.plan.place_fields import AirTemperature, AltitudeField, Humidity, MeanWind, SunHours
from clochewright.plan.section import Section

Compass = Literal["north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"]
Opens = Literal["never", "morning-and-evening", "lunchtime", "wax-opener", "thermometer"]
Altitude = Annotated[float, AltitudeField(0.0, 5000.0, "below the sea", "above any garden", ("500 ft", "150 m"))]
# Sorrel Yard's months, which are invented, as examples of how twelve figures are written.
_HIGHS = [f"{degC} C" for degC in (0, 1.5, 7, 14, 20.5, 25, 27.5, 26.5, 22, 15, 8.5, 2.5)]
_LOWS = [f"{degC} C" for degC in (-9, -8.5, -3.5, 2, 7.5, 12.5, 15, 14, 10, 4, -0.5, -6)]
_DEWS = [f"{degC} C" for degC in (-8.5, -8, -4.5, 0.5, 7, 12, 15, 14.5, 10.5, 4.5, -1, -6)]
_WINDS = [f"{m_s} m/s" for m_s in (4.2, 4.2, 4.4, 4.3, 3.7, 3.3, 3, 2.9, 3.1, 3.5, 4, 4.1)]
_SUNS = [f"{hours} h" for hours in (3.2, 4.2, 5.2, 6.3, 7.5, 8.6, 9.1, 8.2, 6.5, 4.8, 3, 2.6)]
Jugs = Annotated[int, Field(strict=True, ge=0, le=200)]


class Shade(Section):
    """A wall, hedge or fence that takes sun and sky."""

    side: Compass = Field(description="On which side of the bed it stands.")
    height_m: Clearance = Field(alias="height", description="How high its top is above the bed's rim.")
    distance_m: BedSize = Field(alias="distance", description="How far it is from the middle of the bed.")


class MonthNormals(Section):
    """What the months are like, twelve figures each, January first: ask the weather service for climate normals."""

    high_degC: tuple[AirTemperature, ...] = Field(
        alias="high", examples=[_HIGHS], description="Mean high of each month."
    )
    low_degC: tuple[AirTemperature, ...] = Field(alias="low", examples=[_LOWS], description="Mean low of each month.")
    dew_degC: tuple[AirTemperature, ...] = Field(
        (), alias="dew", examples=[_DEWS], description="Mean dew point; or give humidity."
    )
    humidity_share: tuple[Humidity, ...] = Field((), alias="humidity", description="Mean humidity.")
    wind_m_s: tuple[MeanWind, ...] = Field(alias="wind", examples=[_WINDS], description="Mean wind.")
    sun_h_count: tuple[SunHours, ...] = Field(
        alias="sun", examples=[_SUNS], description="Hours of bright sunshine in a day."
    )


class Grow(Section):
    """What grows under the cover and who opens it."""

    crops: tuple[str, ...] = Field((), examples=[["lettuce", "tomato"]], description="What is grown, one to six crops.")
    opens: Opens = Field(
        "morning-and-evening",
        description="Who opens it: never, morning-and-evening (before and after work), lunchtime (looks in at noon, "
        "shuts in the evening), wax-opener, or thermometer (someone is there all day).",
    )
    open_at_degC: AirTemperature | None = Field(
        None, alias="open_at", examples=["68 F", "20 C"], description="Air inside at which it is opened."
    )
    shut_at_degC: AirTemperature | None = Field(
        None, alias="shut_at", examples=["59 F", "15 C"], description="Air inside at which it is shut again."
    )
    second_layer: Literal["none", "film", "fleece"] = Field("none", description="Second film, or fleece on the crop.")
    night_blanket: bool = Field(False, description="Whether a quilt or mat is laid over it on cold nights.")
    water_jugs: Jugs = Field(0, description="Jugs of water stood inside, 1 US gallon (3.8 litres) each.")
