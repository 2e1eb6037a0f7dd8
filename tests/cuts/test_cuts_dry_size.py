"""What a dry test fit shows, against sums of joints by hand."""

from __future__ import annotations

import math

import pytest
from disturbed import INCH, bench, shop

from clochewright.catalogue import load_catalogue
from clochewright.cuts import DrySizes, dry_size
from clochewright.findings import say
from clochewright.frame import Frame, raise_frame


def joints_along(frame):
    """Sockets that hold pipe along the left rail: two for each piece and each stub on it."""
    y = max(fitting.position_m[1] for fitting in frame.fittings)
    on_rail = [
        pipe
        for pipe in frame.pipes
        if all(abs(point[1] - y) < 1e-9 for point in pipe.path_m) and pipe.role in ("side rail", "stub")
    ]
    return 2 * len(on_rail)


def test_one_nominal_joint_stands_a_third_of_the_depth_proud():
    """ASTM D2466 sockets: a pipe of the tabled diameter meets the tabled taper at two thirds of the depth.

    A 1 in socket 1.125 in deep leaves 0.375 in (worked out in the reference from D1785 and D2466).
    """
    _, frame, _ = bench()
    joint = dry_size(frame, shop()).joint_m
    assert joint.value == pytest.approx(0.375 * INCH, abs=0.002 * INCH)
    assert joint.low == pytest.approx(0.375 * INCH, abs=0.002 * INCH)
    assert joint.high == pytest.approx(0.75 * INCH, abs=0.002 * INCH)


def test_each_joint_of_three_quarter_pipe_is_a_quarter_to_half_an_inch_proud():
    """Reference, step 7: 0.24 to 0.48 in for each joint at the standard depth of 0.719 in (D2466, F3328)."""
    deep = [{"kind": kind, "socket_depth_m": 0.719 * INCH} for kind in ("tee", "elbow-90")]
    plan, _, _ = bench(pipe={"size": "3/4 in"}, own={"fittings": deep}, cover={"apex": "butted"})
    own_shop = load_catalogue(own_fittings=[one.model_dump() for one in plan.own.fittings])
    joint = dry_size(raise_frame(plan, own_shop), own_shop).joint_m
    assert joint.low == pytest.approx(0.24 * INCH, abs=0.005 * INCH)
    assert joint.high == pytest.approx(0.48 * INCH, abs=0.005 * INCH)


def test_a_dry_base_is_longer_by_all_its_joints():
    _, frame, _ = bench()
    sizes = dry_size(frame, shop())
    length, width, joint = sizes.size("length"), sizes.size("width"), sizes.joint_m
    joints = joints_along(frame)
    assert joints >= 6
    assert length.finished_m == length.home_m == pytest.approx(frame.length_m)
    assert length.dry_m == pytest.approx(frame.length_m + joints * joint.value)
    assert length.dry_low_m == pytest.approx(frame.length_m + joints * joint.low)
    assert length.dry_high_m == pytest.approx(frame.length_m + joints * joint.high)
    assert width.dry_m == pytest.approx(frame.width_m + 2 * joint.value)
    diagonal = math.hypot(frame.base_length_m + joints * joint.value, frame.base_width_m + 2 * joint.value)
    assert sizes.size("diagonal").dry_m == pytest.approx(diagonal)
    rafter = sizes.size("rafter")
    assert rafter.dry_high_m - rafter.finished_m == pytest.approx(2 * joint.high)


def test_a_dry_triangle_is_higher():
    """Butted apex: two longer rafters on a wider base, by Pythagoras."""
    _, frame, _ = bench(cover={"apex": "butted", "pitch_deg": 40})
    sizes = dry_size(frame, shop())
    more = 2 * sizes.joint_m.value
    half, rise = frame.base_width_m / 2, frame.base_width_m / 2 * math.tan(math.radians(40))
    rafter = math.hypot(half, rise)
    higher = math.sqrt((rafter + more) ** 2 - (half + more / 2) ** 2) - rise
    assert sizes.size("height").dry_m == pytest.approx(frame.height_m + higher, abs=1e-7)


def test_dry_rafters_of_a_square_apex_stand_wider_than_the_dry_base():
    """Rafters grow by two joints each, the base by two: at a square apex that is root two too much."""
    _, frame, _ = bench(pipe={"size": "1 in", "bench": "furniture"}, cover={"apex": "pointed"})
    sizes = dry_size(frame, shop())
    gap, more = sizes.size("rafter gap"), 2 * sizes.joint_m.value
    assert gap.finished_m == pytest.approx(0, abs=1e-9)
    assert gap.dry_m == pytest.approx(more - more * math.sqrt(2), abs=1e-9)


def test_a_frame_planned_dry_would_be_shortened_by_cement():
    _, frame, _ = bench(joints={"seat": "dry"})
    sizes = dry_size(frame, shop())
    length = sizes.size("length")
    assert length.finished_m == pytest.approx(frame.length_m)
    assert length.dry_m == pytest.approx(frame.length_m)
    assert length.home_m == pytest.approx(frame.length_m - joints_along(frame) * sizes.joint_m.value)
    assert "cuts.cement-shortens" in {found.key for found in sizes.findings}


def test_parallel_metric_sockets_take_dry_pipe_home():
    """Parallel sockets (ISO 727-1 fittings): dry pipe goes home, so there is nothing to say."""
    _, frame, _ = bench(pipe={"size": "32 mm PN 16"}, units="mm")
    sizes = dry_size(frame, shop())
    assert all(size.finished_m == pytest.approx(size.dry_high_m, abs=1e-9) for size in sizes.sizes)
    assert not sizes.findings


def test_waste_pipe_is_given_as_a_range():
    """Nobody says whether waste fittings taper: home at best, by a third of the depth at worst."""
    _, frame, _ = bench(pipe={"size": "32 mm waste"}, units="mm")
    length = dry_size(frame, shop()).size("length")
    assert length.dry_low_m == pytest.approx(length.finished_m, abs=1e-9)
    assert length.dry_high_m > length.finished_m + 0.01


def test_the_note_says_do_not_trim_and_names_the_standard():
    _, frame, _ = bench()
    (note,) = dry_size(frame, shop()).findings
    assert note.key == "cuts.dry-fit-longer"
    assert "D2855" in note.source
    assert "F3328" in note.source
    assert note.values["low_m"] <= note.values["likely_m"] <= note.values["high_m"]
    assert "Do not trim" in say(note, "inch").what


def test_no_frame_has_no_sizes():
    assert dry_size(Frame("tent", "1 in Sch 40", 0.0334), shop()) == DrySizes()


@pytest.mark.parametrize("shape", ["tent", "barn", "lean-to", "tunnel"])
def test_every_shape_has_its_sizes(shape):
    _, frame, _ = bench(cover={"shape": shape})
    names = [size.name for size in dry_size(frame, shop()).sizes]
    assert {"length", "width", "diagonal", "height"} <= set(names)
    assert len(names) == len(set(names))
    members = {"tent": {"rafter"}, "barn": {"rafter", "post"}, "lean-to": {"rafter", "post"}, "tunnel": set()}
    assert members[shape] <= set(names)
