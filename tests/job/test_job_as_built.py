"""As built: what is cut stays, the rest is solved again; what can't be suited is named as by hand."""

from __future__ import annotations

import math
import random
from typing import Any

import pytest

from clochewright.catalogue import Catalogue, load_catalogue
from clochewright.cuts import cut_lengths, dry_size
from clochewright.findings import Level
from clochewright.frame import Frame, raise_frame
from clochewright.job.as_built import AsBuilt, suit_the_build
from clochewright.plan import Plan, plan_from_si
from properties.closing import faults
from properties.plans import random_plan

INCH_M = 0.0254
HUB_M = 1.625 * INCH_M
FACE_M = (13 / 16 + 1) * INCH_M
KINDS = ("elbow-90", "elbow-45", "tee", "cross", "side-outlet-elbow", "side-outlet-tee")
MEASURED = [
    {"kind": kind, "socket_depth_m": INCH_M, "centre_to_stop_m": 13 / 16 * INCH_M, "hub_m": HUB_M} for kind in KINDS
]


def suited(wish: dict[str, Any]) -> tuple[Plan, Catalogue, Frame, AsBuilt]:
    plan = plan_from_si(wish)
    catalogue = load_catalogue(own_fittings=[f.model_dump() for f in plan.own.fittings], pipe=plan.pipe.size)
    planned = raise_frame(plan, catalogue)
    dry = dry_size(planned, catalogue)
    return plan, catalogue, planned, suit_the_build(plan, planned, dry, lambda p, a: raise_frame(p, catalogue, a))


def bed(built: list[dict[str, Any]], half_m: float = 30 * INCH_M, **cover: Any) -> dict[str, Any]:
    """A bed whose base is `half_m` from the middle to the pipe, with fittings of one size throughout."""
    return {
        "bed": {"length_m": 100 * INCH_M, "width_m": 2 * half_m + HUB_M},
        "cover": cover,
        "pipe": {"size": "1 in", "bench": "furniture"},
        "own": {"fittings": MEASURED},
        "built": built,
    }


@pytest.mark.parametrize("over_in", [2.0, 1.0, 0.5, 0.25, -0.5, -1.0, -2.0])
@pytest.mark.parametrize("half_in", [30.0, 22.0])
def test_a_rafter_of_another_length_misses_a_pointed_apex_by_as_much_as_by_hand(over_in: float, half_in: float) -> None:
    # by hand: a right triangle with the base held at `half_in`, whose slope should be half_in * sqrt(2) at 45 degrees
    slope_in = half_in * math.sqrt(2)
    cut_in = slope_in - 2 * FACE_M / INCH_M + 2 + over_in
    by_hand_deg = abs(math.degrees(math.acos(min(1.0, half_in / (slope_in + over_in)))) - 45)
    _, _, _, out = suited(bed([{"what": "rafter", "reading_m": cut_in * INCH_M}], half_in * INCH_M, apex="pointed"))
    finding = next(f for f in out.findings if f.level is Level.STOP)
    assert finding.key == ("job.rafter-too-long" if over_in > 0 else "job.rafter-too-short")
    assert finding.values["off_m"] == pytest.approx(abs(over_in) * INCH_M, abs=1e-9)
    assert finding.values["off_deg"] == pytest.approx(by_hand_deg, abs=1e-6)


@pytest.mark.parametrize("over_in", [2.0, 0.5, -0.5, -4.0])
def test_butted_rafters_of_another_length_change_the_pitch_as_by_hand(over_in: float) -> None:
    # by hand: the same triangle; two butted tees take any slope, so the pitch is acos(base / slope)
    slope_in = 30 * math.sqrt(2)
    cut_in = slope_in - 2 * FACE_M / INCH_M + 2 + over_in
    _, _, planned, out = suited(bed([{"what": "rafter", "reading_m": cut_in * INCH_M}], apex="butted"))
    assert out.frame.pitch_deg == pytest.approx(math.degrees(math.acos(30 / (slope_in + over_in))), abs=1e-9)
    assert not [f for f in out.findings if f.level is Level.STOP]
    assert out.frame.length_m == pytest.approx(planned.length_m)


def test_a_rafter_too_short_to_reach_is_refused_even_by_butted_tees() -> None:
    _, _, _, out = suited(bed([{"what": "rafter", "reading_m": 20 * INCH_M}], apex="butted"))
    assert any(f.level is Level.STOP for f in out.findings)


def test_short_rafters_get_longer_stubs_beside_a_flat_apex() -> None:
    plain = suited(bed([], apex="flat"))[2]
    cut_m = next(p.cut_length_m for p in plain.pipes if p.role == "rafter") - INCH_M
    _, _, _, out = suited(bed([{"what": "rafter", "reading_m": cut_m}], apex="flat"))
    assert not [f for f in out.findings if f.level is Level.STOP]
    assert {round(p.cut_length_m, 9) for p in out.frame.pipes if p.role == "rafter"} == {round(cut_m, 9)}
    # by hand: a slope an inch shorter at 45 degrees leaves 1 / sqrt(2) in more to bridge on each side
    apex = [f.position_m for f in out.frame.fittings if f.role == "apex elbow"]
    before = [f.position_m for f in plain.fittings if f.role == "apex elbow"]
    grown_m = max(p[1] for p in apex) - max(p[1] for p in before)
    assert grown_m == pytest.approx(INCH_M / math.sqrt(2), abs=1e-9)


