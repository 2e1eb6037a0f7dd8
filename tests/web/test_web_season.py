"""The season on the page: its step, today's question, a weather file brought in, months typed in, and the guards."""

from __future__ import annotations

import re
import socket
import time
import tomllib
from pathlib import Path

import pvlib
import pytest
from page_server import DEMO, SCRIPTED, page_at, pieces_of, state_of

from clochewright.errors import PlanError
from clochewright.plan import plan_from_text
from clochewright.web.guards import MOST_BYTES, MOST_WEATHER_BYTES
from clochewright.web.working import check_files, rev_of, work_in_full, work_quickly, work_season

GREENSBORO = Path(pvlib.__file__).parent / "data" / "723170TYA.CSV"
SHEET = f"/plan/{DEMO}"
BED = '[bed]\nlength = "8 ft"\nwidth = "4 ft"\n'
YARD = BED + '[site]\nplace = "Sorrel Yard"\n[grow]\ncrops = ["lettuce"]\n'
MONTHS = {"high": 12, "low": 3, "dew": 2, "wind": 3, "sun": 5}


@pytest.fixture(scope="module")
def grown(tmp_path_factory):
    """A page with one plan whose season has been worked out, and that plan's key."""
    folder = tmp_path_factory.mktemp("grown")
    with page_at(folder) as client:
        key = client.post("/api/plans", content=YARD).json()["key"]
        html = ""
        for _ in range(300):
            html = client.get(f"/plan/{key}").text
            if f"/plan/{key}/rest" not in html:
                break
            time.sleep(0.2)
        assert f"/plan/{key}/rest" not in html, "the season never came"
        yield client, key, html


def step_of(html):
    return html.partition('id="step-season"')[2].partition("</section>\n<section")[0]


def plan_of(site, key=DEMO):
    return tomllib.loads(site.get(f"/plan/{key}/plan.toml").text)


def test_a_plan_that_says_nothing_of_its_place_is_asked_and_can_try_the_yard(own_site):
    html = own_site.get(SHEET).text
    assert "say where it lies" in html
    assert "Try it with Sorrel Yard" in html
    own_site.post(f"{SHEET}/set", data={"path": "site.place", "value": "Sorrel Yard"})
    assert plan_of(own_site)["site"]["place"] == "Sorrel Yard"
    html = own_site.get(SHEET).text
    assert "being worked through" in html
    assert f"{SHEET}/rest" in html  # it follows by itself


def test_the_step_shows_figures_pictures_cautions_and_sources(grown):
    site, key, html = grown
    step = html.partition('id="step-season"')[2]
    for words in ("soil warm enough from", "weeks won in spring", "Days, month by month", "What would make a night",
                  "Heat kills faster than cold", "animal or a child", "thermometer", "Clark &amp; Allen"):  # fmt: skip
        assert words in step, words
    assert step.count('<tr><th scope="row">') == 24
    assert re.search(r"-?\d+ °F \(-?\d+ to -?\d+ °F\)", step)
    names = re.findall(rf'src="/plan/{key}/drawing/(season-[a-z]+)\.svg[^"]*" alt="([^"]*)"', step)
    assert sorted(name for name, _ in names) == ["season-day", "season-night", "season-weeks", "season-year"]
    assert all(len(alt) > 80 for _, alt in names)
    for name, _ in names:
        svg = site.get(f"/plan/{key}/drawing/{name}.svg")
        assert svg.status_code == 200
        assert svg.text.startswith("<svg")


def test_the_result_file_has_the_season_that_the_page_shows(grown):
    site, key, html = grown
    season = site.get(f"/plan/{key}/job.json").json()["season"]
    assert season["years"] == 100
    assert f"{round(season['killing_nights_bare'])} a year without a cover" in html
    assert site.get(f"/api/plans/{key}/steps/season").json()["shown"]["state"] == "shown"


