"""The contracts that lint-imports holds name every room that stands today."""

from __future__ import annotations

import ast

import pytest

READS_OR_WRITES = {"open", "read_text", "read_bytes", "write_text", "write_bytes"}


@pytest.fixture
def standing(sources):
    """Rooms and top modules that stand today."""
    return {source.room for source in sources}


def bench_order(contracts):
    """Names in the layers as declared, brackets and all, first step first."""
    return [name.strip() for layer in reversed(contracts["layers"]["layers"]) for name in layer.split("|")]


def steps(contracts):
    """The rooms from the shape of the frame to the build, standing or to come."""
    order = [name.strip("()") for name in bench_order(contracts)]
    return order[order.index("site") + 1 : order.index("job")]


def listed(names, standing):
    """Those of the names that stand today, as a contract lists them."""
    return {f"clochewright.{name}" for name in names if name in standing}


def test_brackets_stand_for_rooms_still_to_come(standing, contracts):
    wrong = [name for name in bench_order(contracts) if name[0] == "(" and name.strip("()") in standing]
    assert not wrong, f"these rooms stand now; take their brackets off in pyproject.toml: {wrong}"


def test_doors_are_shut_to_every_step(standing, contracts):
    assert set(contracts["doors"]["source_modules"]) == listed(("cli", "web"), standing)
    assert set(contracts["doors"]["forbidden_modules"]) == listed(steps(contracts), standing)


def test_everything_up_to_the_job_is_kept_free_of_paper(standing, contracts):
    order = [name.strip("()") for name in bench_order(contracts)]
    assert set(contracts["paper"]["source_modules"]) == listed(order[: order.index("job") + 1], standing)


def test_steps_touch_no_files(sources, contracts):
    """Steps are pure: what they need comes in as arguments, what they find goes out as a result."""
    touched = []
    for source in sources:
        if source.room not in steps(contracts):
            continue
        for node in ast.walk(source.tree):
            if isinstance(node, ast.Call):
                name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
                if name in READS_OR_WRITES:
                    touched.append(f"{source.at(node)} calls {name}")
    assert not touched, "\n".join(touched)
