"""Parts, boxes, packing, screws, and what is wished of the plan."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from assembly_making import CATALOGUE, EXAMPLES, assembled, example, si
from order_checker import faults

from clochewright.assembly.springing import hoop_spring
from clochewright.catalogue import load_catalogue, pipe_section
from clochewright.frame import raise_frame
from clochewright.job import open_shelf, run_once
from clochewright.joints.boxes import Solids
from clochewright.plan import plan_with, read_plan


def rods_of(frame, ids):
    """Centre lines and radii of every hub and straight pipe, for measuring by other means."""
    rods = []
    for fitting in frame.fittings:
        if fitting.id in ids:
            for port in fitting.ports:
                tip = np.array(fitting.position_m) + np.array(port.direction) * port.centre_to_face_m
                rods.append((np.array(fitting.position_m), tip, fitting.hub_diameter_m / 2))
    for pipe in frame.pipes:
        if pipe.id in ids:
            rods.append((np.array(pipe.path_m[0]), np.array(pipe.path_m[-1]), frame.pipe_outside_diameter_m / 2))
    return rods


def skins(rods, draw):
    """Points on the skins of the rods: the rims of their ends."""
    points = []
    for a, b, radius in rods:
        along = (b - a) / np.linalg.norm(b - a)
        aside = np.cross(along, draw.standard_normal(3))
        aside /= np.linalg.norm(aside)
        other = np.cross(along, aside)
        for turn in np.linspace(0, 2 * math.pi, 48, endpoint=False):
            rim = (aside * math.cos(turn) + other * math.sin(turn)) * radius
            points += [a + rim, b + rim]
    return np.array(points)


@pytest.mark.parametrize("name", ["bed-4", "bed-7", "wall-bed"])
def test_a_box_is_as_small_as_turning_by_hand_finds_it(name):
    """Ten thousand random turns of each part find no box that is smaller by more than a twentieth."""
    frame, joints, _ = assembled(example(name))
    draw = np.random.default_rng(7)
    for part in {part.like: part for part in joints.parts}.values():
        points = skins(rods_of(frame, part.ids), draw)
        turns, _ = np.linalg.qr(draw.standard_normal((10_000, 3, 3)))
        flat = np.einsum("nij,pj->nip", turns, points)
        least = np.prod(flat.max(axis=2) - flat.min(axis=2), axis=1).min()
        assert math.prod(part.box_m) < 1.05 * least
        assert list(part.box_m) == sorted(part.box_m, reverse=True)


def test_a_lone_pipe_needs_its_length_and_its_diameter():
    frame, joints, _ = assembled(example("bed-4"))
    pipes = {pipe.id: pipe for pipe in frame.pipes}
    for part in joints.parts:
        if not part.fittings:
            od_m = frame.pipe_outside_diameter_m
            assert part.box_m == pytest.approx((pipes[part.pipes[0]].cut_length_m, od_m, od_m), abs=1e-6)


def test_a_piece_of_a_part_never_needs_more_room():
    frame, joints, _ = assembled(example("bed-7"))
    solids, tried = Solids(frame), 0
    for part, scale in itertools.product(joints.parts, (0.98, 1.0, 1.05, 1.2)):
        space = [side * scale for side in part.box_m]
        if solids.fits(part.ids, space):
            tried += 1
            for count in range(1, len(part.ids)):
                assert solids.fits(part.ids[:count], space)
    assert tried > 10


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_parts_are_stored_whole_and_weigh_what_the_frame_weighs(path):
    plan = read_plan(path)
    made = run_once(plan, *open_shelf(plan, path.parent)).made
    pieces = [piece for part in made.assembly.stored for piece in (*part.pipes, *part.fittings)]
    assert sorted(pieces) == sorted({joint.pipe for joint in made.joints.joints} | {
        joint.fitting for joint in made.joints.joints} | set(pieces))  # fmt: skip
    whole = sum(part.mass_kg.value for part in made.assembly.stored)
    assert whole == pytest.approx(made.weights.frame_kg.value, rel=1e-9)


def overlap(one, other):
    return all(
        one.corner_m[k] < other.corner_m[k] + other.box_m[k] - 1e-9
        and other.corner_m[k] < one.corner_m[k] + one.box_m[k] - 1e-9
        for k in range(3)
    )


@pytest.mark.parametrize("space", [None, (2.0, 0.7, 0.5), (1.3, 1.0, 0.45)])
@pytest.mark.parametrize("name", ["bed-4", "bed-7", "wall-bed"])
def test_what_is_packed_lies_inside_and_beside(name, space):
    sizes = [] if space is None else list(zip(("store.length", "store.depth", "store.height"), space, strict=True))
    *_, plan = assembled(plan_with(example(name), sizes))
    packing = plan.packing
    assert {one.part for one in packing.packed} | set(packing.left_out) == {part.id for part in plan.stored}
    boxes = {part.id: part.box_m for part in plan.stored}
    for one in packing.packed:
        assert sorted(one.box_m) == pytest.approx(sorted(boxes[one.part]))
        for k in range(3):
            assert one.corner_m[k] >= -1e-9
            assert one.corner_m[k] + one.box_m[k] <= packing.space_m[k] + 1e-6
    assert not [pair for pair in itertools.combinations(packing.packed, 2) if overlap(*pair)]
    if space is None:
        assert not packing.left_out


def test_every_part_fits_where_it_is_to_be_stored():
    space = (1.3, 0.7, 0.4)
    plan = plan_with(example("bed-4"), [("store.length", 1.3), ("store.depth", 0.7), ("store.height", 0.4)])
    _, joints, made = assembled(plan)
    assert made.goes_together
    for part in joints.parts:
        assert all(side <= room + 1e-6 for side, room in zip(part.box_m, sorted(space, reverse=True), strict=True))


def test_a_pipe_too_long_by_itself_is_split_by_a_coupling():
    """The tied bar of the tunnel is 15 ft; stored in 6 ft 6 in it comes in pieces, the coupling's stop counted."""
    path = next(path for path in EXAMPLES if "long-bed" in path.stem)
    plan = plan_with(read_plan(path), [("store.length", 1.98)])
    trial = run_once(plan, *open_shelf(plan, path.parent))
    bars = [pipe for pipe in trial.frame.pipes if pipe.role == "crown bar"]
    couplings = [fitting for fitting in trial.frame.fittings if fitting.kind == "coupling"]
    assert len(bars) == len(couplings) + 1 > 1
    assert max(pipe.cut_length_m for pipe in trial.frame.pipes if pipe.shape == "straight") <= 1.98
    stops_m = sum(2 * coupling.ports[0].centre_to_stop_m for coupling in couplings)
    whole = next(p for p in raise_frame(read_plan(path), load_catalogue()).pipes if p.role == "crown bar")
    assert sum(bar.cut_length_m for bar in bars) + stops_m == pytest.approx(whole.cut_length_m)
    for part in trial.made.joints.parts:
        assert part.box_m[0] <= 1.98 + 1e-6
    assert trial.made.assembly.goes_together


