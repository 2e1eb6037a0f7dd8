"""Panels on a frame that stays: they close at any size, lie clear of it, and come up about their hinge line."""

from __future__ import annotations

import math
import random
from itertools import combinations, pairwise
from typing import Any

import pytest
from test_frame_bodies import opened
from test_frame_closes import bends, own_rows

from clochewright.catalogue import Catalogue, load_catalogue
from clochewright.errors import PlanError
from clochewright.frame import Frame, Pipe, Vec, covers, moving_bodies, raise_frame
from clochewright.plan import Plan, plan_from_si
from properties.closing import faults
from properties.plans import random_plan

SHAPES = ("tent", "barn", "lean-to", "own")
BED = {"length_m": 2.4, "width_m": 1.2, "board_m": 0.038}


def panelled(draw: random.Random, shape: str) -> dict[str, Any]:
    wish = random_plan(draw, (shape,))
    wish["lid"] = {"opens": "slope" if shape == "lean-to" else "roof side"}
    wish["panel"] = {
        "side": draw.choice(("left", "right", "both")),
        "hinge": draw.choice(("top", "bottom")),
        "count": draw.choice((1, 1, 2)),
        "clearance_m": draw.uniform(0.0, 0.02),
        "rafter_bay_m": draw.choice((None, draw.uniform(0.4, 2.0))),
    }
    return wish


def raised(wish: dict[str, Any]) -> tuple[Plan, Catalogue, Frame]:
    plan = plan_from_si(wish)
    catalogue = load_catalogue(own_fittings=own_rows(plan), pipe=plan.pipe.size)
    return plan, catalogue, raise_frame(plan, catalogue)


def refusal(plan: Plan, without: Frame) -> set[str]:
    """For which reasons a panel may be refused on a frame that stands without one."""
    found = set()
    if without.recipes.get("apex") == "flat":
        found.add("frame.panel-flat-apex")
    if plan.panel.hinge == "bottom" and without.recipes.get("eave") == "in-line":
        found.add("frame.panel-no-rail")
    if plan.cover.shape == "own" and any(
        abs(pipe.path_m[0][2] - pipe.path_m[-1][2]) < 0.01 * pipe.cut_length_m or pipe.role == "post"
        for pipe in without.pipes
        if pipe.role in ("rafter", "post")
    ):
        found.add("frame.panel-pitch")
    return found


def apart_m(one: Pipe, other: Pipe) -> float:
    """Least distance between two straight pipes' middles, by trying points along both (no formula of the product's)."""
    steps = 40

    def points(pipe: Pipe) -> list[Vec]:
        a, b = pipe.path_m[0], pipe.path_m[-1]
        return [tuple(p + (q - p) * i / steps for p, q in zip(a, b, strict=True)) for i in range(steps + 1)]  # type: ignore[misc]

    return min(math.dist(p, q) for p in points(one) for q in points(other))


@pytest.mark.parametrize("shape", SHAPES)
def test_panels_close_at_any_size(shape: str) -> None:
    """300 random beds over the shapes, every one closed by the tests' own check or refused for a reason that holds."""
    draw = random.Random(f"panels on a {shape}")
    stood = 0
    while stood < 300 / len(SHAPES):
        wish = panelled(draw, shape)
        plan, catalogue, frame = raised(wish)
        if not frame.stands:
            _, _, without = raised({key: value for key, value in wish.items() if key not in ("lid", "panel")})
            assert not without.stands or frame.findings[0].key in refusal(plan, without), (wish, frame.findings)
            continue
        stood += 1
        assert faults(frame, bends(catalogue, frame.pipe_key)) == [], wish
        bodies = {pipe.body for pipe in frame.pipes}
        assert {fitting.body for fitting in frame.fittings} == bodies
        sides = 2 if plan.panel.side == "both" and shape != "lean-to" else 1
        assert len(bodies) == plan.covers_count * (1 + sides * plan.panel.count)


def test_no_socket_joins_two_bodies() -> None:
    _, _, frame = raised({"bed": BED, "lid": {"opens": "roof side"}})
    for pipe in frame.pipes:
        for end in pipe.ends:
            assert end.fitting is not None
            assert frame.fitting(end.fitting).body == pipe.body


