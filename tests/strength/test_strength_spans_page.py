"""The handbook's page of spans is as the program makes it: its rows of 1 in pipe, which stand beside the rule."""

from __future__ import annotations

import importlib.util
from pathlib import Path

import pytest

DOCS = Path(__file__).parents[2] / "docs"


@pytest.fixture(scope="module")
def maker():
    spec = importlib.util.spec_from_file_location("make_spans_page", DOCS / "make_spans_page.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    import sys

    sys.modules["make_spans_page"] = module  # its dataclass looks itself up there
    spec.loader.exec_module(module)
    return module


@pytest.mark.parametrize("shape", ["tent", "lean-to"])
def test_rows_are_as_the_program_makes_them(maker, shape):
    page = (DOCS / "spans.md").read_text(encoding="utf-8").splitlines()
    assert maker.reach_row(shape, "1 in") in page, "run python docs/make_spans_page.py"
    assert maker.rule_row(shape) in page, "run python docs/make_spans_page.py"


def test_the_rule_is_named_for_what_it_is(maker):
    """1 in frames not much over 8 ft wide, bays not over 4 ft: common practice, no source."""
    page = (DOCS / "spans.md").read_text(encoding="utf-8")
    assert "common practice with no source" in page
    assert maker.beside_rule(1.0, 8 * 0.3048).startswith("**differs**: shorter than 8 ft")
    assert maker.beside_rule(4 * 0.3048, 4 * 0.3048) == "as the rule"
    assert page.count("**differs**") >= 1
