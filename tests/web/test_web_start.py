"""The server starts quickly, tells where it is, and tells plainly when it can't start."""

from __future__ import annotations

import os
import socket
import subprocess
import sys

import httpx
from people import SERVE, served

# The limit for a cold start on 2 cores with nothing else running.
COLD_START_S = 1.5


def test_a_cold_start_answers_in_time(tmp_path):
    """Its own processor time until it has answered, since other tests run beside this one; the better of two."""
    took_s = []
    for number in range(2):
        before_s = spent_s()
        with served(tmp_path / str(number)) as address:
            assert httpx.get(address, trust_env=False, timeout=30).status_code == 200
        took_s.append(spent_s() - before_s)
    assert min(took_s) <= COLD_START_S


def spent_s():
    """Processor time of all processes that this one started and that have ended [s]."""
    spent = os.times()
    return spent.children_user + spent.children_system


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
