"""How long solvent cement takes to set and to cure, by temperature and size of pipe."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from clochewright.findings import word
from clochewright.measures import Units, show_temperature

SOURCE = "a pipe maker's plastics technical manual, p. 96; a cement maker's sheet agrees except in frost"

# The table's first column of sizes ends at 1-1/4 in pipe, 42.2 mm outside (ASTM D1785) [m].
SMALL_TO_M = 0.0430


@dataclass(frozen=True, slots=True)
class Row:
    """One band of temperature [F, as published], and hours to set and to cure for small and for large pipe."""

    band_F: tuple[float, float]
    set_hours: tuple[float, float]
    cure_hours: tuple[float, float]


# Warmest first. Cure is the column for pressures up to 180 psi; a frame holds no pressure (common practice, no source).
TABLE = (
    Row((60, 100), (0.25, 0.5), (1, 2)),
    Row((40, 60), (1, 2), (2, 4)),
    Row((0, 40), (3, 6), (8, 16)),
)


def curing_table(pipe_outside_diameter_m: float, units: Units) -> dict[str, Any]:
    """The table for one size of pipe, in words.

    Args:
        pipe_outside_diameter_m: Outside diameter of the pipe [m].
        units: "inch" shows °F, "mm" °C.
    """
    size = 0 if pipe_outside_diameter_m <= SMALL_TO_M else 1
    return {
        "heads": [word(f"booklet.joints.{head}") for head in ("temperature", "set", "cure")],
        "rows": [
            [
                word("booklet.source.band", low=_degrees(row.band_F[0], units), high=_degrees(row.band_F[1], units)),
                _time(row.set_hours[size]),
                _time(row.cure_hours[size]),
            ]
            for row in TABLE
        ],
        "note": word("booklet.joints.humid"),
        "source": SOURCE,
    }


def _degrees(temperature_F: float, units: Units) -> str:
    temperature_degC = (temperature_F - 32) / 1.8
    return show_temperature(temperature_degC if units == "inch" else round(temperature_degC), units)


def _time(hours: float) -> str:
    if hours < 1:
        return word("booklet.joints.minutes", count=round(hours * 60))
    return word("booklet.joints.hours", count=round(hours))
