"""Four sides and two diagonals against triangles worked out by other means."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import Polygon, box

from clochewright.catalogue import load_catalogue
from clochewright.errors import PlanError
from clochewright.findings import Finding, Level
from clochewright.frame import raise_frame
from clochewright.plan import BedShape, plan_from_si
from clochewright.plan.bed_shape import bed_shape

coordinate = st.floats(-0.04, 0.04)


def taped(corners: list[tuple[float, float]], fit: str = "inside") -> BedShape:
    """What six exact tape readings make of a bed; corners front left, far left, far right, front right."""
    fl, al, ar, fr = corners
    pairs = ((fl, al), (fr, ar), (fl, fr), (al, ar), (fl, ar), (fr, al))
    return bed_shape(*(math.dist(*pair) for pair in pairs), fit)


def test_a_leaning_bed_has_the_angles_of_the_law_of_cosines() -> None:
    # a parallelogram of 2.4 by 1.2 m leaning by 2 degrees; diagonals by the law of cosines, angles 92 and 88
    lean = math.radians(2)
    diagonals = [math.sqrt(2.4**2 + 1.2**2 - 2 * 2.4 * 1.2 * math.cos(math.pi / 2 + s * lean)) for s in (1, -1)]
    shape = bed_shape(2.4, 2.4, 1.2, 1.2, *diagonals, "inside")
    assert sorted(shape.angles_deg) == pytest.approx([88, 88, 92, 92], abs=1e-6)
    assert shape.closing_m == pytest.approx(0, abs=1e-9)
    assert shape.diagonals_differ_m == pytest.approx(diagonals[0] - diagonals[1])
    # the square base stands in by the lean at both ends: 1.2 m times its sine shorter, its cosine narrower
    assert shape.length_m == pytest.approx(2.4 - 1.2 * math.sin(lean), abs=1e-6)
    assert shape.width_m == pytest.approx(1.2 * math.cos(lean), abs=1e-6)


@given(st.lists(st.tuples(coordinate, coordinate), min_size=4, max_size=4))
def test_the_base_inside_stands_past_no_board(off: list[tuple[float, float]]) -> None:
    square = [(-1.2, 0.6), (1.2, 0.6), (1.2, -0.6), (-1.2, -0.6)]
    bed = [(x + dx, y + dy) for (x, y), (dx, dy) in zip(square, off, strict=True)]
    shape = taped(bed)
    assert shape.closing_m == pytest.approx(0, abs=1e-7)
    outline = Polygon(shape.corners_m)
    assert outline.area == pytest.approx(Polygon(bed).area, rel=1e-9)
    (left, top), (right, bottom) = (
        (shape.corners_m[i][0] + sx * shape.stands_in_m[i][0], shape.corners_m[i][1] - sy * shape.stands_in_m[i][1])
        for i, sx, sy in ((0, 1, 1), (2, -1, -1))
    )
    base = box(left, bottom, right, top)
    assert base.area == pytest.approx(shape.length_m * shape.width_m, rel=1e-9)
    assert base.difference(outline).area < 1e-9


def test_one_misread_side_is_not_swallowed() -> None:
    exact = taped([(-1.2, 0.6), (1.2, 0.6), (1.2, -0.6), (-1.2, -0.6)])
    off = bed_shape(2.4, 2.42, 1.2, 1.2, math.hypot(2.4, 1.2), math.hypot(2.4, 1.2), "inside")
    assert abs(exact.closing_m) < 1e-9
    assert abs(off.closing_m) > 0.01


READINGS = ("left", "right", "front", "far", "diagonal_left", "diagonal_right")


@pytest.mark.parametrize("number", range(6))
@pytest.mark.parametrize("off_m", [-0.0254, 0.0254, 0.01, 0.1])
@pytest.mark.parametrize("lean_m", [0.0, 0.004])
def test_a_misread_tape_is_named_with_what_it_should_read(number: int, off_m: float, lean_m: float) -> None:
    # a bed of 96 by 46 in whose far end is pushed over by nothing or 4 mm
    true = [(0.0, 1.1684), (2.4384, 1.1684 + lean_m), (2.4384, lean_m), (0.0, 0.0)]
    pairs = ((0, 1), (3, 2), (0, 3), (1, 2), (0, 2), (3, 1))
    readings = [math.dist(true[i], true[j]) for i, j in pairs]
    should_m = readings[number]
    readings[number] += off_m
    shape = bed_shape(*readings, "inside")
    assert shape.slip == READINGS[number]
    assert shape.slip_should_m == pytest.approx(should_m, abs=1e-9)


@given(st.lists(st.floats(-0.0016, 0.0016), min_size=6, max_size=6))
def test_a_tape_read_to_a_sixteenth_moves_no_corner_by_more_than_a_few(off_m: list[float]) -> None:
    # least squares never moves the readings further than they were off, all told
    true = [(-1.2, 0.6), (1.2, 0.6), (1.2, -0.6), (-1.2, -0.6)]
    pairs = ((0, 1), (3, 2), (0, 3), (1, 2), (0, 2), (3, 1))
    readings = [math.dist(true[i], true[j]) + off for (i, j), off in zip(pairs, off_m, strict=True)]
    shape = bed_shape(*readings, "mean")
    moved = [math.dist(shape.corners_m[i], shape.corners_m[j]) - r for (i, j), r in zip(pairs, readings, strict=True)]
    assert math.hypot(*moved) <= math.hypot(*off_m) + 1e-9
    assert abs(shape.closing_m) < 6 * 0.0016
    assert all(math.dist(a, b) < 6 * 0.0016 for a, b in zip(shape.corners_m, true, strict=True))


def test_a_bed_that_is_narrower_at_one_end_is_out_of_square_though_its_diagonals_agree() -> None:
    shape = taped([(-1.2, 0.6), (1.2, 0.58), (1.2, -0.58), (-1.2, -0.6)])
    assert shape.diagonals_differ_m == pytest.approx(0, abs=1e-9)
    # by hand: each long side leans by atan(0.02 / 2.4), and the mean width is 1.18 m
    assert shape.lean_m == pytest.approx(1.18 * math.sin(math.atan(0.02 / 2.4)), abs=1e-9)
    assert shape.width_m == pytest.approx(1.16, abs=1e-6)
    assert [across for _, across in shape.stands_in_m] == pytest.approx([0.02, 0, 0, 0.02], abs=1e-6)


def bed(**tape: float) -> dict[str, object]:
    sides = {"left_m": 2.44, "right_m": 2.43, "front_m": 1.215, "far_m": 1.21}
    diagonals = {"diagonal_left_m": 2.73, "diagonal_right_m": 2.71}
    return {"bed": {"length_m": 2.44, "width_m": 1.22, "tape": sides | diagonals | tape}, "pipe": {"size": "1 in"}}


def test_the_frame_stands_on_the_rectangle_and_says_how() -> None:
    plan = plan_from_si(bed())
    frame = raise_frame(plan, load_catalogue())
    assert plan.bed.shape is not None
    assert frame.length_m == pytest.approx(plan.bed.shape.length_m)
    assert frame.width_m == pytest.approx(plan.bed.shape.width_m)
    assert "frame.bed-out-of-square" in [finding.key for finding in frame.findings]


def test_readings_that_make_no_shape_are_refused() -> None:
    with pytest.raises(PlanError, match="don't make one shape"):
        plan_from_si(bed(diagonal_left_m=2.6))
    with pytest.raises(PlanError, match="off the length"):
        plan_from_si(bed(left_m=2.8))


def said(off_m: float, base: str, **more: object) -> list[Finding]:
    """What is said of a bed of 2.4 by 1.2 m, boards of 38.1 mm, whose far end is pushed over by so much."""
    corners = [(0.0, 1.2), (2.4, 1.2 + off_m), (2.4, off_m), (0.0, 0.0)]
    pairs = ((0, 1), (3, 2), (0, 3), (1, 2), (0, 2), (3, 1))
    tape = {f"{n}_m": math.dist(corners[i], corners[j]) for n, (i, j) in zip(READINGS, pairs, strict=True)}
    plan = plan_from_si({"bed": {"length_m": 2.4, "width_m": 1.2, "tape": tape | {"base": base}},
                         "pipe": {"size": "1 in"}} | more)  # fmt: skip
    return [finding for finding in raise_frame(plan, load_catalogue()).findings if finding.where.startswith("bed.tape")]


def test_the_carpenter_lets_a_quarter_inch_in_four_feet_pass() -> None:
    # common practice, no source: 1/4 in over 4 ft, so 6.25 mm over 1.2 m; the far end goes over by twice that on 2.4 m
    levels = {off: said(off, "mean")[0] for off in (0.0, 2 * 0.0061, 2 * 0.0064)}
    assert [(f.key, f.level) for f in levels.values()] == [
        ("frame.bed-square", Level.NOTE),
        ("frame.bed-out-of-square", Level.NOTE),
        ("frame.bed-out-of-square", Level.WARN),
    ]


def test_a_base_that_leaves_its_boards_is_told_with_the_base_that_does_not() -> None:
    # Fittings flush with the outside: the pipe lies half a hub in from the board's outside (43.6 mm hub at the most),
    # so standing 10 mm in keeps it over a board of 38.1 mm and 20 mm does not.
    assert not [f for f in said(0.02, "inside") if f.key.startswith("frame.corner")]
    off = [f for f in said(0.045, "inside") if f.key == "frame.corner-inside-board"]
    assert off
    assert all(f.level is Level.WARN for f in off)
    assert all(f.change is not None and f.change.value == "mean" for f in off)
    assert not [f for f in said(0.045, "mean") if f.key.startswith("frame.corner")]


def test_sleeves_stand_on_the_boards_one_by_one() -> None:
    tunnel = {"cover": {"shape": "tunnel"}, "hoops": {"feet": "sleeves-inside"}, "pipe": {"size": "1/2 in"}}
    assert "frame.bed-out-of-square" in [f.key for f in said(0.045, "inside", **tunnel)]
    assert not [f for f in said(0.045, "inside", **tunnel) if f.key.startswith("frame.corner")]


def test_how_the_base_stands_is_told_side_by_side() -> None:
    told = next(f for f in said(0.02, "inside") if f.key == "frame.base-on-bed").values
    # by hand: a parallelogram leaning by atan(0.02 / 2.4), so each end stands in by 1.2 m times its sine
    lean_m = 1.2 * math.sin(math.atan(0.02 / 2.4))
    assert sorted(told["front_m"]) == pytest.approx([0, lean_m], abs=1e-6)
    assert sorted(told["far_m"]) == pytest.approx([0, lean_m], abs=1e-6)
    assert told["front_m"][0] == pytest.approx(told["far_m"][1], abs=1e-6)
    assert (*told["left_m"], *told["right_m"]) == pytest.approx([0] * 4, abs=1e-6)
