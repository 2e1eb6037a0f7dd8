"""The handbook does not drift: pages made from the program are as it makes them, and every result key is told."""

from __future__ import annotations

import importlib.util
import json
from pathlib import Path
from types import ModuleType

import pytest

from clochewright.job import open_shelf, result_text, run
from clochewright.plan import read_plan

ROOT = Path(__file__).parents[2]
DOCS = ROOT / "docs"


def made() -> ModuleType:
    spec = importlib.util.spec_from_file_location("make_pages", DOCS / "make_pages.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.mark.parametrize("name", sorted(made().PAGES))
def test_a_made_page_is_as_the_program_makes_it(name: str) -> None:
    assert (DOCS / name).read_text(encoding="utf-8") == made().PAGES[name](), "run python docs/make_pages.py"


def test_every_key_of_the_result_file_is_told() -> None:
    plan_file = ROOT / "examples" / "sorrel-yard-bed-4.toml"
    plan = read_plan(plan_file)
    job = json.loads(result_text(run(plan, *open_shelf(plan, plan_file.parent))))
    page = (DOCS / "result-file.md").read_text(encoding="utf-8")
    missing = [key for key in job if f"`{key}" not in page]
    missing += [f"frame.{key}" for key in job["frame"] if f"frame.{key}" not in page]
    assert not missing
