"""Which round bar hides which, on paper; worked by hand."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest

from clochewright.drawings.marks import Area, Line
from clochewright.drawings.shapes import ball, bar
from clochewright.drawings.solids import draw_solids


def flat_bar(part, start, end, radius, caps=True, weld="", pen="pipe"):
    return bar(part, pen, np.array(start, float), np.array(end, float), radius, start_cap=caps, end_cap=caps, weld=weld)


def lines_of(marks, part):
    return [mark.points for mark in marks if isinstance(mark, Line) and mark.part == part]


def length(lines):
    return sum(math.dist(a, b) for line in lines for a, b in itertools.pairwise(line))


def test_the_nearer_of_two_crossing_bars_is_whole_and_cuts_the_other():
    near = flat_bar("near", (-10, 0, 5), (10, 0, 5), 1.0)
    far = flat_bar("far", (0, -10, 0), (0, 10, 0), 1.0)
    for solids in ([near, far], [far, near]):
        marks = draw_solids(solids)
        assert length(lines_of(marks, "near")) == pytest.approx(2 * 20 + 2 * 2)
        # Each long edge loses the near bar's width of 2 mm, less a hair at both sides.
        assert length(lines_of(marks, "far")) == pytest.approx(2 * 18 + 2 * 2, abs=0.3)
        areas = [mark.part for mark in marks if isinstance(mark, Area)]
        assert areas == ["far", "near"]


def test_two_long_bars_that_lean_past_each_other_need_no_cutting_up():
    # At the crossing one is nearer, though its middle lies much farther off.
    leaning = flat_bar("leaning", (-10, 0, 2), (90, 0, -98), 1.0)
    level = flat_bar("level", (-5, -10, -4), (-5, 10, -4), 1.0)
    areas = [mark.part for mark in draw_solids([leaning, level]) if isinstance(mark, Area)]
    assert areas == ["level", "leaning"]


def test_bars_beside_each_other_leave_each_other_whole():
    one, two = flat_bar("one", (0, 0, 0), (10, 0, 0), 1.0), flat_bar("two", (0, 2.5, 9), (10, 2.5, 9), 1.0)
    marks = draw_solids([one, two])
    assert length(lines_of(marks, "one")) == pytest.approx(24)
    assert length(lines_of(marks, "two")) == pytest.approx(24)


def test_a_casting_is_drawn_as_one():
    # An elbow in the paper: outside edges of 10 + 10, inside edges of 9 + 9 (each less the other's radius of 1),
    # two mouths of 2, and a quarter turn of the ball around the corner.
    def arm(x, y):
        return bar("e", "fitting", np.zeros(3), np.array([x, y, 0.0]), 1.0, start_cap=False, end_cap=True, weld="e")

    marks = draw_solids([ball("e", "fitting", np.zeros(3), 1.0, weld="e"), arm(10.0, 0.0), arm(0.0, 10.0)])
    assert length(lines_of(marks, "e")) == pytest.approx(20 + 18 + 4 + math.pi / 2, abs=0.3)


def test_a_bar_seen_end_on_is_a_circle():
    (area, *_), lines = (draw_solids([flat_bar("post", (3, 4, 0), (3, 4, 50), 2.0)]) for _ in range(2))
    points = np.array(area.points)
    assert np.hypot(points[:, 0] - 3, points[:, 1] - 4) == pytest.approx(2.0)
    assert length(lines_of(lines, "post")) == pytest.approx(2 * math.pi * 2.0, rel=0.02)  # drawn as a dozen sides


def test_a_tilted_bar_shows_the_rim_of_the_end_that_faces_the_eye():
    # Tilted by 60 degrees toward the eye: the near rim is an ellipse whose short half axis is sin 60 of the radius.
    tilt = math.radians(60)
    end = (10 * math.cos(tilt), 0, 10 * math.sin(tilt))
    lines = lines_of(draw_solids([flat_bar("p", (0, 0, 0), end, 2.0)]), "p")
    rim = max(lines, key=len)
    assert rim[0] == pytest.approx(rim[-1])
    assert max(x for x, _ in rim) - min(x for x, _ in rim) == pytest.approx(4 * math.sin(tilt), rel=0.01)
    assert max(y for _, y in rim) - min(y for _, y in rim) == pytest.approx(4.0)


def test_nothing_is_drawn_of_nothing():
    assert draw_solids([]) == []


def test_a_ring_of_overlaps_is_still_drawn():
    # Three bars, each over the next and under the one before.
    turn = [(math.cos(a), math.sin(a)) for a in (0, math.tau / 3, 2 * math.tau / 3)]
    bars = []
    for k, (x, y) in enumerate(turn):
        mid = np.array([-y * 3, x * 3, 0.0])
        way = np.array([x * 10, y * 10, 0.0])
        rise = np.array([0.0, 0.0, 3.0])
        bars.append(flat_bar(str(k), mid - way - rise, mid + way + rise, 0.5))
    areas = [mark.part for mark in draw_solids(bars) if isinstance(mark, Area)]
    assert sorted(areas) == ["0", "1", "2"]