def test_each_setting_of_the_season_stands_on_the_sheet(own_site):
    html = own_site.get(SHEET).text
    assert 'value="grow.crops"' in html
    assert 'value="grow.water_jugs"' not in html  # only what one begins with
    own_site.post(f"{SHEET}/set", data={"path": "grow.crops", "value": "kale"})
    html = own_site.get(SHEET).text
    paths = ("grow.crops", "grow.opens", "grow.open_at", "grow.second_layer", "grow.night_blanket", "site.latitude",
             "site.weather", "site.left_faces", "site.shelter", "site.shade.side", "site.normals.high")  # fmt: skip
    for path in paths:
        assert f'name="path" value="{path}"' in html, path
    answer = own_site.post(f"{SHEET}/set", data={"path": "grow.crops", "value": "letuce"})
    assert answer.status_code == 422
    assert "There is no such crop in the table. Did you mean lettuce" in answer.text


@pytest.mark.parametrize("scripted", [True, False])
def test_today_is_answered_with_a_range(grown, scripted):
    site, key, _ = grown
    asked = {"low": "30", "high": "16 C", "wind": "5 mph", "sky": "clear"}
    answer = site.get(f"/plan/{key}/today", params=asked, headers=SCRIPTED if scripted else {})
    assert answer.status_code == 200
    told = answer.text.partition('id="today-answer"')[2]
    assert re.search(r"Coldest inside tonight, shut</dt><dd>-?\d+\s°F \(-?\d+ to -?\d+\s°F\)", told)
    for words in ("Lay the quilt", "Hottest tomorrow", "Open tomorrow", "Prop it open", "thermometer"):
        assert words in told
    assert 'value="30"' in answer.text


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ({"low": "cold", "high": "60", "wind": "5"}, "today-low-wrong"),
        ({"low": "60", "high": "40", "wind": "5"}, "wrong box"),
        ({"low": "-300 F", "high": "40", "wind": "5"}, "no weather on this earth"),
        ({"low": "30", "high": "40", "wind": "300 mph"}, "hurricane"),
        ({"low": "30", "high": "40", "wind": ""}, "today-wind-wrong"),
        ({"low": "<b>", "high": "40", "wind": "5", "sky": "green"}, "&lt;b&gt;"),
    ],
)
def test_today_tells_what_is_wrong_beside_its_field(grown, asked, words):
    site, key, _ = grown
    answer = site.get(f"/plan/{key}/today", params=asked)
    assert answer.status_code == 200
    assert words in answer.text
    assert "Coldest inside" not in answer.text
    assert "<b>" not in answer.text


def test_a_weather_file_is_brought_in_kept_once_and_used(own_site, tmp_path):
    answer = own_site.post(f"{SHEET}/weather", files={"file": ("../../evil.csv", GREENSBORO.read_bytes())})
    assert answer.status_code == 303, answer.text
    name = plan_of(own_site)["site"]["weather"]
    assert re.fullmatch(r"weather-[0-9a-f]{12}\.csv", name)
    folder = tmp_path / "plans"
    assert (folder / name).read_bytes() == GREENSBORO.read_bytes()
    assert sorted(p.name for p in tmp_path.rglob("*evil*")) == []
    own_site.post(f"{SHEET}/weather", files={"file": ("same.csv", GREENSBORO.read_bytes())})
    assert len(list(folder.glob("weather-*"))) == 1
    assert name in own_site.get(f"{SHEET}/weather").text


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"LOCATION,x\nnothing\n", "line 1"),
        (b"\x89PNG\r\n\x00\x00", "no plain text"),
        (b"", "no file of weather"),
        (b"x" * (MOST_WEATHER_BYTES + 10), "no file of weather"),
        (GREENSBORO.read_bytes()[:400_000], "line"),  # cut short
    ],
    ids=["no weather", "a picture", "empty", "too large", "cut short"],
)
def test_what_is_no_weather_is_told_with_nothing_changed(site, folder, content, words):
    before = site.get(f"{SHEET}/plan.toml").text
    answer = site.post(f"{SHEET}/weather", files={"file": ("w.epw", content)})
    assert answer.status_code == 422
    assert words in answer.text
    assert site.get(f"{SHEET}/plan.toml").text == before
    assert list(folder.glob("weather-*")) == []


