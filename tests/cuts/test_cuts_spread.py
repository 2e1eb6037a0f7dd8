"""Spreads against 100,000 builds whose every cut and seat errs, closed by triangles and four-bars of the tests' own.

Convention under test: a spread is a limit at three standard deviations, so the root-sum-square is three standard
deviations of the size. Errors are drawn from normal distributions and cut off at their limits.
"""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from disturbed import INCH, bench, cutlist, shop

from clochewright.catalogue import load_catalogue
from clochewright.cuts import Spreads, spread
from clochewright.frame import Frame, raise_frame, spring_hoop

BUILDS = 100_000
SAW = {"inch": INCH / 16, "mm": 0.001}  # common practice, no source
HOME_SHORT = INCH / 16  # common practice, no source


class Builds:
    """100,000 builds of one frame: the distance between the two fittings of each pipe, as it came out [m]."""

    def __init__(self, plan, frame, cutlist, seed=7):
        self.frame = frame
        self.rng = np.random.default_rng(seed)
        self.at = {fitting.id: np.array(fitting.position_m) for fitting in frame.fittings}
        self.kind = {fitting.id: fitting.kind for fitting in frame.fittings}
        self.role = {fitting.id: fitting.role for fitting in frame.fittings}
        self.ports = {(f.id, port.name): port for f in frame.fittings for port in f.ports}
        printed = {cut.mark: cut.length_m for cut in cutlist.cuts}
        dry = plan.joints.seat == "dry"
        self.span = {}
        for pipe in frame.pipes:
            if any(end.fitting is None for end in pipe.ends):  # a bar tied under the hoops holds nothing apart
                continue
            span = printed[cutlist.mark_of[pipe.id]] + self.error(-SAW[plan.units], SAW[plan.units])
            for end in pipe.ends:
                port = self.ports[end.fitting, end.port]
                depth = port.socket_depth_m
                if dry:
                    seat = shop().dry_seat(frame.pipe_key, self.kind[end.fitting], end.port)
                    sits = self.error(seat.low, seat.high)
                else:
                    sits = self.error(depth - HOME_SHORT, depth)
                span = span + port.centre_to_stop_m + depth - sits
            self.span[frozenset(end.fitting for end in pipe.ends)] = span

    def error(self, low, high):
        middle, sigma = (low + high) / 2, (high - low) / 6
        return np.clip(self.rng.normal(middle, sigma, BUILDS), low, high)

    def near(self, role, x, y_sign=None):
        """The fitting of a role that stands nearest a place along the bed, on one side."""
        some = [f for f, r in self.role.items() if r == role and (y_sign is None or self.at[f][1] * y_sign > 0)]
        return min(some, key=lambda f: abs(self.at[f][0] - x))

    def along(self, one, other):
        """From one fitting to another along pipes in a straight line [m]: every span that lies on it, added."""
        start, end = self.at[one], self.at[other]
        reach = np.linalg.norm(end - start)
        way = (end - start) / reach
        total = 0.0
        for pair, span in self.span.items():
            t = [float((self.at[f] - start) @ way) for f in pair]
            off = [float(np.linalg.norm(self.at[f] - start - s * way)) for f, s in zip(pair, t, strict=True)]
            if max(off) < 1e-9 and min(t) > -1e-9 and max(t) < reach + 1e-9:
                total = total + span
        return total


def agrees(size, built):
    """Three standard deviations within 3 %, the middle where it should be, and no build outside the worst case."""
    three = 3 * built.std()
    assert size.rss == pytest.approx(three, rel=0.03)
    assert size.likely == pytest.approx(built.mean(), abs=0.02 * size.rss)
    assert built.min() >= size.worst_low - 1e-12
    assert built.max() <= size.worst_high + 1e-12


