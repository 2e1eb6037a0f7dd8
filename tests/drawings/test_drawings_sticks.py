"""Cutting diagrams, read from the list of marks."""

from __future__ import annotations

import itertools
from dataclasses import replace

import pytest
from drawing_samples import INCH, sticks
from shapely.geometry import Polygon

from clochewright.drawings import Line, Text, alike, draw_sticks, stick_sheets
from clochewright.drawings.lettering import text_corners
from clochewright.drawings.stick_diagram import saw_marks_m


def texts(drawing):
    return [mark.text for mark in drawing.marks if isinstance(mark, Text)]


def test_saw_marks_run_on_from_the_left_end_with_the_kerf():
    # 46, then 1/8 in kerf, then 46: 92 1/8; kerf, then 20 3/4: 113 in. Worked by hand.
    (stick,) = sticks((120, 46, 46, 20.75)).stock.sticks
    assert [mark / INCH for mark in saw_marks_m(stick, 0.125 * INCH)] == pytest.approx([46, 92.125, 113])


def test_a_piece_that_ends_where_the_stick_ends_is_not_sawn():
    (stick,) = sticks((120, 60, 59.875)).stock.sticks
    assert [mark / INCH for mark in saw_marks_m(stick, 0.125 * INCH)] == pytest.approx([60])


def test_the_tape_reads_what_the_saw_marks_say():
    (drawing,) = draw_sticks(sticks((120, 46, 46, 20.75)))
    assert {"46 in", "92 1/8 in", "113 in", "offcut 6 7/8 in", "20 3/4 in"} <= set(texts(drawing))
    assert "Saw at 46 in, 92 1/8 in, 113 in" in drawing.alt_text


def test_lengths_along_the_stick_are_to_one_scale():
    long, short = draw_sticks(sticks((120, 100), (60, 30)))
    assert long.scale == short.scale

    def saw_x(drawing):
        (line,) = [m for m in drawing.marks if isinstance(m, Line) and m.pen == "saw"]
        return line.points[0][0]

    left = min(x for m in long.marks if isinstance(m, Line) and m.pen == "piece" for x, _ in m.points)
    assert (saw_x(long) - left) * long.scale == pytest.approx(100 * 25.4)
    assert (saw_x(short) - left) * short.scale == pytest.approx(30 * 25.4)


def test_graduations_are_each_3_inches_or_each_100_mm():
    (inches,) = draw_sticks(sticks((36, 20)))
    assert sum(1 for m in inches.marks if isinstance(m, Line) and m.pen == "rule") == 11
    (millimetres,) = draw_sticks(sticks((1000 / 25.4, 20)), "mm")
    assert sum(1 for m in millimetres.marks if isinstance(m, Line) and m.pen == "rule") == 9


CROWDED = [
    (120, 45, 31.4375, 31.4375, 5.875, 2.25, 2.25),
    (120, 2.25, 2.25, 2.25, 2.25),
    (120, *[34.125] * 3, *[2.25] * 7),
    (48, 41.375, 2.25, 2.25),
    (120, 119.5),
    (120,),
    (120, *[11.8] * 10),
    (240, *[2.0] * 100),
]


@pytest.mark.parametrize("row", CROWDED)
@pytest.mark.parametrize("units", ["inch", "mm"])
def test_lettering_keeps_apart_and_on_the_paper(row, units):
    (drawing,) = draw_sticks(sticks(row), units)
    shapes = [(m.text, Polygon(text_corners(m))) for m in drawing.marks if isinstance(m, Text)]
    if len(row) < 40:  # a hundred readings have no room side by side
        for (one, a), (two, b) in itertools.combinations(shapes, 2):
            assert a.intersection(b).area < 0.05, (one, two)
        for text, shape in shapes:
            left, low, right, high = shape.bounds
            assert left >= 0, text
            assert right <= drawing.width_mm, text
            assert low >= 0, text
            assert high <= drawing.height_mm, text


def test_every_piece_is_named_with_its_length():
    for row in CROWDED[:5]:
        (drawing,) = draw_sticks(sticks(row))
        letters = [mark.text[0] for mark in drawing.marks if isinstance(mark, Text) and mark.pen == "piece"]
        for k in range(len(row) - 1):
            assert chr(ord("A") + k) in letters


def test_a_stick_says_where_it_comes_from():
    first, second = draw_sticks(sticks((120, 40), (60, 30)))
    assert {"Stick 1 of 2", "10 ft, to buy"} <= set(texts(first))
    assert "Stick 2 of 2" in texts(second)


def test_sticks_that_are_cut_alike_share_a_diagram():
    cutlist = sticks((120, 40, 40), (60, 30), (120, 40, 40))
    assert alike(cutlist.stock) == ((1, 3), (2,))
    first, second = draw_sticks(cutlist)
    assert "Sticks 1, 3 of 3, cut alike" in texts(first)
    assert "Stick 2 of 3" in texts(second)


def test_small_pieces_alike_share_a_name_and_one_reading():
    """Three of 2 in after one of 60 in: the tape reads 60, then 60 + 3 (2 + 1/8) = 66 3/8 in. Worked by hand."""
    made = sticks((120, 60, 2, 2, 2))
    (stick,) = made.stock.sticks
    same = replace(stick, cuts=(stick.cuts[0], *(("B", 2 * INCH) for _ in range(3))))
    (drawing,) = draw_sticks(replace(made, stock=replace(made.stock, sticks=(same,))))
    said = texts(drawing)
    assert "3 × B 2 in" in said
    assert [text for text in said if text in ("62 1/8 in", "64 1/4 in", "66 3/8 in")] == ["66 3/8 in"]
    assert sum(1 for m in drawing.marks if isinstance(m, Line) and m.pen == "saw") == 4


def test_all_diagrams_go_on_one_sheet_or_as_few_as_they_take():
    few = draw_sticks(sticks((120, 40), (60, 30)))
    (sheet,) = stick_sheets(few)
    assert sheet.scale == few[0].scale
    assert {"Stick 1 of 2", "Stick 2 of 2"} <= set(texts(sheet))
    many = draw_sticks(sticks(*((120, 20 + k) for k in range(30))))
    sheets = stick_sheets(many)
    assert len(sheets) > 1
    names = [text for one in sheets for text in texts(one) if text.endswith(" of 30")]
    assert names == [f"Stick {k} of 30" for k in range(1, 31)]
    for one in sheets:
        assert one.height_mm <= 270
        for mark in one.marks:
            if isinstance(mark, Text):
                _, low, _, high = Polygon(text_corners(mark)).bounds
                assert low >= 0
                assert high <= one.height_mm


def test_no_sticks_no_diagrams():
    assert draw_sticks(sticks()) == ()
    assert stick_sheets(()) == ()
