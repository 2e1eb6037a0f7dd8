"""What axe-core (WCAG 2 and its own rules of good practice) finds on every state of the page: nothing serious."""

from __future__ import annotations

from browser_site import serious_faults
from playwright.sync_api import expect

OPEN_ALL = "document.querySelectorAll('details').forEach(fold => { fold.open = true })"


def test_the_sheet_open_wrong_and_refused(tab, site):
    sheet = site.plan("Sorrel Yard, for everybody")
    tab.goto(sheet)
    expect(tab.locator("#board.live")).to_be_visible()
    assert serious_faults(tab) == []
    tab.evaluate(OPEN_ALL)
    assert serious_faults(tab) == []
    tab.fill("#field-bed-length-value", "8")
    tab.press("#field-bed-length-value", "Enter")
    expect(tab.locator(".wrong-why")).to_be_visible()
    assert serious_faults(tab) == []
    tab.fill("#field-bed-length-value", "2 ft")
    tab.fill("#field-bed-width-value", "6 in")
    tab.press("#field-bed-width-value", "Enter")
    expect(tab.locator("#field-bed-width .wrong-why, .finding.stop").first).to_be_visible()
    assert serious_faults(tab) == []


def test_every_other_page(tab, site):
    sheet = site.plan("Sorrel Yard, other pages")
    key = sheet.rpartition("/")[2]
    for path in (
        "/",
        "/begin",
        "/begin?who=alone&when=daily&reach=wall&grows=tall",
        f"/compare?a={key}&b={key}",
        f"/workshop/{key}",
        f"/workshop/{key}/phone",
        f"/plan/{key}/versions",
        "/api",
    ):
        tab.goto(site.address + path)
        tab.evaluate(OPEN_ALL)
        assert (path, serious_faults(tab)) == (path, [])
        assert tab.evaluate("document.documentElement.scrollWidth <= innerWidth"), path


def test_twice_the_size_still_fits(browser, site):
    # WCAG 2.2, 1.4.10 Reflow: at 320 CSS px (1280 px at 400 %) nothing scrolls in two directions.
    tab = browser.new_page(viewport={"width": 320, "height": 640})
    tab.goto(site.plan("Sorrel Yard, enlarged"))
    tab.evaluate(OPEN_ALL)
    assert tab.evaluate("document.documentElement.scrollWidth") <= 320
    tab.close()


def test_everything_is_reached_by_keyboard(desk, site):
    desk.goto(site.plan("Sorrel Yard, keyboard"))
    expect(desk.locator("#board.live")).to_be_visible()
    reached = []
    for _ in range(16):
        desk.keyboard.press("Tab")
        reached.append(desk.evaluate("document.activeElement.id || document.activeElement.textContent.trim()"))
        assert desk.evaluate("getComputedStyle(document.activeElement).outlineStyle") != "none"
    assert {"view", "film-shown", "view-home", "field-bed-length-value"} <= set(reached)