@pytest.mark.parametrize(
    "wishes",
    [
        {},
        {"units": "mm", "joints": {"seat": "dry"}},
        {"pipe": {"size": "3/4 in"}, "cover": {"shape": "barn"}},
        {"cover": {"shape": "lean-to"}},
        {"cover": {"shape": "tunnel"}},
    ],
)
def test_length_width_and_diagonals_against_builds(wishes):
    plan, frame, cuts = bench(**wishes)
    sizes = spread(frame, cuts, plan, shop())
    builds = Builds(plan, frame, cuts)
    a, b, c, d = (builds.near("corner", x, y) for x, y in ((-9, 1), (9, 1), (9, -1), (-9, -1)))
    left, right, front, far = (builds.along(*pair) for pair in ((a, b), (d, c), (a, d), (b, c)))
    hub = frame.length_m - frame.base_length_m
    agrees(sizes.length, left + hub)
    agrees(sizes.length, right + hub)
    agrees(sizes.width, front + hub)
    assert sizes.length.nominal == pytest.approx(frame.length_m, abs=1e-9)
    assert sizes.width.nominal == pytest.approx(frame.width_m, abs=1e-9)
    assert sizes.diagonal.nominal == pytest.approx(frame.diagonal_m, abs=1e-9)
    agrees(sizes.diagonal, pushed_alike(left, far, right, front))


def pushed_alike(left, far, right, front):
    """The diagonals of a four-bar once they are alike: its corner angle found by halving the bracket."""
    low, high = np.full(BUILDS, math.radians(70)), np.full(BUILDS, math.radians(110))
    for _ in range(40):
        turn = (low + high) / 2
        # a at 0, b along x, d at `turn` from it; c from b and d by two circles
        dx, dy = front * np.cos(turn), front * np.sin(turn)
        other = np.hypot(dx - left, dy)
        along = (far**2 - right**2 + other**2) / (2 * other)
        off = np.sqrt(far**2 - along**2)
        ux, uy = (dx - left) / other, dy / other
        cx, cy = left + along * ux + off * uy, along * uy - off * ux
        one = np.hypot(cx, cy)
        low, high = np.where(one > other, turn, low), np.where(one > other, high, turn)
    assert np.abs(one - other).max() < 1e-9
    return other


def apart_at(builds, x):
    """How far apart the side rails are at a place along the bed: straight from one line across to the next."""
    lines = []
    for role in ("corner", "brace foot"):
        for f, r in builds.role.items():
            if r == role and builds.at[f][1] > 0:
                lines.append((builds.at[f][0], builds.along(f, builds.near(role, builds.at[f][0], -1))))
    lines.sort(key=lambda line: line[0])
    for (x0, w0), (x1, w1) in itertools.pairwise(lines):
        if x0 <= x <= x1:
            return w0 + (w1 - w0) * (x - x0) / (x1 - x0)
    raise AssertionError(x)


def triangles(builds, frame):
    """Left rafter, right rafter and base of each bent of a tent whose rafters run from foot to apex [m]."""
    out = []
    for x in frame.stations_m:
        left, right = builds.near("rafter foot", x, 1), builds.near("rafter foot", x, -1)
        sides = []
        for foot in (left, right):
            mates = [p for p in frame.pipes if p.role == "rafter" and foot in {end.fitting for end in p.ends}]
            (pair,) = [frozenset(end.fitting for end in pipe.ends) for pipe in mates]
            sides.append((pair, builds.span[pair]))
        places = [builds.at[f][0] for pair, _ in sides for f in pair]
        middle = (min(places) + max(places)) / 2
        out.append((sides[0][1], sides[1][1], apart_at(builds, middle)))
    return out


@pytest.mark.parametrize("seat", ["home", "dry"])
@pytest.mark.parametrize("pitch", [30.0, 45.0, 55.0])
def test_height_of_a_butted_tent_against_builds(pitch, seat):
    """The apex turns until it is fastened: three sides make the triangle, its height by its area (Heron)."""
    plan, frame, cuts = bench(cover={"apex": "butted", "pitch_deg": pitch}, joints={"seat": seat})
    sizes = spread(frame, cuts, plan, shop())
    assert sizes.rafter_gap is None
    assert sizes.rafter_angle is None
    heights = []
    for a, b, c in triangles(Builds(plan, frame, cuts), frame):
        s = (a + b + c) / 2
        heights.append(2 * np.sqrt(s * (s - a) * (s - b) * (s - c)) / c)
    base_and_hub = frame.height_m - frame.ridge_height_m + min(f.position_m[2] for f in frame.fittings)
    widest = max(heights, key=lambda height: height.std())
    agrees(sizes.height, widest + base_and_hub)


