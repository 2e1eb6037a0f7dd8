"""Forces, and pressures of wind and snow."""

from __future__ import annotations

from fractions import Fraction

from clochewright.measures.rounding import Units, decimal_text
from clochewright.measures.scanner import Quantity, Unit, read_positive, spell, text_of

# Pound-force: 0.45359237 kg at 9.80665 m/s2, exactly (NIST SP 811, 2008, appendix B.8) [N].
_POUND_FORCE = Fraction(44_482_216_152_605, 10**13)
_KILOGRAM_FORCE = Fraction(980_665, 100_000)
GRAVITY_M_S2 = float(_KILOGRAM_FORCE)  # standard gravity, by which the kilogram-force is defined
_SQUARE_FOOT = Fraction(3048, 10_000) ** 2

FORCE = Quantity(
    noun="a force",
    spellings={
        **spell(Unit("N", Fraction(1)), "n, newton, newtons"),
        **spell(Unit("kN", Fraction(1000)), "kn, kilonewton, kilonewtons"),
        **spell(Unit("lbf", _POUND_FORCE), "lbf, pound-force, pounds-force, pounds force"),
        **spell(Unit("kgf", _KILOGRAM_FORCE), "kgf"),
    },
    hints=("{} lbf", "{} N"),
    example="10 lbf or 45 N",
)

PRESSURE = Quantity(
    noun="a pressure",
    spellings={
        **spell(Unit("Pa", Fraction(1)), "pa, n/m2, n/m^2, pascal, pascals"),
        **spell(Unit("kPa", Fraction(1000)), "kpa, kn/m2, kn/m^2, kilopascal, kilopascals"),
        **spell(Unit("psf", _POUND_FORCE / _SQUARE_FOOT), "psf, lbf/ft2, lb/ft2, lb/sq ft, pounds per square foot"),
    },
    hints=("{} psf", "{} Pa"),
    example="20 psf or 1 kN/m2",
)


def read_force(text: object) -> Fraction:
    """Reads a force such as `10 lbf` or `45 N`.

    Returns:
        The force [N], exactly.

    Raises:
        MeasureError: It is no force.
    """
    return read_positive(text_of(text, FORCE), FORCE)


def show_force(force_N: float, units: Units) -> str:
    """The force [N] as `12 lbf` (to a tenth below 10 lbf) or `53 N`."""
    if units == "mm":
        return f"{decimal_text(force_N, 0)} N"
    pounds = force_N / float(_POUND_FORCE)
    return f"{decimal_text(pounds, 1 if abs(pounds) < 10 else 0)} lbf"


def read_pressure(text: object) -> Fraction:
    """Reads a pressure such as `20 psf`, `960 Pa` or `1 kN/m2`.

    Returns:
        The pressure [Pa], exactly.

    Raises:
        MeasureError: It is no pressure.
    """
    return read_positive(text_of(text, PRESSURE), PRESSURE)


def show_pressure(pressure_Pa: float, units: Units) -> str:
    """The pressure [Pa] as `20 psf` (to a tenth) or `958 Pa`."""
    if units == "inch":
        return f"{decimal_text(pressure_Pa / float(_POUND_FORCE / _SQUARE_FOOT), 1)} psf"
    return f"{decimal_text(pressure_Pa, 0)} Pa"
