"""What opens, and the line it turns about."""

from __future__ import annotations

import math
from typing import Any

import pytest

from clochewright.catalogue import load_catalogue
from clochewright.frame import Body, Frame, Vec, moving_bodies, raise_frame
from clochewright.plan import Plan, plan_from_si

BED: dict[str, Any] = {"bed": {"length_m": 2.4, "width_m": 1.2, "board_m": 0.038}}


def opened(point: Vec, body: Body, angle_deg: float) -> Vec:
    """Rodrigues' rotation about the hinge line (from memory), by the right-hand rule and the body's own way."""
    (ax, ay, az), end = body.hinge_line_m
    axis = [b - a for a, b in zip(body.hinge_line_m[0], end, strict=True)]
    size = math.hypot(*axis)
    kx, ky, kz = (part / size for part in axis)
    x, y, z = point[0] - ax, point[1] - ay, point[2] - az
    turn = math.radians(angle_deg) * body.toward
    c, s = math.cos(turn), math.sin(turn)
    along = (kx * x + ky * y + kz * z) * (1 - c)
    return (
        ax + x * c + (ky * z - kz * y) * s + kx * along,
        ay + y * c + (kz * x - kx * z) * s + ky * along,
        az + z * c + (kx * y - ky * x) * s + kz * along,
    )


def raised(**plan: Any) -> tuple[Plan, Frame]:
    wish = plan_from_si(BED | plan)
    return wish, raise_frame(wish, load_catalogue(pipe=wish.pipe.size))


@pytest.mark.parametrize("side", ["left", "right"])
def test_a_whole_cover_turns_about_the_outer_edge_of_its_hinge_side(side: str) -> None:
    plan, frame = raised(lid={"hinge_side": side})
    (body,) = moving_bodies(frame, plan)
    assert (body.id, body.kind) == ("lid", "cover")
    sign = 1.0 if side == "left" else -1.0
    assert {y for _, y, _ in body.hinge_line_m} == {sign * frame.width_m / 2}
    rails = {pipe.id: pipe for pipe in frame.pipes}
    assert all(rails[name].path_m[0][1] * sign > 0 for name in body.hinge_pipes)
    assert all(rails[name].path_m[0][1] * sign < 0 for name in body.free_pipes)
    for edge in body.free_line_m:
        # after a quarter turn the free edge stands upright over the hinge line, as high as the lid is wide
        _, y, z = opened(edge, body, 90.0)
        assert (y, z) == pytest.approx((sign * frame.width_m / 2, frame.width_m))


def test_each_cover_of_a_row_turns_by_itself() -> None:
    plan, frame = raised(cover={"sections": 2})
    bodies = moving_bodies(frame, plan)
    assert [body.id for body in bodies] == ["lid-1", "lid-2"]
    pipes = {pipe.id: pipe for pipe in frame.pipes}
    for body in bodies:
        assert {pipes[name].body for name in (*body.hinge_pipes, *body.free_pipes)} == {body.id}
    assert bodies[0].hinge_line_m[1][0] < bodies[1].hinge_line_m[0][0]


def test_hoops_in_sleeves_open_nothing() -> None:
    plan, frame = raised(cover={"shape": "tunnel"}, hoops={"feet": "sleeves-inside"}, pipe={"size": "1/2 in Sch 40"})
    assert frame.stands
    assert moving_bodies(frame, plan) == ()