def test_a_screwed_joint_that_goes_in_dry_is_cut_for_it():
    """Loose pipes dry: the frame is solved with the dry depth, cemented joints stay home."""
    path = next(path for path in EXAMPLES if "bed-4" in path.stem)
    plan = plan_with(read_plan(path), [("joints.loose", "dry")])
    dry = run_once(plan, *open_shelf(plan, path.parent))
    eased = run_once(read_plan(path), *open_shelf(plan, path.parent))
    depth_m = {(f.id, port.name): port.socket_depth_m for f in dry.frame.fittings for port in f.ports}
    for joint in dry.made.joints.joints:
        full_m = depth_m[joint.fitting, joint.port]
        assert joint.dry == (joint.treatment == "screwed")
        assert joint.seat_depth_m < full_m if joint.dry else joint.seat_depth_m == pytest.approx(full_m)
    assert all(joint.seat_depth_m == pytest.approx(depth_m[joint.fitting, joint.port])
               for joint in eased.made.joints.joints)  # fmt: skip
    assert [f.position_m for f in dry.frame.fittings] == [f.position_m for f in eased.frame.fittings]
    ridge = [pipe for pipe in dry.frame.pipes if pipe.role == "ridge"]
    assert all(a.cut_length_m < b.cut_length_m - 0.01 for a, b in
               zip(ridge, [p for p in eased.frame.pipes if p.role == "ridge"], strict=True))  # fmt: skip


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_screws_sit_in_the_hub_clear_of_hinges_and_film(path):
    """Half way down the seat, on the hub's skin, head towards the inside; 30 mm clear of hinges and latches."""
    plan = read_plan(path)
    trial = run_once(plan, *open_shelf(plan, path.parent))
    made, frame = trial.made, trial.frame
    screws, joints = made.assembly.screws, {joint.id: joint for joint in made.joints.joints}
    assert sorted(place.joint for place in screws.places) == sorted(
        joint.id for joint in joints.values() if joint.treatment == "screwed"
    )
    assert [place.number for place in screws.places] == list(range(1, len(screws.places) + 1))
    assert 0.7 * screws.diameter_m < screws.pilot_m < 0.85 * screws.diameter_m
    assert screws.through_m < screws.length_m < screws.through_m + frame.pipe_outside_diameter_m
    middle = np.array((0.0, 0.0, frame.height_m / 3))
    for place in screws.places:
        fitting = frame.fitting(joints[place.joint].fitting)
        port = fitting.port(joints[place.joint].port)
        axis, at = np.array(port.direction), np.array(place.position_m) - fitting.position_m
        assert abs(np.dot(axis, place.way)) < 1e-9
        assert np.dot(at, axis) == pytest.approx(port.centre_to_face_m - joints[place.joint].seat_depth_m / 2)
        assert np.linalg.norm(at - np.dot(at, axis) * axis) == pytest.approx(fitting.hub_diameter_m / 2)
        assert place.position_m[2] > 0
        for fixing in (*made.lid.hinges, *made.lid.latches):
            assert math.dist(place.position_m, fixing.position_m) > 0.03
        head = -np.array(place.way)
        assert np.dot(head, middle - place.position_m) > -1e-6  # never on the side the film lies on


