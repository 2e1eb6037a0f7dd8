"""Who is answered, how much is taken, and what a browser may do with an answer."""

from __future__ import annotations

import asyncio
import socket
from concurrent.futures import ThreadPoolExecutor

import httpx
import pytest
from page_server import DEMO, SCRIPTED

from clochewright.web import Settings, build_app
from clochewright.web.doorkeys import COOKIE, DoorKeys
from clochewright.web.guards import MOST_BYTES

FORM = {"path": "bed.length", "value": "9 ft"}


def in_a_loop(work):
    """What asynchronous work gives, in a thread of its own: a browser test may have left a loop running in this one."""
    with ThreadPoolExecutor(max_workers=1) as pool:
        return pool.submit(asyncio.run, work).result()


def text_of(site):
    return site.get(f"/plan/{DEMO}/plan.toml").text


@pytest.mark.parametrize("path", ["/", f"/plan/{DEMO}", "/begin", "/api/plans", "/static/icon.svg", "/nothing-here"])
def test_every_answer_carries_a_strict_policy(site, path):
    policy = site.get(path).headers["content-security-policy"]
    rules = dict(rule.strip().partition(" ")[::2] for rule in policy.split(";"))
    assert rules["default-src"] == "'none'"
    assert rules["script-src"] == "'self'"
    assert rules["style-src"] == "'self'"
    assert rules["form-action"] == "'self'"
    assert rules["frame-ancestors"] == "'none'"
    assert "unsafe" not in policy
    assert "http" not in policy


@pytest.mark.parametrize(
    "path", ["/", f"/plan/{DEMO}", "/begin", "/api", f"/workshop/{DEMO}", f"/plan/{DEMO}/versions"]
)
def test_no_page_has_script_or_style_within_it_or_from_elsewhere(site, path):
    html = site.get(path).text.casefold()
    assert " style=" not in html
    assert "<style" not in html
    assert " onclick=" not in html
    assert html.count("<script") == html.count('<script type="module" src="/static/')
    for name in ("src", "href", "action"):
        for part in html.split(f' {name}="')[1:]:
            assert part.startswith(("/", "#", "data:image/")), part[:60]


@pytest.mark.parametrize(
    "host", ["example.com", "example.com:8087", "127.0.0.1.example.com", "", "localhost.evil", "[::2]", "10.0.0.1"]
)
def test_another_host_name_is_not_answered(site, host):
    answer = site.get(f"/plan/{DEMO}", headers={"host": host})
    assert answer.status_code in (400, 421)
    assert "Sorrel" not in answer.text


@pytest.mark.parametrize("host", ["localhost", "LOCALHOST:99", "127.0.0.1"])
def test_this_machine_is_answered_by_its_names(site, host):
    assert site.get("/", headers={"host": host}).status_code == 200


@pytest.mark.parametrize(
    "headers",
    [
        {"origin": "http://example.com"},
        {"origin": "null"},
        {"origin": "http://127.0.0.1:1"},
        {"sec-fetch-site": "cross-site"},
        {"sec-fetch-site": "same-site"},
    ],
)
@pytest.mark.parametrize("path", [f"/plan/{DEMO}/set", f"/plan/{DEMO}/undo", "/begin", "/units", "/api/plans"])
def test_posts_from_other_sites_are_refused(site, path, headers):
    before = text_of(site)
    answer = site.post(path, data=FORM, headers=headers)
    assert answer.status_code == 403
    assert "another website" in answer.text
    assert text_of(site) == before


def test_a_put_from_another_site_is_refused(site):
    answer = site.put(f"/api/plans/{DEMO}", content="x", headers={"origin": "http://example.com"})
    assert answer.status_code == 403


def test_our_own_forms_are_taken(site):
    own = str(site.base_url).rstrip("/")
    answer = site.post(f"/plan/{DEMO}/redo", headers={"origin": own, "sec-fetch-site": "same-origin"})
    assert answer.status_code == 303


@pytest.mark.parametrize("path", [f"/plan/{DEMO}/set", "/api/job", "/begin"])
def test_a_huge_body_is_refused(site, path):
    answer = site.post(path, content=b"x" * (MOST_BYTES + 1), headers={"content-type": "application/toml"})
    assert answer.status_code == 413
    assert "256 kB" in answer.text


def test_a_huge_body_of_unsaid_length_is_refused(site):
    def pieces():
        for _ in range(40):
            yield b"x" * 10_000

    answer = site.post("/api/job", content=pieces())
    assert answer.status_code == 413


