"""kill -9 amid saves: no plan is lost or half-written, and whatever was told as saved is there."""

from __future__ import annotations

import contextlib
import random
import re
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from clochewright.web.shelf import Shelf

LOOP = Path(__file__).with_name("saving_loop.py")
SAVES = 200


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="this system has no such signal")
def test_killed_at_any_moment_nothing_is_lost(tmp_path):
    chance = random.Random(4)
    Shelf(tmp_path).begin("Bed", 'name = "save 0"\n', "begun")
    told = killed = 0
    while told < SAVES:
        loop = subprocess.Popen(
            [sys.executable, str(LOOP), str(tmp_path), str(told)], stdout=subprocess.PIPE, text=True
        )
        assert loop.stdout is not None
        for _ in range(chance.randint(3, 25)):
            told = int(loop.stdout.readline())
        # between two saves, or within one: a save takes about a millisecond
        with_delay = chance.random() * 0.004
        with contextlib.suppress(subprocess.TimeoutExpired):
            loop.wait(with_delay)
        loop.send_signal(signal.SIGKILL)
        rest = loop.communicate()[0].split()
        told = int(rest[-1]) if rest else told
        killed += 1
        told = check(tmp_path, told)
    assert killed >= SAVES / 28


def check(folder, told):
    """What the folder holds is whole, and holds the last save that was told; the number to go on from."""
    text = (folder / "bed.toml").read_text(encoding="utf-8")
    found = re.fullmatch(r'name = "save ([0-9]+)"\n(?:# filling\n)*', text)
    assert found, f"half-written: {text[-80:]!r}"
    assert text.count("\n") == 301 or found.group(1) == "0"
    shelf = Shelf(folder)
    assert shelf.all_keys() == ("bed",)
    kept = shelf.read("bed")
    assert kept.text == text
    saved = {int(match.group(1)) for v in shelf.versions("bed") if (match := re.match(r'name = "save (\d+)"', v.text))}
    assert told in saved, f"save {told} was told and is not among the versions"
    with shelf.bench("bed") as bench:
        assert told % 50 in bench.ticked("A-1")
    assert not list(folder.rglob("*.part"))
    return max(saved)
