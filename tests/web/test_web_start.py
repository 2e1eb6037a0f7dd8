"""The server starts quickly, tells where it is, and tells plainly when it can't start."""

from __future__ import annotations

import socket
import subprocess
import sys

from people import SERVE, served

# Slow to load, and not needed before the first page has been answered; benchmarks/ hold how long that takes.
HEAVY = ("ezdxf", "highspy", "numba", "PIL", "scipy", "segno", "typst")
FIRST_PAGE = """
import sys
from pathlib import Path
from starlette.testclient import TestClient
from clochewright.web import Settings
from clochewright.web.app import build
with TestClient(build(Settings(Path(sys.argv[1]))), base_url="http://127.0.0.1") as page:
    assert page.get("/").status_code == 200
print(*sorted({name.partition(".")[0] for name in sys.modules}))
"""


def test_the_first_page_waits_for_nothing_heavy(tmp_path):
    command = [sys.executable, "-c", FIRST_PAGE, str(tmp_path)]
    loaded = subprocess.run(command, capture_output=True, text=True, check=True, timeout=60).stdout.split()
    assert "jinja2" in loaded
    assert not set(HEAVY).intersection(loaded)


def run(*options):
    command = [sys.executable, "-c", SERVE, "serve", *options]
    return subprocess.run(command, capture_output=True, text=True, timeout=30, check=False)


def test_a_port_that_is_taken_is_told(tmp_path):
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = str(taken.getsockname()[1])
        told = run("--folder", str(tmp_path), "--port", port)
    assert told.returncode == 2
    assert port in told.stderr
    assert "--port" in told.stderr
    assert "Traceback" not in told.stderr


def test_a_folder_that_cant_be_made_is_told(tmp_path):
    (tmp_path / "file").write_text("", encoding="utf-8")
    told = run("--folder", str(tmp_path / "file" / "plans"), "--port", "0")
    assert told.returncode == 2
    assert "folder" in told.stderr
    assert "Traceback" not in told.stderr


def test_only_this_machine_can_reach_it(tmp_path):
    """Without --lan it listens on the loopback alone."""
    with served(tmp_path) as address:
        port = int(address.rstrip("/").rpartition(":")[2])
        with socket.socket() as other:
            other.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 0)
            other.bind(("127.0.0.2", port))  # free: it listens on 127.0.0.1, not on every address
