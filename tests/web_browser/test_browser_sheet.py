"""The job sheet in a browser: changing the plan where its numbers stand, and what follows at once."""

from __future__ import annotations

import contextlib
import json
import re
from concurrent.futures import Future

import pytest
from browser_site import FLAGS, chromium, worked_out
from playwright.sync_api import expect

LENGTH = "#field-bed-length-value"
WIDTH = "#field-bed-width-value"


def open_step(tab, key):
    tab.evaluate("key => { document.querySelector(`#step-${key} details`).open = true }", key)


def seen_live(tab):
    """Wait for the view in space."""
    expect(tab.locator("#board.live")).to_be_visible()


def type_into(tab, field, text):
    tab.fill(field, text)
    tab.press(field, "Tab")


def test_a_changed_length_changes_frame_cuts_and_cost(tab, site):
    sheet = site.plan("Sorrel Yard, main job")
    tab.goto(sheet)
    seen_live(tab)
    for key in ("cuts", "buying"):
        open_step(tab, key)
    cuts, total = tab.locator(".cutlist td.length"), tab.locator("#gist-buying")
    before, cost = cuts.all_inner_texts(), total.inner_text()
    with tab.expect_response("**/set") as answer:
        type_into(tab, LENGTH, "12 ft")
    # From outside the program: 12 ft are 12 x 0.3048 m exactly (international foot).
    scene = json.loads(re.search("<script[^>]*>([^<]*)", answer.value.text()).group(1))
    assert scene["bed"]["length_m"] == pytest.approx(12 * 0.3048)
    expect(tab.locator("#board")).to_have_attribute("data-drawn", scene["of"])
    expect(total).not_to_have_text(cost)
    assert cuts.all_inner_texts() != before
    expect(tab.locator("#gist-bed")).to_have_text(re.compile(r"12\s?ft"))
    expect(tab.locator(WIDTH)).to_be_focused()
    assert 'length = "12 ft"' in site.text(sheet)
    worked_out(tab)


def test_what_is_slow_follows_with_a_bar(desk, site):
    desk.goto(site.plan("Sorrel Yard, slow"))
    type_into(desk, LENGTH, "11 ft 3 in")
    expect(desk.locator("#progress progress")).to_be_visible()
    desk.fill("#field-name-value", "still free to type")
    worked_out(desk)
    open_step(desk, "cuts")
    expect(desk.locator("#body-cuts")).to_contain_text("proven")


def test_enter_keeps_the_focus_and_a_bad_value_is_told_beside_its_field(tab, site):
    sheet = site.plan("Sorrel Yard, wrong")
    tab.goto(sheet)
    tab.fill(LENGTH, "8")
    tab.press(LENGTH, "Enter")
    told = tab.locator("#field-bed-length .wrong-why")
    expect(told).to_be_visible()
    expect(tab.locator(LENGTH)).to_be_focused()
    expect(tab.locator(LENGTH)).to_have_value("8")
    assert tab.locator(LENGTH).get_attribute("aria-invalid") == "true"
    assert 'length = "8 ft"' in site.text(sheet)
    tab.fill(LENGTH, "9 ft")
    tab.press(LENGTH, "Enter")
    expect(told).to_have_count(0)
    assert 'length = "9 ft"' in site.text(sheet)


def test_undo_and_redo_by_button_and_by_keys(tab, site):
    sheet = site.plan("Sorrel Yard, back and forth")
    tab.goto(sheet)
    expect(tab.locator("#undo")).to_be_disabled()
    for length in ("9 ft", "10 ft"):
        type_into(tab, LENGTH, length)
        expect(tab.locator("#gist-bed")).to_have_text(re.compile(length.replace(" ", r"\s")))
    tab.click("#undo")
    expect(tab.locator(LENGTH)).to_have_value("9 ft")
    tab.keyboard.press("Control+z")
    expect(tab.locator(LENGTH)).to_have_value("8 ft")
    expect(tab.locator("#undo")).to_be_disabled()
    tab.keyboard.press("Control+y")
    expect(tab.locator(LENGTH)).to_have_value("9 ft")
    tab.click("#redo")
    expect(tab.locator(LENGTH)).to_have_value("10 ft")
    assert 'length = "10 ft"' in site.text(sheet)


def test_mend_it_mends(tab, site):
    # A flat apex has two 45-degree elbows, which make 45-degree slopes only; two butted tees take any pitch.
    sheet = site.plan("Sorrel Yard, to mend", ('apex = "best"', 'apex = "flat"'), ("# pitch", 'pitch = "30 deg" #'))
    tab.goto(sheet)
    open_step(tab, "shape")
    tab.click("form[action$='/mend'] button")
    expect(tab.locator("form[action$='/mend']")).to_have_count(0)
    expect(tab.locator("#flat")).to_have_attribute("data-scene", re.compile("scene.json"))
    assert 'apex = "butted"' in site.text(sheet)
    tab.click("#undo")
    expect(tab.locator("form[action$='/mend']")).to_have_count(1)


