"""The lid on paper: swept through its opening, its force curve, its bar, where to hold it, and templates at full size.

Geometry is checked against rotations by complex numbers; a template against the bare millimetre.
"""

from __future__ import annotations

import cmath
import io
import itertools
import math
import re
from dataclasses import replace

import ezdxf
import pytest
from opening_samples import opening_of

from clochewright.catalogue import load_catalogue, load_prices
from clochewright.drawings import Circle, Line, Text, write_dxf, write_svg
from clochewright.drawings.force_plot import draw_force
from clochewright.drawings.of_lid import draw_lid
from clochewright.drawings.sheet import box_around
from clochewright.job import run_quick
from clochewright.measures import show_length
from clochewright.plan import plan_from_si

BED = {"bed": {"length_m": 2.4384, "width_m": 1.1684, "height_m": 0.2794}}
PLANS = {
    "tent": {},
    "barn": {"cover": {"shape": "barn"}, "units": "mm", "film": {"kind": "150 micron UV film"}},
    "lean-to by a wall": {"cover": {"shape": "lean-to"}, "lid": {"behind": "wall", "behind_distance_m": 0.9}},
    "hinged on the right, by a path": {"lid": {"hinge_side": "right", "behind": "path"}},
    "hinged at an end": {"lid": {"hinge_side": "far"}},
    "panel": {"cover": {"shape": "lean-to"}, "lid": {"opens": "slope"}},
    "halves": {"lid": {"opens": "halves"}},
    "tunnel": {"cover": {"shape": "tunnel"}, "pipe": {"size": "3/4 in"}, "lid": {"reach_from": "hinge-side"}},
}


@pytest.fixture(scope="module")
def jobs():
    catalogue, prices = load_catalogue(), load_prices()
    return {name: run_quick(plan_from_si(BED | plan), catalogue, prices) for name, plan in PLANS.items()}


@pytest.fixture(scope="module")
def drawn(jobs):
    return {name: draw_lid(job, opening_of(job)) for name, job in jobs.items()}


def texts(drawing):
    return [mark.text for mark in drawing.marks if isinstance(mark, Text)]


@pytest.mark.parametrize("name", PLANS)
def test_every_drawing_is_there_and_stays_on_its_paper(drawn, name):
    assert {"lid-swing", "lid-force", "lid-bar", "lid-grips", "lid-template-1"} <= set(drawn[name])
    for drawing in drawn[name].values():
        box = box_around(drawing.marks)
        assert box.left_mm >= -1e-6, drawing.title
        assert box.bottom_mm >= -1e-6, drawing.title
        assert box.right_mm <= drawing.width_mm + 1e-6, drawing.title
        assert box.top_mm <= drawing.height_mm + 1e-6, drawing.title


@pytest.mark.parametrize("name", PLANS)
def test_the_hand_is_drawn_where_turning_takes_it(jobs, drawn, name):
    """Seen along the hinges a turn by an angle is a product with exp(i angle)."""
    leaf, drawing = jobs[name].made.lid.leaves[0], drawn[name]["lid-swing"]
    hinge = next(m.centre for m in drawing.marks if isinstance(m, Circle) and m.pen == "mark" and m.radius_mm == 0.9)
    hands = [m.centre for m in drawing.marks if isinstance(m, Circle) and m.pen == "leader"]
    shut = complex(*leaf.line.section(leaf.handle_m))
    angles = [0.0, *(hole.open_deg for hole in leaf.props[0].holes)]
    rightwards = hands[0][0] > hinge[0]
    for at, angle_deg in zip(hands, angles, strict=False):
        turned = shut * cmath.exp(1j * math.radians(angle_deg)) * 1000 / drawing.scale
        wanted = complex(turned.real if rightwards else -turned.real, turned.imag)
        assert complex(at[0] - hinge[0], at[1] - hinge[1]) == pytest.approx(wanted, abs=1e-6)


