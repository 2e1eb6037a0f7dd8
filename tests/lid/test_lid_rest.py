"""Where a leaf comes to rest, against a numeric search of contacts with shapely."""

from __future__ import annotations

import math
import random

import pytest
import shapely
from shapely import affinity

from clochewright.catalogue import load_catalogue
from clochewright.frame import raise_frame
from clochewright.lid import HingeLine, Round, hang_lid
from clochewright.lid.swing import FILM_OFF_SOIL_m, swing_of
from clochewright.plan import plan_from_si

FAR = 20.0


def random_leaf(random_):
    """A tent, barn, lean-to or arch with hubs at its corners, hinged at the outer edge of its base."""
    width, hub = random_.uniform(0.5, 1.6), random_.uniform(0.025, 0.06)
    wall, rise, peak = random_.uniform(0, 0.6), random_.uniform(0.15, 0.9), random_.uniform(0.1, 0.9)
    kind = random_.choice(["tent", "barn", "arch", "lean-to"])
    r = hub / 2
    points = {
        "tent": [(r, r), (width - r, r), (peak * width, rise)],
        "barn": [(r, r), (width - r, r), (r, wall + r), (width - r, wall + r), (width / 2, wall + rise)],
        "arch": [(width / 2 - width / 2 * 0.95 * math.cos(a), r + rise * math.sin(a)) for a in
                 [i * math.pi / 12 for i in range(13)]],
        "lean-to": [(r, r), (width - r, r), (r, rise), (width - r, wall * 0.5 + r)],
    }[kind]  # fmt: skip
    return width, [Round(x, z, r, "fitting") for x, z in points]


def searched(rounds, line_height, over, wall):
    """The first angle at which the leaf's hull overlaps bed, ground or wall: stepped, then halved."""
    leaf = shapely.union_all([shapely.Point(r.out_m, r.up_m).buffer(r.radius_m, 180) for r in rounds]).convex_hull
    blocks = [shapely.box(-over, -5, FAR, 0), shapely.box(-FAR, -FAR, FAR, -line_height)]
    if wall is not None:
        blocks.append(shapely.box(-FAR, -line_height, -over - wall, FAR))
    solid = shapely.union_all(blocks)

    def overlap(angle):
        return affinity.rotate(leaf, angle, origin=(0, 0)).intersection(solid).area

    angle, step = 0.5, 0.5
    while overlap(angle) < 1e-10:
        angle += step
        if angle > 270:
            return 270.0
    low, high = angle - step, angle
    for _ in range(20):
        middle = (low + high) / 2
        low, high = (middle, high) if overlap(middle) < 1e-10 else (low, middle)
    return high


@pytest.mark.parametrize("seed", range(200))
def test_rest_is_where_a_numeric_search_finds_it(seed):
    random_ = random.Random(seed)
    width, rounds = random_leaf(random_)
    over = random_.choice([0.0, 0.0, random_.uniform(0, 0.08)])
    wall = random_.choice([None, random_.uniform(0.05, 1.0)])
    bed = random_.uniform(0.05, 0.8)
    swing = swing_of(rounds, (width, rounds[0].up_m), bed, 0.0, over, wall)
    found = searched(rounds, bed, over, wall)
    # The search only sees an overlap once it has some area: it comes a little late, most where faces meet flat.
    assert swing.rest.angle_deg == pytest.approx(found, abs=0.35)
    assert swing.rest.angle_deg <= found + 0.02


def test_a_tent_lies_on_its_ridge():
    """By hand: a ridge point at radius r and 45 deg meets ground h below its hinges at 180 + asin(h/r) - 45 deg."""
    rounds = [Round(0.0, 0.0, 0.0, "pipe"), Round(1.0, 0.0, 0.0, "pipe"), Round(0.5, 0.5, 0.0, "pipe")]
    swing = swing_of(rounds, (1.0, 0.0), 0.3, 0.0, 0.0, None)
    r = math.sqrt(0.5)
    assert swing.rest.angle_deg == pytest.approx(135 + math.degrees(math.asin(0.3 / r)))
    assert swing.rest.on == "ground"
    block = 135 + math.degrees(math.asin((0.3 - FILM_OFF_SOIL_m) / r))
    assert swing.rest.block_deg == pytest.approx(block)
    assert swing.rest.block_out_m == pytest.approx(math.sqrt(r**2 - (0.3 - FILM_OFF_SOIL_m) ** 2))
    assert swing.highest_m == pytest.approx(0.3 + 1.0, rel=1e-3)


def test_a_wall_close_behind_stops_it():
    """By hand: the ridge, at radius r, meets a wall d behind its hinges at acos(-d/r) - 45 deg."""
    rounds = [Round(0.0, 0.0, 0.0, "pipe"), Round(1.0, 0.0, 0.0, "pipe"), Round(0.5, 0.5, 0.0, "pipe")]
    swing = swing_of(rounds, (1.0, 0.0), 0.3, 0.0, 0.0, 0.4)
    assert swing.rest.on == "wall"
    assert swing.rest.angle_deg == pytest.approx(math.degrees(math.acos(-0.4 / math.sqrt(0.5))) - 45)


def test_a_panel_lies_down_on_the_other_slope():
    """By hand: hinged at the ridge of a 45 deg roof, a slope turns over by 270 deg to meet the other from above."""
    rounds = [Round(0.02, -0.02, 0.0, "pipe"), Round(0.5, -0.5, 0.0, "pipe")]
    other = [Round(-0.1, -0.1, 0.01, "pipe"), Round(-0.6, -0.6, 0.01, "pipe"), Round(0.0, -0.6, 0.01, "pipe")]
    swing = swing_of(rounds, (0.5, -0.5), 1.0, 0.6, 0.0, None, other)
    assert swing.rest.on == "frame"
    assert 265 < swing.rest.angle_deg < 270


def test_a_point_turns_about_its_line():
    """By hand: 90 deg about a line along the left edge puts what lay 1 m to its right 1 m above it."""
    line = HingeLine((0.0, 0.5, 0.1), (1.0, 0.5, 0.1), (0.0, -1.0, 0.0))
    assert line.section((0.3, -0.5, 0.1)) == pytest.approx((1.0, 0.0))
    assert line.turned((0.3, -0.5, 0.1), 90) == pytest.approx((0.3, 0.5, 1.1))


def test_a_whole_lean_to_at_its_wall_is_told_to_open_its_slope_alone():
    tables = {"bed": {"length": 1.8, "width": 0.9}, "cover": {"shape": "lean-to"}, "lean-to": {"wall_behind": True}}
    catalogue = load_catalogue()

    def told(tables):
        plan = plan_from_si(tables)
        return {finding.key: finding for finding in hang_lid(raise_frame(plan, catalogue), plan).findings}

    change = told(tables)["lid.fouls-wall"].change
    section, key = change.path.split(".")
    assert "lid.fouls-wall" not in told({**tables, section: {key: change.value}})
