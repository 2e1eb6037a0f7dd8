"""Moving lettering aside, as little as it takes to keep it apart."""

from __future__ import annotations

from collections.abc import Sequence


def spread(wanted_mm: Sequence[float], widths_mm: Sequence[float], low_mm: float, high_mm: float) -> list[float]:
    """Middles of boxes of those widths, in their order, clear of each other and within `low_mm` to `high_mm`.

    Where they can't all fit, they run out past `low_mm`.
    """
    stands = list(wanted_mm)
    reached = low_mm
    for k, width in enumerate(widths_mm):  # to the right, as far as the neighbour on the left asks
        stands[k] = max(stands[k], reached + width / 2)
        reached = stands[k] + width / 2
    reached = high_mm
    for k in range(len(stands) - 1, -1, -1):  # and back, where that ran off the end
        stands[k] = min(stands[k], reached - widths_mm[k] / 2)
        reached = stands[k] - widths_mm[k] / 2
    return stands
