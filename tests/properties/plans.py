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
THIN = ("1/2 in Sch 40", "3/4 in Sch 40", "25 mm PN 16")  # what a hoop over a garden bed is made of
KINDS = ("elbow-90", "elbow-45", "tee", "cross", "side-outlet-elbow", "side-outlet-tee", "coupling")
SHAPES = ("tent", "barn", "lean-to", "tunnel", "own")


def random_plan(draw: random.Random, shapes: tuple[str, ...] = SHAPES) -> dict[str, Any]:
    """A plan in SI inside the stated ranges: 1.5 to 8 ft by 2 to 20 ft, every shape, size and recipe, own fittings."""
    width_m = draw.uniform(1.5, 8) * FOOT_M
    shape = draw.choice(shapes)
    plan: dict[str, Any] = {
        "bed": {
            "length_m": max(width_m, draw.uniform(2, 20) * FOOT_M),
            "width_m": width_m,
            "board_m": draw.choice((0.02, 0.0381, 0.05)),
            "measured": draw.choice(("outside", "inside")),
        },
        "cover": {
            "shape": shape,
            "line": draw.choice(("outside", "middle", "inside")),
            "apex": draw.choice(("best", "pointed", "flat", "butted")),
            "braces": draw.choice(("each", "none")),
        },
        "pipe": {"size": draw.choice(SIZES), "bench": "furniture"},
        "joints": {"seat": draw.choice(("home", "dry"))},
        "own": {"fittings": random_fittings(draw) if draw.random() < 0.5 else []},
    }
    {"tent": _roof, "barn": _barn, "lean-to": _lean_to, "tunnel": _tunnel, "own": _own}[shape](plan, draw)
    if draw.random() < 0.1 and plan["bed"]["length_m"] > 3:
        plan["cover"]["sections"] = 2
    return plan


def _roof(plan: dict[str, Any], draw: random.Random) -> None:
    if plan["cover"]["apex"] in ("best", "butted") and draw.random() < 0.5:
        plan["cover"]["pitch_deg"] = draw.uniform(20, 65)


def _barn(plan: dict[str, Any], draw: random.Random) -> None:
    _roof(plan, draw)
    plan["barn"] = {"walls_m": draw.uniform(0.3, 0.9), "eaves": draw.choice(("best", "butted"))}


def _lean_to(plan: dict[str, Any], draw: random.Random) -> None:
    front_m = draw.choice((0.0, draw.uniform(0.25, 0.5)))
    back_m = max(front_m, 0.1) + draw.uniform(0.25, 0.6)
    plan["lean_to"] = {"front_m": front_m, "back_m": back_m, "high_side": draw.choice(("left", "right"))}


def _tunnel(plan: dict[str, Any], draw: random.Random) -> None:
    # a hoop is sprung from thin pipe over a bed that is wide enough for it: 2.5 ft for 1/2 in, 3 ft for the rest
    plan["pipe"]["size"] = draw.choice(THIN)
    least_m = (2.5 if plan["pipe"]["size"] == "1/2 in Sch 40" else 3.0) * FOOT_M
    plan["bed"]["width_m"] = max(plan["bed"]["width_m"], least_m)
    plan["bed"]["length_m"] = max(plan["bed"]["width_m"], plan["bed"]["length_m"])
    plan["hoops"] = {
        "feet": draw.choice(("tees", "sleeves-inside", "sleeves-outside")),
        "crown": draw.choice(("crosses", "tied", "none")),
        "foot_angle_deg": draw.choice((90.0, draw.uniform(70, 95))),
    }
    plan["cover"]["line"] = "outside"


def _own(plan: dict[str, Any], draw: random.Random) -> None:
    half_m = plan["bed"]["width_m"] / 2
    knee = {"in_m": draw.uniform(0.0, 0.2) * half_m, "up_m": draw.uniform(0.25, 0.5)}
    top = {"in_m": draw.uniform(0.4, 0.7) * half_m, "up_m": knee["up_m"] + draw.uniform(0.1, 0.4)}
    plan["profile"] = {"points": [knee, top] if half_m > 0.6 else [knee]}


def random_fittings(draw: random.Random) -> list[dict[str, Any]]:
    """A few fittings measured with a tape, each a little unlike the catalogue's, now and then one socket only."""
    out: list[dict[str, Any]] = []
    for kind in KINDS:
        if draw.random() < 0.5:
            continue
        fitting: dict[str, Any] = {"kind": kind, "socket_depth_m": draw.uniform(0.015, 0.035)}
        if draw.random() < 0.7:
            low_m, high_m = (0.001, 0.004) if kind == "coupling" else (0.008, 0.035)
            fitting["centre_to_stop_m"] = draw.uniform(low_m, high_m)
        if kind == "tee" and draw.random() < 0.4:
            fitting["port"] = draw.choice(("branch", "run-a", "run-b"))
        if kind == "elbow-45" and draw.random() < 0.3:
            fitting["bend_deg"] = draw.uniform(43, 47)
        out.append(fitting)
    return out
