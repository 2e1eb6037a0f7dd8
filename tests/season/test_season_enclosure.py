"""The enclosure comes from the frame: areas, volume and facing of every shape, against plain geometry."""

from __future__ import annotations

import math

import pytest

from clochewright.catalogue import load_catalogue
from clochewright.frame import raise_frame
from clochewright.plan import plan_from_si
from clochewright.season import Gardener, enclose
from clochewright.season.gardener import hands, night_blanket
from clochewright.season.setting import BY_THERMOMETER, OPEN, SHUT
from clochewright.site import SORREL_YARD, SORREL_YARD_NORMALS, draw_years

BED = {"length_m": 2.4, "width_m": 1.2, "height_m": 0.28}


def enclosed(**more):
    plan = plan_from_si({"bed": BED, **more})
    frame = raise_frame(plan, load_catalogue())
    assert frame.stands, frame.findings
    return frame, enclose(frame, plan)


@pytest.mark.parametrize("shape", ["tent", "barn", "tunnel", "lean-to"])
def test_every_shape_is_closed(shape):
    """The areas, each times the way it looks, add up to the floor straight up and to nothing sideways."""
    frame, room = enclosed(cover={"shape": shape})
    up = sum(f.area_m2 * math.cos(math.radians(f.slope_deg)) for f in room.facets)
    left = sum(
        f.area_m2 * math.sin(math.radians(f.slope_deg)) * math.cos(math.radians(f.turn_deg)) for f in room.facets
    )
    floor = frame.length_m * room.depth_m
    assert up == pytest.approx(floor, rel=0.01)
    assert left == pytest.approx(0.0, abs=0.02)
    assert room.film_m2 > floor
    assert 0.5 < room.sky_share < 0.95
    assert room.floor_m2 == pytest.approx((2.4 - 2 * 0.0381) * (1.2 - 2 * 0.0381))


def test_a_tents_volume_is_half_its_box():
    """A prism: half of width, height and length, but for the pipes' thickness at its feet."""
    frame, room = enclosed(cover={"shape": "tent"})
    assert room.volume_m3 == pytest.approx(frame.width_m * room.height_m / 2 * frame.length_m, rel=0.12)
    assert room.height_m == pytest.approx(frame.ridge_height_m, abs=0.03)


def test_the_left_side_faces_as_the_plan_says():
    _, room = enclosed(cover={"shape": "lean-to"})
    bearings = {round(bearing) for facet, bearing in room.turned(0.0) if facet.turn_deg == 0.0}
    assert bearings == {0}
    ends = sorted(round(bearing) for facet, bearing in room.turned(0.0) if facet.turn_deg in (90.0, 270.0))
    assert ends == [90, 270]
    # high on the left: its wall is taller than the right one
    walls = {f.turn_deg: f.area_m2 for f in room.facets if f.slope_deg > 80 and f.turn_deg in (0.0, 180.0)}
    assert walls[0.0] > walls[180.0]


def test_what_the_gardener_does():
    weather = draw_years(SORREL_YARD_NORMALS, SORREL_YARD, 1)
    air, sun = weather.air_degC[0], weather.global_W_m2[0]
    assert not hands(Gardener("never"), air, sun).any()
    codes = hands(Gardener("morning-and-evening"), air, sun).reshape(365, 24)
    assert set(codes[:, 8]) == {0.0, float(OPEN)}
    assert (codes[:40, 18] == SHUT).all()
    assert not codes[190:210, 18].all()  # mild nights stay open
    day = hands(Gardener("thermometer"), air, sun).reshape(365, 24)
    assert (day[:, 8:18] == BY_THERMOMETER).all()
    blanket = night_blanket(Gardener(), air).reshape(365, 24)
    assert blanket[:, 12].sum() == 0
    assert blanket[:30, 22].mean() > 0.9
    assert blanket[180:220].sum() == 0
