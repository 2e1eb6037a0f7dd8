"""A page for each module, and a browser tab at both sizes that may ask nobody but this machine."""

from __future__ import annotations

import re

import pytest
from browser_site import FLAGS, SIZES, Site, chromium, is_here
from playwright.sync_api import expect

EXPECTED = re.compile("status of (422|503)")
NO_ANSWER = re.compile("htmx:sendError|net::ERR_")
BROKEN = (400, 403, 404, 405, 409, 500)
# What htmx writes about a request that a later edit has replaced. 422 answers a wrong form; 503 is a test that
# plays a network which is away.
GIVEN_UP = ("htmx:afterRequest", "htmx:sendAbort")

expect.set_options(timeout=15_000)  # a machine with other work to do takes its time


@pytest.fixture(scope="session")
def browser_type_launch_args(browser_type_launch_args):
    return {**browser_type_launch_args, "executable_path": chromium(), "args": FLAGS}


@pytest.fixture(scope="module")
def site(tmp_path_factory):
    """The page that one module's tests share; each takes a plan of its own."""
    site = Site(tmp_path_factory.mktemp("plans"))
    yield site
    site.stop()


@pytest.fixture(params=SIZES)
def size(request):
    """On a laptop, and on a phone."""
    return request.param


@pytest.fixture
def tab(browser, size):
    """A tab; at the end nothing may have gone wrong in it and nothing may have been asked of another machine."""
    yield from watched(browser, **SIZES[size])


@pytest.fixture
def cut_off(browser, size):
    """A tab whose line to the page goes dead, which it may tell on its console."""
    yield from watched(browser, forgiven=NO_ANSWER, **SIZES[size])


@pytest.fixture
def desk(browser):
    """A tab on a laptop only."""
    yield from watched(browser, **SIZES["desktop"])


@pytest.fixture
def phone(browser):
    """A tab on a phone only."""
    yield from watched(browser, **SIZES["phone"])


def watched(browser, forgiven=EXPECTED, **options):
    context = browser.new_context(**options)
    asked, wrong = [], []
    context.on("request", lambda request: asked.append(request.url))
    page = context.new_page()
    page.set_default_timeout(30_000)
    page.on("response", lambda answer: wrong.append(f"{answer.status} {answer.url}") if answer.status in BROKEN else 0)
    page.on("pageerror", lambda error: wrong.append(str(error)))
    page.on("console", lambda said: wrong.append(said.text) if said.type == "error" else None)
    yield page
    context.close()
    assert [url for url in asked if not is_here(url)] == []
    assert [said for said in wrong if not said.startswith(GIVEN_UP) and not forgiven.search(said)] == []