@pytest.mark.parametrize("shape", SHAPES)
def test_what_stays_is_the_frame_that_would_have_been_built_anyway(shape: str) -> None:
    wish: dict[str, Any] = {"bed": BED, "cover": {"shape": shape}}
    if shape == "own":
        wish["profile"] = {"points": [{"in_m": 0.1, "up_m": 0.4}, {"in_m": 0.4, "up_m": 0.65}]}
    _, _, whole = raised(wish)
    opens = "slope" if shape == "lean-to" else "roof side"
    _, _, frame = raised(wish | {"lid": {"opens": opens}, "panel": {"count": 2}})
    ((stays, middle_m),) = covers(frame)
    assert middle_m == pytest.approx(0.0, abs=1e-12)
    assert {pipe.body for pipe in stays.pipes} == {"frame"}
    assert [(p.role, round(p.cut_length_m, 9)) for p in stays.pipes] == [
        (p.role, round(p.cut_length_m, 9)) for p in whole.pipes
    ]
    assert (frame.length_m, frame.width_m, frame.stations_m) == (whole.length_m, whole.width_m, whole.stations_m)
    assert frame.height_m > whole.height_m


def test_the_cuts_of_a_lean_to_s_slope_by_hand() -> None:
    """A slope of 1 in pipe on a bed of 8 ft by 4 ft: every length put together from the fittings' own figures."""
    plan, catalogue, frame = raised({"bed": BED, "cover": {"shape": "lean-to"}, "lid": {"opens": "slope"}})
    rows = {row.kind: row for row in catalogue.fittings(frame.pipe_key)}
    hub_m = max(rows["elbow-90"].hub_diameter.value, rows["tee"].hub_diameter.value)
    elbow = {socket.name: socket.centre_to_stop.value for socket in rows["elbow-90"].sockets}
    tee = {socket.name: socket.centre_to_stop.value for socket in rows["tee"].sockets}
    # the slope runs from middle to middle of its rails; its panel ends half a hub below the upper one
    slope_m = math.hypot(frame.base_width_m, plan.lean_to.back_m - plan.lean_to.front_m)
    # and runs from the outermost fittings on the upper rail to those at the far end, over the rafter between them
    eaves = [fitting.position_m[0] for fitting in frame.fittings if fitting.role in ("eave", "eave elbow")]
    between = sorted(pipe.path_m[0][0] for pipe in frame.pipes if pipe.role == "rafter")[1:-1]
    places = [min(eaves), *between, max(eaves)]
    cuts = {
        kind: sorted({round(pipe.cut_length_m, 6) for pipe in frame.pipes if pipe.role == kind})
        for kind in ("panel rail", "panel rafter")
    }
    elbows_m, tees_m = slope_m - hub_m / 2 - 2 * elbow["b"], slope_m - hub_m / 2 - 2 * tee["branch"]
    assert cuts["panel rafter"] == sorted({round(elbows_m, 6), round(tees_m, 6)})
    assert len(places) == 3
    bays = [b - a for a, b in pairwise(places)]
    assert cuts["panel rail"] == sorted({round(bay - elbow["a"] - tee["run-a"], 6) for bay in bays})
    assert sum(pipe.role == "panel rafter" for pipe in frame.pipes) == 3
    assert sum(pipe.role == "panel rail" for pipe in frame.pipes) == 4
    kinds = [fitting.kind for fitting in frame.fittings if fitting.body == "panel-1"]
    assert sorted(kinds) == ["elbow-90"] * 4 + ["tee"] * 2


def test_fewer_rafters_where_the_panel_s_own_bay_is_longer() -> None:
    bed = BED | {"length_m": 3.6}
    _, _, over = raised({"bed": bed, "cover": {"bay_m": 0.7}, "lid": {"opens": "roof side"}})
    _, _, fewer = raised(
        {"bed": bed, "cover": {"bay_m": 0.7}, "lid": {"opens": "roof side"}, "panel": {"rafter_bay_m": 2.0}}
    )
    count = [sum(pipe.role == "panel rafter" for pipe in frame.pipes) for frame in (over, fewer)]
    assert count == [len(over.stations_m), 3]


