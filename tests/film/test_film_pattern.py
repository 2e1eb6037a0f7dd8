"""The pattern against the frame it is folded up on, and against tents worked by hand."""

from __future__ import annotations

import math

import numpy as np
import pytest
import trimesh
from shapely.geometry import LineString, Point

from clochewright.catalogue import load_catalogue
from clochewright.film.develop import LAP_M, develop, ends_for
from clochewright.film.pattern import area_m2
from clochewright.film.skin import skin_of
from clochewright.frame import raise_frame
from clochewright.plan import plan_from_si
from frame_samples import FOOT, INCH, tent

HUB = 1.625 * INCH / 2
FACE = (13 / 16 + 1) * INCH


@pytest.fixture(scope="module")
def sample():
    """A tent of 9 ft by 5 ft 6 in, by hand."""
    return tent(9 * FOOT, 5.5 * FOOT)


def raised(**plan):
    wanted = plan_from_si({"bed": {"length_m": 2.7, "width_m": 1.2}} | plan)
    frame = raise_frame(wanted, load_catalogue())
    assert frame.stands
    return frame


def folded_up(piece):
    """Each face folded up by itself: the rigid motion that lays its flat corners on its corners in space."""
    for face in piece.faces:
        flat = np.column_stack([np.array(face.flat), np.zeros(len(face.flat))])
        space = np.array(face.space)
        a, b = flat - flat.mean(axis=0), space - space.mean(axis=0)
        u, _, vt = np.linalg.svd(a.T @ b)
        turn = u @ np.diag([1, 1, np.sign(np.linalg.det(u @ vt))]) @ vt
        yield face, (flat - flat.mean(axis=0)) @ turn + space.mean(axis=0)


@pytest.mark.parametrize("ends", ["folded", "cut"])
def test_every_face_lies_flat_at_its_own_size(sample, ends):
    for piece in develop(skin_of(sample), 0.3, ends).pieces:
        for face, folded in folded_up(piece):
            assert np.abs(folded - np.array(face.space)).max() < 1e-6


@pytest.mark.parametrize("ends", ["folded", "cut"])
def test_folded_up_the_pattern_has_the_frames_corners(sample, ends):
    """Corner to corner as a tape finds the frame: over all below, over the apex hubs above, within 2 mm."""
    half_x, half_y, rail_z = 4.5 * FOOT, 2.75 * FOOT, HUB
    ridge_z, ridge_x = sample.ridge_height_m + HUB, half_x - 2 * FACE
    wanted = [(sx * half_x, sy * half_y, rail_z) for sx in (-1, 1) for sy in (-1, 1)]
    wanted += [(sx * ridge_x, 0.0, ridge_z) for sx in (-1, 1)]
    pattern = develop(skin_of(sample), 0.3, ends)
    marked = {flat for flat, _ in pattern.corners}
    found = []
    for face, folded in folded_up(pattern.main):
        found += [tuple(at) for flat, at in zip(face.flat, folded, strict=True) if flat in marked]
    for corner in wanted:
        assert min(math.dist(corner, at) for at in found) < 0.002
    # on the flat sheet they lie as far apart as in space, and a little further for the way round two hubs
    flat = {tuple(round(x, 4) for x in space): at for at, space in pattern.corners}
    left, ridge = (tuple(round(x, 4) for x in corner) for corner in (wanted[-3], wanted[-1]))
    assert 0 < math.dist(flat[left], flat[ridge]) - math.dist(left, ridge) < 0.005


