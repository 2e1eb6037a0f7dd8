"""The summary: narrow or wide, its figures stay whole; what matters in full, the rest in one quiet line."""

from __future__ import annotations

import re
from itertools import pairwise

import pytest
from command_line import EXAMPLES
from typer.testing import CliRunner

from clochewright.cli.app import app

BED_4 = EXAMPLES / "sorrel-yard-bed-4.toml"


def printed(*words, columns=80):
    done = CliRunner().invoke(app, ["plan", *map(str, words)], env={"COLUMNS": str(columns)})
    return done.stdout


@pytest.mark.parametrize("columns", [40, 60, 80, 120])
@pytest.mark.parametrize("example", sorted(EXAMPLES.glob("*.toml")), ids=lambda path: path.stem)
def test_no_figure_is_broken_and_no_line_is_too_long(example, columns):
    lines = printed(example, columns=columns).splitlines()
    assert max(map(len, lines)) <= min(columns, 100)
    assert not [line for line in lines if line != line.rstrip()]
    for line, after in pairwise(lines):
        ends_in_a_figure = re.search(r"[0-9]$", line)
        assert not (ends_in_a_figure and re.match(r" +([0-9]+/[0-9]+|in|ft|mm|mph|lb|kg)\b", after)), (line, after)


def test_columns_stand_in_line():
    lines = printed(BED_4).splitlines()
    rows = [line for line in lines if re.match(r"  (Bed|Cover|Height|Lid|Cost) ", line)]
    assert len(rows) == 5
    assert len({re.match(r"  [A-Z][a-z]+ +", row).end() for row in rows}) == 1
    cuts = [line for line in lines if re.match(r"  [A-Z] +[0-9]+ +[0-9/ ]+ in  ", line)]
    assert len(cuts) >= 5
    assert len({line.index(" in  ") for line in cuts}) == 1


def test_notes_are_folded_and_shown_on_demand():
    folded, whole = printed(BED_4), printed(BED_4, "--notes")
    count = int(re.search(r"([0-9]+) more notes are in the booklet", folded).group(1))
    assert count >= 5
    assert "more notes are" not in whole
    assert whole.count("  NOTE  ") == folded.count("  NOTE  ") + count
    assert whole.count("  MIND  ") == folded.count("  MIND  ") >= 1


def test_a_warning_comes_with_its_reason_and_its_mend(tmp_path):
    plan = tmp_path / "wide.toml"
    plan.write_text('[bed]\nlength = "12 ft"\nwidth = "4 ft"\n[cover]\nbay = "6 ft"\n', encoding="utf-8")
    text = " ".join(printed(plan).split())
    (warning,) = (part for part in text.split(" MIND ")[1:] if "bay" in part.split(".")[0] or "apart" in part)
    assert "4 ft" in warning or "48 in" in warning  # common practice, no source: bays of 4 ft at most
    assert len(warning.split(". ")) >= 2