def test_the_hoop_s_force_is_an_elastica_s():
    """Published: an elastica between pins at 60 % chord carries 1.23 Euler loads (chord 2E/K - 1, load (2K/pi)^2).

    Elliptic integrals from scipy, an independent source.
    """
    from scipy.optimize import brentq
    from scipy.special import ellipe, ellipk

    plan = example("long-bed")
    frame = raise_frame(plan, CATALOGUE)
    hoop = next(pipe for pipe in frame.pipes if pipe.shape == "bent")
    row = CATALOGUE.find_pipe(plan.pipe.size)
    EI = 2.76e9 * pipe_section(row.outside_diameter.value, row.wall.value).I_m4
    chord = math.dist(hoop.path_m[0], hoop.path_m[-1]) / hoop.cut_length_m
    m = brentq(lambda m: 2 * ellipe(m) / ellipk(m) - 1 - chord, 0.0, 0.99)
    expected = EI * (2 * ellipk(m) / hoop.cut_length_m) ** 2
    assert hoop_spring(frame, hoop, EI).force_N.value == pytest.approx(expected, rel=1e-6)


def test_an_old_part_brings_its_cement_along():
    """A joint cemented long ago is never closed again, and what it holds moves as one from the start."""
    path = next(path for path in EXAMPLES if "bed-4" in path.stem)
    piece = {"length_m": 1.1, "count": 1, "mark": "old", "cemented": "tee", "port": "branch"}
    plan = plan_with(read_plan(path), [("stock.on_hand", [piece])])
    trial = run_once(plan, *open_shelf(plan, path.parent))
    made = trial.made
    old = [joint for joint in made.joints.joints if joint.old]
    assert old
    assert all(joint.treatment == "cemented" for joint in old)
    closed = {joint for move in made.assembly.moves for joint in move.joints}
    assert not closed & {joint.id for joint in old}
    parts = [part.ids for part in made.joints.parts]
    assert not list(faults(trial.frame, made.joints, parts, made.assembly.moves))


def test_a_joint_named_that_is_not_there_is_told():
    held = [{"role": "ridge", "at": "hoop foot", "how": "cemented"}]
    _, joints, _ = assembled(plan_with(example("bed-4"), [("joints.held", held)]))
    assert [finding.key for finding in joints.findings if finding.where == "joints.held[0]"] == ["joints.no-such-joint"]


def test_the_working_order_says_what_is_done_first():
    """Cut a pair, try it dry, cut the rest, mark, cement flat, put together, square, screw."""
    *_, plan = assembled(si(bed={"length_m": 2.4, "width_m": 1.2}, pipe={"size": "1 in Sch 40"}))
    kinds = [step.kind for step in plan.steps]
    assert kinds[:4] == ["cut", "test-fit", "cut", "mark"]
    assert kinds.index("cement") < kinds.index("assemble") < kinds.index("square") < kinds.index("screw")
    assert [step.number for step in plan.steps] == list(range(1, len(plan.steps) + 1))
    cement = [step for step in plan.steps if step.kind == "cement"]
    assert all(step.jig is not None and step.jig.flat for step in cement)
    assert all(len(step.times) == 3 for step in cement)
    assert any(step.jig.angle_deg == pytest.approx(90.0) for step in cement)
    square = next(step for step in plan.steps if step.kind == "square")
    assert 0 < square.diagonals.differ_m < 0.02
    assert all(step.hands for step in cement)  # one person
    *_, helped = assembled(si(bed={"length_m": 2.4, "width_m": 1.2}, pipe={"size": "1 in Sch 40"}, people=2))
    assert not any(step.hands for step in helped.steps)
