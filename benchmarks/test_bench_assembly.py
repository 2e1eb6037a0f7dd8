"""How quickly joints are chosen and an order is found, for every example and every wish."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

HERE = Path(__file__).parents[1]
sys.path[:0] = [str(HERE / "tests" / "assembly")]

import assembly_making as making  # noqa: E402

from clochewright.frame import raise_frame  # noqa: E402
from clochewright.plan import plan_with, read_plan  # noqa: E402

STORED = [("store.wish", "few-screws"), ("store.length", 2.0), ("store.depth", 1.25), ("store.height", 0.4)]
WISHES = {"knock-down": [], "few screws, stored": STORED, "no cement": [("store.wish", "no-cement")]}


@pytest.mark.parametrize("wish", WISHES)
@pytest.mark.parametrize("path", making.EXAMPLES, ids=lambda path: path.stem)
def test_joints_and_order(benchmark, path, wish):
    plan = plan_with(read_plan(path), WISHES[wish])
    frame = raise_frame(plan, making.CATALOGUE)
    benchmark.extra_info |= {"what": f"joints and order, {path.stem}, {wish}", "target_s": 1.0}
    benchmark(making.assembled_frame, frame, plan)


def test_springing_in(benchmark):
    """Base and ridge cemented as wholes: each slope's pull, one at a time and all together."""
    held = [{"role": "rafter", "how": "screwed"}]
    changes = [("joints.held", held), ("store.wish", "one-piece")]
    plan = plan_with(making.example("bed-4"), changes)
    frame = raise_frame(plan, making.CATALOGUE)
    benchmark.extra_info |= {"what": "springing in the slopes of bed 4", "target_s": 1.0}
    _, made = benchmark(making.assembled_frame, frame, plan)
    assert any(move.kind == "spring-in" for move in made.moves)
