"""The long run: 20,000 random plans over all shapes (slow; run with --run-slow -s to see the counts)."""

from __future__ import annotations

import random
from collections import Counter

import pytest
from test_frame_closes import bends, impossible, raised

from properties.closing import faults
from properties.plans import SHAPES, random_plan


@pytest.mark.slow
@pytest.mark.parametrize("shape", SHAPES)
def test_many_random_plans_close_or_are_refused_for_a_real_reason(shape: str) -> None:
    draw = random.Random(f"many {shape}")
    reasons: Counter[str] = Counter()
    for _ in range(4000):
        plan, catalogue, frame = raised(random_plan(draw, (shape,)))
        if frame.stands:
            assert not faults(frame, bends(catalogue, frame.pipe_key)), plan
            continue
        why = impossible(plan, catalogue, frame)
        assert why, (frame.findings, plan)
        reasons[f"{frame.findings[0].key}: {why}"] += 1
    print(shape, 4000 - sum(reasons.values()), "stand;", dict(reasons))
    assert sum(reasons.values()) <= 0.05 * 4000
