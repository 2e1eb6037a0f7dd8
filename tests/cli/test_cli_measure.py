"""`clochewright measure`, asked and scripted, on a plan file of its own."""

from __future__ import annotations

from pathlib import Path

import pytest
from typer.testing import CliRunner

from clochewright.cli.app import app
from clochewright.errors import CatalogueError, ClochewrightError, MeasureError
from clochewright.plan import read_plan

INCH = 0.0254
TEE = ["--kind", "tee", "--overall", "3 3/4 in", "--depth", "1 1/8 in", "--hub", "1 5/8 in"]

PLAN = """# Bed 7, Sorrel Yard
[bed]
length = "8 ft"   # with the tape
width = "3 ft 10 in"

[cover]
apex = "{apex}"
"""


@pytest.fixture
def plan_file(tmp_path: Path) -> Path:
    return written(tmp_path, "butted")


def written(folder: Path, apex: str, more: str = "") -> Path:
    file = folder / "bed-7.toml"
    file.write_text(PLAN.format(apex=apex) + more, encoding="utf-8")
    return file


def measure(file: Path, *given: str, answers: str | None = None, code: int = 0) -> str:
    result = CliRunner().invoke(app, ["measure", str(file), *given], input=answers)
    if result.exception and not isinstance(result.exception, SystemExit):
        raise result.exception
    assert result.exit_code == code, result.output
    return result.output


def refused(file: Path, *given: str) -> str:
    before = file.read_bytes()
    with pytest.raises(ClochewrightError) as wrong:
        measure(file, *given)
    assert file.read_bytes() == before
    return str(wrong.value)


def test_scripted_it_writes_one_row_and_keeps_the_comments(plan_file: Path) -> None:
    """Mouth to mouth 3 3/4, depth 1 1/8: centre to stop 3/4 in, 1/16 more than the catalogue's 11/16."""
    said = measure(plan_file, *TEE)
    text = plan_file.read_text(encoding="utf-8")
    assert text.startswith(PLAN.format(apex="butted").rstrip())
    (row,) = read_plan(plan_file).own.fittings
    assert row.kind == "tee"
    assert row.centre_to_stop_m is not None
    assert row.centre_to_stop_m / INCH == pytest.approx(0.75)
    assert row.socket_depth_m is not None
    assert row.hub_m is not None
    assert (row.socket_depth_m / INCH, row.hub_m / INCH) == pytest.approx((1.125, 1.625))
    assert "centre to stop 3/4 in" in said


def test_each_cut_before_and_after_by_hand(plan_file: Path) -> None:
    """The brace runs between two tees: 46 - 1 5/8 - 2 x 11/16 = 43 in before, 2 x 1/16 in less now.

    The end rail runs between the corners and stays; 46 - 1 5/8 - 2 x 11/16 = 43 in.
    """
    lines = [" ".join(line.split()) for line in measure(plan_file, *TEE).splitlines()]
    assert any("43 in 42 7/8 in 1/8 in shorter brace" in line for line in lines)
    assert any("43 in 43 in end rail" in line for line in lines)


def test_measuring_again_brings_the_row_up_to_date(plan_file: Path) -> None:
    measure(plan_file, *TEE)
    measure(plan_file, "--kind", "Tee", "--overall", "3 5/8 in, 3 9/16 in", "--depth", "1 1/8 in", "--hub", "1 5/8 in")
    (row,) = read_plan(plan_file).own.fittings
    assert row.centre_to_stop_m is not None
    assert row.centre_to_stop_m / INCH == pytest.approx((3.625 + 3.5625) / 4 - 1.125, abs=1e-5)


