"""Everything that a plan can say can be said on the sheet, under a label of its own."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from clochewright.plan import plan_from_text, plan_schema
from clochewright.web.fields import label_of
from clochewright.web.sheet import STEPS

EXAMPLES = Path(__file__).parents[2] / "examples"
BED = '[bed]\nlength = "8 ft"\nwidth = "4 ft"\n'
# What is asked only of those whom it concerns.
MORE = (
    '[cover]\nshape = "own"\n',
    '[site]\nplace = "Sorrel Yard"\n[grow]\ncrops = ["lettuce"]\n',
    '[hold-down]\nby = "weights"\n',
    '[lid]\nopens = "roof side"\n[cover]\napex = "butted"\n',
)


def keys(node: dict[str, Any], parts: dict[str, Any], path: str = "") -> Iterator[str]:
    """Every key of the plan's schema; entries of a list as name[]."""
    if "$ref" in node:
        node = parts[node["$ref"].rpartition("/")[2]]
    choices = next((node[how] for how in ("anyOf", "allOf", "oneOf") if how in node), None)
    if choices is not None:
        for choice in choices:
            yield from keys(choice, parts, path)
    elif node.get("type") == "object" and "properties" in node:
        for name, value in node["properties"].items():
            yield from keys(value, parts, f"{path}.{name}" if path else name)
    elif node.get("type") == "array" and "$ref" in node.get("items", {}):
        yield from keys(node["items"], parts, f"{path}[]")
    else:
        yield path


@pytest.fixture(scope="module")
def offered() -> set[str]:
    plans = [plan_from_text(file.read_text(encoding="utf-8")) for file in sorted(EXAMPLES.glob("*.toml"))]
    plans += [plan_from_text(BED + more) for more in MORE]
    return {re.sub(r"\[\d+\]", "[]", key) for plan in plans for step in STEPS for key in step.fields(plan)}


def test_every_key_of_a_plan_stands_on_the_sheet(offered: set[str]) -> None:
    schema = plan_schema()
    wanted = set(keys(schema, schema["$defs"]))
    assert len(wanted) > 60
    assert sorted(wanted - offered) == []


def test_every_field_has_a_label(offered: set[str]) -> None:
    bare = [key for key in sorted(offered) if label_of(key) == key]
    assert not bare
