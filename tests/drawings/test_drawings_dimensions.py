"""Dimension lines: where lines, ticks and texts go."""

from __future__ import annotations

import itertools
import math

import pytest
from shapely.geometry import LineString, Polygon

from clochewright.drawings.dimensions import (
    chain,
    crowded,
    dimension,
    level_above,
    level_below,
    running,
    sloping,
    upright_left,
    upright_right,
)
from clochewright.drawings.lettering import text_corners
from clochewright.drawings.marks import Line, Text


def texts(marks):
    return [mark for mark in marks if isinstance(mark, Text)]


def test_the_line_runs_from_one_extension_line_to_the_other():
    marks = dimension(level_below(-20.0), (10.0, 0.0), (60.0, 5.0), "50 mm")
    line = next(m for m in marks if isinstance(m, Line) and m.points == ((10.0, -20.0), (60.0, -20.0)))
    assert line.pen == "dimension"
    feet = sorted(max(y for _, y in m.points) for m in marks if m.pen == "dimension" and isinstance(m, Line))
    assert feet[-1] < 5.0  # extension lines start a little short of what they measure
    assert feet[-1] > 3.0


@pytest.mark.parametrize(
    ("rule", "start", "end", "turn_deg"),
    [
        (level_above(30.0), (0.0, 0.0), (50.0, 0.0), 0.0),
        (upright_right(30.0), (0.0, 0.0), (0.0, 50.0), 90.0),
        (upright_left(-30.0), (0.0, 0.0), (0.0, 50.0), 90.0),
        (sloping((0.0, 0.0), (40.0, 30.0), 8.0), (0.0, 0.0), (40.0, 30.0), math.degrees(math.atan2(30, 40))),
    ],
)
def test_text_reads_along_the_line_on_its_upper_side(rule, start, end, turn_deg):
    marks = dimension(rule, start, end, "12 in c-c")
    (text,) = texts(marks)
    assert text.turn_deg == pytest.approx(turn_deg)
    line = max((m for m in marks if isinstance(m, Line)), key=lambda m: math.dist(*m.points[:2])).points
    (x1, y1), (x2, y2) = line
    side = (x2 - x1) * (text.at[1] - y1) - (y2 - y1) * (text.at[0] - x1)
    assert side > 0  # to the left of the direction of reading
    assert Polygon(text_corners(text)).distance(LineString(line)) > 0.2


@pytest.mark.parametrize("rule", [level_below(-20.0), level_above(20.0)])
@pytest.mark.parametrize("gaps", [(40, 6, 40, 6), (6, 30, 40, 6, 40), (30, 8, 8, 40), (100, 5)])
def test_texts_of_a_chain_touch_neither_each_other_nor_a_line(rule, gaps):
    stops = list(itertools.accumulate(gaps, initial=0.0))
    points, said = [(x, 0.0) for x in stops], [f"{gap} 1/2 in c-c" for gap in gaps]
    assert not crowded(rule, points, said)
    marks, rows = chain(rule, points, said)
    assert rows == 1
    assert len(texts(marks)) == len(gaps)
    boxes = [Polygon(text_corners(text)) for text in texts(marks)]
    for a, b in itertools.combinations(boxes, 2):
        assert not a.intersects(b)
    for mark in marks:
        if isinstance(mark, Line) and mark.pen == "dimension":
            for shape in boxes:
                assert not shape.buffer(-0.2).intersects(LineString(mark.points))


def test_a_chain_of_many_short_gaps_is_crowded():
    points = [(4.0 * k, 0.0) for k in range(9)]
    assert crowded(level_below(-20.0), points, ["3 5/8 in c-c"] * 8)


@pytest.mark.parametrize("rule", [level_below(-20.0), level_above(20.0)])
def test_running_readings_stand_apart_and_in_order(rule):
    stops = [0.0, 1.0, 2.0, 30.0, 31.0, 60.0, 61.0]
    marks, rows = running(rule, [(x, 0.0) for x in stops], ["0", "1 in", "2 in", "30 in", "31 in", "60 in"])
    boxes = [Polygon(text_corners(text)) for text in texts(marks)]
    for a, b in itertools.combinations(boxes, 2):
        assert not a.intersects(b)
    assert [text.at[0] for text in texts(marks)] == sorted(text.at[0] for text in texts(marks))
    assert max(shape.bounds[2] for shape in boxes) < stops[-1]
    deepest = max(abs(y) for shape in boxes for y in (shape.bounds[1], shape.bounds[3]))
    assert deepest - 20.0 <= (rows + 1) * 6.2


def test_ticks_stand_where_the_dimension_ends():
    marks = dimension(level_below(-20.0), (10.0, 0.0), (60.0, 0.0), "50 mm")
    middles = [
        tuple(sum(c) / 2 for c in zip(*m.points, strict=True)) for m in marks if isinstance(m, Line) and m.pen == "tick"
    ]
    assert middles == [pytest.approx((10.0, -20.0)), pytest.approx((60.0, -20.0))]
