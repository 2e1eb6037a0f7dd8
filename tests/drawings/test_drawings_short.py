"""Parts with their long pipes drawn short, and the numbers of the screws."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest

import frame_samples
from clochewright.catalogue import load_catalogue, load_prices
from clochewright.drawings import Circle, Text
from clochewright.drawings.of_build import draw_build
from clochewright.drawings.shorten import cut_short
from clochewright.job import run_once
from clochewright.job.types import Job
from clochewright.plan import read_plan

FOOT = 0.3048
EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("sorrel-yard-*.toml"))


@pytest.fixture(scope="module")
def frame():
    return frame_samples.tent(8 * FOOT, 4 * FOOT, 3)


@pytest.fixture(scope="module")
def bent(frame):
    """The pieces of the bent nearest the front."""
    rafters = [pipe for pipe in frame.pipes if pipe.role == "rafter"]
    front = min(pipe.path_m[0][0] for pipe in rafters)
    pipes = [pipe for pipe in rafters if pipe.path_m[0][0] - front < 0.2]
    fittings = {end.fitting for pipe in pipes for end in pipe.ends}
    between = [pipe for pipe in frame.pipes if all(end.fitting in fittings for end in pipe.ends)]
    return {*fittings, *(pipe.id for pipe in (*pipes, *between))}


def way(pipe):
    """A pipe's direction."""
    whole = np.array(pipe.path_m[-1]) - np.array(pipe.path_m[0])
    return whole / np.linalg.norm(whole)


def test_long_pipes_are_short_short_ones_as_they_are_and_all_as_they_lean(frame, bent):
    short = cut_short(frame, bent)
    was = {pipe.id: pipe for pipe in frame.pipes}
    for pipe in short.frame.pipes:
        long_m = math.dist(pipe.path_m[0], pipe.path_m[-1])
        if pipe.id in short.pipes:
            assert long_m == pytest.approx(4.5 * frame.pipe_outside_diameter_m)
        else:
            assert long_m == pytest.approx(math.dist(was[pipe.id].path_m[0], was[pipe.id].path_m[-1]))
        assert way(pipe) == pytest.approx(way(was[pipe.id]))
    rafters = {pipe.id for pipe in frame.pipes if pipe.role == "rafter" and pipe.id in bent}
    assert rafters <= short.pipes


def test_every_pipe_still_ends_in_its_sockets(frame, bent):
    short = cut_short(frame, bent).frame
    fittings = {fitting.id: fitting for fitting in short.fittings}
    for pipe in short.pipes:
        if pipe.id not in bent:
            continue
        for end, at_m in zip(pipe.ends, (pipe.path_m[0], pipe.path_m[-1]), strict=True):
            fitting = fittings[end.fitting]
            port = fitting.port(end.port)
            reach_m = port.centre_to_face_m - end.seat_depth_m
            assert end.point_m == pytest.approx(at_m)
            assert at_m == pytest.approx(np.array(fitting.position_m) + reach_m * np.array(port.direction))


def test_a_part_that_closes_on_itself_is_drawn_as_it_is(frame):
    base = {pipe.id for pipe in frame.pipes if pipe.role in ("side rail", "end rail", "brace", "stub")}
    base |= {fitting.id for fitting in frame.fittings}
    short = cut_short(frame, base)
    assert short.frame is frame
    assert not short.pipes


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_screw_has_its_number_in_the_picture(path):
    trial = run_once(read_plan(path), load_catalogue(), load_prices())
    job = Job(trial.plan, trial.pipe, trial.frame, trial.made, trial.findings, None)
    pictures = draw_build(job)
    step = next(step for step in trial.made.assembly.steps if step.kind == "screw")
    marks = pictures[f"step-{step.number}"].marks
    said = sorted(int(mark.text) for mark in marks if isinstance(mark, Text) and mark.text.isdigit())
    assert said == list(range(1, len(step.screws) + 1))
    centres = [mark.centre for mark in marks if isinstance(mark, Circle) and mark.pen == "mark"]
    near = min(math.dist(a, b) for k, a in enumerate(centres) for b in centres[:k])
    assert near > 2 * 3.3  # no balloon lies on another