def test_the_bars_are_as_long_on_paper_as_their_holes_say(jobs, drawn):
    leaf, drawing = jobs["tent"].made.lid.leaves[0], drawn["tent"]["lid-swing"]
    dots = [m for m in drawing.marks if isinstance(m, Circle) and m.pen == "title"]
    pin = next(dot for dot in dots if dot.radius_mm == 0.6)
    lengths = sorted(math.dist(dot.centre, pin.centre) * drawing.scale / 1000 for dot in dots if dot is not pin)
    assert lengths == pytest.approx([hole.from_pivot_m for hole in leaf.props[0].holes], abs=1e-6)


def test_a_lid_hinged_on_the_right_opens_to_the_right_on_paper(drawn):
    for name, sign in (("tent", -1.0), ("hinged on the right, by a path", 1.0)):
        drawing = drawn[name]["lid-swing"]
        hands = [m.centre for m in drawing.marks if isinstance(m, Circle) and m.pen == "leader"]
        assert (hands[-1][0] - hands[0][0]) * sign > 0


def test_what_is_behind_is_named(drawn):
    assert "wall" in texts(drawn["lean-to by a wall"]["lid-swing"])
    assert "path" in texts(drawn["hinged on the right, by a path"]["lid-swing"])
    assert "rest block" in texts(drawn["tent"]["lid-swing"])


def test_the_force_curve_reads_back_as_the_forces_it_was_drawn_from(jobs):
    job = jobs["barn"]
    leaf, work = job.made.lid.leaves[0], opening_of(job).leaves[0]
    drawing = draw_force(job, leaf, work)
    grid = {}
    for mark in drawing.marks:
        if isinstance(mark, Text) and re.fullmatch(r"\N{MINUS SIGN}?\d+ N", mark.text) and mark.anchor == "end":
            force = float(mark.text.replace("\N{MINUS SIGN}", "-").removesuffix(" N"))
            grid[force] = mark.at[1] + 0.668 * mark.size_mm / 2  # the middle of its figures
    (low, high) = min(grid), max(grid)
    per_N = (grid[high] - grid[low]) / (high - low)
    curve = next(mark for mark in drawing.marks if isinstance(mark, Line) and mark.pen == "curve")
    read = [(y - grid[low]) / per_N + low for _, y in curve.points]
    assert read == pytest.approx([row.lift_force_N for row in work.angles], abs=0.01)
    limit = next(mark for mark in drawing.marks if isinstance(mark, Line) and mark.pen == "limit")
    assert (limit.points[0][1] - grid[low]) / per_N + low == pytest.approx(22.0, abs=0.01)
    assert any("your limit, 22 N" in text for text in texts(drawing))


@pytest.mark.parametrize("times", [0.43, 0.87, 1.3, 2.17, 4.35])
def test_labels_of_the_force_stand_at_their_true_heights(jobs, times):
    """From one label to the next the plot rises by as much as the force does, the topmost and the lowest included."""
    job = jobs["barn"]
    leaf, work = job.made.lid.leaves[0], opening_of(job).leaves[0]
    forces = ("lift_force_N", "lift_low_N", "lift_high_N", "prop_force_N")
    rows = tuple(replace(row, **{name: getattr(row, name) * times for name in forces}) for row in work.angles)
    labels = {}
    for mark in draw_force(job, leaf, replace(work, angles=rows)).marks:
        if isinstance(mark, Text) and re.fullmatch(r"\N{MINUS SIGN}?\d+ N", mark.text) and mark.anchor == "end":
            labels[float(mark.text.replace("\N{MINUS SIGN}", "-").removesuffix(" N"))] = mark.at[1]
    assert 0.0 in labels
    assert len(labels) > 2
    ordered = sorted(labels)
    rises = [(labels[b] - labels[a]) / (b - a) for a, b in itertools.pairwise(ordered)]
    assert rises == pytest.approx([rises[0]] * len(rises))


