"""The film pattern on paper: to scale, complete, the same in SVG and DXF."""

from __future__ import annotations

import cmath
import io
import math

import ezdxf
import pytest

from clochewright.catalogue import load_catalogue, load_prices
from clochewright.drawings import (
    Area,
    Circle,
    Line,
    Text,
    draw_pattern,
    pattern_points,
    what_is_alike,
    write_dxf,
    write_svg,
)
from clochewright.drawings.fold_sheet import spare_film
from clochewright.drawings.sheet import box_around
from clochewright.job import run_quick
from clochewright.measures import show_length
from clochewright.plan import plan_from_si

PENS_OF_SECTION = ("fitting-hidden", "pipe")  # of the lath section: the fitting behind, and the rail
SHAPES = {
    "tent": {},
    "barn": {"cover": {"shape": "barn"}},
    "lean-to": {"cover": {"shape": "lean-to"}, "units": "mm", "film": {"kind": "150 micron UV film"}},
    "tunnel": {"cover": {"shape": "tunnel"}, "pipe": {"size": "3/4 in"}},
}


@pytest.fixture(scope="module")
def jobs():
    catalogue, prices = load_catalogue(), load_prices()
    bed = {"bed": {"length_m": 2.7432, "width_m": 1.6764}}
    return {name: run_quick(plan_from_si(bed | plan), catalogue, prices) for name, plan in SHAPES.items()}


def spread(marks):
    """Width and height of some marks on paper [mm]."""
    box = box_around(marks)
    return box.width_mm, box.height_mm


@pytest.mark.parametrize("shape", SHAPES)
def test_the_sheet_is_drawn_to_scale(jobs, shape):
    drawing, piece = draw_pattern(jobs[shape])["pattern"], jobs[shape].made.film.pattern.main
    sheet = next(mark for mark in drawing.marks if isinstance(mark, Area) and mark.pen == "sheet")
    assert spread([sheet]) == pytest.approx(
        (piece.length_m * 1000 / drawing.scale, piece.width_m * 1000 / drawing.scale)
    )
    trim = next(mark for mark in drawing.marks if isinstance(mark, Line) and mark.pen == "trim-line" and mark.closed)
    assert spread([trim]) == pytest.approx(spread([sheet]))


@pytest.mark.parametrize("shape", SHAPES)
def test_everything_stays_on_the_paper(jobs, shape):
    for drawing in draw_pattern(jobs[shape]).values():
        box = box_around(drawing.marks)
        assert box.left_mm >= 0
        assert box.bottom_mm >= 0
        assert box.right_mm <= drawing.width_mm + 1e-6
        assert box.top_mm <= drawing.height_mm + 1e-6


@pytest.mark.parametrize("shape", SHAPES)
def test_sheet_size_and_middle_marks_are_told(jobs, shape):
    job = jobs[shape]
    drawing, piece = draw_pattern(job)["pattern"], job.made.film.pattern.main
    told = {mark.text for mark in drawing.marks if isinstance(mark, Text)}
    assert {show_length(piece.length_m, job.plan.units), show_length(piece.width_m, job.plan.units)} <= told
    assert sum(isinstance(mark, Line) and mark.pen == "mark" for mark in drawing.marks) == 4


def test_gables_have_a_drawing_where_they_are_cut_by_themselves(jobs):
    assert set(draw_pattern(jobs["tent"])) == {"pattern", "fold", "rolls", "lath"}
    assert set(draw_pattern(jobs["tunnel"])) == {"pattern", "pattern-gable", "rolls", "lath"}


@pytest.mark.parametrize("shape", SHAPES)
def test_points_are_on_the_pattern_and_stand_for_all_of_it(jobs, shape):
    """Every corner of the trim line is a listed point, or one that is alike."""
    piece = jobs[shape].made.film.pattern.main
    points = pattern_points(piece)
    assert [point.number for point in points] == list(range(1, len(points) + 1))
    signs = {"quarters": [(1, 1), (-1, 1), (1, -1), (-1, -1)], "ends": [(1, 1), (-1, 1)], "turned": [(1, 1), (-1, -1)],
             "nothing": [(1, 1)]}[what_is_alike(piece)]  # fmt: skip
    places = [(sx * point.along_m, sy * point.across_m) for point in points for sx, sy in signs]
    corners = piece.trim if shape != "tunnel" else [p for p in piece.trim if abs(p[1]) > piece.width_m / 2 - 1e-6]
    for corner in corners:
        assert min(math.dist(corner, place) for place in places) < 0.02


