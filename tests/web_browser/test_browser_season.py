"""The season in a browser, on a laptop and on a phone: it follows by itself, reads well, answers today's question."""

from __future__ import annotations

import pytest
from browser_site import PATIENCE_MS, serious_faults
from playwright.sync_api import expect

END = "# Fittings differ from maker to maker."
GROWN = '[site]\nplace = "Sorrel Yard"\n\n[grow]\ncrops = ["lettuce", "tomato"]\n\n' + END
ALONE = (
    "document.querySelectorAll('.step > details').forEach(fold => {"
    " fold.open = fold.closest('#step-season') !== null })"
)


@pytest.fixture(scope="module")
def grown(site):
    """A plan that knows its place; its season is worked out once."""
    return site.plan("Sorrel Yard, a season", (END, GROWN))


def opened(tab, grown):
    tab.goto(grown)
    expect(tab.locator("#board.live")).to_be_visible()
    tab.evaluate(ALONE)
    expect(tab.locator("#step-season .plate")).to_have_count(4, timeout=PATIENCE_MS)


def test_the_season_comes_by_itself_and_reads_well(tab, grown):
    opened(tab, grown)
    step = tab.locator("#step-season")
    expect(step).to_contain_text("soil warm enough from")
    expect(tab.locator("#gist-season")).to_contain_text("warmer by")
    assert serious_faults(tab) == []
    assert tab.evaluate("document.documentElement.scrollWidth <= innerWidth")
    for picture in step.locator(".plate img").all():
        picture.scroll_into_view_if_needed()
        expect(picture).to_have_js_property("complete", True)
        assert picture.evaluate("img => img.naturalWidth") > 0
        assert len(picture.get_attribute("alt")) > 80


def test_today_is_answered_in_place_and_what_was_typed_stays(tab, grown):
    opened(tab, grown)
    tab.fill("#today-low", "30")
    tab.fill("#today-high", "60")
    tab.fill("#today-wind", "5 mph")
    tab.locator("#today-sky").select_option("clear")
    tab.locator(".today button").click()
    answer = tab.locator("#today-answer")
    expect(answer).to_contain_text("Coldest inside tonight", timeout=PATIENCE_MS)
    assert "/today" not in tab.url
    assert tab.input_value("#today-low") == "30"
    tab.fill("#today-high", "10")
    tab.locator(".today button").click()
    expect(tab.locator("#step-season")).to_contain_text("wrong box")
    assert serious_faults(tab) == []


def test_the_weather_page_and_todays_own_page(tab, site):
    sheet = site.plan("Sorrel Yard, weather")
    for path in ("/weather", "/today", "/today?low=x&high=10&wind=3"):
        tab.goto(sheet + path)
        assert (path, serious_faults(tab)) == (path, [])
        assert tab.evaluate("document.documentElement.scrollWidth <= innerWidth"), path
    tab.goto(f"{sheet}/weather")
    tab.get_by_role("button", name="Try it with Sorrel Yard").click()
    tab.wait_for_url(f"{sheet}#step-season")
    assert 'place = "Sorrel Yard"' in site.text(sheet)


def test_months_are_typed_in_by_keyboard(desk, site):
    sheet = site.plan("Sorrel Yard, months")
    desk.goto(f"{sheet}/weather")
    desk.fill("input[name='site.latitude']", "44 N")
    for column, figure in (("high", "60"), ("low", "40"), ("dew", "38"), ("wind", "8"), ("sun", "6")):
        for month in range(12):
            desk.fill(f"input[name='{column}-{month}']", figure)
    desk.get_by_role("button", name="Keep these months").click()
    desk.wait_for_url(f"{sheet}#step-season")
    assert 'high = ["60 F", ' in site.text(sheet)
