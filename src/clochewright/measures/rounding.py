"""Rounds once, half away from zero, without being led astray by the last bits of a float."""

from __future__ import annotations

import math
from typing import Literal

from clochewright.errors import MeasureError

Units = Literal["inch", "mm"]

# A value this near to half a step counts as half: sums of floats fall short of it by far less, no tape sees it.
_HALF_AND_A_HAIR = 0.5 + 1e-6


def whole_steps(steps: float) -> int:
    """The nearest whole number of steps, half away from zero.

    Raises:
        MeasureError: `steps` is infinite or not a number.
    """
    if not math.isfinite(steps):
        raise MeasureError("A figure came out without end or without sense, and can't be written down.")
    count = math.floor(abs(steps) + _HALF_AND_A_HAIR)
    return -count if steps < 0 else count


def decimal_text(value: float, places: int) -> str:
    """A number with at most so many decimals, no zeros left hanging, and never "-0"."""
    count = whole_steps(value * 10**places)
    whole, part = divmod(abs(count), 10**places)
    decimals = f".{part:0{places}d}".rstrip("0").rstrip(".") if places else ""
    return f"{'-' if count < 0 else ''}{whole}{decimals}"