def test_units_are_shown_otherwise_and_the_plan_is_left_alone(tab, site):
    sheet = site.plan("Sorrel Yard, units")
    before = site.text(sheet)
    tab.goto(sheet)
    tab.click(".units [value=mm]")
    expect(tab.locator(".units [value=mm]")).to_have_attribute("aria-pressed", "true")
    # From outside the program: an inch is 25.4 mm exactly, so 8 ft are 2438.4 mm and 3 ft 10 in are 1168.4 mm.
    expect(tab.locator("#gist-bed")).to_have_text(re.compile(r"2438\s?mm × 1168\s?mm"))
    assert site.text(sheet) == before
    tab.click(".units [value=inch]")
    expect(tab.locator("#gist-bed")).to_have_text(re.compile(r"8\s?ft × 3\s?ft\s?10\s?in"))
    assert site.text(sheet) == before


def test_a_list_grows_and_shrinks_where_it_stands(desk, site):
    sheet = site.plan("Sorrel Yard, shed")
    desk.goto(sheet)
    open_step(desk, "cuts")
    desk.evaluate("document.querySelectorAll('#fields-cuts details').forEach(list => { list.open = true })")
    desk.fill("#field-stock-on_hand-2-length-value", "7 ft")
    desk.click("#row-stock-on_hand-2 button:has-text('Add')")
    expect(desk.locator("#field-stock-on_hand-3-length-value")).to_have_count(1)
    assert site.text(sheet).count("[[stock.on_hand]]") == 3
    desk.evaluate("document.querySelectorAll('#fields-cuts details').forEach(list => { list.open = true })")
    desk.click("#row-stock-on_hand-2 button:has-text('Take away')")
    expect(desk.locator("#field-stock-on_hand-3-length-value")).to_have_count(0)
    assert site.text(sheet).count("[[stock.on_hand]]") == 2


def test_a_step_tells_how_it_was_worked_out(desk, site):
    desk.goto(site.plan("Sorrel Yard, how"))
    worked_out(desk)  # no body changes under the mouse
    for key in ("bed", "shape", "fittings", "cuts", "buying", "film"):
        open_step(desk, key)
        desk.click(f"#body-{key} .how > summary")
        expect(desk.locator(f"#body-{key} .how > p")).to_be_visible()
    expect(desk.locator("#body-fittings .how tbody tr").first).to_be_visible()


def test_on_a_phone_the_drawing_stays_in_sight(phone, site):
    phone.goto(site.plan("Sorrel Yard, phone"))
    seen_live(phone)
    open_step(phone, "shape")
    phone.locator("#body-shape").scroll_into_view_if_needed()
    phone.evaluate("scrollBy(0, 600)")
    box = phone.locator("#view").bounding_box()
    assert 0 <= box["y"] < 60
    assert box["height"] < 844 / 2
    assert phone.evaluate("document.documentElement.scrollWidth") <= 390


def test_a_step_opened_right_after_an_edit_shows_what_holds_now(tab, site):
    tab.goto(site.plan("Sorrel Yard, opened at once"))
    seen_live(tab)
    with tab.expect_response("**/set"):
        type_into(tab, LENGTH, "12 ft")
    open_step(tab, "film")
    # The pieces come with the film's step shut; it is asked for by itself, and seen only once it is what holds now.
    expect(tab.locator("#body-film[data-due]")).to_have_count(0)
    fresh = tab.context.request.get(tab.url).text()
    figures = re.search(r'id="body-film".*?<dd>([^<]*)', fresh, re.DOTALL).group(1)
    expect(tab.locator("#body-film dd").first).to_contain_text(figures.strip())
    expect(tab.locator("#body-film dd").first).to_be_visible()


def test_a_later_edit_of_the_same_field_wins_over_a_slow_one(tab, site):
    sheet = site.plan("Sorrel Yard, slow line")
    tab.goto(sheet)
    held = []
    tab.route("**/set", lambda route: held.append(route) if not held else route.continue_())
    type_into(tab, LENGTH, "9 ft")
    tab.wait_for_function("() => true")
    type_into(tab, LENGTH, "10 ft")
    expect(tab.locator("#gist-bed")).to_have_text(re.compile(r"10\sft"))
    with contextlib.suppress(Exception):
        held[0].continue_()  # the browser has given it up
    tab.wait_for_timeout(150)
    expect(tab.locator(LENGTH)).to_have_value("10 ft")
    assert 'length = "10 ft"' in site.text(sheet)


