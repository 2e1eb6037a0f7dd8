"""Four sides and two diagonals against triangles worked out by other means."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import Polygon, box

from clochewright.catalogue import load_catalogue
from clochewright.errors import PlanError
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
