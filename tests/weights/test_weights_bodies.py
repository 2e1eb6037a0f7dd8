"""Body by body the masses are all there is, and each panel's balance point is where it should be."""

from __future__ import annotations

from typing import Any

import pytest

from clochewright.catalogue import load_catalogue
from clochewright.film import cut_sheet
from clochewright.frame import Frame, moving_bodies, raise_frame
from clochewright.joints import choose_joints
from clochewright.lid import hang_lid
from clochewright.plan import Plan, plan_from_si
from clochewright.weights import Weights, weigh

BED = {"length_m": 2.4, "width_m": 1.2, "board_m": 0.038}
PANELS: tuple[dict[str, Any], ...] = (
    {"lid": {"opens": "roof side"}},
    {"lid": {"opens": "roof side"}, "panel": {"side": "both", "count": 2}},
    {"cover": {"shape": "barn"}, "lid": {"opens": "roof side"}, "panel": {"side": "left", "hinge": "top"}},
    {"cover": {"shape": "lean-to"}, "lid": {"opens": "slope"}, "panel": {"count": 3}},
    {"cover": {"sections": 2}, "lid": {"opens": "roof side"}},
)


def weighed(wish: dict[str, Any]) -> tuple[Plan, Frame, Weights]:
    plan = plan_from_si({"bed": BED} | wish)
    catalogue = load_catalogue(pipe=plan.pipe.size)
    frame = raise_frame(plan, catalogue)
    lid = hang_lid(frame, plan)
    film = cut_sheet(frame, plan, catalogue, lid)
    pipe = catalogue.find_pipe(plan.pipe.size)
    return plan, frame, weigh(frame, film, lid, choose_joints(frame, plan), catalogue, pipe)


@pytest.mark.parametrize("wish", PANELS)
def test_the_bodies_are_all_there_is(wish: dict[str, Any]) -> None:
    _, frame, weights = weighed(wish)
    assert set(weights.bodies) == {pipe.body for pipe in frame.pipes}
    whole = weights.lid_kg
    for part in ("value", "low", "high"):
        assert sum(getattr(body.mass_kg, part) for body in weights.bodies.values()) == pytest.approx(
            getattr(whole, part)
        )
    for axis in range(3):
        moment = sum(body.mass_kg.value * body.centre_m[axis] for body in weights.bodies.values())
        assert moment == pytest.approx(whole.value * weights.centre_m[axis], abs=1e-9)


@pytest.mark.parametrize("wish", PANELS)
def test_a_panel_balances_near_its_middle_in_its_own_plane(wish: dict[str, Any]) -> None:
    """A flat rectangle with like edges balances at its middle; hinges and latches draw it aside by a little."""
    plan, frame, weights = weighed(wish)
    for body in moving_bodies(frame, plan):
        corners = (*body.hinge_line_m, *body.free_line_m)
        middle = [sum(point[axis] for point in corners) / 4 for axis in range(3)]
        assert weights.bodies[body.id].centre_m == pytest.approx(middle, abs=0.05)


def test_a_panel_s_pipe_and_fittings_by_hand() -> None:
    """With no film, lath or hardware to speak of, a panel weighs its pipes and its fittings."""
    plan, frame, weights = weighed(PANELS[0])
    catalogue = load_catalogue(pipe=plan.pipe.size)
    per_metre = catalogue.find_pipe(plan.pipe.size).mass_kg_m
    assert per_metre is not None
    bare_kg = sum(pipe.cut_length_m for pipe in frame.pipes if pipe.body == "panel-1") * per_metre.value
    bare_kg += sum(weights.fitting_kg[fitting.kind].value for fitting in frame.fittings if fitting.body == "panel-1")
    body_kg = weights.bodies["panel-1"].mass_kg.value
    # film of 0.14 kg/m2, four laths of some 0.1 kg/m and hinges come on top: about a kilogram and a half
    assert 0.5 < body_kg - bare_kg < 3.0
