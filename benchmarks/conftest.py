"""Says at the end how each figure stands to its target and to its peer in the same run."""

from __future__ import annotations

from typing import Any

import pytest

import clochewright  # noqa: F401  first of all: it sets how many threads numpy takes


def pytest_terminal_summary(terminalreporter: Any, config: pytest.Config) -> None:
    """One line for each benchmark that has a target: median, target, and how many times its peer that is."""
    session = getattr(config, "_benchmarksession", None)
    done = [bench for bench in (session.benchmarks if session else ()) if bench.stats.rounds]
    peers = {bench.extra_info["peer_of"]: bench for bench in done if "peer_of" in bench.extra_info}
    lines = []
    for bench in done:
        if "target_s" in bench.extra_info:
            took_s, target_s = bench.stats.median, bench.extra_info["target_s"]
            peer = peers.get(bench.extra_info["what"])
            ratio = f"{took_s / peer.stats.median:6.1f} x {peer.extra_info['what']}" if peer else ""
            mark = "  " if took_s <= target_s else "! "
            lines.append(f"{mark}{bench.extra_info['what']:38}{took_s:8.3f} s of {target_s:5.2f} s   {ratio}".rstrip())
    if lines:
        terminalreporter.section("targets")
        for line in lines:
            terminalreporter.write_line(line)


@pytest.fixture
def told(benchmark):
    """Notes what a benchmark is, for the lines at the end."""

    def tell(what, **more):
        benchmark.extra_info |= {"what": what, **more}
        return benchmark

    return tell
