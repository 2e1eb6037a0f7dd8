"""Parts and order in a browser: one step open at a time, the view as far as it has come, ticks in the workshop."""

from __future__ import annotations

import base64
import io
import re

import numpy as np
from browser_site import PATIENCE_MS, serious_faults
from PIL import Image
from playwright.sync_api import expect

OPEN_ALL = """document.querySelectorAll('#step-parts details').forEach(fold => {
  fold.removeAttribute('name');
  fold.open = true;
})"""


def open_parts(tab):
    """Open the step, once the order is there: it comes with the full run."""
    expect(tab.locator(".build > li").first).to_be_attached(timeout=PATIENCE_MS)
    tab.evaluate("document.querySelector('#step-parts > details').open = true")


def fittings_seen(tab):
    """How many pixels of the view are in the fittings' green, asked of the browser itself."""
    tab.evaluate("scrollTo(0, 0)")  # a clip is told from the page's top
    tab.wait_for_timeout(300)
    box = tab.locator("#view").bounding_box()
    wire = tab.context.new_cdp_session(tab)
    shot = base64.b64decode(wire.send("Page.captureScreenshot", {"clip": {**box, "scale": 1}})["data"])
    red, green, blue = (np.array(Image.open(io.BytesIO(shot)).convert("RGB"))[..., k].astype(int) for k in range(3))
    return int(((green - red > 15) & (green - blue > 25) & (green < 170)).sum())


def test_one_step_is_open_at_a_time_and_the_next_is_one_tap_away(tab, site):
    tab.goto(site.plan("Sorrel Yard, step by step"))
    open_parts(tab)
    folds = tab.locator(".build > li > details")
    assert folds.count() > 5
    folds.nth(3).locator("summary").click()
    expect(folds.nth(3).locator("img")).to_be_visible()
    folds.nth(3).get_by_role("link", name="Next step").click()
    expect(folds.nth(4)).to_have_attribute("open", "")
    expect(folds.nth(3)).not_to_have_attribute("open", "")
    picture = folds.nth(4).locator("img")
    expect(picture).to_be_in_viewport()
    expect(picture).to_have_js_property("complete", True)
    assert picture.evaluate("image => image.naturalWidth") > 0
    assert tab.evaluate("document.documentElement.scrollWidth <= innerWidth")


def test_the_view_shows_what_stands_by_then(desk, site):
    desk.goto(site.plan("Sorrel Yard, as far as it has come"))
    expect(desk.locator("#board.live")).to_be_visible()
    open_parts(desk)
    whole = fittings_seen(desk)
    steps = desk.locator(".build > li > details[data-later]")
    steps.first.locator("summary").click()
    first = fittings_seen(desk)
    assert 0 < first < 0.7 * whole
    steps.first.locator("summary").click()  # shut again: the whole frame is back, sharp once the page is at rest
    for _ in range(20):
        if fittings_seen(desk) > 0.9 * whole:
            return
    raise AssertionError(f"{fittings_seen(desk)} of {whole} are back")


def test_everything_opened_has_no_serious_fault(tab, site):
    tab.goto(site.plan("Sorrel Yard, all steps"))
    open_parts(tab)
    tab.evaluate(OPEN_ALL)
    assert serious_faults(tab) == []
    assert tab.evaluate("document.documentElement.scrollWidth <= innerWidth")


def test_lettering_in_the_pictures_can_be_read_on_a_phone(phone, site):
    # Smallest type that is read at arm's length: about 9 px of 1/96 in (common practice, no source).
    phone.goto(site.plan("Sorrel Yard, on a phone"))
    open_parts(phone)
    fold = phone.locator(".build > li > details[data-later]").last
    fold.locator("summary").click()
    picture = fold.locator("img")
    expect(picture).to_be_visible()
    wide = picture.evaluate("image => image.clientWidth")
    svg = phone.request.get(site.address + picture.get_attribute("src")).text()
    paper_mm = float(re.search(r'viewBox="0 0 ([\d.]+)', svg).group(1))
    letters = [float(size) for size in re.findall(r'<text[^>]*font-size="([\d.]+)"', svg)]
    assert letters
    assert min(letters) * wide / paper_mm >= 9.0


def test_a_step_ticked_on_the_phone_is_ticked_on_the_desk(phone, desk, site):
    sheet = site.plan("Sorrel Yard, ticks of the build")
    workshop = sheet.replace("/plan/", "/workshop/")
    phone.goto(sheet)
    open_parts(phone)
    phone.goto(workshop)
    box = phone.locator(".build-tick input[type=checkbox]").first
    size = phone.locator(".build-tick .boxes label").first.bounding_box()
    assert min(size["width"], size["height"]) >= 44  # WCAG 2.2, 2.5.5 Target Size (Enhanced)
    with phone.expect_response(re.compile("/tick")):
        box.check()
    expect(phone.locator("#build-done")).to_have_text("1")
    expect(phone.locator("#cut-done")).to_have_text("0")
    desk.goto(workshop)
    expect(desk.locator(".build-tick input[type=checkbox]").first).to_be_checked()


def test_all_steps_are_there_with_scripts_off(browser, site):
    tab = browser.new_context(java_script_enabled=False).new_page()
    tab.goto(site.plan("Sorrel Yard, no scripts"))
    for _ in range(60):  # without scripts the page is asked for again
        if tab.locator(".build > li").count():
            break
        tab.wait_for_timeout(500)
        tab.reload()
    tab.locator("#step-parts > details > summary").click()
    folds = tab.locator(".build > li > details")
    folds.first.locator("summary").click()
    expect(folds.first.locator("img")).to_be_visible()
    folds.nth(1).locator("summary").click()
    expect(folds.first.locator("img")).not_to_be_visible()  # the browser itself keeps one open
    tab.close()