def test_a_base_that_came_out_longer_gets_longer_ridge_pieces() -> None:
    wish = bed([{"what": "base length", "reading_m": 100.375 * INCH_M}], apex="pointed")
    _, _, planned, out = suited(wish)
    assert out.frame.length_m == pytest.approx(100.375 * INCH_M)
    for before, after in zip(planned.pipes, out.frame.pipes, strict=True):
        bays = len(planned.bay_gaps_m)
        longer_m = after.cut_length_m - before.cut_length_m
        by_hand_m = 0.375 * INCH_M / bays if before.role in ("side rail", "ridge") else 0.0
        assert longer_m == pytest.approx(by_hand_m, abs=1e-9)
    assert any(f.key == "job.base-past-bed" for f in out.findings)


def test_end_rails_already_cut_settle_the_width() -> None:
    planned = suited(bed([], apex="butted"))[2]
    cut_m = next(p.cut_length_m for p in planned.pipes if p.role == "end rail") - 0.004
    _, _, _, out = suited(bed([{"what": "end rail", "reading_m": cut_m}], apex="butted"))
    assert out.frame.width_m == pytest.approx(planned.width_m - 0.004)
    assert {round(p.cut_length_m, 9) for p in out.frame.pipes if p.role in ("end rail", "brace")} == {round(cut_m, 9)}


def test_a_dry_reading_in_its_range_changes_nothing_and_says_do_not_trim() -> None:
    wish = bed([], apex="butted") | {"own": {"fittings": []}}
    plan, catalogue, planned, _ = suited(wish)
    size = dry_size(planned, catalogue).size("length")
    assert size is not None
    dry_m = (size.dry_low_m + size.dry_high_m) / 2
    wish["built"] = [{"what": "base length", "reading_m": dry_m, "state": "dry"}]
    _, _, _, out = suited(wish)
    assert out.frame == planned
    (finding,) = [f for f in out.findings if f.key == "job.do-not-trim"]
    assert finding.values["excess_m"] == pytest.approx(dry_m - size.finished_m)
    assert plan.units == "inch"


def test_what_is_built_is_called_by_its_printed_mark() -> None:
    plan, _, planned, _ = suited(bed([], apex="butted"))
    cuts, mark_of = cut_lengths(planned, plan.units)
    rafter = next(p for p in planned.pipes if p.role == "rafter")
    wish = bed([{"what": mark_of[rafter.id], "reading_m": rafter.cut_length_m + 0.01}], apex="butted")
    _, _, _, out = suited(wish)
    now_m = next(p.cut_length_m for p in out.frame.pipes if p.id == rafter.id)
    assert now_m == pytest.approx(rafter.cut_length_m + 0.01)
    _, _, _, unknown = suited(bed([{"what": "ZZ", "reading_m": 1.0}]))
    assert [f.key for f in unknown.findings] == ["job.built-unknown"]
    assert cuts


def test_random_disturbed_builds_close_with_what_is_cut_or_name_the_misfit() -> None:
    draw = random.Random(7)
    suited_count = named = 0
    for _ in range(1000):
        wish = random_plan(draw)
        plan = plan_from_si(wish)
        catalogue = load_catalogue(own_fittings=[f.model_dump() for f in plan.own.fittings], pipe=plan.pipe.size)
        planned = raise_frame(plan, catalogue)
        if not planned.stands:
            continue
        marks = cut_lengths(planned, plan.units)[1]
        names = sorted({*marks.values()})
        built = [
            {"what": what, "reading_m": max(0.02, length_m + draw.uniform(-0.013, 0.013))}
            for what in draw.sample(names, min(len(names), draw.randint(1, 2)))
            for length_m in [next(p.cut_length_m for p in planned.pipes if marks[p.id] == what)]
        ]
        plan = plan_from_si(wish | {"built": built})
        dry = dry_size(planned, catalogue)
        out = suit_the_build(plan, planned, dry, lambda p, a, shelf=catalogue: raise_frame(p, shelf, a))
        pins = {p.id: b["reading_m"] for b in built for p in planned.pipes if marks[p.id] == b["what"]}
        if any(f.level is Level.STOP for f in out.findings):
            named += 1
            assert all(f.values for f in out.findings if f.level is Level.STOP)
            continue
        suited_count += 1
        bends = {row.kind: row.bend_deg for row in catalogue.fittings(out.frame.pipe_key)}
        assert not faults(out.frame, bends), wish
        got = {p.id: p.cut_length_m for p in out.frame.pipes}
        assert all(abs(got[pipe] - length_m) <= 0.0005 for pipe, length_m in pins.items()), (wish, built)
    print(suited_count, named)
    assert suited_count > 300, (suited_count, named)
    assert suited_count + named > 950
