"""The server starts quickly, tells where it is, and tells plainly when it can't start."""

from __future__ import annotations

import socket
import subprocess
import sys
import time

import httpx
from people import SERVE, served

# The limit for a cold start on 2 cores with nothing else running.
COLD_START_S = 1.5


def test_a_cold_start_answers_in_time(tmp_path):
    """The quickest of three, since other tests run beside this one."""
    took_s = []
    for number in range(3):
        begun_s = time.perf_counter()
        with served(tmp_path / str(number)) as address:
            assert httpx.get(address, trust_env=False).status_code == 200
            took_s.append(time.perf_counter() - begun_s)
        if took_s[-1] <= COLD_START_S:
            return
    raise AssertionError(f"a cold start took {min(took_s):.2f} s")


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
