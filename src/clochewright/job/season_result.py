"""The season as plain JSON values for the result file."""

from __future__ import annotations

from typing import Any

from clochewright.season import Band, CropVerdict, Month, Season


def season_as_json(season: Season) -> dict[str, Any]:
    """What the season study found, SI, days of the year counted from 0 on 1 January."""
    return {
        "years": season.years,
        "weather": season.source,
        "opens": season.way,
        "limit_degC": season.limit_degC,
        "months": [_month(month) for month in season.months],
        "night_lift_K": _band(season.night_lift_K),
        "hours_over_limit": dict(season.hours_over_limit),
        "opening_days": list(season.opening_days_count),
        "frost_free_gain_days": _band(season.frost_free_gain_days),
        "crops": [_crop(verdict) for verdict in season.crops],
        "adds_K": dict(season.adds_K),
        "best_left_faces": season.best_left_faces,
        "best_left_gain_share": season.best_left_gain_share,
    }


def _band(band: Band | None) -> dict[str, float] | None:
    return {"low": band.low, "likely": band.likely, "high": band.high} if band is not None else None


def _month(month: Month) -> dict[str, Any]:
    return {
        "month": month.month,
        "night_lift_K": _band(month.lift.all_nights),
        "clear_night_lift_K": _band(month.lift.clear),
        "cloudy_night_lift_K": _band(month.lift.cloudy),
        "colder_inside_share": _band(month.lift.colder_inside_share),
        "hours_over_limit": dict(month.hours_over_limit),
        "days_to_open": _band(month.days_to_open),
        "open_h": month.open_h_count,
        "shut_h": month.shut_h_count,
        "prop_deg": month.prop_deg,
    }


def _crop(verdict: CropVerdict) -> dict[str, Any]:
    return {
        "crop": verdict.crop,
        "worth_it": verdict.worth_it,
        "sow_from_day": verdict.sow_from_day,
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