def test_answers_out_of_order_end_in_what_the_plan_says(tab, site):
    sheet = site.plan("Sorrel Yard, out of order")
    tab.goto(sheet)
    held = []
    tab.route("**/set", lambda route: held.append(route) if not held else route.continue_())
    type_into(tab, WIDTH, "3 ft 6 in")
    type_into(tab, LENGTH, "10 ft")
    expect(tab.locator("#gist-bed")).to_have_text(re.compile(r"10\sft × 3\sft\s10\sin"))
    held[0].continue_()
    expect(tab.locator("#gist-bed")).to_have_text(re.compile(r"10\sft × 3\sft\s6\sin"))
    expect(tab.locator(LENGTH)).to_have_value("10 ft")
    expect(tab.locator(WIDTH)).to_have_value("3 ft 6 in")


def test_without_scripts_the_same_job_is_done(browser, site):
    context = browser.new_context(java_script_enabled=False)
    tab = context.new_page()
    sheet = site.plan("Sorrel Yard, no scripts")
    tab.goto(sheet)
    expect(tab.locator("#flat img")).to_be_visible()
    expect(tab.locator("#view")).to_be_hidden()
    tab.fill(LENGTH, "10 ft")
    tab.click("#field-bed-length .save")
    expect(tab.locator("#gist-bed")).to_have_text(re.compile(r"10\sft"))
    assert 'length = "10 ft"' in site.text(sheet)
    tab.fill(LENGTH, "ten")
    tab.click("#field-bed-length .save")
    expect(tab.locator("#field-bed-length .wrong-why")).to_be_visible()
    tab.goto(sheet)
    tab.click("#undo")
    expect(tab.locator(LENGTH)).to_have_value("8 ft")
    tab.click("#step-cuts summary h2")
    expect(tab.locator(".cutlist")).to_be_visible()
    context.close()


def test_without_webgl_the_drawing_stays(browser_type, site):
    flags = [flag for flag in FLAGS if "swiftshader" not in flag]
    browser = browser_type.launch(executable_path=chromium(), args=[*flags, "--disable-3d-apis"])
    tab = browser.new_page()
    tab.goto(site.plan("Sorrel Yard, no WebGL"))
    assert tab.evaluate("document.createElement('canvas').getContext('webgl2')") is None
    drawing = tab.locator("#flat img")
    expect(drawing).to_be_visible()
    address = drawing.get_attribute("src")
    type_into(tab, LENGTH, "10 ft")
    expect(drawing).not_to_have_attribute("src", address)
    assert tab.evaluate("document.querySelector('#flat img').decode().then(() => true)")
    expect(tab.locator("#view")).to_be_hidden()
    browser.close()


def test_where_no_answer_comes_it_says_so_until_the_change_is_kept(cut_off, site):
    sheet = site.plan("Sorrel Yard, cable out")
    cut_off.goto(sheet)
    expect(cut_off.locator("#unanswered")).to_be_hidden()
    site.stop()
    try:
        type_into(cut_off, LENGTH, "9 ft")
        expect(cut_off.locator("#unanswered")).to_be_visible()
    finally:
        site.start()
    assert 'length = "9 ft"' not in site.text(sheet)
    cut_off.press(LENGTH, "Enter")
    expect(cut_off.locator("#unanswered")).to_be_hidden()
    expect(cut_off.locator("#gist-bed")).to_have_text(re.compile(r"9\sft"))
    assert 'length = "9 ft"' in site.text(sheet)


def test_cuts_that_came_ahead_go_again_where_nothing_follows(cut_off, site, monkeypatch):
    sheet = site.plan("Sorrel Yard, cut short")
    cut_off.goto(sheet)
    seen_live(cut_off)
    cuts, drawn = cut_off.locator(".cutlist"), cut_off.locator("#board").get_attribute("data-drawn")
    before = cuts.text_content()
    gate = Future()
    monkeypatch.setattr(site.app.state.house.hands, "submit", lambda _rest: gate)
    cut_off.fill(LENGTH, "12 ft")
    cut_off.press(LENGTH, "Enter")
    expect(cuts).not_to_have_text(before)
    expect(cut_off.locator("#board")).not_to_have_attribute("data-drawn", drawn)
    gate.set_exception(ConnectionError("the line went dead"))
    expect(cut_off.locator("#unanswered")).to_be_visible()
    assert cuts.text_content() == before
    expect(cut_off.locator("#board")).to_have_attribute("data-drawn", drawn)
    assert 'length = "12 ft"' not in site.text(sheet)
