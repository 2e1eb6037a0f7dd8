"""A plan that knows its place gets its season; one that doesn't is not asked to wait for it."""

from __future__ import annotations

import json

import pytest

from clochewright.errors import CatalogueError, PlanError
from clochewright.job import knows_place, open_shelf, open_weather, result_text, run, study_season, tent_of, with_season
from clochewright.plan import plan_from_text

BED = '[bed]\nlength = "8 ft"\nwidth = "3 ft 10 in"\n'
YARD = BED + '[site]\nplace = "Sorrel Yard"\n[grow]\ncrops = ["lettuce", "tomato"]\n'
MONTHS = """
[site]
latitude = "52 N"
longitude = "1 W"
shelter = "walled"
left_faces = "east"
shade = { side = "west", height = "6 ft", distance = "8 ft" }
[site.normals]
high = ["7 C","7 C","10 C","13 C","17 C","20 C","22 C","22 C","19 C","14 C","10 C","7 C"]
low = ["1 C","1 C","3 C","4 C","7 C","10 C","12 C","12 C","10 C","7 C","4 C","2 C"]
humidity = ["86 %","83 %","80 %","76 %","76 %","76 %","75 %","77 %","80 %","84 %","87 %","88 %"]
wind = ["4 m/s","4 m/s","4 m/s","9 mph","8 mph","7 mph","3 m/s","3 m/s","3 m/s","3 m/s","4 m/s","4 m/s"]
sun = ["2 h","3 h","4 h","5 h","6 h","6 h","7 h","6 h","5 h","3 h","2 h","2 h"]
"""


def job_of(text, folder, years=4, progress=None):
    plan = plan_from_text(text)
    return with_season(run(plan, *open_shelf(plan, folder)), open_weather(plan, folder), progress, years)


def test_a_plan_without_a_place_has_no_season(tmp_path):
    job = job_of(BED, tmp_path)
    assert job.season is None
    assert "season" not in json.loads(result_text(job))
    assert not [finding for finding in job.findings if finding.step == "season"]


def test_crops_without_a_place_are_told(tmp_path):
    job = job_of(BED + '[grow]\ncrops = ["pea"]\n', tmp_path)
    assert "season.no-place" in {finding.key for finding in job.findings}


def test_the_season_is_in_the_result_file(tmp_path):
    told = []
    job = job_of(YARD, tmp_path, progress=lambda done, whole: told.append((done, whole)))
    assert told[-1][0] == told[-1][1] == len(told)
    season = json.loads(result_text(job))["season"]
    assert len(season["months"]) == len(season["opening_days"]) == 12
    assert season["night_lift_K"]["low"] < season["night_lift_K"]["high"]
    assert season["hours_over_limit"]["never"] > season["hours_over_limit"]["morning-and-evening"]
    assert set(season["frost_free_gain_days"]) == {"low", "likely", "high"}
    assert [crop["crop"] for crop in season["crops"]] == ["lettuce", "tomato"]
    for month in season["months"]:
        assert (month["prop_deg"] is None) == (month["prop_gap_m"] is None)
    for way, band in season["hours_over_limit_range"].items():
        assert band["low"] <= season["hours_over_limit"][way] <= band["high"]
    assert season["adds"]["blanket"]["killing_nights"]["likely"] <= season["killing_nights"]["likely"]
    assert season["killing_nights_bare"] > 0
    assert result_text(job) == result_text(job_of(YARD, tmp_path))


def test_normals_typed_by_the_user_are_used(tmp_path):
    plan = plan_from_text(BED + MONTHS)
    assert knows_place(plan)
    job = job_of(BED + MONTHS, tmp_path)
    assert job.season is not None
    tent = tent_of(plan, job.frame)
    assert (tent.place.latitude_deg, tent.place.longitude_deg, tent.left_faces_deg) == (52.0, -1.0, 90.0)
    assert tent.place.wind_share == 0.25
    assert tent.prop_deg == job.made.lid.props[0].open_deg
    assert tent.place.shade_height_deg == pytest.approx(36.87, abs=0.01)  # atan(6 / 8)
    study = study_season(plan, job.frame, years=4, few_years=1)
    assert study.years == 4


def test_mistakes_in_the_months_are_named():
    with pytest.raises(PlanError, match="not twelve"):
        plan_from_text(BED + MONTHS.replace('"2 h","3 h",', '"3 h",'))
    with pytest.raises(PlanError, match="under the high"):
        plan_from_text(BED + MONTHS.replace('low = ["1 C"', 'low = ["9 C"'))
    with pytest.raises(PlanError, match="weather on this earth"):
        plan_from_text(BED + MONTHS.replace('"7 C","7 C","10 C"', '"700 C","7 C","10 C"'))
    with pytest.raises(PlanError, match="latitude"):
        plan_from_text(BED + '[site]\nlatitude = "52"\n')
    with pytest.raises(PlanError, match="shut before"):
        plan_from_text(BED + '[grow]\nopen_at = "15 C"\nshut_at = "20 C"\n')


def test_a_bad_weather_file_is_told_and_the_job_goes_on(tmp_path):
    (tmp_path / "bad.epw").write_text("LOCATION,x\nnothing\n", encoding="utf-8")
    job = job_of(BED + '[site]\nweather = "bad.epw"\n', tmp_path)
    assert job.season is None
    assert "site.weather-kind" in {finding.key for finding in job.findings}
    assert job.made is not None


def test_an_unknown_crop_is_refused_with_a_hint(tmp_path):
    with pytest.raises(CatalogueError, match="lettuce"):
        job_of(YARD.replace("lettuce", "letuce"), tmp_path)
