"""The frame in space: what a tap and the keys tell, the film, turning it."""

from __future__ import annotations

import re

from browser_site import worked_out
from playwright.sync_api import expect

# A mark, what the pipe is, its cut length as on the tape, and the sticks it comes from.
A_PIPE = re.compile(r"^[A-Z]+, [a-z ]+, \d+( \d+/\d+)? in, from sticks? \d")


def shown(tab, site, name):
    tab.goto(site.plan(name))
    expect(tab.locator("#board.live")).to_be_visible()
    worked_out(tab)


def picture(tab):
    """The view's pixels at rest, from the browser itself: a screenshot of Playwright's puts a style into the page."""
    box = tab.locator("#view").bounding_box()
    wire = tab.context.new_cdp_session(tab)
    before = None
    for _ in range(50):
        tab.evaluate("new Promise(drawn => requestAnimationFrame(() => requestAnimationFrame(drawn)))")
        tab.wait_for_timeout(100)
        now = wire.send("Page.captureScreenshot", {"clip": {**box, "scale": 1}})["data"]
        if now == before:
            return now
        before = now
    raise AssertionError("the view never came to rest")


def test_a_tapped_pipe_tells_its_mark_length_and_stick(tab, site, size):
    shown(tab, site, "Sorrel Yard, tapped")
    box = tab.locator("#view").bounding_box()
    touch = tab.touchscreen.tap if size == "phone" else tab.mouse.click
    said = tab.locator("#said")
    for step in range(400):
        across, down = step % 20, step // 20
        touch(box["x"] + box["width"] * (across + 0.5) / 20, box["y"] + box["height"] * (0.15 + 0.6 * down / 20))
        if A_PIPE.match(said.inner_text()):
            break
    expect(said).to_have_text(A_PIPE)
    mark = said.inner_text().partition(",")[0]
    picked = tab.locator("tr.picked")
    expect(picked).to_have_count(1)
    assert picked.get_attribute("data-mark") == mark
    assert picked.locator(".length").text_content() in said.inner_text()


def test_keys_walk_from_pipe_to_pipe_and_turn_the_frame(tab, site):
    shown(tab, site, "Sorrel Yard, keys")
    view, said = tab.locator("#view"), tab.locator("#said")
    view.focus()
    tab.keyboard.press("n")
    expect(said).to_have_text(A_PIPE)
    first = said.inner_text()
    tab.keyboard.press("n")
    tab.keyboard.press("n")
    tab.keyboard.press("p")
    tab.keyboard.press("p")
    expect(said).to_have_text(first)
    before = picture(tab)
    for key in ("ArrowLeft", "ArrowUp", "+"):
        tab.keyboard.press(key)
    turned = picture(tab)
    assert turned != before
    tab.keyboard.press("Home")
    assert picture(tab) == before


def test_the_film_can_be_hidden(tab, site):
    shown(tab, site, "Sorrel Yard, film")
    with_film = picture(tab)
    tab.uncheck("#film-shown")
    without = picture(tab)
    assert without != with_film
    tab.check("#film-shown")
    assert picture(tab) != without
