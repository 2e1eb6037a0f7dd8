"""The scene that goes ahead of an edit's pieces, for a browser whose view in space is up."""

from __future__ import annotations

import errno
import html
import json
import re
import time

import pytest
from page_server import DEMO, SCRIPTED, pieces_of, state_of

from clochewright.web.scene import scene_ahead
from clochewright.web.working import work_quickly

SHEET = f"/plan/{DEMO}"
AHEAD = re.compile(r'<script type="application/json">([^<]*)</script>\n')


def edit(site, /, **form):
    form.setdefault("state", state_of(site.get(SHEET).text))
    return site.post(f"{SHEET}/set", data=form, headers=SCRIPTED)


def test_it_is_the_scene_under_the_address_that_the_pieces_name(own_site):
    answer = edit(own_site, path="bed.length", value="9 ft", view="yes")
    assert answer.status_code == 200
    ahead = AHEAD.match(answer.text)
    scene = json.loads(ahead.group(1))
    assert html.unescape(re.search(r'data-scene="([^"]*)"', answer.text).group(1)) == scene.pop("of")
    assert scene.pop("cutlist").strip() in answer.text
    assert scene == own_site.get(f"{SHEET}/scene.json").json()
    # From outside the program: 9 ft are 9 x 0.3048 m exactly (international foot).
    assert abs(scene["bed"]["length_m"] - 9 * 0.3048) < 1e-9
    assert {"body-cuts", "flat", "history"} <= pieces_of(answer.text)


def test_it_comes_before_the_pieces_are_made(own_site):
    form = {"path": "bed.length", "value": "9 ft", "view": "yes", "state": state_of(own_site.get(SHEET).text)}
    with own_site.stream(
        "POST", f"{SHEET}/set", data=form, headers={**SCRIPTED, "accept-encoding": "identity"}
    ) as answer:
        first = next(answer.iter_text())
    assert AHEAD.match(first)
    # the edit is kept, whatever becomes of who asked for it
    for _ in range(100):
        if 'length = "9 ft"' in own_site.get(f"{SHEET}/plan.toml").text:
            return
        time.sleep(0.05)
    pytest.fail("the edit was lost with the answer")


def test_nobody_else_gets_it(own_site):
    assert "<script" not in edit(own_site, path="bed.length", value="9 ft").text
    assert "<script" not in edit(own_site, path="bed.length", value="nine foot", view="yes").text


def test_nothing_in_it_ends_the_element(tmp_path):
    worked = work_quickly('[bed]\nlength = "8 ft"\nwidth = "4 ft"\n', tmp_path)
    told = scene_ahead(worked.job.shape, "</script>", "inch", "<!--<script>", "<table></table>")
    assert told.count("<") == 2
    assert json.loads(AHEAD.fullmatch(told).group(1))["of"] == "<!--<script>"


def test_a_plan_that_cannot_stand_has_none(own_site):
    # A flat apex has two 45-degree elbows, which make 45-degree slopes only.
    edit(own_site, path="cover.apex", value="flat", view="yes")
    answer = edit(own_site, path="cover.pitch", value="30 deg", view="yes")
    assert "No frame yet" in answer.text
    assert "<script" not in answer.text


def test_a_full_disk_is_told_where_it_was_typed(own_site, monkeypatch):
    def full(_file, _content):
        raise OSError(errno.ENOSPC, "No space left on device")

    state = state_of(own_site.get(SHEET).text)
    monkeypatch.setattr("clochewright.web.shelf.plans.write_whole", full)
    answer = edit(own_site, path="bed.length", value="9 ft", view="yes", state=state)
    assert answer.status_code == 200
    assert "no space left on device" in answer.text
    assert 'value="9 ft"' in answer.text
    assert 'length = "9 ft"' not in own_site.get(f"{SHEET}/plan.toml").text
