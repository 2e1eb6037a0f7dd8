"""The season as plain JSON values for the result file."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from clochewright.season import Added, Band, CropVerdict, Month, Season, Way


def season_as_json(season: Season) -> dict[str, Any]:
    """What the season study found, SI, days of the year counted from 0 on 1 January."""
    return {
        "years": season.years,
        "weather": season.source,
        "opens": season.way,
        "kill_degC": season.kill_degC,
        "grow_from_degC": season.grow_from_degC,
        "limit_degC": season.limit_degC,
        "months": [_month(month) for month in season.months],
        "night_lift_K": _band(season.night_lift_K),
        "hours_over_limit": _likely(season.hours_over_limit),
        "hours_over_limit_range": _bands(season.hours_over_limit),
        "opening_days": list(season.opening_days_count),
        "frost_free_gain_days": _band(season.frost_free_gain_days),
        "crops": [_crop(verdict) for verdict in season.crops],
        "killing_nights": _band(season.killing_nights_count),
        "killing_nights_bare": season.bare_killing_nights_count,
        "adds": {name: _added(added) for name, added in season.adds.items()},
        "best_left_faces": season.best_left_faces,
        "best_left_gain_share": season.best_left_gain_share,
    }


def _band(band: Band | None) -> dict[str, float] | None:
    return {"low": band.low, "likely": band.likely, "high": band.high} if band is not None else None


def _bands(bands: Mapping[Way, Band]) -> dict[str, Any]:
    return {way: _band(band) for way, band in bands.items()}


def _likely(bands: Mapping[Way, Band]) -> dict[str, float]:
    return {way: band.likely for way, band in bands.items()}


def _added(added: Added) -> dict[str, Any]:
    return {"lift_K": _band(added.lift_K), "killing_nights": _band(added.killing_nights_count)}


def _month(month: Month) -> dict[str, Any]:
    return {
        "month": month.month,
        "night_lift_K": _band(month.lift.all_nights),
        "clear_night_lift_K": _band(month.lift.clear),
        "cloudy_night_lift_K": _band(month.lift.cloudy),
        "colder_inside_share": _band(month.lift.colder_inside_share),
        "hours_over_limit": _likely(month.hours_over_limit),
        "hours_over_limit_range": _bands(month.hours_over_limit),
        "days_to_open": _band(month.days_to_open),
        "open_h": month.open_h_count,
        "shut_h": month.shut_h_count,
        "prop_deg": month.prop_deg,
        "prop_gap_m": month.gap_m,
    }


def _crop(verdict: CropVerdict) -> dict[str, Any]:
    return {
        "crop": verdict.crop,
        "worth_it": verdict.worth_it,
        "sow_from_day": verdict.sow_from_day,
        "sow_from_days": list(verdict.sow_from_days),
        "safe_from_day": verdict.safe_from_day,
        "safe_from_bare_day": verdict.safe_from_bare_day,
        "too_hot_from_day": verdict.too_hot_from_day,
        "ready_days": list(verdict.ready_days),
        "ready_bare_days": list(verdict.ready_bare_days),
        "spring_weeks": _band(verdict.spring_weeks),
        "autumn_weeks": _band(verdict.autumn_weeks),
        "spring_weeks_of_model": _band(verdict.spring_weeks_of_model),
        "autumn_weeks_of_model": _band(verdict.autumn_weeks_of_model),
        "killing_weeks_bare": list(verdict.bare_week_share),
        "killing_weeks_covered": list(verdict.covered_week_share),
    }
