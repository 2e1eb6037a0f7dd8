"""Crops: what they sprout, grow and die at."""

from __future__ import annotations

import difflib
from dataclasses import dataclass
from functools import cache

from clochewright.catalogue.figures import read_rows
from clochewright.errors import CatalogueError, Mistake


@dataclass(frozen=True, slots=True)
class Crop:
    """One crop of the table.

    Germination is soil temperature, growth a month's mean, `kill_degC` the air at which a hardened plant is lost in a
    short dip; None where the table has none. Warmth is summed above `warmth_base_degC`, up to `warmth_cap_degC`.
    `days_low_count` and `days_high_count` are a packet's days from sowing (or from planting out) to harvest.
    """

    name: str
    germ_least_degC: float | None
    germ_best_low_degC: float | None
    germ_best_high_degC: float | None
    germ_most_degC: float | None
    grow_least_degC: float | None
    grow_best_low_degC: float | None
    grow_best_high_degC: float | None
    grow_most_degC: float | None
    kill_degC: float
    warmth_base_degC: float
    warmth_cap_degC: float | None
    days_low_count: float
    days_high_count: float
    source: str

    @property
    def is_cool(self) -> bool:
        """Whether it is a cool-season crop: its warmth counts from 40 degF."""
        return self.warmth_base_degC < 5.0

    @property
    def limit_degC(self) -> float:
        """Air inside above which it suffers: 8 K over its best growth, at least 27 for cool and 32 for warm crops.

        32 degC is where tomato and pepper stop setting fruit (Iowa State Extension); 27 degC where lettuce and greens
        stop sprouting (same); the 8 K is an assumption, since growth ranges are monthly means.
        """
        least = 27.0 if self.is_cool else 32.0
        return max(least, self.grow_best_high_degC + 8.0) if self.grow_best_high_degC is not None else least


@cache
def load_crops() -> tuple[Crop, ...]:
    """Every crop of the table."""
    crops = []
    for row in read_rows("crops.csv"):
        figure = {name: float(text) if text else None for name, text in row.items() if name.endswith("_degC")}
        crops.append(
            Crop(
                row["crop"],
                **figure,  # type: ignore[arg-type]
                days_low_count=float(row["days_low"]),
                days_high_count=float(row["days_high"]),
                source=row["source"],
            )
        )
    return tuple(crops)


def find_crop(name: str) -> Crop:
    """The crop of that name, however it is spelt ("peas", "Tomato").

    Raises:
        CatalogueError: there is none; the nearest ones are named.
    """
    wanted = name.strip().casefold()
    by_name = {part.strip().casefold(): crop for crop in load_crops() for part in crop.name.split(",")}
    for text in (wanted, wanted.removesuffix("s"), wanted.removesuffix("es")):
        if text in by_name:
            return by_name[text]
    near = difflib.get_close_matches(wanted, by_name, n=3, cutoff=0.5)
    mend = f"Did you mean {' or '.join(near)}?" if near else "The table of crops in the handbook lists them."
    raise CatalogueError((Mistake(name[:40], "there is no such crop in the table.", mend),))
