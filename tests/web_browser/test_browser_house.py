"""The shelf, beginning a cover, copies, two side by side, versions, and the workshop."""

from __future__ import annotations

import re

from browser_site import Site
from playwright.sync_api import expect


def test_a_first_visit_finds_a_plan_to_play_with(tab, tmp_path):
    site = Site(tmp_path)
    tab.goto(site.address)
    tab.click(".plans a:has-text('Sorrel Yard')")
    expect(tab.locator("#answer")).not_to_be_empty()
    tab.goto("about:blank")
    site.stop()


def test_beginning_asks_first_and_rules_kinds_out_with_the_reason(tab, site):
    tab.goto(site.address)
    tab.click("text=Begin a cover of your own")
    tab.check("input[name=reach][value=wall]")
    tab.click("text=Next: the tape")
    tent = tab.locator("label.choice", has=tab.locator("input[value=tent]"))
    expect(tent.locator("input")).to_be_disabled()
    expect(tent).to_contain_text("the wall is there")
    expect(tab.locator("input[value=lean-to]")).to_be_checked()
    tab.fill("#begin-name", "Sorrel Yard, by the wall")
    tab.fill("#begin-length", "a long one")
    tab.fill("#begin-width", "3 ft")
    tab.click("text=Work it out")
    expect(tab.locator("[role=alert]")).to_be_visible()
    expect(tab.locator("#begin-width")).to_have_value("3 ft")
    tab.fill("#begin-length", "6 ft")
    tab.click("text=Work it out")
    expect(tab.locator("h1")).to_have_text("Sorrel Yard, by the wall")
    expect(tab.locator("#gist-bed")).to_have_text(re.compile(r"6\sft × 3\sft"))
    assert 'shape = "lean-to"' in site.text(tab.url)


def test_a_copy_at_another_size_and_both_side_by_side(tab, site):
    sheet = site.plan("Sorrel Yard, long one")
    tab.goto(sheet)
    tab.fill("#copy-name", "Sorrel Yard, <b>short</b> one")
    tab.fill("#copy-length", "6 ft")
    tab.click("#again button")
    expect(tab.locator("h1")).to_have_text("Sorrel Yard, <b>short</b> one")
    expect(tab.locator("#gist-bed")).to_have_text(re.compile(r"6\sft"))
    copy = tab.url.rpartition("/")[2]
    assert 'length = "8 ft"' in site.text(sheet)
    tab.goto(site.address)
    tab.select_option("#pair-a", sheet.rpartition("/")[2])
    tab.select_option("#pair-b", copy)
    tab.click(".pair button")
    differing = tab.locator("tr.differs", has_text="Bed, outside")
    expect(differing).to_contain_text(re.compile(r"8\sft.*6\sft"))


def test_an_earlier_version_comes_back(tab, site):
    sheet = site.plan("Sorrel Yard, versions")
    tab.goto(sheet)
    tab.fill("#field-bed-length-value", "9 ft")
    tab.press("#field-bed-length-value", "Enter")
    expect(tab.locator("#undo")).to_be_enabled()
    tab.click("text=Earlier versions")
    tab.click("button:has-text('Bring back')")
    tab.goto(sheet)
    expect(tab.locator("#field-bed-length-value")).to_have_value("8 ft")
    assert 'length = "8 ft"' in site.text(sheet)


def test_ticks_stay_after_a_reload_and_after_the_server_restarts(tab, site):
    workshop = site.plan("Sorrel Yard, ticks").replace("/plan/", "/workshop/")
    tab.goto(workshop)
    boxes = tab.locator(".boxes input[type=checkbox]")
    count = boxes.count()
    assert boxes.first.bounding_box()["height"] >= 44
    for number in (0, 2):
        with tab.expect_response("**/tick"):
            boxes.nth(number).check()
    expect(tab.locator(".sent-note")).to_have_text(f"2 of {count} pieces cut")
    tab.reload()
    assert [boxes.nth(number).is_checked() for number in range(3)] == [True, False, True]
    site.stop()
    site.start()
    tab.reload()
    assert [boxes.nth(number).is_checked() for number in range(3)] == [True, False, True]
    expect(tab.locator(".sent-note")).to_have_text(f"2 of {count} pieces cut")


def test_a_tick_made_out_of_reach_is_sent_when_the_network_is_back(phone, site):
    workshop = site.plan("Sorrel Yard, out of reach").replace("/plan/", "/workshop/")
    phone.goto(workshop)
    phone.route("**/tick", lambda route: route.fulfill(status=503))
    with phone.expect_response("**/tick"):
        phone.locator(".boxes input[type=checkbox]").first.check()
    expect(phone.locator("html.unsent")).to_have_count(1)
    phone.unroute("**/tick")
    with phone.expect_response("**/tick"):
        phone.evaluate("dispatchEvent(new Event('online'))")
    expect(phone.locator("html.unsent")).to_have_count(0)
    phone.reload()
    expect(phone.locator(".boxes input[type=checkbox]").first).to_be_checked()


def test_what_was_really_cut_changes_what_is_not_yet_cut(tab, site):
    sheet = site.plan("Sorrel Yard, as built")
    tab.goto(sheet.replace("/plan/", "/workshop/"))
    lengths = tab.locator(".cut-head .length")
    before = lengths.all_inner_texts()
    # The first mark is an end rail: cut 1/2 in short, the base comes out narrower and others must follow.
    first = tab.locator(".cut").first
    first.locator("summary").click()
    first.locator("input[name=reading]").fill("42 1/2 in")
    first.locator("button:has-text('Keep'):visible").last.click()
    expect(tab.locator(".cut").first.locator("input[name=reading]")).to_have_value("42 1/2 in")
    assert "[[built]]" in site.text(sheet)
    assert lengths.all_inner_texts() != before