def status_for(site, path, length):
    """What a body of that length is answered before any of it is sent."""
    host, port = site.base_url.host, site.base_url.port
    with socket.create_connection((host, port), timeout=20) as line:
        line.sendall(f"POST {path} HTTP/1.1\r\nHost: {host}:{port}\r\nContent-Length: {length}\r\n\r\n".encode())
        line.shutdown(socket.SHUT_WR)
        return int(line.recv(64).split()[1])


def test_only_the_weather_takes_more_than_a_form(site):
    assert status_for(site, f"{SHEET}/set", MOST_BYTES + 1) == 413
    assert status_for(site, f"{SHEET}/weather", MOST_WEATHER_BYTES + 9000) == 413
    big = {"file": ("w.epw", b"x" * (MOST_BYTES + 1))}
    assert site.post(f"{SHEET}/weather", files=big).status_code == 422
    assert site.post(f"{SHEET}/weather", data={"file": "text"}).status_code == 422


def test_months_typed_in_are_written_with_their_units(own_site):
    form = {f"{name}-{m}": str(value) for name, value in MONTHS.items() for m in range(12)}
    form |= {"site.latitude": "52 N", "site.longitude": "1 W", "site.altitude": "300 ft", "high-6": "72 F"}
    answer = own_site.post(f"{SHEET}/months", data={**form, "high-0": ""})
    assert answer.status_code == 422
    assert "Highs is left empty for January" in answer.text
    assert 'value="52 N"' in answer.text  # what was typed stands there still
    answer = own_site.post(f"{SHEET}/months", data={**form, "low-3": "99"})
    assert answer.status_code == 422
    assert "under the high" in answer.text
    assert own_site.post(f"{SHEET}/months", data={**form, **{f"high-{m}": "60" for m in range(12)}}).status_code == 303
    site = plan_of(own_site)["site"]
    assert site["latitude"] == "52 N"
    assert site["normals"]["high"] == ["60 F"] * 12
    assert site["normals"]["wind"] == ["3 mph"] * 12
    assert "humidity" not in site["normals"]
    assert own_site.post(f"{SHEET}/months", data={"yard": "yes"}).status_code == 303
    assert plan_of(own_site)["site"].get("normals") is None
    assert plan_of(own_site)["site"]["place"] == "Sorrel Yard"


@pytest.mark.parametrize("name", ["/etc/passwd", "../w.epw", ".hidden", "a\\b.epw", "c:w.epw", "link.epw", "gone.epw"])
def test_no_plan_has_a_file_outside_its_folder_read_as_weather(tmp_path, name):
    (tmp_path / "w.epw").write_text("x", encoding="utf-8")
    folder = tmp_path / "plans"
    folder.mkdir()
    (folder / "link.epw").symlink_to(tmp_path / "w.epw")
    plan = plan_from_text(f"{BED}[site]\nweather = '{name}'\n")
    with pytest.raises(PlanError) as refused:
        check_files(plan, folder)
    assert refused.value.mistakes[0].where == "site.weather"


def test_a_changed_weather_file_is_another_rev(tmp_path):
    text = BED + '[site]\nweather = "w.epw"\n'
    (tmp_path / "w.epw").write_text("one", encoding="utf-8")
    first = rev_of(text, tmp_path)
    (tmp_path / "w.epw").write_text("another", encoding="utf-8")
    assert rev_of(text, tmp_path) != first


def test_the_quick_job_waits_for_no_season_and_the_full_one_passes_on_first(tmp_path):
    quick = work_quickly(YARD, tmp_path)
    assert (quick.stage, quick.job.season) == ("quick", None)
    full = work_in_full(YARD, tmp_path)
    assert (full.stage, full.job.season) == ("growing", None)
    told = []
    grown = work_season(full, tmp_path, lambda done, whole: told.append((done, whole)))
    assert grown.stage == "full"
    assert grown.job.season.years == 100
    assert told[-1][0] == told[-1][1] == len(told)


def test_an_edit_with_scripts_brings_the_step_anew(own_site):
    state = state_of(own_site.get(SHEET).text)
    form = {"path": "site.place", "value": "Sorrel Yard", "state": state}
    answer = own_site.post(f"{SHEET}/set", data=form, headers=SCRIPTED)
    assert {"body-season", "gist-season", "fields-season", "progress"} <= pieces_of(answer.text)
