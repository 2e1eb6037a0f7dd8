"""Kinds of value that say where a bed lies and how warm it is there."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Annotated, ClassVar

from typing_extensions import override

from clochewright.errors import MeasureError
from clochewright.measures import Units, foot, read_speed, read_temperature, show_speed, show_temperature
from clochewright.plan.fields import LengthField, Quantity, mistake, shown


def _text(value: object, thing: str, example: str) -> str:
    if isinstance(value, str):
        return value
    raise mistake(f"a {thing} is text with a unit.", f'Write it in quotes, such as "{example}".')


def _si(value: object, si: bool) -> bool:
    return si and isinstance(value, (int, float)) and not isinstance(value, bool)


@dataclass(frozen=True)
class TemperatureField(Quantity):
    """A temperature of air or soil [degC]."""

    examples: tuple[str, ...] = ("40 F", "-5 C")
    low_degC: float = -60.0
    high_degC: float = 60.0

    pattern: ClassVar[str] = r"^\s*[-−]?[0-9.].*[A-Za-z℃℉]\.?\s*$"

    @override
    def read(self, value: object, *, si: bool) -> float:
        """The temperature [degC]; a number is taken as degrees Celsius only where `si` says so."""
        if _si(value, si):
            degC, text = float(value), f"{value:g} C"  # type: ignore[arg-type]
        else:
            text = _text(value, "temperature", self.examples[0])
            try:
                degC = float(read_temperature(text))
            except (MeasureError, OverflowError) as error:
                raise mistake(str(error)) from None
        if not self.low_degC <= degC <= self.high_degC:
            raise mistake(f"{shown(text.strip())} is no weather on this earth.", 'Write it like "40 F" or "4 C".')
        return degC

    @override
    def write(self, value: float, units: Units) -> str:
        """The temperature as text, rounded where that is the same, else with decimals."""
        text = show_temperature(value, units)
        return text if abs(float(read_temperature(text)) - value) < 1e-6 else f"{value:.6g} C"


@dataclass(frozen=True)
class AltitudeField(LengthField):
    """A height above the sea [m], written in whole feet or metres where that is the same."""

    @override
    def write(self, value: float, units: Units) -> str:
        """The height in ft or m."""
        size_m, unit = (float(foot), "ft") if units == "inch" else (1.0, "m")
        return f"{value / size_m:.6g} {unit}"


@dataclass(frozen=True)
class WindField(Quantity):
    """A month's mean wind [m/s]."""

    examples: tuple[str, ...] = ("8 mph", "3.5 m/s")

    pattern: ClassVar[str] = r"^\s*[0-9.].*[A-Za-z]\.?\s*$"

    @override
    def read(self, value: object, *, si: bool) -> float:
        """The wind [m/s]; a number is taken as metres a second only where `si` says so."""
        if _si(value, si):
            m_s, text = float(value), f"{value:g} m/s"  # type: ignore[arg-type]
        else:
            text = _text(value, "wind", self.examples[0])
            try:
                m_s = float(read_speed(text))
            except (MeasureError, OverflowError) as error:
                raise mistake(str(error)) from None
        if not 0 <= m_s <= 25:
            raise mistake(f"{shown(text.strip())} is no month's mean wind.", "Means are some 1 to 8 m/s (2 to 18 mph).")
        return m_s

    @override
    def write(self, value: float, units: Units) -> str:
        """The wind as text, rounded where that is the same, else with decimals."""
        text = show_speed(value, units)
        return text if abs(float(read_speed(text)) - value) < 1e-6 else f"{value:.6g} m/s"


@dataclass(frozen=True)
class PlainField(Quantity):
    """A number with one unit of its own: hours of sun ("6.5 h"), a share of saturation ("75 %")."""

    unit: str
    high: float
    thing: str
    scale_factor: float
    examples: tuple[str, ...]

    pattern: ClassVar[str] = r"^\s*[0-9.]+\s*(h|%)\s*$"

    @override
    def read(self, value: object, *, si: bool) -> float:
        """The number, scaled; a bare number is taken only where `si` says so."""
        if _si(value, si):
            number = float(value) / self.scale_factor  # type: ignore[arg-type]
        else:
            text = _text(value, self.thing, self.examples[0])
            match = re.fullmatch(rf"\s*([0-9]+(?:\.[0-9]*)?|\.[0-9]+)\s*{re.escape(self.unit)}\s*", text)
            if not match or len(text) > 30:
                raise mistake(f"{shown(text)} is no {self.thing}.", f'Write it like "{self.examples[0]}".')
            number = float(match.group(1))
        if not 0 <= number <= self.high:
            raise mistake(f"{number:g} {self.unit} is no {self.thing}.", f"Give 0 to {self.high:g} {self.unit}.")
        return number * self.scale_factor

    @override
    def write(self, value: float, units: Units) -> str:
        """The number with its unit."""
        return f"{value / self.scale_factor:.10g} {self.unit}"


@dataclass(frozen=True)
class CompassField(Quantity):
    """A latitude or a longitude [deg], north and east positive: "44.1 N", "75 W"."""

    letters: str  # positive, negative
    most_deg: float
    thing: str
    examples: tuple[str, ...]

    pattern: ClassVar[str] = r"^\s*[0-9.]+\s*(°|deg)?\s*[NSEWnsew]\s*$"

    @override
    def read(self, value: object, *, si: bool) -> float:
        """The angle [deg]; a number is taken as degrees only where `si` says so."""
        if _si(value, si):
            degrees = float(value)  # type: ignore[arg-type]
        else:
            text = _text(value, self.thing, self.examples[0])
            form = rf"\s*([0-9]+(?:\.[0-9]*)?)\s*(?:°|deg)?\s*([{self.letters}])\s*"
            match = re.fullmatch(form, text, re.IGNORECASE) if len(text) <= 30 else None
            if not match:
                raise mistake(f"{shown(text)} is no {self.thing}.", f'Write it like "{self.examples[0]}".')
            degrees = float(match.group(1)) * (1 if match.group(2).upper() == self.letters[0] else -1)
        if not abs(degrees) <= self.most_deg:
            raise mistake(f"{degrees:g} degrees is no {self.thing}.", f"Give up to {self.most_deg:g} either way.")
        return degrees

    @override
    def write(self, value: float, units: Units) -> str:
        """The angle with its letter."""
        return f"{abs(value):.10g} {self.letters[0] if value >= 0 else self.letters[1]}"


AirTemperature = Annotated[float, TemperatureField()]
MeanWind = Annotated[float, WindField()]
SunHours = Annotated[float, PlainField("h", 24.0, "length of sunshine in a day", 1.0, ("6.5 h", "4 h"))]
Humidity = Annotated[float, PlainField("%", 100.0, "humidity", 0.01, ("75 %", "60 %"))]
Latitude = Annotated[float, CompassField("NS", 66.0, "latitude", ("44 N", "35.5 S"))]
Longitude = Annotated[float, CompassField("EW", 180.0, "longitude", ("75 W", "7.5 E"))]
