"""The JSON Schema fits the plans that read, and refuses what they may not hold.

The checker below knows the few words of draft 2020-12 that the schema uses, and fails on any other.
"""

from __future__ import annotations

import re
import tomllib

import pytest
from plan_texts import EXAMPLES, FULL, SMALL

from clochewright.plan import plan_schema, starter_plan

SCHEMA = plan_schema()
TYPES = {"string": str, "boolean": bool, "integer": int, "object": dict, "array": list}
NOTES = {"title", "description", "examples", "default", "$schema", "$defs"}


def faults(value, schema, path="plan"):
    """Every place where a value does not fit a schema."""
    for word, wanted in schema.items():
        match word:
            case "$ref":
                yield from faults(value, SCHEMA["$defs"][wanted.removeprefix("#/$defs/")], path)
            case "type":
                if not isinstance(value, TYPES[wanted]) or (isinstance(value, bool) and wanted != "boolean"):
                    yield f"{path} is no {wanted}"
                    return
            case "enum" | "const":
                if value not in (wanted if word == "enum" else [wanted]):
                    yield f"{path} is none of {wanted}"
            case "pattern":
                if isinstance(value, str) and not re.search(wanted, value):
                    yield f"{path} does not fit {wanted}"
            case "maxLength":
                if len(value) > wanted:
                    yield f"{path} is too long"
            case "minimum":
                if value < wanted:
                    yield f"{path} is too small"
            case "maximum":
                if value > wanted:
                    yield f"{path} is too large"
            case "items":
                for number, item in enumerate(value):
                    yield from faults(item, wanted, f"{path}[{number}]")
            case "required":
                yield from (f"{path}.{key} is missing" for key in wanted if key not in value)
            case "properties":
                for key in value.keys() & wanted.keys():
                    yield from faults(value[key], wanted[key], f"{path}.{key}")
            case "additionalProperties":
                assert wanted is False
                yield from (f"{path}.{key} is unknown" for key in value.keys() - schema["properties"].keys())
            case _:
                assert word in NOTES, f"the checker does not know {word}"


def fits(text):
    return list(faults(tomllib.loads(text), SCHEMA))


@pytest.mark.parametrize(
    "text",
    [SMALL, FULL, starter_plan(length="5' 6-1/2\"", width="46½ in")]
    + [path.read_text(encoding="utf-8") for path in sorted(EXAMPLES.glob("*.toml"))],
)
def test_plans_fit(text):
    assert fits(text) == []


@pytest.mark.parametrize(
    "text",
    [
        "",
        "people = 21\n" + SMALL,
        SMALL.replace("length", "legnth"),
        SMALL.replace('"8 ft"', "8"),
        SMALL.replace("8 ft", "8"),
        SMALL + "[bed.x]",
        SMALL + "[cover]\nshape = 'tnet'",
        SMALL + "[cover]\nbents = 1",
        SMALL + "[cover]\nbents = 101",
        SMALL + "[cover]\npitch = '45'",
        SMALL + "[stock]\nsticks = '10 ft'",
        SMALL + "[stock]\non_hand = [{ count = 2 }]",
    ],
)
def test_what_is_no_plan_does_not_fit(text):
    assert fits(text) != []


def tables():
    return [("Plan", SCHEMA), *SCHEMA["$defs"].items()]


@pytest.mark.parametrize(("name", "table"), tables(), ids=lambda value: value if isinstance(value, str) else "")
def test_every_key_is_told_and_its_default_and_examples_fit(name, table):
    assert table["additionalProperties"] is False
    for key, told in table["properties"].items():
        assert "title" in told or "$ref" in told
        assert not key.endswith(("_m", "_deg"))  # the file's names, not the program's
        if "$ref" not in told:
            assert told["description"], key
        for value in [*told.get("examples", []), *([told["default"]] if "default" in told else [])]:
            assert list(faults(value, told, key)) == []


def test_it_says_which_draft_it_is():
    assert SCHEMA["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert SCHEMA["required"] == ["bed"]
