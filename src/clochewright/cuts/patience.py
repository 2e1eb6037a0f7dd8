"""How long to look for proof, counted in work and not by the clock: the same list comes out the same on any machine.

What each piece of work costs was measured on two cores of an ordinary machine; it need not be right, only the same
each time.
"""

from __future__ import annotations

RELAXED_S = 300e-6  # the relaxed program solved once more
CELL_S = 0.009e-6  # one cell of the table of fillings
FILLING_S = 15e-6  # one filling found
PACKING_STEP_S = 2e-6  # one step of the search stick by stick
COLUMN_S = 400e-6  # one unknown of an integer program, most of which are settled at the root


class Patience:
    """Work that may still be spent [s, about]."""

    def __init__(self, about_s: float) -> None:
        """Enough for about that long [s]."""
        self.left_s = about_s

    def spend(self, cost_s: float) -> None:
        """Note work that was done."""
        self.left_s -= cost_s

    def allows(self, cost_s: float = 0.0) -> bool:
        """Whether work of that cost may still be begun."""
        return self.left_s > 0 and self.left_s >= cost_s
