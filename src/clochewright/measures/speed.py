"""Speeds, of wind mostly."""

from __future__ import annotations

from fractions import Fraction

from clochewright.measures.rounding import Units, decimal_text
from clochewright.measures.scanner import Quantity, Unit, read_positive, spell, text_of

# International mile of 1609.344 m and nautical mile of 1852 m, exactly (NIST SP 811, 2008, appendix B.8) [m/s].
_MILE_PER_HOUR = Fraction(44_704, 100_000)
_KNOT = Fraction(1852, 3600)
_KM_PER_HOUR = Fraction(1000, 3600)

SPEED = Quantity(
    noun="a speed",
    spellings={
        **spell(Unit("mph", _MILE_PER_HOUR), "mph, mi/h, mile per hour, miles per hour"),
        **spell(Unit("m/s", Fraction(1)), "m/s, mps, metre per second, metres per second, meters per second"),
        **spell(Unit("km/h", _KM_PER_HOUR), "km/h, kmh, kph, kilometres per hour, kilometers per hour"),
        **spell(Unit("knot", _KNOT), "knot, knots, kn, kt, kts"),
    },
    hints=("{} mph", "{} m/s"),
    example="35 mph or 15 m/s",
)


def read_speed(text: object) -> Fraction:
    """Reads a speed such as `35 mph`, `15 m/s`, `50 km/h` or `30 knots`.

    Returns:
        The speed [m/s], exactly.

    Raises:
        MeasureError: It is no speed.
    """
    return read_positive(text_of(text, SPEED), SPEED)


def show_speed(speed_m_s: float, units: Units) -> str:
    """The speed [m/s] as `34 mph` or `15.2 m/s`."""
    if units == "inch":
        return f"{decimal_text(speed_m_s / float(_MILE_PER_HOUR), 0)} mph"
    return f"{decimal_text(speed_m_s, 1)} m/s"
