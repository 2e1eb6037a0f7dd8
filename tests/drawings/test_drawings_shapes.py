"""The views of every shape, raised from plans: the right sizes, from where to where, within the paper."""

from __future__ import annotations

import itertools
import math
import re

import pytest
from shapely.geometry import Polygon

from clochewright.catalogue import load_catalogue
from clochewright.cuts import cut
from clochewright.drawings import Area, BedBox, Circle, Line, Text, draw_views, write_dxf, write_svg
from clochewright.drawings.lettering import text_corners
from clochewright.frame import raise_frame
from clochewright.measures import show_length
from clochewright.plan import plan_from_text

PLANS = {
    "barn": 'units = "mm"\nbed = { length = "2400 mm", width = "1200 mm" }\ncover = { shape = "barn" }\n'
    'barn = { walls = "450 mm" }',
    "barn, butted": 'bed = { length = "20 ft", width = "5 ft" }\ncover = { shape = "barn", pitch = "30 deg" }\n'
    'barn = { eaves = "butted" }',
    "lean-to": 'bed = { length = "6 ft", width = "3 ft" }\ncover = { shape = "lean-to" }\n'
    'lean-to = { back = "28 in", front = "10 in" }',
    "lean-to, to the ground": 'bed = { length = "6 ft", width = "3 ft" }\ncover = { shape = "lean-to" }\n'
    'lean-to = { back = "28 in", front = "0 in", high_side = "right" }',
    "tunnel": 'bed = { length = "16 ft", width = "4 ft" }\ncover = { shape = "tunnel", bay = "3 ft" }\n'
    'pipe = { size = "1/2 in" }',
    "tunnel, crossed": 'bed = { length = "8 ft", width = "4 ft" }\n'
    'cover = { shape = "tunnel", bay = "3 ft", height = "34 in" }\npipe = { size = "1/2 in" }\n'
    'hoops = { crown = "crosses", foot_angle = "75 deg" }',
    "tunnel, sleeves inside": 'bed = { length = "8 ft", width = "4 ft" }\ncover = { shape = "tunnel", bay = "3 ft" }\n'
    'pipe = { size = "1/2 in" }\nhoops = { feet = "sleeves-inside" }',
    "tunnel, sleeves outside": 'bed = { length = "8 ft", width = "4 ft" }\n'
    'cover = { shape = "tunnel", bay = "3 ft" }\npipe = { size = "1/2 in" }\n'
    'hoops = { feet = "sleeves-outside", crown = "none" }',
    "own": 'bed = { length = "8 ft", width = "4 ft" }\ncover = { shape = "own" }\npipe = { size = "3/4 in" }\n'
    '[profile]\npoints = [{ in = "3 in", up = "12 in" }, { in = "14 in", up = "22 in" }]',
    "own, whole": 'units = "mm"\nbed = { length = "2 m", width = "1.2 m" }\ncover = { shape = "own" }\n[profile]\n'
    'whole = true\npoints = [{ in = "0 mm", up = "300 mm" }, { in = "400 mm", up = "700 mm" }, '
    '{ in = "1100 mm", up = "400 mm" }]',
    "two sections": 'bed = { length = "20 ft", width = "4 ft" }\ncover = { sections = 2 }\n'
    'stock = { sticks = ["3 ft 4 in"] }',
}  # fmt: skip


@pytest.fixture(scope="module")
def drawn():
    """The frame and the views of a plan by its name, each drawn once."""
    catalogue, done = load_catalogue(), {}

    def draw(name):
        if name not in done:
            plan = plan_from_text(PLANS[name], "plan")
            frame = raise_frame(plan, catalogue)
            assert frame.stands, frame.findings
            cutlist = cut(frame, units=plan.units, kerf_m=0.003, sticks=[(6.096, 10.0)], on_hand_m=[])
            box = BedBox(plan.bed.outside_length_m, plan.bed.outside_width_m, plan.bed.height_m, plan.bed.board_m)
            done[name] = frame, draw_views(frame, cutlist, box, plan.units, (180.0, 120.0), {"plan": 150.0})
        return done[name]

    return draw


def said(drawing):
    return [mark.text for mark in drawing.marks if isinstance(mark, Text)]