def test_one_socket_gets_a_row_of_its_own(plan_file: Path) -> None:
    measure(plan_file, *TEE)
    branch = ["--overall", "2 11/16 in", "--depth", "1 1/8 in", "--hub", "1 5/8 in"]
    measure(plan_file, "--kind", "tee", "--port", "branch", *branch)
    rows = read_plan(plan_file).own.fittings
    assert [(row.kind, row.port) for row in rows] == [("tee", None), ("tee", "branch")]
    assert rows[1].centre_to_stop_m is not None
    assert rows[1].centre_to_stop_m / INCH == pytest.approx(2.6875 - 1.625 / 2 - 1.125)


def test_a_socket_measured_earlier_is_not_overruled_by_its_place(tmp_path: Path) -> None:
    """The plan's later rows win, so a row for all sockets may not be put after one for the branch alone."""
    file = written(tmp_path, "butted", '\n[[own.fittings]]\nkind = "tee"\nport = "branch"\nsocket_depth = "1 in"\n')
    measure(file, *TEE)
    rows = read_plan(file).own.fittings
    assert [row.port for row in rows] == ["branch", "run-a", "run-b"]
    assert all(row.socket_depth_m is not None and row.socket_depth_m / INCH == pytest.approx(1.125) for row in rows)


def test_a_real_bend_changes_the_pitch_of_a_flat_apex(tmp_path: Path) -> None:
    """A 45 that turns 48 degrees: arms of 20 in from the centre are 40 cos 24 deg = 36.542 in apart at their ends."""
    file = written(tmp_path, "flat")
    face = (3.0932 - 1.625 / 2 * 0.743145) / (1 + 0.669131)  # sin and cos of 48 degrees, from a table
    legs = f"{20 - face:.4f} in, {20 - face:.4f} in, 36.5418 in"
    sizes = ["--overall", "3.0932 in", "--depth", "1.03125 in", "--hub", "1.625 in"]
    said = measure(file, "--kind", "elbow-45", *sizes, "--bend-legs", legs)
    (row,) = read_plan(file).own.fittings
    assert row.bend_deg == pytest.approx(48.0, abs=0.1)
    assert "5/8 in off" in said  # 2 x 12 sin 1.5 deg = 0.628 in
    assert "Pitch: 45° before, 48° now." in said


def test_a_corner_out_of_square_is_told_and_not_written(plan_file: Path) -> None:
    """Arms of 20 in from the centre, 28 in across: 2 asin(28 / 40) = 88.85 degrees between them, a bend of 91.15."""
    face = 2.625 - 1.625 / 2
    legs = f"{20 - face:.4f} in, {20 - face:.4f} in, 28 in"
    sizes = ["--overall", "2 5/8 in", "--depth", "1 1/8 in", "--hub", "1 5/8 in"]
    said = measure(plan_file, "--kind", "elbow-90", *sizes, "--bend-legs", legs)
    assert "Bend 91.1°" in said or "Bend 91.2°" in said
    assert "1/4 in off" in said  # 2 x 12 sin 0.575 deg = 0.241 in
    assert read_plan(plan_file).own.fittings[0].bend_deg is None


def test_figures_far_from_the_catalogue_need_a_word_for_it(plan_file: Path) -> None:
    odd = ["--kind", "tee", "--overall", "5 in", "--depth", "1 1/8 in", "--hub", "1 5/8 in"]
    assert "--sure" in refused(plan_file, *odd)
    measure(plan_file, *odd, "--sure")
    stop_m = read_plan(plan_file).own.fittings[0].centre_to_stop_m
    assert stop_m is not None
    assert stop_m / INCH == pytest.approx(1.375)


