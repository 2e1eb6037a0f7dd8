"""The kinds of value a plan holds: text with a unit in the file, SI inside, each with the range that makes sense.

A field's type carries how it is read, how it is written back and how it stands in the JSON Schema. Numbers that already
are SI are taken only where the caller says so (pydantic context `{"si": True}`), never from a file.
"""

from __future__ import annotations

import math
import re
from abc import ABC, abstractmethod
from dataclasses import dataclass
from decimal import Decimal
from typing import Annotated, Any, ClassVar

from pydantic import Field, GetCoreSchemaHandler, GetJsonSchemaHandler, PlainSerializer, ValidationInfo
from pydantic_core import CoreSchema, PydanticCustomError, core_schema
from typing_extensions import override

from clochewright.errors import MeasureError
from clochewright.measures import (
    Units,
    inch,
    read_angle,
    read_length,
    read_money,
    read_pressure,
    read_speed,
    show_angle,
    show_length,
    show_money,
    show_pressure,
    show_speed,
)

_SHOWN = 40  # characters of the user's own text that a message repeats
_NUMBER_AND_UNIT = re.compile(r"\s*([0-9][0-9 ./]*?)\s*([A-Za-z]+|[\"'])\s*")
# Units a length may have been meant in, the likelier first: within the system, and in the other one.
_MISTAKEN_FOR = {
    "ft": (("in",), ("m", "cm", "mm")),
    "in": (("ft",), ("mm", "cm")),
    "mm": (("cm", "m"), ("in",)),
    "cm": (("mm", "m"), ("in",)),
    "m": (("mm", "cm"), ("ft",)),
    "mil": ((), ("mm", "in")),
}
_SPELLINGS = {"'": "ft", '"': "in", "feet": "ft", "foot": "ft", "inch": "in", "inches": "in", "mils": "mil"}


def shown(value: object) -> str:
    """The user's own value as a message repeats it: on one line, no control characters, cut short if long."""
    if isinstance(value, (list, dict)):
        return kind_of(value)
    try:
        text = str(value).lower() if isinstance(value, bool) else str(value)
    except ValueError:  # an integer past Python's limit for printing
        text = "this number"
    clean = "".join(c if c.isprintable() else "\N{REPLACEMENT CHARACTER}" for c in text[: _SHOWN + 1])
    return clean if len(clean) <= _SHOWN else clean[: _SHOWN - 3] + "..."


def kind_of(value: object) -> str:
    """What a value from a plan file is, in words."""
    if isinstance(value, bool):
        return "true or false"
    if isinstance(value, (list, tuple)):
        return "a list"
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, (int, float)):
        return "a number"
    return "text" if isinstance(value, str) else "a date or time"


def mistake(what: str, mend: str = "") -> PydanticCustomError:
    """A mistake in one value, in words for the user."""
    return PydanticCustomError("plan", "{what}", {"what": what, "mend": mend})


def _text_of(value: object, thing: str, example: str) -> str:
    """The text a quantity is read from; refuses numbers, which have no unit, and everything that is no text."""
    if isinstance(value, str):
        return value
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        mend = f'Write the {thing} in quotes with its unit, such as "{example}".'
        raise mistake(f"{shown(value)} has no unit.", mend)
    raise mistake(f"a {thing} is text with a unit, not {kind_of(value)}.", f'Write it in quotes, such as "{example}".')


def _is_si(value: object) -> bool:
    return isinstance(value, (int, float)) and not isinstance(value, bool)


def _float_of(value: Any) -> float:
    try:
        return float(value)
    except OverflowError:
        return math.inf


class Quantity(ABC):
    """A kind of text-with-a-unit; stands in the metadata of a field's type, where pydantic and this room find it."""

    pattern: ClassVar[str]
    examples: tuple[str, ...]

    @abstractmethod
    def read(self, value: object, *, si: bool) -> Any:
        """The value in SI; PydanticCustomError with one plain sentence and a mend if it can't be."""

    @abstractmethod
    def write(self, value: Any, units: Units) -> str:
        """The text for a plan file."""

    def __get_pydantic_core_schema__(self, source: object, handler: GetCoreSchemaHandler) -> CoreSchema:
        def validate(value: object, info: ValidationInfo) -> Any:
            return self.read(value, si=bool(info.context and info.context.get("si")))

        return core_schema.with_info_plain_validator_function(validate)

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        return {"type": "string", "pattern": self.pattern, "examples": list(self.examples)}


