"""Film in bodies: what stays on the frame and what is on the panels is all of the cover, and sheets are as by hand."""

from __future__ import annotations

import math
from typing import Any

import pytest

from clochewright.catalogue import load_catalogue
from clochewright.film import FilmPlan, cut_sheet
from clochewright.film.pattern import area_m2
from clochewright.film.skin import skin_of
from clochewright.frame import Frame, covers, moving_bodies, raise_frame
from clochewright.lid import hang_lid
from clochewright.plan import Plan, plan_from_si

BED = {"length_m": 2.4, "width_m": 1.2, "board_m": 0.038}
SHAPES: dict[str, dict[str, Any]] = {
    "tent": {"lid": {"opens": "roof side"}},
    "tent, both sides": {"lid": {"opens": "roof side"}, "panel": {"side": "both"}},
    "barn": {"cover": {"shape": "barn"}, "lid": {"opens": "roof side"}, "panel": {"side": "left"}},
    "barn, both sides": {"cover": {"shape": "barn"}, "lid": {"opens": "roof side"}, "panel": {"side": "both"}},
    "lean-to": {"cover": {"shape": "lean-to"}, "lid": {"opens": "slope"}},
    "lean-to, foot on the base": {
        "cover": {"shape": "lean-to"},
        "lean_to": {"front_m": 0.0, "high_side": "right"},
        "lid": {"opens": "slope"},
        "panel": {"hinge": "bottom"},
    },
}


def covered(wish: dict[str, Any]) -> tuple[Plan, Frame, FilmPlan]:
    plan = plan_from_si({"bed": BED, "film": {"ends": "cut"}} | wish)
    catalogue = load_catalogue(pipe=plan.pipe.size)
    frame = raise_frame(plan, catalogue)
    return plan, frame, cut_sheet(frame, plan, catalogue, hang_lid(frame, plan))


def by_body(film: FilmPlan) -> dict[str, float]:
    return {body.body: body.skin_m2 for body in film.bodies}


@pytest.mark.parametrize("shape", SHAPES)
def test_what_stays_and_the_openings_are_the_whole_skin(shape: str) -> None:
    """The whole cover's skin, less each opening taken as a polygon in space, is the film of the frame that stays."""
    wish = SHAPES[shape]
    _, _, whole = covered({key: value for key, value in wish.items() if key not in ("lid", "panel")})
    plan, frame, film = covered(wish)
    skin = skin_of(covers(frame)[0][0])
    openings_m2 = 0.0
    for body in moving_bodies(frame, plan):
        ends = [
            min(skin.corners, key=lambda i: math.dist(skin.section_m[i], line[0][1:]))
            for line in (body.hinge_line_m, body.free_line_m)
        ]
        first, last = sorted(ends)
        for i in range(first, last):
            run_m = math.dist(skin.section_m[i], skin.section_m[i + 1])
            lengths = [skin.far_m[k] - skin.front_m[k] for k in (i, i + 1)]
            openings_m2 += run_m * sum(lengths) / 2  # a trapezium between two lines along the bed
    assert by_body(film)["frame"] + openings_m2 == pytest.approx(by_body(whole)["lid"], rel=1e-9)


@pytest.mark.parametrize("shape", SHAPES)
def test_every_sheet_belongs_to_one_body(shape: str) -> None:
    _, frame, film = covered(SHAPES[shape])
    assert {body.body for body in film.bodies} == {pipe.body for pipe in frame.pipes}
    sheets = [sheet for body in film.bodies for sheet in body.sheets]
    assert sum(sheet.area_m2 for sheet in sheets) == pytest.approx(film.area_m2)
    for piece in film.pattern.pieces:
        inside = sum(abs(area_m2(face.flat)) for face in piece.faces)
        assert inside <= abs(area_m2(piece.trim)) + 1e-9 <= piece.length_m * piece.width_m + 2e-9


@pytest.mark.parametrize("shape", SHAPES)
def test_faces_are_as_large_in_space_as_in_the_flat(shape: str) -> None:
    """Film does not stretch: every edge of a face is as long on the sheet as on the cover."""
    _, _, film = covered(SHAPES[shape])
    for piece in film.pattern.pieces:
        for face in piece.faces:
            for i in range(len(face.flat)):
                flat_m = math.dist(face.flat[i - 1], face.flat[i])
                assert flat_m == pytest.approx(math.dist(face.space[i - 1], face.space[i]), abs=1e-9)


def test_a_panel_s_sheet_by_hand() -> None:
    """From rafter to rafter and rail to rail, half round the fittings on each side, and the overhang."""
    plan, frame, film = covered(SHAPES["lean-to"])
    rafters = [pipe for pipe in frame.pipes if pipe.role == "panel rafter"]
    rails = {round(fitting.position_m[1], 6): fitting.position_m for fitting in frame.fittings
             if fitting.body == "panel-1"}  # fmt: skip
    assert len(rails) == 2
    (high, low) = rails.values()
    hub_m = max(fitting.hub_diameter_m for fitting in frame.fittings if fitting.body == "panel-1")
    more_m = 2 * (math.pi * hub_m / 2 + plan.film.overhang_m)
    places = [pipe.path_m[0][0] for pipe in rafters]
    (panel,) = [body for body in film.bodies if body.body == "panel-1"]
    (sheet,) = panel.sheets
    assert sheet.length_m == pytest.approx(max(places) - min(places) + more_m)
    assert sheet.width_m == pytest.approx(math.dist(high[1:], low[1:]) + more_m)
    assert panel.skin_m2 == pytest.approx((sheet.length_m - more_m) * (sheet.width_m - more_m))


def test_each_edge_has_its_lath() -> None:
    plan, frame, film = covered(SHAPES["barn"] | {"panel": {"side": "left", "count": 2}})
    sides = [(lath.body, lath.side) for lath in film.laths]
    for panel in ("panel-1", "panel-2"):
        assert [side for body, side in sides if body == panel] == [
            "panel-top", "panel-bottom", "panel-front", "panel-far",
        ]  # fmt: skip
    # the opening in the roof of a barn has an edge at the ridge and one at the eave
    assert [side for body, side in sides if body == "frame"] == [
        "left", "right", "front", "far", "opening-bottom", "opening-top",
    ]  # fmt: skip
    panels = moving_bodies(frame, plan)
    for body in panels:
        length_m = body.hinge_line_m[1][0] - body.hinge_line_m[0][0]
        along = [lath.length_m for lath in film.laths if lath.body == body.id and lath.side == "panel-top"]
        assert along == [pytest.approx(length_m)]


def test_a_gable_under_an_opening_laps_over_its_edge() -> None:
    _, _, film = covered(SHAPES["lean-to"])
    _, _, whole = covered({"cover": {"shape": "lean-to"}})
    for with_lap, without in zip(film.pattern.gables, whole.pattern.gables, strict=True):
        assert with_lap.faces == without.faces
        # 125 mm along the opening: strips and gables lap by 100 to 150 mm, common practice, no source
        moved = [round(math.dist(a, b), 9) for a, b in zip(with_lap.trim, without.trim, strict=True)]
        assert set(moved) == {0.0, 0.125}
        assert abs(area_m2(with_lap.trim)) > abs(area_m2(without.trim)) + 0.125


def test_one_body_has_all_the_film_of_a_whole_cover() -> None:
    _, _, film = covered({})
    (body,) = film.bodies
    assert (body.body, body.area_m2) == ("lid", pytest.approx(film.area_m2))
