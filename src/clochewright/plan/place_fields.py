"""Kinds of value that say where a bed lies and how warm it is there."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Annotated, ClassVar

from typing_extensions import override

from clochewright.measures import Units, foot, read_speed, read_temperature, show_speed, show_temperature
from clochewright.plan.fields import LengthField, Quantity, mistake, shown
from clochewright.plan.measured import Measured, plain_text, si_number


@dataclass(frozen=True)
class TemperatureField(Measured):
    """A temperature of air or soil [degC]."""

    examples: tuple[str, ...] = ("40 F", "-5 C")
    low_degC: float = -60.0
    high_degC: float = 60.0

    thing: ClassVar[str] = "temperature"
    unit: ClassVar[str] = "C"
    pattern: ClassVar[str] = r"^\s*[-−]?[0-9.].*[A-Za-z℃℉]\.?\s*$"

    @override
    def measure(self, text: str) -> float:
        return float(read_temperature(text))

    @override
    def tell(self, value: float, units: Units) -> str:
        return show_temperature(value, units)

    @override
    def fits(self, value: float) -> bool:
        return self.low_degC <= value <= self.high_degC

    @override
    def refused(self) -> tuple[str, str]:
        return "no weather on this earth", 'Write it like "40 F" or "4 C".'


@dataclass(frozen=True)
class AltitudeField(LengthField):
    """A height above the sea [m], written in whole feet or metres where that is the same."""

    @override
    def write(self, value: float, units: Units) -> str:
        """The height in ft or m."""
        size_m, unit = (float(foot), "ft") if units == "inch" else (1.0, "m")
        return f"{value / size_m:.6g} {unit}"


@dataclass(frozen=True)
class WindField(Measured):
    """A month's mean wind [m/s]."""

    examples: tuple[str, ...] = ("8 mph", "3.5 m/s")

    thing: ClassVar[str] = "wind"
    unit: ClassVar[str] = "m/s"

    @override
    def measure(self, text: str) -> float:
        return float(read_speed(text))

    @override
    def tell(self, value: float, units: Units) -> str:
        return show_speed(value, units)

    @override
    def fits(self, value: float) -> bool:
        return 0 <= value <= 25

    @override
    def refused(self) -> tuple[str, str]:
        return "no month's mean wind", "Means are some 1 to 8 m/s (2 to 18 mph)."


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
        given = si_number(value, si=si)
        if given is not None:
            number = given / self.scale_factor
        else:
            text = plain_text(value, self.thing, self.examples[0])
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
        given = si_number(value, si=si)
        if given is not None:
            degrees = given
        else:
            text = plain_text(value, self.thing, self.examples[0])
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