@pytest.mark.parametrize("length", ["-1", "abc", "999999999999999999999"])
def test_a_lying_length_is_refused(site, length):
    with socket.create_connection((site.base_url.host, site.base_url.port), timeout=5) as line:
        line.sendall(f"POST /units HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Length: {length}\r\n\r\n".encode())
        assert line.recv(100).split()[1] in (b"400", b"413")


def test_an_endless_address_is_refused(site):
    answer = site.get("/plan/" + "a" * 5000)
    assert answer.status_code in (400, 414)


def test_no_answer_tells_what_serves_it_to_other_sites(site):
    headers = site.get("/").headers
    assert "access-control-allow-origin" not in headers
    assert headers["cross-origin-resource-policy"] == "same-origin"
    assert headers["x-content-type-options"] == "nosniff"


# ---- phones --------------------------------------------------------------------------------------------------------

PHONE = ("192.168.1.7", 40_000)


def asked_by(address, app, *asked, cookies=None):
    """Answers to (method, path) pairs as a client at that address gets them, its cookies kept between them."""

    async def ask():
        transport = httpx.ASGITransport(app=app, client=address)
        async with httpx.AsyncClient(transport=transport, base_url="http://shed.local:8087", cookies=cookies) as client:
            return [await client.request(method, path) for method, path in asked], dict(client.cookies)

    return in_a_loop(ask())


def lan_page(folder):
    return build_app(Settings(folder, lan=True, names=("shed.local",)))


def test_a_phone_without_a_key_is_refused(tmp_path):
    (answer,), _ = asked_by(PHONE, lan_page(tmp_path), ("GET", f"/workshop/{DEMO}"))
    assert answer.status_code == 403
    assert "Sorrel" not in answer.text


def test_this_machine_needs_no_key(tmp_path):
    (answer,), _ = asked_by(("127.0.0.1", 4), lan_page(tmp_path), ("GET", "/"))
    assert answer.status_code == 200


def test_a_links_key_works_once_and_its_phone_stays_in(tmp_path):
    app = lan_page(tmp_path)
    key = app.state.house.doorkeys.issue()
    link = f"/workshop/{DEMO}?key={key}"
    (first, then), cookies = asked_by(PHONE, app, ("GET", link), ("GET", f"/workshop/{DEMO}"))
    assert first.status_code == 303
    assert first.headers["location"] == f"/workshop/{DEMO}"
    assert "httponly" in first.headers["set-cookie"].casefold()
    assert then.status_code == 200
    (second,), _ = asked_by(PHONE, app, ("GET", link))
    assert second.status_code == 403
    # The server starts again: the phone is still known, and no key of it can be read in the folder.
    (later,), _ = asked_by(PHONE, lan_page(tmp_path), ("GET", f"/workshop/{DEMO}"), cookies=cookies)
    assert later.status_code == 200
    kept = (tmp_path / ".kept" / "phones.json").read_text(encoding="utf-8")
    assert cookies[COOKIE] not in kept


def test_a_link_grows_old(tmp_path):
    clock = [1000.0]
    keys = DoorKeys(tmp_path / "phones.json", lambda: clock[0])
    key = keys.issue()
    clock[0] += DoorKeys.LINK_S + 1
    assert keys.use(key) is None


def test_a_forwarded_address_is_nobodys(tmp_path):
    """A header that claims to come from this machine lets nobody in."""

    async def ask():
        transport = httpx.ASGITransport(app=lan_page(tmp_path), client=PHONE)
        async with httpx.AsyncClient(transport=transport, base_url="http://shed.local") as client:
            return await client.get("/", headers={"x-forwarded-for": "127.0.0.1"})

    assert in_a_loop(ask()).status_code == 403


def test_the_code_for_a_phone_is_shown_only_where_phones_are_let_in(site, tmp_path):
    assert "data:image/svg" not in site.get(f"/workshop/{DEMO}/phone").text
    (answer,), _ = asked_by(("127.0.0.1", 4), lan_page(tmp_path), ("GET", f"/workshop/{DEMO}/phone"))
    assert "data:image/svg" in answer.text
    assert "?key=" in answer.text


def test_scripted_answers_are_guarded_as_well(site):
    answer = site.post(f"/plan/{DEMO}/set", data=FORM, headers={**SCRIPTED, "origin": "http://example.com"})
    assert answer.status_code == 403