@pytest.mark.parametrize(
    ("changed", "kind_of_error", "told"),
    [
        ({"--depth": "2 in"}, CatalogueError, "half the overall"),
        ({"--kind": "knee"}, CatalogueError, "no fitting called"),
        ({"--depth": "1 1/8"}, MeasureError, "1 1/8 in or"),
        ({"--overall": "3 1/2 in, 4 in"}, MeasureError, "differ by 1/2 in"),
        ({"--bend-legs": "12 in, 12 in"}, MeasureError, "three lengths"),
        ({"--port": "chimney"}, CatalogueError, "no socket called"),
        ({"--hub": "1 in", "--sure": None}, CatalogueError, "thinner than the pipe"),
    ],
)
def test_what_makes_no_sense_is_refused_and_nothing_is_written(
    plan_file: Path, changed: dict[str, str | None], kind_of_error: type[Exception], told: str
) -> None:
    options: dict[str, str | None] = {**dict(zip(TEE[::2], TEE[1::2], strict=True)), **changed}
    given = [word for pair in options.items() for word in pair if word is not None]
    with pytest.raises(kind_of_error):
        measure(plan_file, *given)
    assert told in refused(plan_file, *given)


def test_asked_step_by_step(plan_file: Path) -> None:
    """The tee comes first, being most of the frame; one answer without a unit is asked again; the branch is skipped."""
    answers = ["1", "3 3/4", "3 3/4 in, 3 3/4 in", "1 1/8 in", "1 5/8 in", "", "n", "y"]
    said = measure(plan_file, answers="\n".join(answers) + "\n")
    assert " 1  Tee: 12 in your frame; sizes estimate" in said
    assert "Write 3 3/4 in" in said
    assert said.index("flat table") < said.index("ledge") < said.index("edge to edge")
    (row,) = read_plan(plan_file).own.fittings
    assert row.centre_to_stop_m is not None
    assert row.centre_to_stop_m / INCH == pytest.approx(0.75)


def test_asked_again_when_it_is_odd_and_for_the_branch_and_another_kind(plan_file: Path) -> None:
    answers = ["tee", "5 in", "1 1/8 in", "1 5/8 in", "y"]  # odd: measure again
    answers += ["3 3/4 in", "1 1/8 in", "1 5/8 in", "2 11/16 in"]  # and the branch
    answers += ["y", "90 degree elbow", "2 5/8 in", "1 1/8 in", "1 5/8 in", "", "n", "y"]
    said = measure(plan_file, answers="\n".join(answers) + "\n")
    assert "leads one to expect" in said
    rows = read_plan(plan_file).own.fittings
    assert [(row.kind, row.port) for row in rows] == [("tee", None), ("tee", "branch"), ("elbow-90", None)]


def test_nothing_is_written_when_the_answer_is_no(plan_file: Path) -> None:
    before = plan_file.read_bytes()
    assert "Nothing was written" in measure(plan_file, answers="1\n3 3/4 in\n1 1/8 in\n1 5/8 in\n\nn\nn\n")
    assert plan_file.read_bytes() == before


def test_a_plan_that_can_no_longer_be_built_is_told_and_written(tmp_path: Path) -> None:
    """On a bed of 2 ft the tees of a long run stand in each other's place."""
    file = tmp_path / "short.toml"
    file.write_text('[bed]\nlength = "30 in"\nwidth = "2 ft"\n[cover]\nbents = 2\nbraces = "none"\n', encoding="utf-8")
    long = ["--kind", "tee", "--overall", "9 in", "--depth", "1 1/8 in", "--hub", "1 5/8 in", "--sure"]
    assert "can't be built" in measure(file, *long, code=1)
    assert read_plan(file).own.fittings


def test_a_metric_plan_is_written_in_millimetres(tmp_path: Path) -> None:
    """Metric 32: 22 mm deep, z 17 mm (DIN 8063, from memory): a tee is 2 x 39 = 78 mm from mouth to mouth."""
    file = tmp_path / "metric.toml"
    file.write_text(
        'units = "mm"\n[bed]\nlength = "2400 mm"\nwidth = "1200 mm"\n[pipe]\nsize = "32 mm PN 16"\n', encoding="utf-8"
    )
    measure(file, "--kind", "tee", "--overall", "78 mm", "--depth", "22 mm", "--hub", "39 mm")
    assert 'centre_to_stop = "17 mm"' in file.read_text(encoding="utf-8")
