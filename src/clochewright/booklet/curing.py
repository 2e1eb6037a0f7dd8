"""How long solvent cement takes to set and to cure, as a table in words."""

from __future__ import annotations

from typing import Any

from clochewright.findings import word
from clochewright.joints import CEMENT_SOURCE, cement_times
from clochewright.measures import Units, show_temperature


def curing_table(pipe_outside_diameter_m: float, units: Units) -> dict[str, Any]:
    """The table for one size of pipe, in words.

    Args:
        pipe_outside_diameter_m: Outside diameter of the pipe [m].
        units: "inch" shows °F, "mm" °C.
    """
    return {
        "heads": [word(f"booklet.joints.{head}") for head in ("temperature", "set", "cure")],
        "rows": [
            [
                word("booklet.source.band", low=_degrees(row.low_degC, units), high=_degrees(row.high_degC, units)),
                _time(row.set_s),
                _time(row.cure_s),
            ]
            for row in cement_times(pipe_outside_diameter_m)
        ],
        "note": word("booklet.joints.humid"),
        "source": CEMENT_SOURCE,
    }


def _degrees(temperature_degC: float, units: Units) -> str:
    return show_temperature(temperature_degC if units == "inch" else round(temperature_degC), units)


def _time(time_s: float) -> str:
    if time_s < 3600:
        return word("booklet.joints.minutes", count=round(time_s / 60))
    return word("booklet.joints.hours", count=round(time_s / 3600))
