"""Every route: with scripts (the pieces that changed) and without (the sheet again)."""

from __future__ import annotations

import json
import re
import time
import tomllib

import pytest
from page_server import DEMO, SCRIPTED, pieces_of, state_of

SHEET = f"/plan/{DEMO}"


def plan_of(site, key=DEMO):
    return tomllib.loads(site.get(f"/plan/{key}/plan.toml").text)


def post(site, path, /, **form):
    return site.post(f"{SHEET}/{path}", data=form)


def live(site, path, /, **form):
    form.setdefault("state", state_of(site.get(SHEET).text))
    return site.post(f"{SHEET}/{path}", data=form, headers=SCRIPTED)


def settled(site, key=DEMO):
    """The sheet once nothing more is looked for; fails after a while."""
    for _ in range(1200):
        html = site.get(f"/plan/{key}").text
        if f"/plan/{key}/rest" not in html:
            return html
        time.sleep(0.1)
    raise AssertionError("the bench never finished")


def test_the_demo_is_on_the_shelf_on_the_first_visit(own_site):
    html = own_site.get("/").text
    assert "Sorrel Yard, Bed 4" in html
    assert f'href="/plan/{DEMO}"' in html


def test_the_sheet_has_its_steps_in_order(own_site):
    html = own_site.get(SHEET).text
    steps = ("bed", "shape", "fittings", "cuts", "buying", "film", "stand")
    places = [html.index(f'id="step-{step}"') for step in steps]
    assert places == sorted(places)
    assert "How was this worked out" in html


def test_a_change_without_scripts_is_posted_and_shown(own_site):
    answer = post(own_site, "set", path="bed.length", value="9 ft")
    assert answer.status_code == 303
    assert answer.headers["location"] == SHEET
    assert plan_of(own_site)["bed"]["length"] == "9 ft"
    html = own_site.get(SHEET).text
    assert 'value="9 ft"' in html
    assert "9 ft × 3 ft 10 in" in html.replace("\u00a0", " ")


def test_a_bad_value_without_scripts_is_told_beside_its_field_with_nothing_saved(own_site):
    answer = post(own_site, "set", path="bed.length", value="nine foot")
    assert answer.status_code == 422
    field = answer.text.partition('id="field-bed-length"')[2].partition("</form>")[0]
    assert 'value="nine foot"' in field
    assert 'aria-invalid="true"' in field
    assert 'role="alert"' in field
    assert plan_of(own_site)["bed"]["length"] == "8 ft"


def test_a_change_with_scripts_brings_only_what_changed(own_site):
    settled(own_site)
    answer = live(own_site, "set", path="film.overhang", value="10 in")
    assert answer.status_code == 200
    pieces = pieces_of(answer.text)
    assert {"body-film", "history", "field-film-overhang"} <= pieces
    assert not pieces & {"body-bed", "gist-shape", "fields-cuts", "field-bed-length", "name"}


def test_a_choice_that_asks_for_other_fields_brings_those(own_site):
    pieces = pieces_of(live(own_site, "set", path="cover.shape", value="lean-to").text)
    assert "fields-shape" in pieces
    assert "fields-bed" not in pieces
    assert 'id="field-lean-to-back"' in own_site.get(SHEET).text


def test_a_bad_value_with_scripts_brings_its_field_and_a_good_one_clears_it(own_site):
    state = state_of(settled(own_site))
    wrong = live(own_site, "set", path="bed.width", value="8", state=state)
    assert wrong.status_code == 200
    assert "8 of what? Write 8 in or 8 mm." in wrong.text
    assert "field-bed-width" in pieces_of(wrong.text)
    assert "body-shape" not in pieces_of(wrong.text)
    # what stood there before is typed again: the field has to come, or its mistake would stay in the browser
    again = live(own_site, "set", path="bed.width", value="3 ft 10 in", state=state)
    assert "field-bed-width" in pieces_of(again.text)
    assert "aria-invalid" not in again.text


def test_an_unknown_state_brings_every_piece(own_site):
    pieces = pieces_of(live(own_site, "set", path="people", value="1", state="unheard-of").text)
    assert {"answer", "flat", "body-bed", "body-film", "fields-cuts", "history", "progress"} <= pieces


