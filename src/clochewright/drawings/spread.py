"""Moving lettering aside, as little as it takes to keep it apart."""

from __future__ import annotations

from collections.abc import Sequence


def spread(wanted: Sequence[float], widths: Sequence[float], low: float, high: float) -> list[float]:
    """Middles of boxes of those widths, in their order, clear of each other and within `low` to `high` [mm].

    Where they can't all fit, they run out past `low`.
    """
    stands = list(wanted)
    reached = low
    for k, width in enumerate(widths):  # to the right, as far as the neighbour on the left asks
        stands[k] = max(stands[k], reached + width / 2)
        reached = stands[k] + width / 2
    reached = high
    for k in range(len(stands) - 1, -1, -1):  # and back, where that ran off the end
        stands[k] = min(stands[k], reached - widths[k] / 2)
        reached = stands[k] - widths[k] / 2
    return stands