@dataclass(frozen=True)
class LengthField(Quantity):
    """A length [m] between two limits; `above_low` leaves the lower one out. The words complete "8 ft is ..."."""

    low_m: float
    high_m: float
    too_small: str
    too_big: str
    examples: tuple[str, ...]
    above_low: bool = False

    # Begins with a figure, ends with a unit or a prime; the measures room has the last word.
    pattern: ClassVar[str] = r"^\s*[0-9.¼½¾⅐-⅟].*[A-Za-z'\"′″’”]\.?\s*$"

    @override
    def read(self, value: object, *, si: bool) -> float:
        """The length [m]; a number is taken as metres only where `si` says so."""
        if si and _is_si(value):
            length_m = _float_of(value)
            text = f"{length_m:g} m"
        else:
            text = _text_of(value, "length", self.examples[0])
            try:
                length_m = _float_of(read_length(text))
            except MeasureError as error:
                raise mistake(str(error)) from None
        if not self._fits(length_m):
            raise mistake(*self._out_of_range(text, length_m))
        return length_m

    @override
    def write(self, value: float, units: Units) -> str:
        """The length [m] as text: as a tape has it where that is the same within 0.02 mm, else with decimals."""
        text = show_length(value, units)
        if abs(_float_of(read_length(text)) - value) < 2e-5:
            return text
        return f"{value * 1000:.6g} mm" if units == "mm" else f"{value / inch:.6g} in"

    def _fits(self, length_m: float) -> bool:
        return (self.low_m < length_m if self.above_low else self.low_m <= length_m) and length_m <= self.high_m

    def _out_of_range(self, text: str, length_m: float) -> tuple[str, str]:
        if math.isnan(length_m):
            return "this is no length.", f'Write it with its unit, such as "{self.examples[0]}".'
        words = self.too_big if length_m > self.high_m else self.too_small
        guess = self._guess(text)
        return f"{shown(text.strip())} is {words}.", f'Did you mean "{guess}"?' if guess else self._limits()

    def _limits(self) -> str:
        high = f"{self.high_m:g} m" if self.high_m >= 1 else f"{self.high_m * 1000:g} mm"
        if self.above_low or self.low_m == 0:
            return f"It can be up to {high}."
        return f"It can be from {self.low_m:g} m to {high}."

    def _guess(self, text: str) -> str | None:
        """The same figure in another unit, or with a decimal point slipped, if that makes sense here."""
        match = _NUMBER_AND_UNIT.fullmatch(text) if len(text) <= _SHOWN else None
        if match is None:
            return None
        figure, unit = match.group(1).strip(), match.group(2).lower()
        unit = _SPELLINGS.get(unit, unit)
        near, far = _MISTAKEN_FOR.get(unit, ((), ()))
        slipped = [f"{int(figure) / part:g} {unit}" for part in (10, 100, 1000)] if figure.isdigit() else []
        guesses = [f"{figure} {other}" for other in near] + slipped + [f"{figure} {other}" for other in far]
        return next((guess for guess in guesses if self._makes_sense(guess)), None)

    def _makes_sense(self, text: str) -> bool:
        try:
            return self._fits(_float_of(read_length(text)))
        except MeasureError:
            return False


@dataclass(frozen=True)
class AngleField(Quantity):
    """An angle [deg] over 0 and under `most_deg`."""

    examples: tuple[str, ...] = ("45 deg", "30 deg")
    most_deg: float = 90.0

    pattern: ClassVar[str] = r"^\s*[0-9.].*(°|º|degs?|degrees?)\.?\s*$"

    @override
    def read(self, value: object, *, si: bool) -> float:
        """The angle [deg]; a number is taken as degrees only where `si` says so."""
        if si and _is_si(value):
            angle_deg = _float_of(value)
            text = f"{angle_deg:g} deg"
        else:
            text = _text_of(value, "angle", self.examples[0])
            try:
                angle_deg = _float_of(read_angle(text))
            except MeasureError as error:
                raise mistake(str(error)) from None
        if not 0 < angle_deg < self.most_deg:
            told = f"Give over 0 and under {self.most_deg:g} deg."
            raise mistake(f"{shown(text.strip())} is no slope that can be built.", told)
        return angle_deg

    @override
    def write(self, value: float, units: Units) -> str:
        """The angle [deg] as text, to a tenth where that is the same, else with decimals."""
        text = show_angle(value)
        return text if abs(_float_of(read_angle(text)) - value) < 1e-6 else f"{value:.6g} deg"


@dataclass(frozen=True)
class SpeedField(Quantity):
    """A speed of wind [m/s], over 0 and under `most_m_s`."""

    examples: tuple[str, ...] = ("50 mph", "22 m/s")
    most_m_s: float = 100.0

    pattern: ClassVar[str] = r"^\s*[0-9.].*[A-Za-z]\.?\s*$"

    @override
    def read(self, value: object, *, si: bool) -> float:
        """The speed [m/s]; a number is taken as metres a second only where `si` says so."""
        if si and _is_si(value):
            speed_m_s = _float_of(value)
            text = f"{speed_m_s:g} m/s"
        else:
            text = _text_of(value, "speed", self.examples[0])
            try:
                speed_m_s = _float_of(read_speed(text))
            except MeasureError as error:
                raise mistake(str(error)) from None
        if not 0 < speed_m_s < self.most_m_s:
            raise mistake(f"{shown(text.strip())} is no gust of wind.", f"Give over 0 and under {self.most_m_s:g} m/s.")
        return speed_m_s

    @override
    def write(self, value: float, units: Units) -> str:
        """The speed [m/s] as text, rounded where that is the same, else with decimals."""
        text = show_speed(value, units)
        return text if abs(_float_of(read_speed(text)) - value) < 1e-6 else f"{value:.6g} m/s"


