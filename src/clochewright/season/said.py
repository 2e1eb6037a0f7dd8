"""What the season has to say: cautions, and whether it is worth it here."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from clochewright.findings import Finding, Level
from clochewright.season.balance import Tent
from clochewright.season.crops import CropVerdict
from clochewright.season.gardener import Way
from clochewright.season.nights import Band, NightLift

MODEL_ONLY = "heat balance of this program; its nights are not calibrated against a logged trial"
HOT_HOURS_COUNT = 100.0  # a year over the limit, from which it is said that it cooks (assumption)
FROST_YEARS_COUNT = 100  # fewer are not enough for frost dates


def season_findings(
    frost_years: int, verdicts: Sequence[CropVerdict], lifts: Sequence[NightLift], over: Mapping[Way, Band],
    tent: Tent, limit_degC: float, gained: Band,
) -> tuple[Finding, ...]:  # fmt: skip
    """What is to be told of a season.

    Args:
        frost_years: years that frosts are judged over.
        verdicts: the crops.
        lifts: night lift by month.
        over: hours a year over the limit by way of opening.
        tent: the cover and its gardener.
        limit_degC: that limit.
        gained: days by which the time without a killing night grows.
    """
    found = [
        Finding(Level.NOTE, "season", "season.uncalibrated", "grow", {}, MODEL_ONLY),
        Finding(Level.NOTE, "season", "season.heat-first", "grow", {}, "common practice, no source"),
        Finding(Level.NOTE, "season", "season.living-things", "grow", {}, "common practice, no source"),
    ]
    if frost_years < FROST_YEARS_COUNT:
        found.append(Finding(Level.NOTE, "season", "season.few-years", "site", {"years": frost_years}))
    if min(lift.all_nights.low for lift in lifts) < 0:
        source = "Oregon State University Extension, on clear calm nights under a single film"
        found.append(Finding(Level.NOTE, "season", "season.colder-inside", "grow", {}, source))
    hot = over[tent.gardener.way].likely
    if hot > HOT_HOURS_COUNT:
        values = {"hours": round(hot), "limit_degC": limit_degC, "shut": round(over["never"].likely)}
        found.append(Finding(Level.WARN, "season", "season.cooks", "grow.opens", values))
    for worth, level in (("no", Level.WARN), ("maybe", Level.NOTE)):
        crops = ", ".join(verdict.crop for verdict in verdicts if verdict.worth_it == worth)
        if crops:
            told = {"crops": crops, "days": round(gained.likely), "most_days": round(gained.high)}
            found.append(
                Finding(
                    level,
                    "season",
                    "season.not-worth-it" if worth == "no" else "season.may-not-be-worth-it",
                    "grow.crops",
                    told,
                    MODEL_ONLY,
                )
            )
    return tuple(found)
