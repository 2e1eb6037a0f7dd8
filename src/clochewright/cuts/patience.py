"""How long to look for proof, counted in work and not by the clock: the same list comes out the same on any machine.

What each piece of work costs was measured on two cores of an ordinary machine; it need not be right, only the same
each time.
"""

from __future__ import annotations

RELAXED_US = 300.0  # the relaxed program solved once more
CELL_US = 0.009  # one cell of the table of fillings
FILLING_US = 15.0  # one filling found
PACKING_STEP_US = 2.0  # one step of the search stick by stick
COLUMN_US = 400.0  # one unknown of an integer program, most of which are settled at the root


class Patience:
    """Work that may still be spent [microseconds, about]."""

    def __init__(self, about_s: float) -> None:
        """Enough for about that long [s]."""
        self.left_us = about_s * 1e6

    def spend(self, cost_us: float) -> None:
        """Note work that was done."""
        self.left_us -= cost_us

    def allows(self, cost_us: float = 0.0) -> bool:
        """Whether work of that cost may still be begun."""
        return self.left_us > 0 and self.left_us >= cost_us