@pytest.mark.parametrize("name", PLANS)
def test_every_shape_is_drawn_within_the_paper_and_can_be_read(drawn, name):
    _, views = drawn(name)
    assert list(views) == ["plan", "side", "end", "three-quarter"]
    for view, drawing in views.items():
        lettering = [(m.text, Polygon(text_corners(m))) for m in drawing.marks if isinstance(m, Text)]
        for text, shape in lettering:
            left, low, right, high = shape.bounds
            assert min(left, low) >= -1e-6, (view, text)
            assert right <= drawing.width_mm + 1e-6, (view, text)
            assert high <= drawing.height_mm + 1e-6, (view, text)
        for (one, a), (two, b) in itertools.combinations(lettering, 2):
            assert a.intersection(b).area < 0.05, (view, one, two)
        assert drawing.height_mm <= (150.0 if view == "plan" else 120.0) + 1e-6
        assert write_svg(drawing)
    assert write_dxf(views["end"])


@pytest.mark.parametrize("name", PLANS)
def test_width_length_and_height_are_given_over_all(drawn, name):
    frame, views = drawn(name)
    units = views["plan"].units
    for view, size_m in (("plan", frame.length_m), ("plan", frame.width_m), ("end", frame.width_m)):
        assert f"{show_length(size_m, units, style='long')} over all" in said(views[view])
    assert f"{show_length(frame.height_m, units)} rim to top" in said(views["end"])
    assert f"{show_length(frame.height_m, units)} to top" in said(views["side"])


def test_a_barn_s_walls_are_as_high_as_the_plan_says(drawn):
    frame, views = drawn("barn")
    assert "450 mm to roof" in said(views["end"])
    eave_m = next(fitting.position_m[2] for fitting in frame.fittings if fitting.role == "eave")
    assert f"{show_length(eave_m, 'mm')} to eave rail" in said(views["side"])
    # Half the base at 45 degrees, from the elbow's centre to the ridge's: base / 2 times the root of two. By hand.
    slope = round(frame.base_width_m / 2 * math.sqrt(2) * 1000)
    assert f"{slope} mm c-c" in said(views["end"])
    assert "45°" in said(views["end"])


@pytest.mark.parametrize("name", ["lean-to", "lean-to, to the ground"])
def test_a_lean_to_gives_both_heights_and_its_slope(drawn, name):
    frame, views = drawn(name)
    end = said(views["end"])
    assert "28 in to back rail" in end
    assert ("10 in to front rail" in end) == (name == "lean-to")
    low_in = 10.0 if name == "lean-to" else min(f.position_m[2] for f in frame.fittings) / 0.0254
    across_in = frame.base_width_m / 0.0254
    pitch = math.degrees(math.atan2(28.0 - low_in, across_in))
    (angle,) = [float(text[:-1]) for text in end if text.endswith("°")]
    assert angle == pytest.approx(pitch, abs=0.06)
    sixteenths = round(math.hypot(28.0 - low_in, across_in) * 16)
    assert any(text.startswith(f"{sixteenths // 16} ") and text.endswith("c-c") for text in end)


def test_back_and_front_stand_on_the_side_they_are_on(drawn):
    _, views = drawn("lean-to")
    at = {mark.text: mark.at[0] for mark in views["end"].marks if isinstance(mark, Text)}
    middle = views["end"].width_mm / 2
    assert at["28 in to back rail"] < middle < at["10 in to front rail"]


@pytest.mark.parametrize("name", [name for name in PLANS if name.startswith("tunnel")])
def test_a_hoop_has_its_span_rise_and_radius(drawn, name):
    frame, views = drawn(name)
    end = said(views["end"])
    assert f"radius {show_length(frame.hoop.least_radius_m, 'inch')} at its tightest" in end
    assert f"rises {show_length(frame.hoop.rise_m, 'inch')} above its sockets" in end
    hoops = [pipe for pipe in frame.pipes if pipe.role == "hoop"]
    mouths = [point[1] for pipe in hoops for point in (pipe.path_m[1], pipe.path_m[-2])]
    assert f"{show_length(max(mouths) - min(mouths), 'inch')} between sockets" in end