@pytest.mark.parametrize("ends", ["folded", "cut"])
@pytest.mark.parametrize(
    "plan",
    [
        {},
        {"cover": {"apex": "flat"}},
        {"cover": {"shape": "barn"}},
        {"cover": {"shape": "lean-to"}},
        {"cover": {"shape": "tunnel"}, "pipe": {"size": "3/4 in"}},
        {"cover": {"shape": "tunnel"}, "pipe": {"size": "3/4 in"}, "hoops": {"feet": "sleeves-inside"}},
        {"cover": {"shape": "own"}, "profile": {"points": [{"in_m": 0.1, "up_m": 0.4}, {"in_m": 0.4, "up_m": 0.7}]}},
    ],
    ids=["pointed", "flat apex", "barn", "lean-to", "tunnel", "sleeves", "own"],
)
def test_area_of_the_pattern_is_that_of_the_mesh_of_the_skin(plan, ends):
    """A sheet pulled tight over the frame is its convex hull; trimesh has its area without the open bottom."""
    skin = skin_of(raised(**plan))
    pattern = develop(skin, 0.3, ends)
    flat_m2 = sum(abs(area_m2(face.flat)) for piece in pattern.pieces for face in piece.faces)
    mesh = trimesh.convex.convex_hull(np.array([*skin.end(-1.0), *skin.end(1.0)]))
    bottom_m2 = mesh.area_faces[mesh.face_normals[:, 2] < -0.999].sum()
    assert flat_m2 == pytest.approx(mesh.area - bottom_m2, rel=1e-3)


def test_area_of_a_tent_by_hand(sample):
    """Two trapezoids and two triangles, over the hubs: half the parallel sides times the height, and Heron."""
    long, ridge, slope = 9 * FOOT, 9 * FOOT - 4 * FACE, 5.5 * FOOT / 2 * math.sqrt(2)
    foot, rise = (4.5 * FOOT, 2.75 * FOOT, HUB), sample.ridge_height_m
    edge = math.dist(foot, (ridge / 2, 0.0, rise + HUB))
    half = (2 * edge + 5.5 * FOOT) / 2
    gable = math.sqrt(half * (half - edge) ** 2 * (half - 5.5 * FOOT))
    flat_m2 = sum(abs(area_m2(face.flat)) for face in develop(skin_of(sample), 0.3, "folded").main.faces)
    assert flat_m2 == pytest.approx((long + ridge) * slope + 2 * gable, rel=0.02)


def test_a_tents_gable_takes_two_folds(sample):
    """Common practice, no source: folded down like a parcel, two folds at each gable."""
    pattern = develop(skin_of(sample), 0.3, "folded")
    assert pattern.pleats == 1
    pleats = [line for line in pattern.main.lines if line.kind == "pleat"]
    assert len(pleats) == 4
    for far in (-1, 1):
        under, middle = (line for line in pleats if line.points[0][0] * far > 0)
        assert middle.points[1][1] == pytest.approx(0.0, abs=1e-9)  # back along the ridge's own line
        assert under.length_m == pytest.approx(middle.length_m)


def test_the_hem_is_rolled_on_all_sides(sample):
    """Past the underside of the rail there is the overhang that was asked for, square to every edge."""
    skin, overhang = skin_of(sample), 0.25
    piece = develop(skin, overhang, "folded").main
    assert piece.width_m == pytest.approx(skin.girth_m + 2 * overhang)
    hem = skin.tuck_m + overhang
    edges = [line.points for line in piece.lines if line.kind == "rail"]
    assert len(edges) == 6  # two long sides, and two halves at each end
    for start, end in edges:
        middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
        assert LineString([*piece.trim, piece.trim[0]]).distance(Point(middle)) == pytest.approx(hem, abs=1e-6)


def test_gables_cut_by_themselves_are_as_wide_as_the_end_and_lapped(sample):
    skin = skin_of(sample)
    main, front, far = develop(skin, 0.25, "cut").pieces
    assert main.length_m == pytest.approx(9 * FOOT + 2 * LAP_M)
    for gable in (front, far):
        assert gable.length_m == pytest.approx(5.5 * FOOT)
        lean = math.hypot(2 * FACE, sample.ridge_height_m)
        assert gable.high[1] == pytest.approx(lean, abs=0.002)
        assert gable.low[1] == pytest.approx(-(skin.tuck_m + 0.25))


def test_hoops_are_given_gables_of_their_own():
    assert ends_for(skin_of(raised(cover={"shape": "tunnel"}, pipe={"size": "3/4 in"}))) == "cut"
    assert ends_for(skin_of(raised(cover={"shape": "barn"}))) == "folded"