def test_all_quarters_of_a_tent_are_alike_and_a_skew_barn_is_turned(jobs):
    assert what_is_alike(jobs["tent"].made.film.pattern.main) == "quarters"
    assert what_is_alike(jobs["barn"].made.film.pattern.main) == "turned"
    assert what_is_alike(jobs["lean-to"].made.film.pattern.main) == "ends"


def test_dxf_has_the_sheet_at_true_size(jobs):
    job = jobs["tent"]
    drawing, piece = draw_pattern(job)["pattern"], job.made.film.pattern.main
    document = ezdxf.read(io.StringIO(write_dxf(drawing).decode()))
    longest = max(
        max(x for x, _ in line.get_points("xy")) - min(x for x, _ in line.get_points("xy"))
        for line in document.modelspace().query("LWPOLYLINE")
    )
    assert longest == pytest.approx(piece.length_m / 0.0254, abs=1e-3)  # inches, for a plan in inches


def test_svg_carries_its_words(jobs):
    svg = write_svg(draw_pattern(jobs["barn"])["pattern"])
    assert "folded like a parcel" in svg
    assert "3 pleats" in svg


@pytest.mark.parametrize("shape", ["tent", "tunnel"])
def test_the_lath_section_is_true_to_its_sizes(jobs, shape):
    """Full size: the rail's circle, the fitting's on the rim's line, the roll beside the rail and clear of the rim."""
    job = jobs[shape]
    drawing = draw_pattern(job)["lath"]
    assert drawing.scale == 1.0
    hub, rail = (next(m for m in drawing.marks if isinstance(m, Circle) and m.pen == pen) for pen in PENS_OF_SECTION)
    board = next(m for m in drawing.marks if isinstance(m, Area) and m.pen == "bed")
    roll = next(m for m in drawing.marks if isinstance(m, Area) and m.pen == "band")
    rim = max(y for _, y in board.points)
    assert rail.radius_mm == pytest.approx(job.frame.pipe_outside_diameter_m * 500)
    assert hub.centre[1] - hub.radius_mm == pytest.approx(rim)  # it stands on the rim
    assert max(x for x, _ in board.points) == pytest.approx(hub.centre[0] + hub.radius_mm)  # flush with the bed
    assert min(x for x, _ in roll.points) == pytest.approx(rail.centre[0] + rail.radius_mm)
    assert 1.0 < min(y for _, y in roll.points) - rim < hub.radius_mm - rail.radius_mm


@pytest.mark.parametrize("shape", [shape for shape in SHAPES if shape != "tunnel"])
def test_what_is_folded_under_is_halved_by_its_fold(jobs, shape):
    """Mirror images: both lines are as long, and turned from the fold by as much, one each way."""
    pattern = jobs[shape].made.film.pattern
    spare = spare_film(pattern.main)
    assert len(spare) == pattern.pleats
    folds = [line.points for line in pattern.main.lines if line.kind == "pleat" and line.points[0][0] > 0][1::2]
    for (start, under, other), (_, middle) in zip(spare, folds, strict=True):
        a, b, m = (complex(p[0] - start[0], p[1] - start[1]) for p in (under, other, middle))
        assert abs(a) == pytest.approx(abs(b))
        assert cmath.phase(a / m) == pytest.approx(-cmath.phase(b / m))
        assert abs(cmath.phase(a / m)) > 0.05
    drawn = [
        mark for mark in draw_pattern(jobs[shape])["fold"].marks if isinstance(mark, Area) and len(mark.points) == 3
    ]
    assert sum(mark.pen == "hand" for mark in drawn) == pattern.pleats
