"""Typing while answers come in: what was not sent yet is nobody's to change, and what was told wrong stays told."""

from __future__ import annotations

import re

import pytest
from browser_site import worked_out
from playwright.sync_api import expect

LENGTH = "#field-bed-length-value"
WIDTH = "#field-bed-width-value"
SHAPE = "#field-cover-shape-value"
HEIGHT = "#field-cover-height-value"


@pytest.fixture
def held(tab):
    """The first edit, on its way for as long as a test likes."""
    held = []
    tab.route("**/set", lambda route: held.append(route) if not held else route.continue_())
    return held


def forget_state(tab):
    """As after a restart: the page behind the sheet does not know what this one shows, and answers all of it."""
    tab.evaluate("document.querySelector('#state').value = 'nobody-knows-1'")


def test_an_answer_leaves_what_is_being_typed(tab, site, held):
    sheet = site.plan("Sorrel Yard, typing")
    tab.goto(sheet)
    tab.fill(LENGTH, "9 ft")
    forget_state(tab)
    tab.press(LENGTH, "Tab")
    tab.locator(WIDTH).select_text()
    tab.keyboard.type("3 ft")
    held[0].continue_()
    expect(tab.locator("#gist-bed")).to_have_text(re.compile(r"9\sft × 3\sft\s10\sin"))
    expect(tab.locator(WIDTH)).to_have_value("3 ft")
    tab.keyboard.type(" 6 in")
    tab.keyboard.press("Tab")
    expect(tab.locator("#gist-bed")).to_have_text(re.compile(r"9\sft × 3\sft\s6\sin"))
    assert 'width = "3 ft 6 in"' in site.text(sheet)


def test_what_is_being_typed_goes_over_where_other_fields_come_and_go(tab, site, held):
    sheet = site.plan("Sorrel Yard, other shape")
    tab.goto(sheet)
    tab.evaluate("document.querySelector('#step-shape details').open = true")
    before = tab.input_value(HEIGHT)
    tab.select_option(SHAPE, "barn")
    tab.locator(HEIGHT).select_text()
    tab.keyboard.type("3 f")
    held[0].continue_()
    expect(tab.locator("#gist-shape")).to_contain_text("barn")
    expect(tab.locator(HEIGHT)).to_have_value("3 f")
    expect(tab.locator(HEIGHT)).to_be_focused()
    assert 'height = "3' not in site.text(sheet)  # half a word is sent nowhere
    tab.keyboard.type("t")
    tab.keyboard.press("Tab")
    expect(tab.locator("#gist-shape")).to_contain_text(re.compile(r"3\sft high"))
    assert 'height = "3 ft"' in site.text(sheet)
    tab.click("#undo")
    expect(tab.locator(HEIGHT)).to_have_value(before)  # it was sent, and is the plan's again


def test_what_is_told_wrong_stays_told_while_the_bench_goes_on(desk, site):
    # the bench takes plans in turn, those of the tests before among them
    desk.goto(site.plan("Sorrel Yard, told wrong"))
    desk.fill(LENGTH, "9 ft")
    desk.press(LENGTH, "Tab")
    expect(desk.locator("progress")).to_be_visible()
    desk.fill(WIDTH, "wide")
    desk.press(WIDTH, "Tab")
    expect(desk.locator("#field-bed-width .wrong-why")).to_be_visible()
    worked_out(desk)
    expect(desk.locator("#field-bed-width .wrong-why")).to_be_visible()
    expect(desk.locator(WIDTH)).to_have_value("wide")
