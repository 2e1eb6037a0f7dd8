"""Temperatures, and differences between them."""

from __future__ import annotations

from fractions import Fraction

from clochewright.errors import MeasureError
from clochewright.measures.rounding import Units, decimal_text
from clochewright.measures.scanner import Quantity, Unit, no_sense, quoted, scan, spell, text_of

TEMPERATURE = Quantity(
    noun="a temperature",
    spellings={
        **spell(Unit("F", Fraction(5, 9)), "f, °f, ° f, degf, deg f, degrees f, fahrenheit, degrees fahrenheit"),
        **spell(Unit("C", Fraction(1)), "c, °c, ° c, ℃, degc, deg c, degrees c, celsius, degrees celsius"),
    },
    hints=("{} F", "{} C"),
    example="40 F or 4 C",
)

_COLDEST_degC = Fraction(-27315, 100)  # absolute zero (the SI brochure, 9th edition, 2.3.1)


def read_temperature(text: object) -> Fraction:
    """Reads a temperature such as `40 F`, `4 °C` or `-5 degC`.

    Returns:
        The temperature [degC], exactly.

    Raises:
        MeasureError: It is no temperature, or colder than anything can be.
    """
    written = text_of(text, TEMPERATURE)
    reading = scan(written.replace("℉", "F"), TEMPERATURE)
    if len(reading.terms) != 1:
        raise no_sense(written, TEMPERATURE)
    term = reading.terms[0]
    degrees = -term.amount if reading.negative else term.amount
    temperature_degC = (degrees - 32) * term.unit.size if term.unit.family == "F" else degrees
    if temperature_degC < _COLDEST_degC:
        raise MeasureError(f"{quoted(written)} is colder than anything can be; write it like {TEMPERATURE.example}.")
    return temperature_degC


def show_temperature(temperature_degC: float, units: Units) -> str:
    """The temperature [degC] as `40 °F` or `4.5 °C`."""
    if units == "inch":
        return f"{decimal_text(temperature_degC * 9 / 5 + 32, 0)} °F"
    return f"{decimal_text(temperature_degC, 1)} °C"


def show_temperature_difference(difference_K: float, units: Units) -> str:
    """A difference of temperature [K] as `9 °F` or `5 °C`: how much warmer, not how warm."""
    if units == "inch":
        return f"{decimal_text(difference_K * 9 / 5, 0)} °F"
    return f"{decimal_text(difference_K, 1)} °C"
