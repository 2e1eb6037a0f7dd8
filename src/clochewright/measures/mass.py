"""Masses, which people call weights."""

from __future__ import annotations

from fractions import Fraction

from clochewright.measures.rounding import Units, decimal_text
from clochewright.measures.scanner import Quantity, Unit, read_positive, spell, text_of

# International pound, exactly (agreement of 1959; NIST SP 811, 2008, appendix B.8) [kg].
_POUND = Fraction(45_359_237, 100_000_000)

MASS = Quantity(
    noun="a weight",
    spellings={
        **spell(Unit("metric", Fraction(1)), "kg, kgs, kilo, kilos, kilogram, kilograms"),
        **spell(Unit("metric", Fraction(1, 1000)), "g, gram, grams"),
        **spell(Unit("imperial", _POUND), "lb, lbs, pound, pounds"),
        **spell(Unit("imperial", _POUND / 16), "oz, ounce, ounces"),
    },
    hints=("{} lb", "{} kg"),
    example="3 lb 4 oz or 1.5 kg",
)


def read_mass(text: object) -> Fraction:
    """Reads a mass such as `1.5 kg`, `400 g` or `3 lb 4 oz`.

    Returns:
        The mass [kg], exactly.

    Raises:
        MeasureError: It is no mass.
    """
    return read_positive(text_of(text, MASS), MASS)


def show_mass(mass_kg: float, units: Units) -> str:
    """The mass [kg] as `12.3 lb` or `5.6 kg`, and below one of them as `4.5 oz` or `120 g`."""
    if units == "inch":
        pounds = mass_kg / float(_POUND)
        return f"{decimal_text(pounds * 16, 1)} oz" if 0 < abs(pounds) < 0.95 else f"{decimal_text(pounds, 1)} lb"
    return f"{decimal_text(mass_kg * 1000, 0)} g" if 0 < abs(mass_kg) < 0.9995 else f"{decimal_text(mass_kg, 1)} kg"