def test_lines_of_the_plot_are_told_apart_without_colour(drawn):
    used = {mark.pen for mark in drawn["tent"]["lid-force"].marks if isinstance(mark, Line)}
    svg = write_svg(drawn["tent"]["lid-force"])
    dashes = {pen: re.search(rf"\.cw-{pen}{{[^}}]*?stroke-dasharray:([^;}}]*)", svg) for pen in used}
    shown = [dashes[pen].group(1) if dashes[pen] else "" for pen in ("curve", "curve-bar", "limit")]
    assert len(set(shown)) == 3


@pytest.mark.parametrize("name", ["tent", "barn", "panel"])
def test_a_template_is_full_size_and_says_so(jobs, drawn, name):
    """Two inches are 50.8 mm exactly (agreement of 1959)."""
    job = jobs[name]
    for key, drawing in drawn[name].items():
        if not key.startswith("lid-template"):
            continue
        assert drawing.scale == 1.0
        assert f'width="{drawing.width_mm:g}mm"' in write_svg(drawing)
        axes = [m for m in drawing.marks if isinstance(m, Line) and m.pen == "axis"]
        level = [m for m in axes if m.points[0][1] == m.points[1][1]]
        assert sorted(abs(m.points[1][0] - m.points[0][0]) for m in level) == pytest.approx([50.0, 50.8])
        assert any("must be 2 in" in text for text in texts(drawing))
        assert any("must be 50 mm" in text for text in texts(drawing))
    prop = job.made.lid.leaves[0].props[0]
    if math.dist(prop.head_m, prop.foot_m) > 0.115:
        return  # told with the tape instead
    last = drawn[name][max(key for key in drawn[name] if key.startswith("lid-template"))]
    holes = [m.centre for m in last.marks if isinstance(m, Circle) and m.pen == "hole"][-2:]
    assert math.dist(*holes) == pytest.approx(math.dist(prop.head_m, prop.foot_m) * 1000, abs=1e-6)


def test_a_template_fits_both_papers(jobs):
    """A4 and Letter with the booklet's margins: 297 - 39 mm and 279.4 - 39 mm high, 174 and 179.9 mm wide."""
    for width_mm, height_mm in ((174.0, 258.0), (179.9, 240.0)):
        for job in jobs.values():
            for key, drawing in draw_lid(job, opening_of(job), width_mm, height_mm).items():
                if key.startswith("lid-template"):
                    assert drawing.width_mm == width_mm
                    assert drawing.height_mm <= height_mm, key
                    assert box_around(drawing.marks).right_mm <= width_mm + 1e-6


def test_a_template_is_true_in_dxf_too(jobs, drawn):
    document = ezdxf.read(io.StringIO(write_dxf(drawn["tent"]["lid-template-1"]).decode()))
    spans = [abs(line.dxf.end.x - line.dxf.start.x) for line in document.modelspace().query("LINE")]
    assert any(span == pytest.approx(2.0, abs=1e-6) for span in spans)  # inches, for a plan in inches


@pytest.mark.parametrize("name", PLANS)
def test_the_bar_has_a_reading_for_every_hole(jobs, drawn, name):
    job = jobs[name]
    prop = job.made.lid.leaves[0].props[0]
    told = texts(drawn[name]["lid-bar"])
    for hole in prop.holes:
        assert show_length(hole.from_pivot_m, job.plan.units) in told
    assert sum(isinstance(m, Circle) and m.pen == "hole" for m in drawn[name]["lid-bar"].marks) == len(prop.holes) + 1


def test_hands_and_balance_point_stand_where_they_were_worked_out(jobs):
    job = jobs["tent"]
    opening = opening_of(job)
    drawing = draw_lid(job, opening)["lid-grips"]
    hands = [m.centre for m in drawing.marks if isinstance(m, Circle) and m.pen == "hand"]
    grips = opening.leaves[0].lifting.grips_m
    assert math.dist(*hands) * drawing.scale / 1000 == pytest.approx(math.dist(*grips), abs=1e-6)
