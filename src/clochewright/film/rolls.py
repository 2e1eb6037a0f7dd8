"""Which roll the sheet comes off; joined from strips where no roll is wide enough."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from clochewright.catalogue import FilmRoll
from clochewright.film.types import Roll, Sheet

# Common practice, no source: 100 to 150 mm, taped on both sides, the upper strip lapping away from the wind.
LAP_M = 0.125
_HARDLY = 1e-6


@dataclass(frozen=True, slots=True)
class Choice:
    """A roll, how many of them, and the strips that come off it."""

    roll: Roll
    strips: tuple[Sheet, ...]

    @property
    def bought_m2(self) -> float:
        """Film bought [m2]."""
        return self.roll.area_m2 * self.roll.count


def choose_roll(rolls: Sequence[FilmRoll], length_m: float, width_m: float) -> Choice | None:
    """The roll with the fewest joins in the sheet, and among those the one that leaves least.

    Args:
        rolls: the rolls for sale.
        length_m: sheet along the bed [m].
        width_m: sheet over the bed [m].

    Returns:
        The choice, or None where no roll is even long enough for one strip.
    """
    choices = [choice for roll in rolls for choice in _ways(roll, length_m, width_m)]
    if not choices:
        return None
    return min(
        choices,
        key=lambda choice: (len(choice.strips), choice.bought_m2, choice.roll.across),
    )


def _ways(sold: FilmRoll, length_m: float, width_m: float) -> Iterator[Choice]:
    """The sheet along the roll, and the sheet turned across it."""
    for across in (False, True):
        run_m, need_m = (width_m, length_m) if across else (length_m, width_m)
        per_roll = math.floor((sold.length_m + _HARDLY) / run_m)
        if per_roll < 1:
            continue
        strips = strip_count(need_m, sold.width_m)
        if strips is None:
            continue
        each_m = (need_m + (strips - 1) * LAP_M) / strips
        sheet_length_m, sheet_width_m = (each_m, width_m) if across else (length_m, each_m)
        names = ["cover"] if strips == 1 else [f"strip {i} of {strips}" for i in range(1, strips + 1)]
        roll = Roll(sold.label, sold.width_m, sold.length_m, across, math.ceil(strips / per_roll))
        yield Choice(roll, tuple(Sheet(name, sheet_length_m, sheet_width_m) for name in names))


def strip_count(need_m: float, roll_width_m: float) -> int | None:
    """Strips of a roll that, lapped, make up a width [m]; None where the roll is no wider than the lap."""
    if need_m <= roll_width_m + _HARDLY:
        return 1
    if roll_width_m <= LAP_M:
        return None
    return math.ceil((need_m - LAP_M) / (roll_width_m - LAP_M) - _HARDLY)
