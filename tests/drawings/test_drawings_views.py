"""What the four views show, read from the list of marks."""

from __future__ import annotations

import itertools
import math
import re
from dataclasses import replace

import numpy as np
import pytest
from drawing_samples import BEDS, INCH, bed_for, marked
from shapely.geometry import Point, Polygon, box

import frame_samples
from clochewright.drawings import Area, Circle, Line, Text, draw_views
from clochewright.drawings.lettering import text_corners
from clochewright.frame import End, Pipe

BALLOON_MM = 3.0  # circles at least this large are balloons, not the dots of their leaders
SMALLEST_MM = 3.0  # lettering: common practice for drawings that are read at arm's length, no source


def texts(drawing):
    return [mark for mark in drawing.marks if isinstance(mark, Text)]


def balloons(drawing):
    return [mark for mark in drawing.marks if isinstance(mark, Circle) and mark.radius_mm >= BALLOON_MM]


def corners(mark):
    if isinstance(mark, Text):
        return text_corners(mark)
    if isinstance(mark, Circle):
        return [
            (mark.centre[0] + sx * mark.radius_mm, mark.centre[1] + sy * mark.radius_mm)
            for sx in (-1, 1)
            for sy in (-1, 1)
        ]
    return mark.points


def test_there_are_four_views_in_this_order(usual_views):
    assert list(usual_views) == ["plan", "side", "end", "three-quarter"]


def test_everything_lies_on_the_paper(any_views):
    for drawing in any_views.values():
        for mark in drawing.marks:
            for x, y in corners(mark):
                assert -1e-6 <= x <= drawing.width_mm + 1e-6, (drawing.title, mark)
                assert -1e-6 <= y <= drawing.height_mm + 1e-6, (drawing.title, mark)


def test_each_view_fits_the_paper_it_was_given(any_tent):
    for paper_mm in ((180.0, 120.0), (250.0, 160.0)):
        for drawing in draw_views(any_tent, marked(any_tent), bed_for(any_tent), "inch", paper_mm).values():
            assert drawing.width_mm == paper_mm[0]
            assert drawing.height_mm <= paper_mm[1] + 1e-6


def test_no_lettering_lies_on_other_lettering(any_views):
    for drawing in any_views.values():
        shapes = [(mark.text, Polygon(text_corners(mark))) for mark in texts(drawing)]
        for (one, a), (two, b) in itertools.combinations(shapes, 2):
            assert a.intersection(b).area < 0.05, (drawing.title, one, two)


def test_lettering_is_large_enough_to_read(any_views):
    assert min(mark.size_mm for drawing in any_views.values() for mark in texts(drawing)) >= SMALLEST_MM


def test_balloons_keep_apart_from_each_other_and_from_dimensions(any_views):
    for drawing in any_views.values():
        circles = balloons(drawing)
        for a, b in itertools.combinations(circles, 2):
            assert math.dist(a.centre, b.centre) > a.radius_mm + b.radius_mm, drawing.title
        for mark in texts(drawing):
            if mark.pen != "mark":
                shape = Polygon(text_corners(mark))
                for circle in circles:
                    assert shape.distance(Point(circle.centre)) > circle.radius_mm, (drawing.title, mark.text)


def test_every_mark_that_can_be_seen_is_in_a_balloon(any_tent, any_views):
    cutlist = marked(any_tent)
    lone = {pipe.id for pipe in any_tent.pipes if pipe.role != "stub"}
    wanted = {mark for pipe, mark in cutlist.mark_of.items() if pipe in lone}
    shown = {mark.text for mark in texts(any_views["three-quarter"]) if mark.pen == "mark"}
    assert shown == wanted


def test_a_balloon_names_the_pipe_that_its_leader_starts_on(usual_tent, usual_views):
    mark_of = marked(usual_tent).mark_of
    named = [mark for drawing in usual_views.values() for mark in texts(drawing) if mark.pen == "mark"]
    assert named
    for mark in named:
        assert mark_of[mark.part] == mark.text


def test_a_stub_inside_two_fittings_is_named_in_the_note(usual_tent, usual_views):
    cutlist = marked(usual_tent)
    (stub,) = {cutlist.mark_of[pipe.id] for pipe in usual_tent.pipes if pipe.role == "stub"}
    notes = " ".join(mark.text for mark in texts(usual_views["three-quarter"]) if mark.pen == "note")
    assert f"Hidden between two fittings: {stub}." in notes


