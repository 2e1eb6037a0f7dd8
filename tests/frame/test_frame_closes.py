"""Random beds and fittings: a frame closes by a check of our own, or is refused for a reason that is real."""

from __future__ import annotations

import math
import random
from collections import Counter
from itertools import pairwise
from typing import Any

import pytest

from clochewright.catalogue import Catalogue, load_catalogue
from clochewright.findings import Level
from clochewright.frame import Frame, raise_frame
from clochewright.plan import Plan, plan_from_si
from properties.closing import faults
from properties.plans import random_plan

ON_RIM = ("corner", "rafter foot", "post foot", "hoop foot", "brace foot")


def raised(wish: dict[str, Any]) -> tuple[Plan, Catalogue, Frame]:
    plan = plan_from_si(wish)
    catalogue = load_catalogue(own_fittings=own_rows(plan), pipe=plan.pipe.size)
    return plan, catalogue, raise_frame(plan, catalogue)


def own_rows(plan: Plan) -> list[dict[str, Any]]:
    return [fitting.model_dump() for fitting in plan.own.fittings]


def bends(catalogue: Catalogue, pipe_key: str) -> dict[str, float]:
    return {row.kind: row.bend_deg for row in catalogue.fittings(pipe_key)}


def impossible(plan: Plan, catalogue: Catalogue, frame: Frame) -> str | None:
    """Why no such frame can exist, worked out from the fittings' own lengths; None when one could."""
    rows = {row.kind: row for row in catalogue.fittings(frame.pipe_key)}
    face = {kind: {s.name: s.centre_to_stop.value + s.depth.value for s in r.sockets} for kind, r in rows.items()}
    hub = {kind: row.hub_diameter.value for kind, row in rows.items()}
    key, apex = frame.findings[0].key, plan.cover.apex
    if key == "frame.hoop-too-tight":
        # by hand: the stated radius bends the pipe's outer skin by half its diameter over that radius
        radius_m = frame.findings[0].values["radius_m"]
        return "hoop tighter than 4 %" if frame.pipe_outside_diameter_m / 2 / radius_m > 0.04 else None
    if key == "frame.missing-fitting":
        kind = frame.findings[0].values["kind"]
        sold = kind in rows and (rows[kind].bench == "plumbing" or plan.pipe.bench == "furniture")
        return None if sold else "missing"
    in_from_outside = {
        "outside": max(hub["elbow-90"], hub["tee"]),
        "middle": plan.bed.board_m,
        "inside": 2 * plan.bed.board_m - max(hub["elbow-90"], hub["tee"]),
    }[plan.cover.line]
    width = plan.bed.outside_width_m - in_from_outside
    length = plan.bed.outside_length_m - in_from_outside
    if width < 2 * face["elbow-90"]["b"]:
        return "end rail shorter than its two elbows"
    pitch = math.radians(plan.cover.pitch_deg or 45.0)
    tee, elbow = face["tee"], face["elbow-90"]
    if apex == "flat":
        flat = max(tee["run-a"], tee["run-b"]) + face["elbow-45"]["a"]
        slope = math.radians(rows["elbow-45"].bend_deg)
        if (width / 2 - flat) / math.cos(slope) < tee["branch"] + face["elbow-45"]["b"]:
            return "rafter shorter than its two fittings"
    else:
        top = min(tee["branch"], elbow["b"], *face["side-outlet-elbow"].values(), *face["side-outlet-tee"].values())
        if width / 2 / math.cos(pitch) < tee["branch"] + top:
            return "rafter shorter than its two fittings"
    fixed = shortest_base_m(plan, tee, elbow["a"])
    if length < fixed:
        return "base rail shorter than its corners, feet and what stands above them"
    if frame.findings[0].values.get("bents", 2) > 2:
        # every inner bent adds its feet, its brace, and (butted) the width by which its rafters stand apart
        inner = (tee["run-a"] + tee["run-b"]) * (1 + (plan.cover.braces == "each") + (apex in ("butted", "best")))
        if length < fixed + inner:
            return "base rail shorter than its fittings"
    if key == "frame.overlap":
        return "hubs overlap" if max(hub.values()) / 2 > min(min(f.values()) for f in face.values()) else None
    return None


