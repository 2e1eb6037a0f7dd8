"""Where only a panel opens, straps hold the frame that stays; hinges and latches are on the panel."""

from __future__ import annotations

from typing import Any

import pytest

from clochewright.catalogue import load_catalogue
from clochewright.frame import Frame, raise_frame
from clochewright.lid import LidPlan, hang_lid, hinge_count
from clochewright.plan import plan_from_si

BED = {"length_m": 2.4, "width_m": 1.2, "board_m": 0.038}


def hung(wish: dict[str, Any]) -> tuple[Frame, LidPlan]:
    plan = plan_from_si({"bed": BED} | wish)
    frame = raise_frame(plan, load_catalogue(pipe=plan.pipe.size))
    return frame, hang_lid(frame, plan)


@pytest.mark.parametrize("shape", ["tent", "barn", "lean-to"])
def test_straps_hold_what_stays_along_both_long_sides(shape: str) -> None:
    frame, lid = hung({"cover": {"shape": shape}, "lid": {"opens": "slope" if shape == "lean-to" else "roof side"}})
    pipes = {pipe.id: pipe for pipe in frame.pipes}
    assert {(pipes[strap.pipe].body, pipes[strap.pipe].role) for strap in lid.saddles} == {("frame", "side rail")}
    for side in (1, -1):
        mine = [strap for strap in lid.saddles if strap.position_m[1] * side > 0]
        assert len(mine) == hinge_count(frame.length_m)
        for strap in mine:
            ends = sorted(point[0] for point in pipes[strap.pipe].path_m)
            assert ends[0] < strap.position_m[0] < ends[1]


def test_hinges_and_latches_are_on_the_panel_s_rails() -> None:
    frame, lid = hung({"lid": {"opens": "roof side"}, "panel": {"side": "both", "count": 2}})
    pipes = {pipe.id: pipe for pipe in frame.pipes}
    assert {pipes[one.pipe].role for one in (*lid.hinges, *lid.latches)} == {"panel rail"}
    for leaf in lid.leaves:
        assert {pipes[one.pipe].body for one in (*leaf.hinges, *leaf.latches)} == {leaf.body.id}
        assert len(leaf.hinges) >= 2


def test_a_cover_that_opens_as_a_whole_has_no_straps() -> None:
    _, lid = hung({})
    assert lid.saddles == ()
