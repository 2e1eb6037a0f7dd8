"""The step that asks whether it stands: at once what lifts it, then its limits, what to change, and their pictures."""

from __future__ import annotations

import re
import time
import tomllib

import pytest
from page_server import DEMO, SCRIPTED, state_of

from clochewright.web.working import work_in_full, work_quickly, work_season

SHEET = f"/plan/{DEMO}"


def settled(site):
    """The sheet once nothing more is looked for; fails after a while."""
    for _ in range(200):
        html = site.get(SHEET).text
        if f"{SHEET}/rest" not in html:
            return html
        time.sleep(0.1)
    raise AssertionError("the bench never finished")


def step_of(html):
    return html.partition('id="step-stand"')[2].partition('<section class="step"')[0].replace("\u00a0", " ")


@pytest.fixture(scope="module")
def html(site):
    return settled(site)


def test_a_quick_job_waits_for_nothing_and_says_so(site, folder):
    text = site.get(f"{SHEET}/plan.toml").text
    quick = work_quickly(text, folder)
    assert quick.job is not None
    assert [limit.key for limit in quick.job.made.strength.limits] == ["loose"]
    assert not quick.full
    part = work_in_full(text, folder)
    assert part.growing
    assert part.job is not None
    assert part.job.made.strength.limit("shut") is not None
    assert part.job.made.strength.changes == ()
    whole = work_season(part, folder)
    assert whole.full
    assert whole.job is not None
    assert whole.job.made.strength.changes


def test_the_limits_stand_there_with_their_bands_and_what_to_do(html):
    step = step_of(html)
    assert "no structural approval" in step
    assert "local building department" in step
    for label in ("Shut, hinged and latched", "Fresh snow, lying for a day", "The widest bed for a frame like this"):
        found = step.partition(f"<dt>{label}</dt>")[2].partition("</div>")[0]
        assert "to be safe" in found, label
        assert "What gives first" in found, label
    gust = step.partition("<dt>Shut, hinged and latched</dt>")[2].partition("</dd>")[0]
    assert re.search(r"<strong>\d+ mph</strong>", gust)
    assert "force " in gust


def test_every_picture_that_it_shows_is_there(site, html):
    names = re.findall(rf'src="({SHEET}/drawing/(?:bent|worked)-[a-z]+\.svg[^"]*)"', step_of(html))
    assert len(names) == 4
    for name in names:
        svg = site.get(name.replace("&amp;", "&"))
        assert svg.status_code == 200
        assert "no structural approval" in svg.text


def test_its_sources_are_told(html):
    sources = step_of(html).partition('class="how"')[2]
    for part in ("ASCE 7", "ASTM D638", "EN 1993-1-8", "Bartok"):
        assert part in sources, part


def test_design_figures_are_set_where_they_stand_and_checked(own_site):
    state = state_of(settled(own_site))
    form = {"path": "site.design_gust", "value": "120 mph", "state": state}
    assert own_site.post(f"{SHEET}/set", data=form, headers=SCRIPTED).status_code == 200
    plan = tomllib.loads(own_site.get(f"{SHEET}/plan.toml").text)
    assert plan["site"]["design_gust"] == "120 mph"
    step = step_of(settled(own_site))
    assert "Your place has to meet gusts of 120 mph" in step
    assert "in gusts of 120 mph" in step  # and the spans are worked out for it
    wrong = own_site.post(f"{SHEET}/set", data={"path": "site.ground_snow", "value": "deep"})
    assert wrong.status_code == 422
    assert 'value="deep"' in wrong.text


def test_a_change_that_one_key_makes_is_made_by_its_button(own_site):
    step = step_of(settled(own_site))
    change = re.search(r'name="path" value="cover\.bents"><input type="hidden" name="value" value="(\d+)"', step)
    assert change is not None
    answer = own_site.post(f"{SHEET}/mend", data={"path": "cover.bents", "value": change[1]})
    assert answer.status_code == 303
    assert tomllib.loads(own_site.get(f"{SHEET}/plan.toml").text)["cover"]["bents"] == int(change[1])
