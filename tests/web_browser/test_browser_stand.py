"""Will it stand, in a browser at both sizes: limits and pictures come by themselves, a change takes one tap."""

from __future__ import annotations

import re

import pytest
from browser_site import PATIENCE_MS, serious_faults
from playwright.sync_api import expect

STEP = "#step-stand"


@pytest.fixture
def sheet(tab, site, size):
    """The step open, everything worked out."""
    address = site.plan(f"Sorrel Yard, standing, {size}")
    tab.goto(address)
    tab.locator(f"{STEP} > details > summary").click()
    expect(tab.locator(f"{STEP} .changes li").first).to_be_visible(timeout=PATIENCE_MS)
    return address


def test_limits_and_pictures_come_by_themselves(tab, sheet):
    step = tab.locator(STEP)
    expect(step.locator(".estimate")).to_contain_text("no structural approval")
    shut = step.locator("dl > div", has_text="Shut, hinged and latched").first
    expect(shut.locator("strong")).to_have_text(re.compile(r"^\d+.mph$"))
    expect(step.locator(".gist")).to_contain_text("gusts to about")
    assert step.locator(".plate img").count() == 4
    for picture in step.locator(".plate img").all():
        picture.scroll_into_view_if_needed()
        expect(picture).to_be_visible()
        tab.wait_for_function("image => image.complete && image.naturalWidth > 0", arg=picture.element_handle())
    assert tab.evaluate("document.documentElement.scrollWidth <= innerWidth")


def test_nothing_serious_is_found_on_it(tab, sheet):
    tab.evaluate(f"document.querySelectorAll('{STEP} details').forEach(fold => {{ fold.open = true }})")
    assert serious_faults(tab) == []


def test_a_change_is_one_tap_and_can_be_taken_back(tab, site, sheet):
    button = tab.locator(f"{STEP} .changes li", has_text="One more bent").get_by_role("button")
    expect(button).to_contain_text("Do it")
    box = button.bounding_box()
    assert box["height"] >= 44  # a thumb's width: WCAG 2.2, 2.5.5
    button.click()
    expect(tab.locator("#field-cover-bents-value")).to_have_value("4", timeout=PATIENCE_MS)
    assert "bents = 4" in site.text(sheet)
    expect(tab.locator(f"{STEP} .changes li").first).to_be_visible(timeout=PATIENCE_MS)
    tab.locator("#undo").click()
    expect(tab.locator("#field-cover-bents-value")).to_have_value("", timeout=PATIENCE_MS)


def test_what_the_place_has_to_meet_is_typed_and_checked_where_it_stands(tab, site, sheet):
    tab.fill("#field-site-design_gust-value", "130 mph")
    tab.press("#field-site-design_gust-value", "Enter")
    expect(tab.locator(f"{STEP} .finding.warn", has_text="130")).to_be_visible(timeout=PATIENCE_MS)
    assert 'design_gust = "130 mph"' in site.text(sheet)
