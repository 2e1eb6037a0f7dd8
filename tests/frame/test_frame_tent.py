"""What the tent's recipes promise, and what is refused in words."""

from __future__ import annotations

import math
from typing import Any

import pytest

from clochewright.catalogue import load_catalogue
from clochewright.findings import Level
from clochewright.frame import Frame, raise_frame
from clochewright.plan import plan_from_si


def tent(length_m: float = 2.4, width_m: float = 1.2, bench: str = "furniture", **cover: Any) -> Frame:
    plan = plan_from_si(
        {"bed": {"length_m": length_m, "width_m": width_m}, "cover": cover, "pipe": {"size": "1 in", "bench": bench}}
    )
    return raise_frame(plan, load_catalogue())


def keys(frame: Frame) -> list[str]:
    return [finding.key for finding in frame.findings]


def test_the_best_apex_is_pointed_when_its_fittings_can_be_had() -> None:
    assert tent().recipes["apex"] == "pointed"
    assert tent(bench="plumbing").recipes["apex"] == "butted"


def test_any_pitch_is_built_with_butted_tees() -> None:
    frame = tent(apex="best", pitch_deg=33.0)
    assert frame.recipes["apex"] == "butted"
    assert frame.pitch_deg == pytest.approx(33.0)


def test_a_height_sets_the_pitch() -> None:
    frame = tent(apex="butted", height_m=0.9)
    assert frame.height_m == pytest.approx(0.9, abs=1e-9)


@pytest.mark.parametrize("apex", ["pointed", "flat"])
def test_a_pitch_that_no_elbow_makes_is_refused_with_the_way_out(apex: str) -> None:
    frame = tent(apex=apex, pitch_deg=33.0)
    assert keys(frame) == ["frame.no-elbow-for-pitch"]
    assert frame.findings[0].level is Level.STOP
    assert frame.findings[0].change is not None
    mended = tent(pitch_deg=33.0, **{frame.findings[0].change.path.split(".")[1]: frame.findings[0].change.value})
    assert mended.stands


def test_a_height_that_no_elbow_makes_names_the_nearest() -> None:
    frame = tent(apex="flat", height_m=0.9)
    assert keys(frame) == ["frame.no-such-height"]
    nearest_m = frame.findings[0].values["nearest_m"]
    assert tent(apex="flat", height_m=nearest_m).height_m == pytest.approx(nearest_m, abs=0.0127)


def test_butted_rafters_stand_side_by_side_and_their_feet_with_them() -> None:
    frame = tent(apex="butted")
    left = sorted(p.path_m[0][0] for p in frame.pipes if p.role == "rafter" and p.path_m[0][1] > 0)
    right = sorted(p.path_m[-1][0] for p in frame.pipes if p.role == "rafter" and p.path_m[-1][1] < 0)
    shift_m = {round(a - b, 9) for a, b in zip(left, right, strict=True)}
    assert len(shift_m) <= 2  # one shift at the ends (elbow and tee), one within (two tees)
    assert min(shift_m) > 0.05
    # turned half round, the two ends change places
    assert [left[0], left[-1]] == pytest.approx([-right[-1], -right[0]])


def test_braces_can_be_left_out() -> None:
    assert not [p for p in tent(braces="none").pipes if p.role == "brace"]
    assert len([p for p in tent(length_m=3.6).pipes if p.role == "brace"]) == len(tent(length_m=3.6).stations_m) - 2


def test_a_dry_frame_has_longer_pipes_standing_less_deep() -> None:
    wish = {"bed": {"length_m": 2.4, "width_m": 1.2}, "pipe": {"size": "1 in", "bench": "furniture"}}
    home = raise_frame(plan_from_si(wish), load_catalogue())
    dry = raise_frame(plan_from_si(wish | {"joints": {"seat": "dry"}}), load_catalogue())
    for a, b in zip(home.pipes, dry.pipes, strict=True):
        assert b.cut_length_m < a.cut_length_m
        assert b.ends[0].seat_depth_m < a.ends[0].seat_depth_m
    assert home.length_m == pytest.approx(dry.length_m)  # the planned size is kept; the pipes are cut to suit


def test_the_diagonal_is_the_one_of_the_base() -> None:
    frame = tent()
    corners = [f.position_m for f in frame.fittings if f.role == "corner"]
    assert frame.diagonal_m == pytest.approx(max(math.dist(corners[0], c) for c in corners))


def test_the_trade_warns() -> None:
    assert "frame.wide" in keys(tent(length_m=3.0, width_m=2.6))
    assert "frame.long" in keys(tent(length_m=6.2))
    assert "frame.long-bay" in keys(tent(length_m=3.6, bents=2))
    assert not keys(tent())


def test_a_bed_too_short_for_its_bents_is_refused_by_name() -> None:
    assert keys(tent(length_m=1.0, width_m=0.9, bents=12)) == ["frame.too-short"]