def test_dimensions_of_a_worked_base(usual_tent, usual_views):
    # 8 ft by 4 ft over hubs of 1 5/8 in: 96 - 1.625 = 94 3/8 in and 48 - 1.625 = 46 3/8 in between corner centres;
    # a corner butted to a rafter foot stands 2 (13/16 + 1) = 3 5/8 in from it. Worked by hand.
    plan = [mark.text for mark in texts(usual_views["plan"])]
    for wanted in ("94 3/8 in c-c", "8 ft over all", "46 3/8 in c-c", "4 ft over all", "3 5/8 in c-c"):
        assert wanted in plan
    # At 45 degrees the ridge's centre line stands half the base above the base's: 46.375 / 2 + 1.625 / 2 = 24 in.
    assert "24 in to ridge centre" in [mark.text for mark in texts(usual_views["side"])]
    # The slope from centre to centre is half the base times the root of two: 32.792, to the nearest 1/16 32 13/16 in.
    assert "32 13/16 in c-c" in [mark.text for mark in texts(usual_views["end"])]


def test_a_chain_adds_up_to_the_base(usual_tent, usual_views):
    inches = [mark.text for mark in texts(usual_views["plan"]) if mark.text.endswith("in c-c") and mark.turn_deg == 0]
    lengths = [sum(eval_fraction(part) for part in text[: -len(" in c-c")].split()) for text in inches]
    longest = max(lengths)
    assert longest == pytest.approx(usual_tent.base_length_m / INCH, abs=1 / 32)
    # Rounding each gap to 1/16 in may leave half of that for each.
    assert sum(lengths) - longest == pytest.approx(longest, abs=len(lengths) / 32)


def eval_fraction(text):
    top, _, bottom = text.partition("/")
    return int(top) / int(bottom or 1)


@pytest.mark.parametrize(("units", "pattern"), [("inch", r"in\b|ft\b"), ("mm", r"\d mm\b")])
def test_each_dimension_says_its_unit_and_what_it_is(usual_tent, units, pattern):
    views = draw_views(usual_tent, marked(usual_tent), None, units)
    said = [mark.text for d in views.values() for mark in texts(d) if mark.pen == "dimension"]
    for text in said:
        if "°" not in text:
            assert re.search(pattern, text), text
            assert re.search(r"c-c|over all|to top|to ridge centre", text), text


def test_crowded_stations_are_given_as_running_readings():
    frame = frame_samples.tent(*BEDS["long"])
    plan = draw_views(frame, marked(frame), bed_for(frame), "inch")["plan"]
    upright = [mark.text for mark in texts(plan) if mark.turn_deg == 90]
    corner_to_last_foot_m = max(frame.stations_m) + frame.base_length_m / 2
    sixteenths = round(corner_to_last_foot_m / INCH * 16)
    assert any(text.startswith(f"{sixteenths // 16} ") for text in upright)
    assert "0" in [mark.text for mark in texts(plan) if mark.pen == "dimension"]


def test_a_pipe_is_drawn_as_thick_as_it_is(usual_tent, usual_views):
    plan = usual_views["plan"]
    (ridge,) = {pipe.id for pipe in usual_tent.pipes if pipe.role == "ridge" and pipe.path_m[0][0] < -1}
    heights = {
        round(y, 6)
        for mark in plan.marks
        if isinstance(mark, Line) and mark.part == ridge and mark.pen == "pipe"
        for _, y in mark.points
    }
    assert (max(heights) - min(heights)) * plan.scale == pytest.approx(
        usual_tent.pipe_outside_diameter_m * 1000, abs=1e-3
    )


def test_a_brace_passes_under_the_ridge_in_plan_and_the_ridge_is_whole(usual_tent, usual_views):
    plan = usual_views["plan"]
    brace = next(pipe for pipe in usual_tent.pipes if pipe.role == "brace")
    lines = [m for m in plan.marks if isinstance(m, Line) and m.part == brace.id and m.pen == "pipe"]
    assert len(lines) == 4  # both edges, each in two pieces
    gap = {round(y, 3) for m in lines for _, y in m.points}
    ridge = {
        round(y, 3)
        for pipe in usual_tent.pipes
        if pipe.role == "ridge"
        for m in plan.marks
        if isinstance(m, Line) and m.part == pipe.id and m.pen == "pipe"
        for _, y in m.points
    }
    inner = sorted(gap)[1:-1]
    assert inner == pytest.approx(sorted([min(ridge), max(ridge)]), abs=0.05)


