"""Cutting diagrams, read from the list of marks."""

from __future__ import annotations

import itertools
from dataclasses import replace

import pytest
from drawing_samples import INCH, sticks
from shapely.geometry import Polygon

from clochewright.drawings import Line, Text, alike, draw_sticks, stick_sheets
from clochewright.drawings.lettering import text_corners
from clochewright.drawings.stick_readings import saw_marks_m


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
    assert [[one.stick for one in group] for group in alike(cutlist)] == [[0, 2], [1]]
    first, second = draw_sticks(cutlist)
    assert "Sticks 1, 3 of 3, cut alike" in texts(first)
    assert "Stick 2 of 3" in texts(second)


def small_pieces(count, kerf_m=0.125 * INCH, before=(60,)):
    """A stick of 120 in with so many of 2 in, all marked Z, behind others."""
    made = sticks((120, *before), kerf_m=kerf_m)
    (stick,) = made.stock.sticks
    same = replace(stick, cuts=(*stick.cuts, *(("Z", 2 * INCH) for _ in range(count))))
    return replace(made, stock=replace(made.stock, sticks=(same,)))


def read_at(drawing):
    return [mark.text for mark in drawing.marks if isinstance(mark, Text) and mark.pen == "mark"]


def saws(drawing):
    return sum(1 for m in drawing.marks if isinstance(m, Line) and m.pen == "saw")


def test_small_pieces_alike_share_a_name_and_a_rule():
    """Three of 2 in after one of 60 in: the tape reads 60, then 60 + 3 (2 + 1/8) = 66 3/8 in. Worked by hand."""
    (drawing,) = draw_sticks(small_pieces(3))
    assert "3 × Z 2 in" in texts(drawing)
    assert read_at(drawing) == ["60 in", "then every 2 1/8 in, to 66 3/8 in"]
    assert saws(drawing) == 4
    assert "62 1/8 in, 64 1/4 in, 66 3/8 in" in drawing.alt_text


def test_a_rule_from_the_left_end_on_stands_on_the_paper():
    """Four of 2 in and nothing else: 2 in, and three times 2 1/8 in more, are 8 3/8 in. Worked by hand."""
    (drawing,) = draw_sticks(small_pieces(4, before=()))
    assert read_at(drawing) == ["first at 2 in, then every 2 1/8 in, to 8 3/8 in"]
    (text,) = [mark for mark in drawing.marks if isinstance(mark, Text) and mark.pen == "mark"]
    assert text.turn_deg == 0


def test_two_small_pieces_alike_are_read_one_by_one():
    (drawing,) = draw_sticks(small_pieces(2))
    assert "2 × Z 2 in" in texts(drawing)
    assert read_at(drawing) == ["60 in", "62 1/8 in", "64 1/4 in"]


def test_a_rule_that_a_tape_cannot_show_is_not_given():
    """A saw of 1/10 in: four steps of 2 1/10 in would be off by 1/10 in if the tape were told 2 1/8."""
    (drawing,) = draw_sticks(small_pieces(4, kerf_m=0.1 * INCH))
    assert read_at(drawing) == ["60 in", "62 1/8 in", "64 3/16 in", "66 5/16 in", "68 3/8 in"]


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