@pytest.mark.parametrize("seat", ["home", "dry"])
def test_rafter_fit_of_a_pointed_tent_against_builds(seat):
    """The apex is moulded square: the law of cosines says what the base asks of it, Pythagoras what it asks back."""
    pointed = {"pipe": {"size": "1 in", "bench": "furniture"}, "cover": {"apex": "pointed"}}
    plan, frame, cuts = bench(**pointed, joints={"seat": seat})
    sizes = spread(frame, cuts, plan, shop())
    gaps, angles = [], []
    for a, b, c in triangles(Builds(plan, frame, cuts), frame):
        gaps.append(c - np.hypot(a, b))
        angles.append(np.degrees(np.arccos((a**2 + b**2 - c**2) / (2 * a * b))) - 90)
    agrees(sizes.rafter_gap, max(gaps, key=lambda gap: gap.std()))
    agrees(sizes.rafter_angle, max(angles, key=lambda angle: angle.std()))
    assert sizes.rafter_gap.nominal == pytest.approx(0, abs=1e-9)
    assert sizes.rafter_angle.nominal == pytest.approx(0, abs=1e-6)


def test_rafter_gap_of_a_flat_tent_against_builds():
    """Two 45s hold every angle: down one slope, across the top, down the other, as the crow flies."""
    plan, frame, cuts = bench(cover={"apex": "flat"})
    sizes = spread(frame, cuts, plan, shop())
    builds = Builds(plan, frame, cuts)
    gaps = []
    for (a, b, c), x in zip(triangles(builds, frame), frame.stations_m, strict=True):
        top = builds.along(builds.near("apex elbow", x, 1), builds.near("apex elbow", x, -1))
        gaps.append(c - np.hypot((a + b) * math.sqrt(0.5) + top, (a - b) * math.sqrt(0.5)))
    agrees(sizes.rafter_gap, max(gaps, key=lambda gap: gap.std()))


def upright(builds, frame, x, side):
    """The post of one side of the barn's bent nearest `x`, with the stubs that stand on it, and its rafter [m]."""
    foot = builds.near("post foot", x, side)
    x = builds.at[foot][0]
    post = 0.0
    for pipe in frame.pipes:
        ends = [builds.at[end.fitting] for end in pipe.ends]
        upwards = all(math.hypot(end[0] - x, end[1] - builds.at[foot][1]) < 1e-9 for end in ends)
        if upwards:
            post = post + builds.span[frozenset(end.fitting for end in pipe.ends)]
    rafters = [pipe for pipe in frame.pipes if pipe.role == "rafter" and sum(p[1] for p in pipe.path_m) * side > 0]
    rafter = min(rafters, key=lambda pipe: abs(pipe.path_m[0][0] - x))
    return post, builds.span[frozenset(end.fitting for end in rafter.ends)]


@pytest.mark.parametrize("eaves", ["in-line", "butted"])
def test_height_of_a_barn_against_builds(eaves):
    """Elbows at the eaves: each side is stiff, foot to apex by the law of cosines, and the two meet over the base.

    Butted eaves: the posts stand plumb, and two rafters meet over their heads.
    """
    plan, frame, cuts = bench(cover={"shape": "barn", "apex": "butted", "bents": 2}, barn={"eaves": eaves})
    assert frame.recipes["eave"] == eaves
    height = spread(frame, cuts, plan, shop()).height
    builds = Builds(plan, frame, cuts)
    front = builds.near("corner", -9, 1), builds.near("corner", -9, -1)
    far = builds.near("corner", 9, 1), builds.near("corner", 9, -1)
    base = [builds.along(*pair) for pair in (front, far)]
    (left_post, left), (right_post, right) = (upright(builds, frame, -9, side) for side in (1, -1))
    # the end bent stands beside the front end rail, a little on the way to the far one
    share = (frame.stations_m[0] - builds.at[front[0]][0]) / frame.base_length_m
    apart = base[0] * (1 - share) + base[1] * share
    if eaves == "in-line":
        bend = math.radians(90 + frame.pitch_deg)
        sides = [np.sqrt(p**2 + r**2 - 2 * p * r * math.cos(bend)) for p, r in ((left_post, left), (right_post, right))]
        y = (apart**2 + sides[0] ** 2 - sides[1] ** 2) / (2 * apart)
        top = np.sqrt(sides[0] ** 2 - y**2)
    else:
        heads = np.hypot(apart, right_post - left_post)
        along = (heads**2 + left**2 - right**2) / (2 * heads)
        off = np.sqrt(left**2 - along**2)
        top = left_post + (along * (right_post - left_post) + off * apart) / heads
    agrees(height, top + frame.height_m - frame.ridge_height_m + builds.at[front[0]][2])


