"""Random beds and random boxes of fittings, shared by the property tests of all rooms."""

from __future__ import annotations

import random
from typing import Any

INCH_M = 0.0254
FOOT_M = 0.3048
SIZES = (
    "1/2 in Sch 40", "3/4 in Sch 40", "1 in Sch 40", "1-1/4 in Sch 40", "1-1/2 in Sch 40", "2 in Sch 40",
    "25 mm PN 16", "32 mm PN 16", "40 mm PN 16", "32 mm waste", "40 mm waste",
)  # fmt: skip
KINDS = ("elbow-90", "elbow-45", "tee", "cross", "side-outlet-elbow", "side-outlet-tee")


def random_plan(draw: random.Random) -> dict[str, Any]:
    """A plan in SI inside the stated ranges: 1.5 to 8 ft by 2 to 20 ft, every pipe size, every apex, own fittings."""
    width_m = draw.uniform(1.5, 8) * FOOT_M
    plan: dict[str, Any] = {
        "bed": {
            "length_m": max(width_m, draw.uniform(2, 20) * FOOT_M),
            "width_m": width_m,
            "board_m": draw.choice((0.02, 0.0381, 0.05)),
            "measured": draw.choice(("outside", "inside")),
        },
        "cover": {
            "line": draw.choice(("outside", "middle", "inside")),
            "apex": draw.choice(("best", "pointed", "flat", "butted")),
            "braces": draw.choice(("each", "none")),
        },
        "pipe": {"size": draw.choice(SIZES), "bench": "furniture"},
        "joints": {"seat": draw.choice(("home", "dry"))},
        "own": {"fittings": random_fittings(draw) if draw.random() < 0.5 else []},
    }
    cover = plan["cover"]
    if cover["apex"] in ("best", "butted") and draw.random() < 0.5:
        cover["pitch_deg"] = draw.uniform(20, 65)
    return plan


def random_fittings(draw: random.Random) -> list[dict[str, Any]]:
    """A few fittings measured with a tape, each a little unlike the catalogue's, now and then one socket only."""
    out: list[dict[str, Any]] = []
    for kind in KINDS:
        if draw.random() < 0.5:
            continue
        fitting: dict[str, Any] = {"kind": kind, "socket_depth_m": draw.uniform(0.015, 0.035)}
        if draw.random() < 0.7:
            fitting["centre_to_stop_m"] = draw.uniform(0.008, 0.035)
        if kind == "tee" and draw.random() < 0.4:
            fitting["port"] = draw.choice(("branch", "run-a", "run-b"))
        if kind == "elbow-45" and draw.random() < 0.3:
            fitting["bend_deg"] = draw.uniform(43, 47)
        out.append(fitting)
    return out
