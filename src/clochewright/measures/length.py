"""Lengths: read exactly as makers write them, shown to the nearest 1/16 in or 1 mm."""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from typing import Literal

from clochewright.measures.rounding import Units, whole_steps
from clochewright.measures.scanner import Quantity, Unit, add_up, refuse_negative, scan, spell, text_of

Style = Literal["plain", "long"]

# International inch and foot, exactly (agreement of 1959; NIST SP 811, 2008, appendix B.6) [m].
inch = 0.0254
foot = 0.3048

_INCH = Fraction(254, 10_000)

LENGTH = Quantity(
    noun="a length",
    spellings={
        **spell(Unit("imperial", 36 * _INCH), "yd, yds, yard, yards"),
        **spell(Unit("imperial", 12 * _INCH), "ft, foot, feet, '"),
        **spell(Unit("imperial", _INCH), 'in, ins, inch, inches, "'),
        **spell(Unit("metric", Fraction(1)), "m, metre, metres, meter, meters"),
        **spell(Unit("metric", Fraction(1, 100)), "cm, centimetre, centimetres, centimeter, centimeters"),
        **spell(Unit("metric", Fraction(1, 1000)), "mm, millimetre, millimetres, millimeter, millimeters"),
        # Thickness of film. A mil is 1/1000 in (NIST SP 811, B.8).
        **spell(Unit("mil", _INCH / 1000), "mil, mils, thou"),
        **spell(Unit("micron", Fraction(1, 10**6)), "um, micron, microns, micrometre, micrometres, micrometers"),
        # UK film gauge: four to the micron. Common practice, no source.
        **spell(Unit("gauge", Fraction(1, 4 * 10**6)), "gauge"),
    },
    hints=("{} in", "{} mm"),
    example="46 1/2 in or 1200 mm",
)


def read_length(text: object, *, may_be_negative: bool = False) -> Fraction:
    """Reads a length such as `8 ft`, `5' 6-1/2"`, `46 1/2 in`, `1.2 m`, `1200 mm`, `4 mil` or `600 gauge`.

    Args:
        text: What stands in the plan; anything but text is refused, a bare number with a hint.
        may_be_negative: Whether a minus before the whole is taken; it is refused otherwise.

    Returns:
        The length [m], exactly.

    Raises:
        MeasureError: It is no length; the text is one plain sentence with what to write instead.
    """
    written = text_of(text, LENGTH)
    length_m = _read(written)
    return length_m if may_be_negative else refuse_negative(length_m, written, LENGTH)


@lru_cache(maxsize=4096)
def _read(text: str) -> Fraction:
    return add_up(scan(text, LENGTH), text, LENGTH)


def round_length(length_m: float, units: Units) -> float:
    """The length to the nearest 1/16 in or 1 mm, half away from zero.

    Args:
        length_m: The length [m].
        units: "inch" or "mm".

    Returns:
        The rounded length [m].

    Raises:
        MeasureError: The length is infinite or not a number.
    """
    if units == "inch":
        return _sixteenths(length_m) * 254 / 160_000  # whole numbers up to the last step: no float noise added
    return whole_steps(length_m * 1000) / 1000


def show_length(length_m: float, units: Units, *, style: Style = "plain") -> str:
    """The length as people write it: `46 1/2 in`, long `3 ft 10 1/2 in`, or `1181 mm`.

    Args:
        length_m: The length [m].
        units: "inch" (to the nearest 1/16 in) or "mm" (to the nearest 1 mm).
        style: "plain" for inches alone, "long" for feet and inches; millimetres look the same in both.

    Raises:
        MeasureError: The length is infinite or not a number.
    """
    if units == "mm":
        return f"{whole_steps(length_m * 1000)} mm"
    sixteenths = _sixteenths(length_m)
    minus = "-" if sixteenths < 0 else ""
    feet, rest = divmod(abs(sixteenths), 12 * 16) if style == "long" else (0, abs(sixteenths))
    if feet and not rest:
        return f"{minus}{feet} ft"
    return f"{minus}{f'{feet} ft ' if feet else ''}{_inches(rest)} in"


def _sixteenths(length_m: float) -> int:
    return whole_steps(length_m * 16 / inch)


def _inches(sixteenths: int) -> str:
    """A count of sixteenths as `46 1/2`, `3/4` or `0`."""
    whole, part = divmod(sixteenths, 16)
    if not part:
        return str(whole)
    fraction = Fraction(part, 16)
    return f"{whole} {fraction}" if whole else str(fraction)
