"""Bad input in every field and route: refused with a plain sentence, nothing executed, nothing outside touched."""

from __future__ import annotations

import html
import re
import tomllib

import pytest
from page_server import DEMO, SCRIPTED

SHEET = f"/plan/{DEMO}"
HOSTILE = [
    "<script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "{{ 7*7 }}",
    "../../etc/passwd",
    "'; DROP TABLE plans; --",
    "1e999 ft",
    "-1 in",
    "NaN",
    "\0",
    "\u202e8 ft",
    "8 ft\n[prices]\nbudget = 1",
    "x" * 10_000,
    "9" * 5_000,
    "٣ ft",
]


def fields_of(site):
    """Every key that the sheet offers to be set, over all shapes."""
    paths = set()
    for shape in ("tent", "barn", "lean-to", "tunnel", "own"):
        site.post(f"{SHEET}/set", data={"path": "cover.shape", "value": shape})
        paths |= set(re.findall(r'name="path" value="([^"]+)"', site.get(SHEET).text))
        site.post(f"{SHEET}/undo")
    return sorted(path for path in paths if not path.endswith("]"))


def text_of(site):
    return site.get(f"{SHEET}/plan.toml").text


def check_harmless(answer, value):
    """No answer of ours carries what was sent as markup, or a trace."""
    assert answer.status_code < 500, answer.text[:300]
    assert "Traceback" not in answer.text
    assert "<script>alert" not in answer.text
    assert "<img src=x" not in answer.text
    assert ">49<" not in answer.text


def test_every_field_takes_or_refuses_anything_and_the_sheet_still_opens(own_site):
    good = tomllib.loads(text_of(own_site))
    paths = fields_of(own_site)
    assert {"bed.length", "name", "cover.pitch", "stock.on_hand[0].count", "prices.file", "hoops.feet"} <= set(paths)
    for number, path in enumerate(paths):
        value = HOSTILE[(number * 5) % len(HOSTILE)]
        answer = own_site.post(f"{SHEET}/set", data={"path": path, "value": value}, headers=SCRIPTED)
        assert answer.status_code == 200
        check_harmless(answer, value)
        if tomllib.loads(text_of(own_site)) != good:  # text such as a name may be any text
            sheet = own_site.get(SHEET)
            assert sheet.status_code == 200
            check_harmless(sheet, value)
            own_site.post(f"{SHEET}/undo")
        assert tomllib.loads(text_of(own_site)) == good, (path, value[:40])


@pytest.mark.parametrize(
    "name", ["<script>alert(1)</script>", "../../../etc/cron.d/x", "name\u2028with", "  ", "☂" * 200]
)
def test_a_name_may_be_any_text_and_stays_text(own_site, name, tmp_path):
    before = {file.name for file in tmp_path.rglob("*")}
    answer = own_site.post(f"{SHEET}/copy", data={"name": name})
    check_harmless(answer, name)
    if answer.status_code == 303:
        page = own_site.get(answer.headers["location"])
        assert page.status_code == 200
        check_harmless(page, name)
        check_harmless(own_site.get("/"), name)
        assert html.escape(name.strip(), quote=False)[:20] in page.text or not name.strip()
    added = {file for file in tmp_path.rglob("*") if file.name not in before}
    assert all(tmp_path / "plans" in file.parents for file in added)


@pytest.mark.parametrize("name", ["x" * 201, "x" * 10_000])
def test_a_name_past_two_hundred_signs_is_refused(own_site, name):
    answer = own_site.post(f"{SHEET}/copy", data={"name": name})
    assert answer.status_code == 422
    assert "200" in answer.text or "far too many" in answer.text
    assert len(own_site.get("/api/plans").json()) == 1


@pytest.mark.parametrize(
    "key", ["..%2f..%2fetc%2fpasswd", "%2e%2e", "a%00b", "a" * 300, "%3Cscript%3E", "con", ".kept"]
)
@pytest.mark.parametrize(
    "path", ["/plan/{}", "/plan/{}/plan.toml", "/workshop/{}", "/api/plans/{}", "/api/plans/{}/job"]
)
def test_hostile_keys_find_nothing(site, key, path):
    answer = site.get(path.format(key))
    assert answer.status_code == 404
    check_harmless(answer, key)


@pytest.mark.parametrize(
    "name", ["..%2f..%2fpyproject.toml", "%2e%2e%2fapp.py", "names.json", "page.js%00", "nothing.js"]
)
def test_static_gives_only_what_was_bundled(site, name):
    assert site.get(f"/static/{name}").status_code == 404


@pytest.mark.parametrize("file", ["/etc/passwd", "../secret.csv", "..\\secret.csv", ".kept", "C:secret.csv", "a/b.csv"])
@pytest.mark.parametrize("path", ["prices.file", "own.file"])
def test_a_plan_may_not_name_files_outside_its_folder(own_site, tmp_path, path, file):
    (tmp_path / "secret.csv").write_text("item,pack,price\nsecret,each,7\n", encoding="utf-8")
    answer = own_site.post(f"{SHEET}/set", data={"path": path, "value": file})
    assert answer.status_code == 422
    assert "same folder" in answer.text
    table, key = path.split(".")
    plan = f'[bed]\nlength = "8 ft"\nwidth = "4 ft"\n[{table}]\n{key} = {file!r}\n'
    answer = own_site.post("/api/job", content=plan)
    assert answer.status_code == 422
    assert "same folder" in answer.json()["detail"]
    # nor where it was put there by hand
    (tmp_path / "plans" / "sly.toml").write_text(plan, encoding="utf-8")
    assert "same folder" in own_site.get("/plan/sly").text