def test_undo_and_redo(own_site):
    assert "disabled" in own_site.get(SHEET).text.partition('id="undo"')[2][:20]
    post(own_site, "set", path="bed.length", value="9 ft")
    post(own_site, "set", path="bed.length", value="10 ft")
    assert pieces_of(live(own_site, "undo").text) >= {"history", "field-bed-length"}
    assert plan_of(own_site)["bed"]["length"] == "9 ft"
    assert post(own_site, "undo").status_code == 303
    assert plan_of(own_site)["bed"]["length"] == "8 ft"
    post(own_site, "redo")
    post(own_site, "redo")
    assert plan_of(own_site)["bed"]["length"] == "10 ft"


def test_notes_in_the_plan_file_stay(own_site):
    before = own_site.get(f"{SHEET}/plan.toml").text
    post(own_site, "set", path="bed.length", value="9 ft")
    after = own_site.get(f"{SHEET}/plan.toml").text
    assert after == before.replace('length = "8 ft"', 'length = "9 ft"', 1)


def test_lists_grow_and_shrink(own_site):
    post(own_site, "set", path=["stock.on_hand[2].length", "stock.on_hand[2].count"], value=["30 in", ""])
    assert plan_of(own_site)["stock"]["on_hand"][2] == {"length": "30 in"}
    post(own_site, "set", path="stock.on_hand[0]", value="")
    assert [piece["length"] for piece in plan_of(own_site)["stock"]["on_hand"]] == ["5 ft 2 in", "30 in"]


def test_an_empty_value_goes_back_to_usual(own_site):
    post(own_site, "set", path="film.overhang", value="")
    assert "overhang" not in plan_of(own_site)["film"]


def test_mend_it_mends(own_site):
    post(own_site, "set", path="cover.apex", value="flat")
    post(own_site, "set", path="cover.pitch", value="30 deg")
    html = own_site.get(SHEET).text
    assert "Mend it" in html
    form = html.rpartition(f'action="{SHEET}/mend"')[2].partition("</form>")[0]
    path, value = re.findall(r'value="([^"]*)"', form)[:2]
    assert (path, value) == ("cover.apex", "butted")
    post(own_site, "mend", path=path, value=value)
    assert plan_of(own_site)["cover"]["apex"] == "butted"
    assert "Mend it" not in own_site.get(SHEET).text


def test_the_slow_parts_follow(own_site):
    # five roofs of one bed that leave much to look for; the last is what counts
    for length in ("11 ft", "12 ft", "13 ft 1 in"):
        answer = live(own_site, "set", path="bed.length", value=length)
    if f"{SHEET}/rest" not in answer.text:
        pytest.skip("the quick answer was already whole")
    state = state_of(answer.text)
    for _ in range(100):
        time.sleep(0.1)
        answer = own_site.get(f"{SHEET}/rest", params={"state": state})
        if f"{SHEET}/rest" not in answer.text:
            break
    assert "progress" in pieces_of(answer.text)
    worked = own_site.get(f"{SHEET}/job.json").json()
    assert worked["plan"]["bed"]["length_m"] == pytest.approx(13 * 0.3048 + 0.0254)
    shown = len([finding for finding in worked["findings"] if finding["key"] == "job.measure-first"])
    assert settled(own_site).count("Measure yours before you saw") == shown


def test_versions_are_listed_and_brought_back(own_site):
    post(own_site, "set", path="bed.length", value="9 ft")
    html = own_site.get(f"{SHEET}/versions").text
    assert "Length: 9 ft" in html
    number = re.findall(r'name="version" value="([0-9]+)"', html)[-1]
    assert post(own_site, "restore", version=number).status_code == 303
    assert plan_of(own_site)["bed"]["length"] == "8 ft"
    assert "brought back" in own_site.get(f"{SHEET}/versions").text


