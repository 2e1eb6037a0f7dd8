"""Film over random beds, shapes and boxes of fittings: what must hold for every frame that stands."""

from __future__ import annotations

import math
import random

import numpy as np
import pytest
import trimesh
from plans import random_plan
from shapely.geometry import Polygon
from shapely.ops import unary_union

from clochewright.catalogue import load_catalogue, load_prices
from clochewright.film import cut_sheet
from clochewright.findings import say
from clochewright.frame import covers, raise_frame
from clochewright.lid import hang_lid
from clochewright.plan import plan_from_si

PRICES = load_prices()


@pytest.fixture(scope="module")
def films():
    """Frames that stand, each with its film, folded and cut in turn."""
    draw = random.Random(31)
    found = []
    for number in range(90):
        told = random_plan(draw)
        told["film"] = {
            "ends": ("best", "folded", "cut")[number % 3],
            "screw_points": draw.choice(("inside", "through")),
            "overhang_m": draw.choice((0.05, 0.2, 0.3048)),
            "more": [{"kind": "insect mesh"}] if number % 5 == 0 else [],
        }
        plan = plan_from_si(told)
        shop = load_catalogue(own_fittings=[one.model_dump() for one in plan.own.fittings], pipe=plan.pipe.size)
        frame = raise_frame(plan, shop)
        if frame.stands:
            found.append((plan, frame, cut_sheet(frame, plan, shop, hang_lid(frame, plan), PRICES)))
    assert len(found) > 60
    return found


def test_faces_lie_flat_at_their_own_size_and_have_the_area_of_the_skin(films):
    """Isometry edge by edge; area against the convex hull of the same corners (trimesh), without its open bottom."""
    for plan, _, film in films:
        faces = [face for piece in film.pattern.pieces for face in piece.faces]
        for face in faces:
            for i, (at, there) in enumerate(zip(face.flat, face.space, strict=True)):
                before, beyond = face.flat[i - 1], face.space[i - 1]
                assert math.dist(at, before) == pytest.approx(math.dist(there, beyond), abs=1e-6)
        flat_m2 = sum(Polygon(face.flat).area for face in faces)
        mesh = trimesh.convex.convex_hull(np.array([at for face in faces for at in face.space]))
        lowest = mesh.vertices[:, 2].min()
        bottom = (mesh.face_normals[:, 2] < -0.999) & (mesh.triangles[:, :, 2].max(axis=1) < lowest + 1e-6)
        assert flat_m2 == pytest.approx(mesh.area - mesh.area_faces[bottom].sum(), rel=1e-3), plan.cover


def test_nothing_lies_over_anything_else_and_all_of_it_is_inside_the_trim_line(films):
    for plan, _, film in films:
        for piece in film.pattern.pieces:
            trim = Polygon(piece.trim)
            assert trim.is_valid, plan.cover
            whole = unary_union([Polygon(face.flat).buffer(1e-7) for face in piece.faces])
            assert whole.area == pytest.approx(sum(Polygon(face.flat).area for face in piece.faces), rel=1e-4)
            assert whole.difference(trim.buffer(1e-6)).area < 1e-5, plan.cover
            (x0, y0), (x1, y1) = piece.low, piece.high
            assert all(x0 - 1e-9 <= x <= x1 + 1e-9 and y0 - 1e-9 <= y <= y1 + 1e-9 for x, y in piece.trim)


def test_the_marked_corners_are_the_frames(films):
    """Over all, the pattern's corners reach from end to end and from side to side of each cover, within 2 mm."""
    for _, frame, film in films:
        cover = covers(frame)[0][0]
        space = [at for _, at in film.pattern.corners]
        highest = max(at[2] for piece in film.pattern.pieces for face in piece.faces for at in face.space)
        assert highest == pytest.approx(cover.height_m, abs=0.002)
        if any(pipe.role == "side rail" for pipe in cover.pipes):
            assert max(x for x, _, _ in space) - min(x for x, _, _ in space) == pytest.approx(cover.length_m, abs=0.002)
            feet = [y for i, (_, y, _) in enumerate(space) if i in (0, len(space) // 2 - 1)]
            assert max(feet) - min(feet) == pytest.approx(cover.width_m, abs=0.002)


def test_rolls_hold_the_sheets(films):
    for _, _, film in films:
        if film.roll is None:
            assert any(finding.key == "film.no-roll" for finding in film.findings)
            continue
        placed = [p for roll in film.rolls for p in roll.placed]
        assert sorted(p.sheet.area_m2 for p in placed) == pytest.approx(sorted(s.area_m2 for s in film.sheets))
        assert all(
            p.along_m + p.run_m <= roll.length_m + 1e-5 and p.across_m + p.breadth_m <= roll.width_m + 1e-5
            for roll in film.rolls
            for p in roll.placed
        )


def test_laths_go_round_every_cover(films):
    for plan, frame, film in films:
        assert len(film.laths) == 4 * plan.cover.sections
        for lath in film.laths:
            assert 0 < sum(lath.pieces_m) <= lath.length_m + 1e-9
            assert all(any(a <= screw <= b for a, b in lath.runs_m) for screw in lath.screws_m)
        assert film.slack_m >= 0
        assert film.panel.span_m > 0
        assert frame.stands


def test_all_findings_have_words(films):
    for plan, _, film in films:
        for finding in film.findings:
            words = say(finding, plan.units)
            assert words.what
            assert "nan" not in words.what + words.why