def test_a_price_file_beside_the_plan_is_read_and_a_change_in_it_seen(own_site, tmp_path):
    prices = tmp_path / "plans" / "prices.csv"
    prices.write_text("item,pack,price\npipe:1 in Sch 40,10 ft,3.00\n", encoding="utf-8")
    assert own_site.post(f"{SHEET}/set", data={"path": "prices.file", "value": "prices.csv"}).status_code == 303
    assert "$3.00" in own_site.get(SHEET).text
    prices.write_text("item,pack,price\npipe:1 in Sch 40,10 ft,44.00\n", encoding="utf-8")
    assert "$44.00" in own_site.get(SHEET).text


@pytest.mark.parametrize(
    ("path", "value"),
    [
        ("__class__", "x"),
        ("bed.__class__.__init__", "x"),
        ("bed..length", "8 ft"),
        ("", "x"),
        ("bed", "x"),
        ("stock.on_hand[99999].length", "1 ft"),
        ("stock.on_hand[-1].length", "1 ft"),
        ("bed.length[0]", "8 ft"),
        ("name\n[x]", "y"),
        ("a." * 5000, "x"),
        ("<script>alert(1)</script>", "x"),
    ],
)
def test_paths_that_lead_nowhere_are_refused(site, path, value):
    before = text_of(site)
    answer = site.post(f"{SHEET}/set", data={"path": path, "value": value})
    assert answer.status_code in (400, 422)
    check_harmless(answer, path)
    assert text_of(site) == before


@pytest.mark.parametrize(
    "sent",
    [
        {"data": {}},
        {"data": {"path": "bed.length"}},
        {"data": {"path": ["bed.length", "bed.width"], "value": "8 ft"}},
        {"data": {"value": "8 ft"}},
        {"content": b"\xff\xfe\x00", "headers": {"content-type": "application/x-www-form-urlencoded"}},
        {"content": b"{", "headers": {"content-type": "application/json"}},
        {"content": b"--x", "headers": {"content-type": "multipart/form-data; boundary=x"}},
        {"content": b"--x", "headers": {"content-type": "multipart/form-data"}},
        {"content": "&".join(f"a{n}=1" for n in range(2000)),
         "headers": {"content-type": "application/x-www-form-urlencoded"}},
        {"files": {"path": ("x.toml", b"x"), "value": ("y", b"y")}},
    ],
)  # fmt: skip
@pytest.mark.parametrize("path", [f"{SHEET}/set", f"{SHEET}/mend", f"{SHEET}/restore", f"{SHEET}/copy", "/units"])
def test_garbled_forms_are_refused(site, path, sent):
    before = text_of(site)
    answer = site.post(path, **sent)
    assert answer.status_code in (400, 422)
    check_harmless(answer, "")
    assert text_of(site) == before


@pytest.mark.parametrize("version", ["0", "-1", "99", "1e3", "²", "x", "9" * 400])
def test_versions_that_were_never_kept_are_refused(site, version):
    assert site.post(f"{SHEET}/restore", data={"version": version}).status_code in (400, 404)


@pytest.mark.parametrize(
    "body",
    [
        b"{",
        b"[" * 100_000,
        b'{"a":' * 20_000,
        b"null",
        b"[1]",
        b'{"bed": 7}',
        b'{"bed": {"length_m": NaN, "width_m": 1}}',
        b'{"bed": {"length_m": 1e400, "width_m": 1}}',
        b'{"bed": {"length_m": ' + b"9" * 5000 + b', "width_m": 1}}',
        b'{"bed": {"length": true, "width": []}}',
        b"\xff\xfe",
        b'{"__class__": {}}',
    ],
)
def test_broken_json_is_refused(site, body):
    answer = site.post("/api/job", content=body, headers={"content-type": "application/json"})
    assert answer.status_code == 422
    assert answer.json()["detail"]
    assert "Traceback" not in answer.text


@pytest.mark.parametrize(
    "body", ["", "[", "a" * 5000, "[[[" * 1000, "bed = 1", "\0", '[bed]\nlength = "8"\nwidth = "4 ft"']
)
def test_broken_plans_are_refused(site, body):
    for answer in (
        site.post("/api/job", content=body),
        site.put(f"/api/plans/{DEMO}", content=body),
        site.post("/api/plans", content=body),
    ):
        assert answer.status_code == 422
        told = answer.json()
        assert told["mistakes"]
        assert all(one["what"] for one in told["mistakes"])


def test_a_heavy_plan_does_not_hold_the_page_up(own_site):
    """The largest bed with the shortest bays: slow, yet bounded, and others are answered meanwhile."""
    plan = '[bed]\nlength = "20 m"\nwidth = "1.2 m"\n[cover]\nbay = "300 mm"\n[stock]\nsticks = ["3 m"]\n'
    made = own_site.post("/api/plans", content=plan)
    assert made.status_code in (201, 422)
    assert own_site.get("/").elapsed.total_seconds() < 2
