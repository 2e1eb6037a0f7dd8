"""How quickly the page answers a change, over this machine's loopback, as the browser asks for it."""

from __future__ import annotations

import sys
from itertools import count
from pathlib import Path

import httpx
import pytest

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "web"))

from page_server import DEMO, SCRIPTED, state_of
from people import edit_together, percentile_95_s, served


@pytest.fixture
def site(tmp_path):
    with served(tmp_path) as address, httpx.Client(base_url=address, timeout=30, trust_env=False) as client:
        yield client


def test_a_length_is_changed(benchmark, site):
    """The server's part of an edit: frame, cuts and cost anew, and the pieces that changed."""
    state, lengths = [state_of(site.get(f"/plan/{DEMO}").text)], count(80)

    def edit():
        form = {"path": "bed.length", "value": f"{next(lengths)} 1/4 in", "state": state[0]}
        answer = site.post(f"/plan/{DEMO}/set", data=form, headers=SCRIPTED)
        assert "body-cuts" in answer.text
        state[0] = state_of(answer.text)

    benchmark.extra_info |= {"what": "a length changed on the page", "target_s": 0.1}
    benchmark.pedantic(edit, rounds=40, warmup_rounds=3)


def test_twenty_people_for_a_while(benchmark, site):
    """The slowest of the quickest 95 in 100 changes, with 20 people at work."""
    crowd = benchmark.pedantic(lambda: edit_together(str(site.base_url), 20, 15.0, 1.5), rounds=1)
    benchmark.extra_info |= {"p95_s": round(percentile_95_s(crowd), 3)}
    assert not [wrong for person in crowd for wrong in person.wrong]
