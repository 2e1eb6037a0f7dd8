"""People who edit plans at the same time, each a plan of their own, over this machine's loopback."""

from __future__ import annotations

import random
import re
import statistics
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

import httpx
from page_server import DEMO, SCRIPTED, state_of

SERVE = "from clochewright.cli import main; main()"


@contextmanager
def served(folder: Path) -> Iterator[str]:
    """The page in a process of its own, as `clochewright serve` starts it; its address."""
    command = [sys.executable, "-c", SERVE, "serve", "--folder", str(folder), "--port", "0"]
    server = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
    try:
        assert server.stdout is not None
        found = re.search(r"http://\S+/", server.stdout.readline())
        assert found, "the page did not start"
        yield found.group()
    finally:
        server.terminate()
        server.communicate(timeout=20)


# What the page's script says of a sheet as it opens: the drawing is up, and all steps but the first are shut.
SHUT = "shape fittings cuts buying parts film lid stand season"


@dataclass
class Person:
    """One of them: the plan, what was set last, how long each answer took, and what went wrong."""

    number: int
    key: str = ""
    edits: int = 0
    last: str = ""
    took_s: list[float] = field(default_factory=list)
    wrong: list[str] = field(default_factory=list)

    def work(self, address: str, until_s: float, pause_s: float) -> None:
        """Make a copy, then change its length again and again, and look at what follows."""
        chance = random.Random(self.number)
        with httpx.Client(base_url=address, timeout=30, trust_env=False) as client:
            made = client.post(f"/plan/{DEMO}/copy", data={"name": f"Bed of person {self.number}"})
            self.key = made.headers.get("location", "").rpartition("/")[2]
            state = state_of(client.get(f"/plan/{self.key}").text)
            time.sleep(chance.random() * pause_s)
            while self.edits == 0 or time.monotonic() < until_s:
                self.last = f"{chance.randint(60, 140)} {chance.randint(1, 15)}/16 in"
                form = {"path": "bed.length", "value": self.last, "state": state, "view": "yes", "shut": SHUT}
                begun_s = time.monotonic()
                answer = client.post(f"/plan/{self.key}/set", data=form, headers=SCRIPTED)
                self.took_s.append(time.monotonic() - begun_s)
                self.edits += 1
                if answer.status_code != 200 or "aria-invalid" in answer.text or "body-cuts" not in answer.text:
                    self.wrong.append(f"{self.last}: {answer.status_code} {answer.text[:200]}")
                state = state_of(answer.text) or state
                time.sleep(pause_s * (0.5 + chance.random()))
                rest = client.get(f"/plan/{self.key}/rest", params={"state": state})
                state = state_of(rest.text) or state
                if rest.status_code != 200:
                    self.wrong.append(f"rest: {rest.status_code}")


def edit_together(address: str, people: int, seconds_s: float, pause_s: float) -> list[Person]:
    """So many people at once, for so long; each thinks about `pause_s` between two changes."""
    crowd = [Person(number) for number in range(people)]
    until_s = time.monotonic() + seconds_s
    threads = [threading.Thread(target=person.work, args=(address, until_s, pause_s)) for person in crowd]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return crowd


def percentile_95_s(crowd: list[Person]) -> float:
    """What 95 of 100 changes were answered within [s]."""
    return statistics.quantiles([took_s for person in crowd for took_s in person.took_s], n=20)[-1]
