"""Twenty people at once, each editing a plan of their own: no error, nothing lost, answered in time."""

from __future__ import annotations

import threading
import tomllib

import httpx
import pytest
from page_server import DEMO, SCRIPTED
from people import edit_together, percentile_95_s, served

PEOPLE = 20
IN_TIME_S = 1.0


@pytest.mark.parametrize(
    ("seconds_s", "pause_s"), [(4.0, 1.5), pytest.param(60.0, 1.5, marks=pytest.mark.slow)], ids=["short", "a-minute"]
)
def test_twenty_people_at_once(tmp_path, seconds_s, pause_s):
    with served(tmp_path) as address:
        crowd = edit_together(address, PEOPLE, seconds_s, pause_s)
        assert not [wrong for person in crowd for wrong in person.wrong]
        assert len({person.key for person in crowd}) == PEOPLE
        with httpx.Client(base_url=address, trust_env=False) as client:
            for person in crowd:
                assert person.edits > 0
                plan = tomllib.loads(client.get(f"/plan/{person.key}/plan.toml").text)
                assert plan["bed"]["length"] == person.last
                assert plan["name"] == f"Bed of person {person.number}"
                versions = client.get(f"/plan/{person.key}/versions").text
                assert versions.count("Length: ") >= min(person.edits, 1)
    if seconds_s >= 60:
        assert percentile_95_s(crowd) <= IN_TIME_S


def test_two_people_at_one_plan_lose_nothing(own_site):
    """Different keys of the same plan, changed at the same time: both are there in the end."""
    address = str(own_site.base_url)
    wrong = []

    def edit(path, values):
        with httpx.Client(base_url=address, timeout=30, trust_env=False) as client:
            for value in values:
                answer = client.post(f"/plan/{DEMO}/set", data={"path": path, "value": value}, headers=SCRIPTED)
                if answer.status_code != 200:
                    wrong.append(answer.text)

    ways = [("film.overhang", [f"{n} in" for n in range(6, 12)]), ("bed.height", [f"{n} in" for n in range(6, 12)])]
    threads = [threading.Thread(target=edit, args=way) for way in ways]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert not wrong
    plan = tomllib.loads(own_site.get(f"/plan/{DEMO}/plan.toml").text)
    assert (plan["film"]["overhang"], plan["bed"]["height"]) == ("11 in", "11 in")
    for _ in range(12):
        own_site.post(f"/plan/{DEMO}/undo")
    plan = tomllib.loads(own_site.get(f"/plan/{DEMO}/plan.toml").text)
    assert (plan["film"]["overhang"], plan["bed"]["height"]) == ("12 in", "11 in")
