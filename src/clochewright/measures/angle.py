"""Angles, in degrees."""

from __future__ import annotations

from fractions import Fraction

from clochewright.measures.rounding import decimal_text
from clochewright.measures.scanner import Quantity, Unit, read_positive, spell, text_of

ANGLE = Quantity(
    noun="an angle",
    spellings=spell(Unit("degree", Fraction(1)), "°, deg, degs, degree, degrees"),
    hints=("{} deg",),
    example="45 deg or 22.5 deg",
)


def read_angle(text: object) -> Fraction:
    """Reads an angle such as `45 deg`, `45°` or `22.5 degrees`.

    Returns:
        The angle [deg], exactly.

    Raises:
        MeasureError: It is no angle.
    """
    return read_positive(text_of(text, ANGLE), ANGLE)


def show_angle(angle_deg: float) -> str:
    """The angle [deg] to a tenth of a degree: `45°`, `22.5°`."""
    return f"{decimal_text(angle_deg, 1)}°"