@dataclass(frozen=True)
class PressureField(Quantity):
    """A load of snow [Pa], over 0 and under `most_Pa`."""

    examples: tuple[str, ...] = ("25 psf", "1.2 kN/m2")
    most_Pa: float = 50_000.0

    pattern: ClassVar[str] = r"^\s*[0-9.].*[A-Za-z2]\.?\s*$"

    @override
    def read(self, value: object, *, si: bool) -> float:
        """The load [Pa]; a number is taken as pascals only where `si` says so."""
        if si and _is_si(value):
            load_Pa = _float_of(value)
            text = f"{load_Pa:g} Pa"
        else:
            text = _text_of(value, "load", self.examples[0])
            try:
                load_Pa = _float_of(read_pressure(text))
            except MeasureError as error:
                raise mistake(str(error)) from None
        if not 0 < load_Pa < self.most_Pa:
            raise mistake(f"{shown(text.strip())} is no load of snow.", f"Give over 0 and under {self.most_Pa:g} Pa.")
        return load_Pa

    @override
    def write(self, value: float, units: Units) -> str:
        """The load [Pa] as text, rounded where that is the same, else with decimals."""
        text = show_pressure(value, units)
        return text if abs(_float_of(read_pressure(text)) - value) < 1e-6 * value else f"{value:.9g} Pa"


@dataclass(frozen=True)
class MoneyField(Quantity):
    """A price, exact, from nothing to 100,000."""

    examples: tuple[str, ...] = ("$4.50", "£3.20")

    pattern: ClassVar[str] = r"^[^0-9]*[0-9][0-9.,]*[^0-9]*$"  # a figure with a sign or a code on either side

    @override
    def read(self, value: object, *, si: bool) -> Decimal:
        """The amount; a number or a Decimal is taken only where `si` says so."""
        if si and isinstance(value, (int, float, Decimal)) and not isinstance(value, bool):
            amount = Decimal(str(value))
        else:
            try:
                amount = read_money(_text_of(value, "price", self.examples[0])).amount
            except MeasureError as error:
                raise mistake(str(error)) from None
        if not (amount.is_finite() and 0 <= amount <= 100_000):
            raise mistake(f"{shown(value)} is no price for a pipe or a fitting.", "Give 0 to 100000.")
        return amount

    @override
    def write(self, value: Decimal, units: Units) -> str:
        """The amount as text; the sign is only there to be read, the plan's currency is what is printed."""
        return show_money(value)


BedSize = Annotated[
    float, LengthField(0.2, 20.0, "too small for a bed", "longer than any bed", ("8 ft", "3 ft 10 in", "2.4 m"))
]
Span = Annotated[
    float, LengthField(0.0, 50.0, "too short", "far too long", ("4 ft", "46 1/2 in", "1200 mm"), above_low=True)
]
Clearance = Annotated[float, LengthField(0.0, 10.0, "too short", "far too long", ("12 in", "0 in", "300 mm"))]
Depth = Annotated[
    float, LengthField(0.0, 0.5, "too little to measure", "far too deep", ("1 in", "13/16 in", "25 mm"), above_low=True)
]
Thickness = Annotated[float, LengthField(0.0, 0.5, "too thin", "far too thick", ("1 1/2 in", "38 mm"), above_low=True)]
Kerf = Annotated[float, LengthField(0.0, 0.02, "too thin", "wider than any saw cuts", ("1/8 in", "0 in", "3 mm"))]
AngleDeg = Annotated[float, AngleField()]
FootAngle = Annotated[float, AngleField(examples=("90 deg", "75 deg"), most_deg=110.0)]
GustSpeed = Annotated[float, SpeedField()]
Sections = Annotated[int, Field(strict=True, ge=1, le=6)]
MoneyAmount = Annotated[
    Decimal, MoneyField(), PlainSerializer(lambda amount: float(amount), return_type=float, when_used="json")
]
SnowLoad = Annotated[float, PressureField()]
Count = Annotated[int, Field(strict=True, ge=1, le=1000)]
Months = Annotated[int, Field(strict=True, ge=0, le=600)]
Tears = Annotated[int, Field(strict=True, ge=0, le=1000)]
Bents = Annotated[int, Field(strict=True, ge=2, le=100)]