def test_a_hoop_s_edges_are_as_long_as_its_bend_makes_them(drawn):
    """Outer and inner edge of a bent bar are together twice its middle line, whatever its shape."""
    frame, views = drawn("tunnel")
    drawing = views["end"]
    hoop = min((p for p in frame.pipes if p.role == "hoop"), key=lambda p: p.path_m[0][0])
    lines = [m for m in drawing.marks if isinstance(m, Line) and m.part == hoop.id]
    long = [m for m in lines if len(m.points) > 10]
    assert len(long) == 2
    drawn_m = sum(math.dist(a, b) for m in long for a, b in itertools.pairwise(m.points)) * drawing.scale / 1000
    assert drawn_m == pytest.approx(2 * frame.hoop.length_m, rel=0.01)


def test_many_bents_are_read_from_the_front_corner(drawn):
    frame, views = drawn("tunnel")
    upright = [m.text for m in views["plan"].marks if isinstance(m, Text) and m.turn_deg == 90 and m.pen == "dimension"]
    readings = [text for text in upright if not re.search("c-c|over all", text)]
    feet = {round(f.position_m[0], 4) for f in frame.fittings if f.role in ("hoop foot", "brace foot")}
    assert len(readings) == len(feet) + 1  # and the corner's own nought
    last = show_length(max(feet) + frame.base_length_m / 2, "inch")
    assert last in readings
    assert "from the front corner's centre" in " ".join(said(views["plan"]))


def test_sleeves_within_the_boards_are_dashed(drawn):
    frame, views = drawn("tunnel, sleeves inside")
    sleeves = {fitting.id for fitting in frame.fittings if fitting.kind == "sleeve"}
    for view in ("side", "end", "three-quarter"):
        marks = [mark for mark in views[view].marks if getattr(mark, "part", "") in sleeves]
        assert {mark.pen for mark in marks} == {"fitting-hidden"}, view
        assert "Dashed" in " ".join(said(views[view]))
    assert not any(mark.pen == "fitting-hidden" for mark in views["plan"].marks)


def test_sleeves_outside_are_dashed_only_behind_the_bed(drawn):
    frame, views = drawn("tunnel, sleeves outside")
    far = {f.id for f in frame.fittings if f.kind == "sleeve" and f.position_m[1] > 0}
    for view in ("side", "three-quarter"):
        dashed = {mark.part for mark in views[view].marks if mark.pen == "fitting-hidden"}
        assert dashed == far
    assert not any(mark.pen == "fitting-hidden" for mark in views["end"].marks)


def test_sections_are_told_apart(drawn):
    frame, views = drawn("two sections")
    plan = said(views["plan"])
    bodies = {}
    for fitting in frame.fittings:
        if fitting.role == "corner":
            bodies.setdefault(fitting.body, []).append((fitting.position_m[0], fitting.hub_diameter_m / 2))
    for edges in bodies.values():
        length_m = max(x + r for x, r in edges) - min(x - r for x, r in edges)
        assert plan.count(f"{show_length(length_m, 'inch', style='long')} over all") == 2
    assert any(text.endswith("apart") for text in plan)
    assert "The covers are alike." in " ".join(plan)


def test_couplings_are_drawn_where_pipes_are_joined(drawn):
    frame, views = drawn("two sections")
    couplings = {fitting.id for fitting in frame.fittings if fitting.role == "coupling"}
    assert couplings
    assert couplings <= {mark.part for mark in views["plan"].marks if isinstance(mark, Area)}


def test_a_profile_of_one_s_own_measures_each_slope(drawn):
    frame, views = drawn("own")
    end = said(views["end"])
    assert sum(text.endswith("c-c") for text in end) == 1 + 3  # the base, two slopes, the flat top
    assert sum(text.endswith("°") for text in end) == 2
    assert any(text.endswith("to centre") for text in end)
    assert frame.shape == "own"


@pytest.mark.parametrize("name", PLANS)
def test_each_mark_that_shows_has_a_balloon_on_every_sheet_that_labels_pipes(drawn, name):
    _, views = drawn(name)
    balloons = [m for m in views["three-quarter"].marks if isinstance(m, Circle) and m.radius_mm > 3]
    assert balloons
    for a, b in itertools.combinations(balloons, 2):
        assert math.dist(a.centre, b.centre) > a.radius_mm + b.radius_mm