def test_a_copy_at_another_size(own_site):
    answer = post(own_site, "copy", name="Bed 5 <b>&", length="6 ft", width="")
    assert answer.status_code == 303
    key = answer.headers["location"].rpartition("/")[2]
    assert key == "bed-5-b"
    copied = plan_of(own_site, key)
    assert (copied["name"], copied["bed"]["length"], copied["bed"]["width"]) == ("Bed 5 <b>&", "6 ft", "3 ft 10 in")
    html = own_site.get(f"/plan/{key}").text
    assert "Bed 5 &lt;b&gt;&amp;" in html
    assert "<b>&" not in html


def test_two_side_by_side(own_site):
    key = post(own_site, "copy", name="Longer", length="12 ft").headers["location"].rpartition("/")[2]
    html = own_site.get("/compare", params={"a": DEMO, "b": key}).text
    assert "differs" in html
    assert "12 ft × 3 ft 10 in" in html
    assert own_site.get("/compare", params={"a": DEMO, "b": "none"}).status_code == 404
    assert own_site.get("/compare", params={"a": DEMO}).status_code == 422


def test_units_are_the_browsers_and_never_the_plans(own_site):
    before = own_site.get(f"{SHEET}/plan.toml").content
    answer = own_site.post("/units", data={"units": "mm", "back": SHEET})
    assert answer.status_code == 303
    assert answer.headers["location"] == SHEET
    html = own_site.get(SHEET).text.replace("\u00a0", " ")
    assert "2438 mm" in html
    assert 'value="2438.4 mm"' in html
    assert " ft " not in html.partition('id="answer"')[2].partition("</div>")[0]
    assert own_site.get(f"{SHEET}/plan.toml").content == before
    # a value set while millimetres are shown is written as it was typed, the rest stays
    post(own_site, "set", path="bed.length", value="2500 mm")
    assert plan_of(own_site)["bed"]["length"] == "2500 mm"
    assert plan_of(own_site)["units"] == "inch"


@pytest.mark.parametrize("back", ["//example.com", "http://example.com", "/\\example.com", "javascript:x", "/a\nb"])
def test_units_lead_back_to_this_page_only(site, back):
    assert site.post("/units", data={"units": "inch", "back": back}).headers["location"] == "/"


def test_scene_drawings_and_papers(site):
    scene = site.get(f"{SHEET}/scene.json").json()
    job = site.get(f"{SHEET}/job.json").json()
    assert len(scene["pipes"]) == len(job["frame"]["pipes"])
    assert len(scene["fittings"]) == len(job["frame"]["fittings"])
    assert scene["bed"]["length_m"] == pytest.approx(8 * 0.3048)
    for pipe, worked in zip(scene["pipes"], job["frame"]["pipes"], strict=True):
        assert pipe["mark"] == worked["mark"]
        assert pipe["path"][0] == pytest.approx(worked["path_m"][0], abs=1e-5)
    assert scene["film"]
    for name in ("plan", "side", "end", "three-quarter", "sticks"):
        svg = site.get(f"{SHEET}/drawing/{name}.svg")
        assert svg.headers["content-type"] == "image/svg+xml"
        assert svg.text.lstrip().startswith(("<?xml", "<svg"))
    assert site.get(f"{SHEET}/drawing/nothing.svg").status_code == 404
    assert site.get(f"{SHEET}/booklet.pdf", params={"paper": "a4"}).content.startswith(b"%PDF-")
    assert site.get(f"{SHEET}/booklet.pdf", params={"paper": "a0"}).status_code == 422
    cuts = site.get(f"{SHEET}/cuts.csv")
    assert len(cuts.text.splitlines()) == 1 + len(job["cuts"])
    assert site.get(f"{SHEET}/supplies.csv").text.count("\n") > 10


def test_a_plan_that_cant_be_built_says_so_instead_of_papers(own_site):
    post(own_site, "set", path="bed.width", value="9 in")
    post(own_site, "set", path="bed.length", value="9 in")
    html = own_site.get(SHEET).text
    assert "finding stop" in html
    assert "No" in html.partition('id="answer"')[2].partition("</div>")[0]
    for name in ("scene.json", "drawing/plan.svg", "booklet.pdf", "cuts.csv"):
        answer = own_site.get(f"{SHEET}/{name}")
        assert answer.status_code == 409
        assert "be built" in answer.text
    assert own_site.get(f"{SHEET}/job.json").json()["answer"]["verdict"] == "no"
    assert own_site.get(f"/workshop/{DEMO}").status_code == 200