def test_height_of_a_hoop_follows_its_pipe():
    """A half-circle of pipe: a little more pipe on the same feet lifts the crown, by the elastica solved anew."""
    plan, frame, cuts = bench(cover={"shape": "tunnel"})
    height = spread(frame, cuts, plan, shop()).height
    limit = SAW["inch"] + HOME_SHORT  # one cut, two seats of half a limit each
    hoop = frame.hoop
    higher = spring_hoop(hoop.length_m + limit, hoop.span_m, hoop.foot_angle_deg).height_m - hoop.rise_m
    alone = higher * math.sqrt(SAW["inch"] ** 2 + 2 * (HOME_SHORT / 2) ** 2) / limit
    (hoops,) = {late.share for late in spread(frame, cuts, plan, shop()).matter_most if late.role == "hoop"}
    assert height.rss * math.sqrt(hoops) == pytest.approx(alone, rel=0.03)


def test_a_width_by_hand():
    """One pipe in two sockets, 1/16 in for the saw and half of 1/16 in either way for each joint, worked by hand."""
    plan, frame, cuts = bench()
    width = spread(frame, cuts, plan, shop()).width
    printed = {cut.mark: cut.length_m for cut in cuts.cuts}
    (rail, _) = (pipe for pipe in frame.pipes if pipe.role == "end rail")
    rounding = printed[cuts.mark_of[rail.id]] - rail.cut_length_m
    sixteenth = INCH / 16
    assert width.likely == pytest.approx(frame.width_m + rounding + sixteenth)
    assert width.worst_low == pytest.approx(frame.width_m + rounding - sixteenth)
    assert width.worst_high == pytest.approx(frame.width_m + rounding + 3 * sixteenth)
    assert width.rss == pytest.approx(sixteenth * math.sqrt(1 + 0.25 + 0.25))


def test_what_fittings_add_is_one_error_for_all_of_a_kind():
    """All run sockets of a tee off by the whole band: as often as the left rail has them."""
    plan, frame, cuts = bench()
    length = spread(frame, cuts, plan, shop()).length
    tee, elbow = (shop().fitting(frame.pipe_key, kind) for kind in ("tee", "elbow-90"))
    y = max(fitting.position_m[1] for fitting in frame.fittings)
    tees = sum(f.kind == "tee" and f.position_m[1] == pytest.approx(y) for f in frame.fittings)
    most = 0.0
    for row, name, times in ((tee, "run-a", tees), (tee, "run-b", tees), (elbow, "a", 2)):
        stop = row.socket(name).centre_to_stop
        most += times * (stop.high - stop.value)
    assert most > 0
    assert length.fittings_high == pytest.approx(most)


def test_measured_fittings_add_nothing():
    kinds = [{"kind": kind, "centre_to_stop_m": 0.018, "socket_depth_m": 0.025} for kind in ("tee", "elbow-90")]
    plan, _, _ = bench(own={"fittings": kinds}, cover={"apex": "butted"})
    shop_of_own = load_catalogue(own_fittings=[one.model_dump() for one in plan.own.fittings])
    frame = raise_frame(plan, shop_of_own)
    sizes = spread(frame, cutlist(frame, plan.units), plan, shop_of_own)
    assert all(one.fittings_low == one.fittings_high == 0 for one in sizes.all)


def test_two_or_three_cuts_are_named_by_mark():
    plan, frame, cuts = bench(pipe={"size": "1 in", "bench": "furniture"}, cover={"apex": "pointed"})
    sizes = spread(frame, cuts, plan, shop())
    assert 2 <= len(sizes.matter_most) <= 3
    assert sizes.matter_most[0].role == "rafter"  # two of its pieces in every triangle
    marks = {cut.mark for cut in cuts.cuts}
    assert {late.mark for late in sizes.matter_most} <= marks
    (note,) = sizes.findings
    assert note.key == "cuts.cut-last"
    assert set(note.values["marks"]) == {late.mark for late in sizes.matter_most}


def test_no_frame_has_no_spread():
    plan, _, cuts = bench()
    assert spread(Frame("tent", "1 in Sch 40", 0.0334), cuts, plan, shop()) == Spreads()
