"""What the working order says agrees with the tape, with the sockets, and with what is cut by then."""

from __future__ import annotations

import math

import pytest
from assembly_making import CATALOGUE, EXAMPLES

from clochewright.catalogue import load_prices
from clochewright.cuts import readings
from clochewright.findings import word
from clochewright.job import run_once
from clochewright.measures import show_length
from clochewright.plan import read_plan

PATHS = [path for path in EXAMPLES if "panel" not in path.stem]


@pytest.fixture(scope="module", params=PATHS, ids=lambda path: path.stem)
def trial(request):
    """One example, run once."""
    return run_once(read_plan(request.param), CATALOGUE, load_prices())


def steps(trial, kind):
    """The steps of one kind."""
    return [step for step in trial.made.assembly.steps if step.kind == kind]


def test_what_is_tried_dry_is_cut_by_then(trial):
    tried = steps(trial, "test-fit")[0]
    cut = {pipe for step in steps(trial, "cut") if step.number < tried.number for pipe in step.new}
    assert set(tried.new) <= cut
    ends = {pipe.id: [end.fitting for end in pipe.ends] for pipe in trial.frame.pipes}
    fittings = {one for pipe in tried.new for one in ends[pipe]} - {None}
    # any pipe that joins two of the tried fittings is needed to push them together
    between = {pipe for pipe, held in ends.items() if all(one in fittings for one in held)}
    assert between <= set(tried.new)


def test_every_pipe_is_cut_once(trial):
    cut = [pipe for step in steps(trial, "cut") for pipe in step.new]
    assert sorted(cut) == sorted(pipe.id for pipe in trial.frame.pipes)


def test_squaring_reads_what_the_tape_table_says(trial):
    # the spread is checked against 100,000 disturbed builds in tests/cuts
    read = readings(trial.made.dry, trial.made.spreads).find("diagonal")
    for step in steps(trial, "square"):
        units = trial.plan.units
        low, high = (show_length(size_m, units) for size_m in read.joined_m)
        assert f"from {low} to {high}" in step.texts[0] or low == high
        assert step.diagonals.low_m <= step.diagonals.high_m


def test_parallel_sockets_are_neither_eased_nor_said_to_read_long(trial):
    # Metric sockets are parallel, a dry pipe goes home in them and a loose pair holds nothing: a trade article that
    # sets both kinds side by side. Those of ASTM D2466 and D2467 taper.
    metric = trial.pipe.system == "metric"
    said = " ".join(text for step in trial.made.assembly.steps for text in step.texts)
    keys = {finding.key for finding in trial.findings}
    assert CATALOGUE.slides_home(trial.pipe.key) == metric
    assert (word("assembly.text.mark-slides") in said) == metric
    if metric:
        assert not trial.made.joints.eased
        assert "sandpaper" not in said
        assert "tapered" not in said
        assert "joints.screwed-eased" not in keys
        assert "cuts.dry-fit-longer" not in keys
    elif trial.made.joints.eased:
        assert "joints.screwed-eased" in keys
        assert "sandpaper" in said


def test_a_dry_slope_reads_longer_by_what_two_sockets_stand_proud(trial):
    if trial.pipe.system == "metric" or trial.frame.hoop is not None:
        return
    read = readings(trial.made.dry, trial.made.spreads).find("rafter")
    proud = trial.made.dry.joint_m
    assert read.dry_m[0] - read.planned_m == pytest.approx(2 * proud.low, abs=1e-6)
    assert read.dry_m[1] - read.planned_m == pytest.approx(2 * proud.high, abs=1e-6)


def test_what_lies_flat_lies_square_to_its_long_pipes_with_its_open_ends_up(trial):
    pipes = {pipe.id: pipe for pipe in trial.frame.pipes}
    for step in steps(trial, "cement"):
        if step.jig.up is None:
            continue
        assert math.hypot(*step.jig.up) == pytest.approx(1.0)
        mine = [pipes[one] for one in step.new if one in pipes]
        long = [pipe for pipe in mine if pipe.role != "stub" and pipe.shape == "straight"]
        for pipe in long:
            along = sum(u * (b - a) for u, a, b in zip(step.jig.up, pipe.path_m[0], pipe.path_m[-1], strict=True))
            assert along == pytest.approx(0.0, abs=2e-3 * pipe.cut_length_m)
        looks = 0.0
        for pipe in mine:
            for end, other in (pipe.ends, pipe.ends[::-1]):
                if end.fitting not in step.new:  # a stub's open end
                    looks += sum(u * (b - a) for u, a, b in zip(step.jig.up, other.point_m, end.point_m, strict=True))
        assert looks > -trial.frame.pipe_outside_diameter_m or "hang over the edge" in step.jig.text


def test_what_goes_under_a_bent_is_told_fitting_by_fitting():
    """By hand for 32 mm pipe: a tee's run reaches 17 + 22 = 39 mm down, an elbow's hub 19.5 mm, so it wants 20 mm more.

    Its two sides stand 2 x 39 mm apart at the apex, where two tees meet hub to hub.
    """
    path = next(path for path in PATHS if "bed-7" in path.stem)
    trial = run_once(read_plan(path), CATALOGUE, load_prices())
    text = next(step.jig.text for step in steps(trial, "cement"))
    assert "20 mm under left eave elbow" in text
    assert "98 mm under right eave elbow" in text
    assert "78 mm under right post foot" in text
    assert "under apex" not in text  # one stands on the floor, the other over it
