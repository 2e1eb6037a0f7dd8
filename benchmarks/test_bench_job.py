"""How quickly the job runs, beside peers that do some of the same in the same run.

Targets are for two cores at rest, bytecode written. A benchmark says what it is (`what`) and by when it has to be done
(`target_s`), or whose peer it is (`peer_of`); benchmarks/conftest.py prints the two side by side.
"""

from __future__ import annotations

import json
import os
import random
import subprocess
import sys
from dataclasses import asdict
from pathlib import Path

import pytest
import typst

from clochewright.booklet import print_booklet
from clochewright.catalogue import load_catalogue
from clochewright.cli.plan_command import data_and_drawings
from clochewright.cuts import cut_lengths
from clochewright.frame import raise_frame
from clochewright.job import open_shelf, run
from clochewright.plan import plan_from_si, read_plan

EXAMPLE = Path(__file__).parents[1] / "examples" / "sorrel-yard-bed-4.toml"
FRAMES = 1000
PIPES = ("1/2 in", "3/4 in", "1 in", "25 mm PN 16", "32 mm PN 16")
WITHOUT_PDF = """
import sys
from pathlib import Path
from clochewright.cli.plan_command import data_and_drawings
from clochewright.job import open_shelf, run
from clochewright.plan import read_plan
path = Path(sys.argv[1])
plan = read_plan(path)
data_and_drawings(run(plan, *open_shelf(plan, path.parent)), print)
"""
HELP = "import sys; sys.argv = ['clochewright', '--help']; from clochewright.cli import main; main()"


def whole_job():
    plan = read_plan(EXAMPLE)
    job = run(plan, *open_shelf(plan, EXAMPLE.parent))
    return job, data_and_drawings(job, lambda _: None)


def apart(*words):
    """A new Python, as a shell starts it; bytecode is written, which the first, unmeasured round sees to."""
    environment = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    return subprocess.run([sys.executable, *map(str, words)], check=True, capture_output=True, env=environment)


@pytest.mark.benchmark(group="whole job, cold")
def test_cold_job_without_pdf(told):
    bench = told("whole job without PDF, cold", target_s=1.5)
    bench.pedantic(apart, ("-c", WITHOUT_PDF, EXAMPLE), rounds=5, warmup_rounds=1)


@pytest.mark.benchmark(group="whole job, cold")
def test_cold_peer(told):
    bench = told("import numpy, pydantic", peer_of="whole job without PDF, cold")
    bench.pedantic(apart, ("-c", "import numpy, pydantic"), rounds=5, warmup_rounds=1)


@pytest.mark.benchmark(group="help")
def test_help(told):
    bench = told("--help", target_s=0.3)
    bench.pedantic(apart, ("-c", HELP), rounds=7, warmup_rounds=1)


@pytest.mark.benchmark(group="help")
def test_help_peer(told):
    bench = told("import typer, rich.console", peer_of="--help")
    bench.pedantic(apart, ("-c", "import typer, rich.console"), rounds=7, warmup_rounds=1)


@pytest.mark.benchmark(group="whole job, warm")
def test_warm_job_without_pdf(told):
    bench = told("whole job without PDF, warm", target_s=0.15)
    _, files = bench.pedantic(whole_job, rounds=9, warmup_rounds=2)
    assert "drawings/plan.svg" in files


@pytest.mark.benchmark(group="booklet")
def test_pdf(told):
    job, _ = whole_job()
    bench = told("the booklet", target_s=1.0)
    assert bench.pedantic(print_booklet, (job, "letter"), rounds=5, warmup_rounds=1).startswith(b"%PDF")


@pytest.mark.benchmark(group="booklet")
def test_pdf_peer(told):
    pages = {"main.typ": b"#set document(title: [Eight empty pages])\n" + b"#pagebreak()\n" * 7}

    def empty_pages():
        return typst.Compiler(input=pages, ignore_system_fonts=True).compile(format="pdf", timestamp=0)

    told("eight empty pages set by typst", peer_of="the booklet").pedantic(empty_pages, rounds=5, warmup_rounds=1)


@pytest.fixture(scope="module")
def plans():
    """Random tents of every size that people build."""
    draw = random.Random(1)
    return [
        plan_from_si(
            {
                "bed": {"length_m": draw.uniform(0.9, 6.0), "width_m": draw.uniform(0.6, 1.6)},
                "pipe": {"size": draw.choice(PIPES)},
                "cover": {"braces": draw.choice(("each", "none")), "line": draw.choice(("outside", "middle"))},
            }
        )
        for _ in range(FRAMES)
    ]


def stand_and_cut(plans):
    """Raise each frame and list its cuts; how many stand."""
    catalogue = load_catalogue()
    standing = 0
    for plan in plans:
        frame = raise_frame(plan, catalogue)
        standing += bool(frame.stands and cut_lengths(frame, "inch"))
    return standing


@pytest.mark.benchmark(group="1,000 frames")
def test_a_thousand_frames_with_cut_lists(told, plans):
    bench = told("1,000 tent frames with cut lists", target_s=1.0)
    assert bench.pedantic(stand_and_cut, (plans,), rounds=5, warmup_rounds=1) > 0.95 * FRAMES


@pytest.mark.benchmark(group="1,000 frames")
def test_a_thousand_frames_peer(told, plans):
    catalogue = load_catalogue()
    frames = [asdict(raise_frame(plan, catalogue)) for plan in plans]
    bench = told("the same frames written as JSON", peer_of="1,000 tent frames with cut lists")
    bench.pedantic(json.dumps, (frames,), {"default": str}, rounds=3, warmup_rounds=1)
