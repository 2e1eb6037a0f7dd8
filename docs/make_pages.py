"""Writes the handbook's pages that must not drift from the program: `python docs/make_pages.py`.

A test holds the pages to what this makes.
"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

from clochewright.plan import plan_schema

HERE = Path(__file__).parent
PLAN_HEAD = """\
# The plan file

A plan is a text file in TOML. Only the bed's length and width must be there; every other key has a usual value.
Lengths are text with their unit: `"8 ft"`, `"5' 6-1/2\\""`, `"46 1/2 in"`, `"1200 mm"`. A number without a unit is
refused. `clochewright new` writes a plan to start from; `clochewright schema` prints the same for editors that check
as you type.

This page is made from the program by `python docs/make_pages.py`.
"""


def plan_page() -> str:
    """The page about the plan file: every table and every key, with what it is for and its usual value."""
    schema = plan_schema()
    tables: dict[str, Any] = schema["$defs"]
    lines = [PLAN_HEAD, "## At the top", "", *_rows(schema["properties"])]
    for name, told in schema["properties"].items():
        lines += _table(name, told, tables)
    return "\n".join(lines) + "\n"


def _table(path: str, told: dict[str, Any], tables: dict[str, Any]) -> list[str]:
    """The part about one table, and about the tables in it."""
    repeated = told.get("type") == "array"
    target = told.get("items", {}) if repeated else told
    if "$ref" not in target:
        return []
    table = tables[target["$ref"].rsplit("/", 1)[-1]]
    head = f"[[{path}]]" if repeated else f"[{path}]"
    lines = ["", f"## `{head}`", "", table["description"], "", *_rows(table["properties"])]
    for name, inner in table["properties"].items():
        lines += _table(f"{path}.{name}", inner, tables)
    return lines


def _rows(keys: dict[str, Any]) -> list[str]:
    rows = ["| key | what it is | usual value |", "|---|---|---|"]
    for name, told in keys.items():
        if "$ref" in told or "$ref" in told.get("items", {}):
            continue
        what = told["description"]
        if "enum" in told:
            what += " One of " + ", ".join(f"`{choice}`" for choice in told["enum"]) + "."
        usual = told.get("default", "")
        rows.append(f"| `{name}` | {what} | {f'`{usual}`' if usual not in ('', [], None) else ''} |")
    return rows if len(rows) > 2 else []


PAGES = {"plan-file.md": plan_page}

if __name__ == "__main__":
    for name, make in PAGES.items():
        (HERE / name).write_text(make(), encoding="utf-8")
        sys.stdout.write(f"{name}\n")