@pytest.mark.parametrize("shape", ["tent", "barn", "lean-to"])
@pytest.mark.parametrize("hinge", ["top", "bottom"])
def test_a_panel_lies_clear_and_comes_up_clear_of_what_stays(shape: str, hinge: str) -> None:
    """Tried point by point, pipe against pipe, shut and at every 15 degrees up to a right angle."""
    opens = "slope" if shape == "lean-to" else "roof side"
    wish = {
        "bed": {"length_m": 1.2, "width_m": 0.9},
        "cover": {"shape": shape, "pitch_deg": 35.0 if shape != "lean-to" else None},
        "barn": {"eaves": "butted"},
        "lid": {"opens": opens},
        "panel": {"hinge": hinge},
    }
    plan, _, frame = raised(wish)
    (body,) = moving_bodies(frame, plan)
    pipe_m = frame.pipe_outside_diameter_m
    fixed = [pipe for pipe in frame.pipes if pipe.body == "frame" and pipe.role != "stub"]
    panel = [pipe for pipe in frame.pipes if pipe.body == "panel-1" and pipe.role != "stub"]
    for angle_deg in range(0, 91, 15):
        turned = [
            Pipe(p.id, p.role, p.cut_length_m, p.ends, tuple(opened(at, body, angle_deg) for at in p.path_m))
            for p in panel
        ]
        nearest = min(apart_m(one, other) for one in turned for other in fixed)
        assert nearest > pipe_m - 0.001, (shape, hinge, angle_deg)


@pytest.mark.parametrize("hinge", ["top", "bottom"])
@pytest.mark.parametrize("side", ["left", "right"])
def test_a_panel_knows_its_rails_and_those_it_lies_on(side: str, hinge: str) -> None:
    plan, _, frame = raised({"bed": BED, "lid": {"opens": "roof side"}, "panel": {"side": side, "hinge": hinge}})
    (body,) = moving_bodies(frame, plan)
    assert (body.id, body.kind) == ("panel-1", "panel")
    pipes = {pipe.id: pipe for pipe in frame.pipes}
    heights = [{round(pipes[name].path_m[0][2], 6) for name in names} for names in (body.hinge_pipes, body.free_pipes)]
    assert [len(one) for one in heights] == [1, 1]
    assert (max(heights[0]) > max(heights[1])) == (hinge == "top")
    roles = [{pipes[name].role for name in names} for names in (body.hinge_on, body.latch_on)]
    assert roles == ([{"ridge"}, {"side rail"}] if hinge == "top" else [{"side rail"}, {"ridge"}])
    sign = 1.0 if side == "left" else -1.0
    low_on = body.latch_on if hinge == "top" else body.hinge_on
    assert all(pipes[name].path_m[0][1] * sign > 0 for name in low_on)
    # whichever edge it turns about, the free one goes up
    for edge in body.free_line_m:
        assert opened(edge, body, 10.0)[2] > edge[2]


def test_two_panels_beside_each_other_keep_their_clearance() -> None:
    _, _, frame = raised(
        {"bed": BED, "lid": {"opens": "roof side"}, "panel": {"side": "both", "count": 2, "clearance_m": 0.012}}
    )
    hubs = [(f.body, f.position_m, f.hub_diameter_m) for f in frame.fittings if f.role == "panel corner"]
    gaps = [
        math.dist(one[1], other[1]) - (one[2] + other[2]) / 2
        for one, other in combinations(hubs, 2)
        if one[0] != other[0]
    ]
    assert min(gaps) == pytest.approx(0.012, abs=1e-9)


@pytest.mark.parametrize(
    ("wish", "says"),
    [
        ({"cover": {"shape": "tunnel"}, "lid": {"opens": "roof side"}}, "a tunnel is round"),
        ({"cover": {"shape": "lean-to"}, "lid": {"opens": "roof side"}}, "only its slope"),
        ({"cover": {"shape": "tent"}, "lid": {"opens": "slope"}}, "only a lean-to"),
        ({"cover": {"sections": 2}, "lid": {"opens": "halves"}}, "section by section"),
    ],
)
def test_what_a_shape_has_not_is_said_plainly(wish: dict[str, Any], says: str) -> None:
    with pytest.raises(PlanError) as refused:
        plan_from_si({"bed": BED} | wish)
    (mistake,) = refused.value.mistakes
    assert mistake.where == "lid.opens"
    assert says in mistake.what


def test_halves_are_two_lids_end_to_end() -> None:
    plan, _, frame = raised({"bed": BED, "lid": {"opens": "halves"}})
    bodies = moving_bodies(frame, plan)
    assert [(body.id, body.kind) for body in bodies] == [("lid-1", "half"), ("lid-2", "half")]
    _, _, sections = raised({"bed": BED, "cover": {"sections": 2}})
    assert frame.pipes == sections.pipes