def test_no_line_of_a_pipe_shows_through_a_fitting_in_front_of_it(usual_views):
    plan = usual_views["plan"]
    hubs = [Polygon(m.points) for m in plan.marks if isinstance(m, Area) and m.pen == "fitting"]
    order = [m for m in plan.marks if isinstance(m, Area)]
    last_pipe = max(k for k, m in enumerate(order) if m.pen == "pipe")
    in_front = [Polygon(m.points).buffer(-0.1) for m in order[last_pipe:] if m.pen == "fitting"]
    assert hubs
    assert in_front
    for mark in plan.marks:
        if isinstance(mark, Line) and mark.pen == "pipe":
            for a, b in itertools.pairwise(mark.points):
                middle = Point((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
                assert not any(shape.contains(middle) for shape in in_front)


def test_the_far_side_is_drawn_lighter_in_the_side_view(usual_tent, usual_views):
    far = {p.id for p in usual_tent.pipes if np.mean([point[1] for point in p.path_m]) > 0.05}
    pens = {m.pen for m in usual_views["side"].marks if m.part in far and isinstance(m, Line | Area)}
    assert pens == {"pipe-behind"}


def test_the_bed_lies_below_everything(usual_views):
    for drawing in usual_views.values():
        order = [mark.pen for mark in drawing.marks if mark.pen in ("bed", "soil", "pipe", "fitting")]
        last_of_bed = max(k for k, pen in enumerate(order) if pen in ("bed", "soil"))
        assert not {"pipe", "fitting"} & set(order[: last_of_bed + 1])


def test_without_a_bed_none_is_drawn(usual_tent):
    views = draw_views(usual_tent, marked(usual_tent))
    assert not {"bed", "soil"} & {mark.pen for drawing in views.values() for mark in drawing.marks}


def test_the_words_for_those_who_cannot_see_it_give_sizes_and_pipes(usual_views):
    words = usual_views["plan"].alt_text
    assert "8 ft long, 4 ft wide" in words
    assert "end rail" in words or "brace" in words


def test_the_scale_bar_is_true(usual_views):
    plan = usual_views["plan"]
    bar = next(mark for mark in plan.marks if isinstance(mark, Line) and mark.pen == "rule")
    (feet,) = {int(m.text[:-3]) for m in texts(plan) if re.fullmatch(r"\d+ ft", m.text) and m.pen == "note"}
    length_mm = max(x for x, _ in bar.points) - min(x for x, _ in bar.points)
    assert length_mm * plan.scale == pytest.approx(feet * 304.8)


def test_balloons_stay_clear_of_the_heading(any_views):
    for drawing in any_views.values():
        heading = box(0, drawing.height_mm - 12, drawing.width_mm, drawing.height_mm)
        for circle in balloons(drawing):
            assert not heading.contains(Point(circle.centre))


def test_the_same_frame_gives_the_same_drawings(usual_tent, usual_views):
    assert draw_views(usual_tent, marked(usual_tent), bed_for(usual_tent), "inch") == usual_views


def test_a_bent_pipe_is_drawn_as_it_bends(usual_tent):
    # A hoop of 24 straight steps over the bed, its ends open: seen from the end its two edges are half circles.
    radius_m, steps, thick_m = 0.6, 24, usual_tent.pipe_outside_diameter_m
    path = tuple(
        (0.0, radius_m * math.cos(math.pi * k / steps), radius_m * math.sin(math.pi * k / steps))
        for k in range(steps + 1)
    )
    ends = (End(None, None, 0.0, path[0]), End(None, None, 0.0, path[-1]))
    hoop = Pipe("H1", "hoop", math.pi * radius_m, ends, path, "bent")
    frame = replace(usual_tent, pipes=(hoop,), fittings=())
    end = draw_views(frame, marked(frame))["end"]
    lines = [m.points for m in end.marks if isinstance(m, Line) and m.part == "H1" and m.pen == "pipe"]
    drawn_mm = sum(math.dist(a, b) for line in lines for a, b in itertools.pairwise(line)) * end.scale
    edges_mm = math.pi * 2 * radius_m * 1000  # outer and inner edge together
    caps_mm = 2 * thick_m * 1000
    assert drawn_mm == pytest.approx(edges_mm + caps_mm, rel=0.02)
    assert [m.text for m in texts(end) if m.pen == "mark"] == ["A"]