def shortest_base_m(plan: Plan, tee: dict[str, float], elbow_m: float) -> float:
    """How short a base rail of two bents can be, corner centre to corner centre, rail by rail [m].

    Two tees butted (an elbow and a tee at the ends) stand as far apart as their faces; that is the shift of a butted
    apex, and of rafters against their posts at butted eaves.
    """
    front_m, far_m = elbow_m + tee["run-a"], tee["run-b"] + elbow_m
    run_m = tee["run-a"] + tee["run-b"]
    shape, apex = plan.cover.shape, plan.cover.apex in ("butted", "best")
    ends_m = 2 * elbow_m + 2 * run_m
    if shape == "tent":
        return ends_m + (front_m + far_m if apex else 0.0)
    if shape == "barn":
        # the ridge stands inside both shifts: rafters inside their posts, and one rafter inside the other
        return ends_m + (front_m + far_m) * (1 + apex)
    return ends_m + front_m + far_m


@pytest.fixture(scope="module")
def batch() -> list[tuple[Plan, Catalogue, Frame]]:
    draw = random.Random(20261125)
    return [raised(random_plan(draw)) for _ in range(600)]


def test_each_frame_closes_or_is_refused(batch: list[tuple[Plan, Catalogue, Frame]]) -> None:
    for plan, catalogue, frame in batch:
        if frame.stands:
            assert not faults(frame, bends(catalogue, frame.pipe_key)), plan
        else:
            assert any(finding.level is Level.STOP for finding in frame.findings)


def test_refusals_are_few_and_real(batch: list[tuple[Plan, Catalogue, Frame]]) -> None:
    refused = [entry for entry in batch if not entry[2].stands]
    reasons = Counter(frame.findings[0].key for _, _, frame in refused)
    assert len(refused) <= 0.05 * len(batch), reasons
    for plan, catalogue, frame in refused:
        assert impossible(plan, catalogue, frame), (frame.findings, plan)


def test_the_base_stands_where_the_plan_puts_it(batch: list[tuple[Plan, Catalogue, Frame]]) -> None:
    for plan, _, frame in batch:
        if not frame.stands or plan.hoops.feet != "tees":
            continue
        base = [f for f in frame.fittings if f.role in ON_RIM]
        outside_m = 2 * max(abs(f.position_m[1]) + f.hub_diameter_m / 2 for f in base)
        middle_m = 2 * max(abs(f.position_m[1]) for f in base)
        inside_m = 2 * min(abs(f.position_m[1]) - f.hub_diameter_m / 2 for f in base)
        got, wanted = {
            "outside": (outside_m, plan.bed.outside_width_m),
            "middle": (middle_m, plan.bed.outside_width_m - plan.bed.board_m),
            "inside": (inside_m, plan.bed.outside_width_m - 2 * plan.bed.board_m),
        }[plan.cover.line]
        assert got == pytest.approx(wanted, abs=1e-6)
        assert min(f.position_m[2] - f.hub_diameter_m / 2 for f in base) == pytest.approx(0.0, abs=1e-9)


def test_bays_are_no_longer_than_asked(batch: list[tuple[Plan, Catalogue, Frame]]) -> None:
    for plan, _, frame in batch:
        across = [p for p in frame.pipes if p.role in ("rafter", "hoop") and p.body == frame.pipes[0].body]
        planes = sorted({round(p.path_m[0][0], 9) for p in across if p.path_m[0][1] > 0})
        gaps = [b - a for a, b in pairwise(planes)]
        assert all(gap <= plan.cover.bay_m + 1e-6 for gap in gaps)
