"""`clochewright new`: a starter for every shape, asked and scripted, that goes straight through the job."""

from __future__ import annotations

import pytest
from command_line import run_here
from typer.testing import CliRunner

from clochewright.cli.app import app
from clochewright.plan import read_plan

SHAPES = ("tent", "barn", "tunnel", "lean-to")


def new(file, *words, answers=None):
    return CliRunner().invoke(app, ["new", str(file), *words], input=answers)


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize(("length", "width"), [("8 ft", "4 ft"), ("2400 mm", "1.2 m")])
def test_a_starter_of_each_shape_can_be_built(tmp_path, monkeypatch, capsys, shape, length, width):
    file = tmp_path / "bed-9.toml"
    words = ("new", file, "--length", length, "--width", width, "--shape", shape)
    assert run_here(monkeypatch, capsys, *words).code == 0
    plan = read_plan(file)
    assert (plan.cover.shape, plan.units, plan.name) == (shape, "mm" if "m" in length else "inch", "Bed 9")
    assert ("micron" in plan.film.kind) == (plan.units == "mm")
    done = run_here(monkeypatch, capsys, "plan", file)
    assert (done.code, done.err) == (0, "")


def test_options_are_taken_as_given(tmp_path):
    file = tmp_path / "a.toml"
    given = ("--length", "9 ft", "--width", "3 ft", "--name", "Sorrel Yard", "--pipe", "3/4 in", "--question",
             "stays-out")  # fmt: skip
    assert new(file, *given).exit_code == 0
    plan = read_plan(file)
    assert (plan.name, plan.pipe.size, plan.question) == ("Sorrel Yard", "3/4 in", "stays-out")


def test_what_is_left_out_is_asked_until_it_makes_sense(tmp_path):
    file = tmp_path / "a.toml"
    done = new(file, answers="long\n8 ft\n4\n4 ft\nigloo\n9\n3\nfits-the-car\n")
    assert done.exit_code == 0, done.output
    plan = read_plan(file)
    assert (plan.bed.length_m, plan.bed.width_m) == pytest.approx((2.4384, 1.2192))
    assert (plan.cover.shape, plan.question) == ("tunnel", "fits-the-car")
    assert "own" not in done.output


def test_enter_takes_the_first_choice(tmp_path):
    file = tmp_path / "a.toml"
    assert new(file, answers="8 ft\n4 ft\n\n\n").exit_code == 0
    plan = read_plan(file)
    assert (plan.cover.shape, plan.question) == ("tent", "cost")


def test_a_plan_that_is_there_is_written_over_only_when_asked(tmp_path, monkeypatch, capsys):
    file = tmp_path / "a.toml"
    size = ("--length", "8 ft", "--width", "4 ft")
    assert new(file, *size).exit_code == 0
    before = file.read_bytes()
    assert run_here(monkeypatch, capsys, "new", file, "--length", "9 ft", "--width", "4 ft").code == 2
    assert file.read_bytes() == before
    assert new(file, "--length", "9 ft", "--width", "4 ft", "--again").exit_code == 0
    assert read_plan(file).bed.length_m == pytest.approx(2.7432)


def test_an_answer_that_never_comes_leaves_nothing(tmp_path):
    assert new(tmp_path / "a.toml", answers="8 ft\n").exit_code == 1
    assert list(tmp_path.iterdir()) == []