def test_a_plan_broken_by_hand_is_told_and_can_be_taken_back(own_site, tmp_path):
    own_site.get(SHEET)
    file = tmp_path / "plans" / f"{DEMO}.toml"
    good = file.read_text(encoding="utf-8")
    file.write_text(good.replace('length = "8 ft"', "length = 8 ft"), encoding="utf-8")
    html = own_site.get(SHEET).text
    assert "mistakes" in html
    assert "line " in html
    assert own_site.get("/").status_code == 200
    assert post(own_site, "set", path="bed.width", value="4 ft").status_code == 422
    assert post(own_site, "undo").status_code == 303
    assert file.read_text(encoding="utf-8") == good


# ---- beginning -----------------------------------------------------------------------------------------------------

ANSWERS = {"who": "two", "when": "weekly", "reach": "both", "grows": "low"}


def test_beginning_asks_first_and_rules_out_with_a_reason(site):
    first = site.get("/begin").text
    for question in ("who", "when", "reach", "grows"):
        assert f'name="{question}"' in first
    second = site.get("/begin", params={**ANSWERS, "reach": "wall"}).text
    assert "the wall is there" in second
    assert re.search(r'value="tent"[^>]*disabled', second)
    assert re.search(r'value="lean-to"[^>]*checked', second)


def test_a_begun_plan_stands_on_the_shelf(own_site):
    tape = {"shape": "tunnel", "name": "New bed", "length": "2400 mm", "width": "1.2 m", "board": "30 mm", "height": ""}
    answer = own_site.post("/begin", data={**ANSWERS, **tape})
    assert answer.headers["location"] == "/plan/new-bed"
    plan = plan_of(own_site, "new-bed")
    assert (plan["units"], plan["cover"]["shape"], plan["people"]) == ("mm", "tunnel", 2)
    assert plan["bed"]["board"] == "30 mm"
    assert own_site.get("/plan/new-bed").status_code == 200


def test_a_lean_to_begun_at_a_wall_opens(own_site):
    tape = {"shape": "lean-to", "name": "Wall bed", "length": "6 ft", "width": "3 ft"}
    own_site.post("/begin", data={**ANSWERS, "reach": "wall", **tape})
    job = own_site.get("/plan/wall-bed/job.json").json()
    assert plan_of(own_site, "wall-bed")["lean-to"]["wall_behind"]
    assert not [finding["key"] for finding in job["findings"] if finding["key"].startswith("lid.fouls")]


def test_who_opens_it_and_when_goes_into_the_plan(own_site):
    tape = {"shape": "tent", "name": "Chair bed", "length": "6 ft", "width": "3 ft"}
    own_site.post("/begin", data={"who": "seated", "when": "daily", "reach": "one", "grows": "low", **tape})
    plan = plan_of(own_site, "chair-bed")
    assert (plan["lid"]["opened_by"], plan["grow"]["opens"]) == ("seated", "morning-and-evening")
    refused = own_site.get("/begin", params={"who": "one-hand", "when": "weekly", "reach": "one", "grows": "low"}).text
    assert re.search(r'value="barn"[^>]*disabled', refused)


@pytest.mark.parametrize(
    "form",
    [
        {"shape": "tent", "length": "eight", "width": "4 ft"},
        {"shape": "tent", "length": "", "width": ""},
        {"shape": "lean-to", "length": "8 ft", "width": "4 ft"},  # ruled out: reached from both sides
        {"shape": "own", "length": "8 ft", "width": "4 ft"},
        {"length": "8 ft", "width": "4 ft"},
        {"shape": "tent", "length": "8 ft", "width": "4 ft", "name": "x" * 10_000},
        {},
    ],
)
def test_a_beginning_that_makes_no_plan_is_told(site, form):
    before = site.get("/api/plans").json()
    answer = site.post("/begin", data={**ANSWERS, **form})
    assert answer.status_code == 422
    assert 'role="alert"' in answer.text
    assert site.get("/api/plans").json() == before


