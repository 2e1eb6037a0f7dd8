"""Parts and order on the page: steps with words and pictures, the wishes set where they stand, ticks that stay."""

from __future__ import annotations

import re
import time
import tomllib

from page_server import DEMO, SCRIPTED

SHEET = f"/plan/{DEMO}"
WORKSHOP = f"/workshop/{DEMO}"


def settled(site):
    """The sheet once nothing more is looked for: the order comes with the full run."""
    for _ in range(300):
        html = site.get(SHEET).text
        if f"{SHEET}/rest" not in html:
            return html
        time.sleep(0.1)
    raise AssertionError("the bench never finished")


def part_of(site):
    html = settled(site)
    return html[html.index('id="step-parts"') : html.index('id="step-film"')]


def test_each_step_of_the_build_is_a_fold_with_its_words_and_its_picture(site):
    html = part_of(site)
    numbers = [int(number) for number in re.findall(r'<div class="build-step" id="build-(\d+)">', html)]
    assert numbers == list(range(1, len(numbers) + 1))
    assert len(numbers) > 5
    assert html.count("<details name=") == len(numbers)  # one open at a time, with scripts or without
    pictures = re.findall(r'src="(/plan/[^"]+/drawing/(?:step-\d+|packing)\.svg[^"]*)"', html)
    assert len(pictures) == len(numbers) + 1
    for picture in pictures:
        answer = site.get(picture.replace("&amp;", "&"))
        assert answer.headers["content-type"].startswith("image/svg+xml")
        assert answer.text.startswith("<svg")


def test_the_next_step_is_a_plain_link(site):
    html = part_of(site)
    last = max(int(number) for number in re.findall(r'id="build-(\d+)"', html))
    links = {int(number) for number in re.findall(r'class="button" href="#build-(\d+)"', html)}
    assert links == set(range(2, last + 1))


def test_a_step_names_the_pieces_that_do_not_stand_yet(site):
    html = part_of(site)
    later = [set(ids.split()) for ids in re.findall(r'data-later="([^"]+)"', html)]
    scene = site.get(f"{SHEET}/scene.json").json()
    known = {piece["id"] for piece in (*scene["pipes"], *scene["fittings"])}
    assert all(ids <= known for ids in later)
    sizes = [len(ids) for ids in later[-8:]]
    assert sizes == sorted(sizes, reverse=True)  # toward the end more and more stands


def test_cautions_stand_with_their_step(site):
    html = part_of(site)
    folds = html.split("<details name=")[1:]
    cement = [fold for fold in folds if "Primer in the socket" in fold]
    assert cement
    assert all("outdoors or in a draught" in fold for fold in cement)


def test_the_wish_is_set_where_it_stands(own_site):
    answer = own_site.post(f"{SHEET}/set", data={"path": "store.wish", "value": "no-cement"})
    assert answer.status_code == 303
    assert tomllib.loads(own_site.get(f"{SHEET}/plan.toml").text)["store"]["wish"] == "no-cement"
    html = part_of(own_site)
    assert "Primer in the socket" not in html
    assert own_site.post(f"{SHEET}/set", data={"path": "store.length", "value": "6 ft"}).status_code == 303
    assert own_site.post(f"{SHEET}/set", data={"path": "store.in_car", "value": "yes"}).status_code == 303
    assert tomllib.loads(own_site.get(f"{SHEET}/plan.toml").text)["store"] == {
        "wish": "no-cement",
        "length": "6 ft",
        "in_car": True,
    }


def test_steps_are_ticked_in_the_workshop_and_stay_ticked(own_site):
    settled(own_site)
    html = own_site.get(WORKSHOP).text
    names = re.findall(r'name="cut" value="(build-[^"]+)"', html)
    first = names[0]
    told = own_site.post(f"{WORKSHOP}/tick", data={"cut": first, "piece": "0", "done": "yes"}, headers=SCRIPTED)
    assert told.status_code == 204
    html = own_site.get(WORKSHOP).text
    assert '<strong id="build-done">1</strong>' in html
    section = html[html.index(f'id="cut-{first}"') :]
    assert "checked" in section[: section.index("</form>")]
    plain = own_site.post(f"{WORKSHOP}/tick", data={"cut": first, "piece": "0", "done": "no"})
    assert plain.headers["location"] == f"{WORKSHOP}#cut-{first}"
    assert '<strong id="build-done">0</strong>' in own_site.get(WORKSHOP).text


def test_parts_made_alike_have_a_tick_each(own_site):
    settled(own_site)
    html = own_site.get(WORKSHOP).text
    pairs = re.findall(r'name="cut" value="(build-[^"]+)"><input type="hidden" name="piece" value="(\d+)"', html)
    assert any(piece == "1" for _, piece in pairs)
    assert len(set(pairs)) == len(pairs)


def test_a_tick_of_no_step_is_refused(own_site):
    settled(own_site)
    for name in ("build-1-00000000", "build-1", "build"):
        answer = own_site.post(f"{WORKSHOP}/tick", data={"cut": name, "piece": "0", "done": "yes"})
        assert answer.status_code == 400


def test_a_tick_sent_while_the_order_is_worked_out_anew_is_kept(own_site):
    settled(own_site)
    name = re.search(r'name="cut" value="(build-[^"]+)"', own_site.get(WORKSHOP).text).group(1)
    own_site.post(f"{SHEET}/set", data={"path": "bed.timber", "value": "oak"})  # nothing of the build changes by it
    answer = own_site.post(f"{WORKSHOP}/tick", data={"cut": name, "piece": "0", "done": "yes"}, headers=SCRIPTED)
    assert answer.status_code == 204
    settled(own_site)
    assert '<strong id="build-done">1</strong>' in own_site.get(WORKSHOP).text
