"""Bundled files go out as tightly squeezed as the browser takes them (RFC 9110, 8.4 and 12.5.3)."""

from __future__ import annotations

import gzip
import json
from pathlib import Path

import clochewright.web

STATIC = Path(clochewright.web.__file__).parent / "static"


def test_each_way_of_squeezing_is_what_the_browser_asked_for(site):
    name = json.loads((STATIC / "names.json").read_text(encoding="utf-8"))["page.js"]
    plain = (STATIC / name).read_bytes()
    lengths = {}
    for asked in ("br", "gzip", "identity"):
        with site.stream("GET", f"/static/{name}", headers={"accept-encoding": asked}) as answer:
            body = b"".join(answer.iter_raw())
        assert answer.headers.get("content-encoding", "identity") == asked
        assert "accept-encoding" in answer.headers["vary"]
        lengths[asked] = len(body)
        if asked != "br":
            assert (gzip.decompress(body) if asked == "gzip" else body) == plain
    assert lengths["br"] < lengths["gzip"] < lengths["identity"]


def test_the_squeezed_files_themselves_are_not_asked_for(site):
    name = json.loads((STATIC / "names.json").read_text(encoding="utf-8"))["page.js"]
    assert site.get(f"/static/{name}.br").status_code == 404