# ---- workshop ------------------------------------------------------------------------------------------------------


def cuts_of(site):
    return re.findall(r'name="cut" value="([^"]*)"[^<]*<input type="hidden" name="piece" value="([0-9]+)"',
                      site.get(f"/workshop/{DEMO}").text)  # fmt: skip


def test_ticks_stay_and_belong_to_a_mark_and_its_length(own_site):
    cut, piece = cuts_of(own_site)[0]
    answer = own_site.post(f"/workshop/{DEMO}/tick", data={"cut": cut, "piece": piece, "done": "yes"})
    assert answer.status_code == 303
    assert "checked" in own_site.get(f"/workshop/{DEMO}").text
    again = own_site.post(f"/workshop/{DEMO}/tick", data={"cut": cut, "piece": piece, "done": "yes"}, headers=SCRIPTED)
    assert again.status_code == 204
    post(own_site, "set", path="bed.length", value="9 ft")
    assert (cut, piece) not in cuts_of(own_site) or "checked" in own_site.get(f"/workshop/{DEMO}").text
    post(own_site, "undo")
    assert "checked" in own_site.get(f"/workshop/{DEMO}").text
    own_site.post(f"/workshop/{DEMO}/tick", data={"cut": cut, "piece": piece, "done": "no"})
    assert "checked" not in own_site.get(f"/workshop/{DEMO}").text


@pytest.mark.parametrize(
    "form",
    [
        {},
        {"cut": "A-1", "piece": "0"},
        {"cut": "../x", "piece": "0"},
        {"cut": "<script>", "piece": "0"},
        {"cut": "$", "piece": "99"},
        {"cut": "$", "piece": "-1"},
        {"cut": "$", "piece": "1e3"},
        {"cut": "$", "piece": "²"},
    ],
)
def test_ticks_of_nothing_are_refused(site, form):
    cut = cuts_of(site)[0][0]
    sent = {name: cut if value == "$" else value for name, value in form.items()}
    answer = site.post(f"/workshop/{DEMO}/tick", data=sent)
    assert answer.status_code == 400
    assert "<script>" not in answer.text


def test_what_was_really_cut_goes_into_the_plan_and_out_again(own_site):
    job = own_site.get(f"{SHEET}/job.json").json()
    cut = next(one for one in job["cuts"] if one["role"] == "rafter")
    reading = f"{cut['length_m'] * 1000:.0f} mm"
    answer = own_site.post(f"/workshop/{DEMO}/reading", data={"what": cut["mark"], "reading": reading})
    assert answer.status_code == 303
    assert plan_of(own_site)["built"] == [{"what": cut["mark"], "reading": reading}]
    bad = own_site.post(f"/workshop/{DEMO}/reading", data={"what": cut["mark"], "reading": "<script>"})
    assert bad.status_code == 422
    assert "<script>" not in bad.text
    own_site.post(f"/workshop/{DEMO}/reading", data={"what": cut["mark"], "reading": ""})
    assert "built" not in plan_of(own_site) or plan_of(own_site)["built"] == []


def test_nothing_is_found_where_nothing_is(site):
    for path in ("/plan/none", "/plan/none/versions", "/plan/none/scene.json", "/workshop/none", "/nowhere"):
        answer = site.get(path)
        assert answer.status_code == 404
        assert answer.headers["content-type"].startswith("text/html")
    assert site.post("/plan/none/set", data={"path": "a", "value": "b"}).status_code == 404
    assert site.delete(SHEET).status_code == 405
    assert site.get("/docs").status_code == 404
    assert site.get("/openapi.json").status_code == 404


def test_the_interface_is_described_without_help_from_outside(site):
    described = site.get("/api/openapi.json").json()
    assert {"/api/job", "/api/plans", "/api/plans/{key}"} <= set(described["paths"])
    html = site.get("/api").text
    assert "/api/job" in html
    assert json.dumps(described).count("cdn") == 0
