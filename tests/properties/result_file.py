"""What must hold within a result file, looked at with nothing but the file: no code of the product takes part."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from itertools import pairwise
from typing import Any

# The keys that other programs rely on; those of steps still to come are left out.
KEYS: dict[str, Any] = {
    "schema": str,
    "generator": str,
    "plan": dict,
    "frame": {
        "pipe_outside_diameter_m": float,
        "fittings": [
            {
                "id": str,
                "kind": str,
                "position_m": [float],
                "body_outside_diameter_m": float,
                "ports": [
                    {"name": str, "direction": [float], "centre_to_stop_m": float, "socket_depth_m": float},
                ],
            }
        ],
        "pipes": [
            {
                "id": str,
                "mark": str,
                "role": str,
                "body": str,
                "shape": str,
                "cut_length_m": float,
                "ends": [{"fitting": (str, type(None)), "port": (str, type(None)), "seat_depth_m": float}],
            }
        ],
        "stations_m": [float],
        "height_m": float,
        "length_m": float,
        "width_m": float,
        "pitch_deg": float,
    },
    "answer": {"question": str, "verdict": str, "text": str},
    "cuts": [{"mark": str, "role": str, "length_m": float, "count": int}],
    "stock": {
        "kerf_m": float,
        "proven": bool,
        "sticks": [
            {"length_m": float, "origin": str, "cuts": [{"mark": str, "length_m": float}], "offcut_m": float},
        ],
    },
    "supplies": [
        {
            "item": str,
            "what": str,
            "quantity": (int, float),
            "unit": str,
            "unit_price": (float, type(None)),
            "price": (float, type(None)),
        }
    ],
    "supplies_total": float,
    "mass_kg": {"frame": float, "film": float, "lath": float, "hardware": float, "lid": float},
    "film": {
        "sheets": [{"length_m": float, "width_m": float}],
        "roll_length_m": (float, type(None)),
        "laths": [dict],
        "staples": int,
        "screws": int,
    },
    "strength": {"limits": [{"case": str, "kind": str, "value": float, "low": float, "high": float, "governs": str}]},
    "lid": {
        "hinges": [dict],
        "latches": [dict],
        "prop": (dict, type(None)),
        "opening": [{"angle_deg": float, "lift_force_N": float, "prop_force_N": float}],
        "rest_angle_deg": (float, type(None)),
    },
    "joints": [{"id": str, "fitting": str, "port": str, "pipe": str, "treatment": str}],
    "findings": [
        {"level": str, "step": str, "what": str, "where": str, "why": str, "mend": str, "source": str},
    ],
}


def missing_keys(value: Any, wanted: Any = KEYS, path: str = "job") -> Iterator[str]:
    """Every key that is not there, or holds another kind of value."""
    if isinstance(wanted, dict):
        for key, inner in wanted.items():
            if not isinstance(value, dict) or key not in value:
                yield f"{path}.{key} is missing"
            else:
                yield from missing_keys(value[key], inner, f"{path}.{key}")
    elif isinstance(wanted, list):
        if not isinstance(value, list):
            yield f"{path} is no list"
            return
        for number, item in enumerate(value):
            yield from missing_keys(item, wanted[0], f"{path}[{number}]")
    elif not isinstance(value, wanted):
        yield f"{path} is {value!r}"


def gaps(frame: dict[str, Any]) -> Iterator[str]:
    """Every pipe whose ends are not in line with their sockets, at their seats, at its length; every port used twice.

    Within 0.1 degree and 0.5 mm, the bounds that the product promises. A bent pipe's path is a chain of short chords,
    so its length is looked at within 0.1 %.
    """
    ports = {(f["id"], port["name"]): (f, port) for f in frame["fittings"] for port in f["ports"]}
    used = Counter((end["fitting"], end["port"]) for pipe in frame["pipes"] for end in pipe["ends"] if end["fitting"])
    yield from (f"{port} is used {count} times" for port, count in used.items() if count > 1)
    for pipe in frame["pipes"]:
        path = pipe["path_m"]
        run_m = sum(math.dist(a, b) for a, b in pairwise(path))
        slack_m = 0.0005 + (pipe["cut_length_m"] / 1000 if pipe["shape"] == "bent" else 0)
        if abs(run_m - pipe["cut_length_m"]) > slack_m:
            yield f"{pipe['id']} is {run_m} m from seat to seat and cut {pipe['cut_length_m']} m"
        if pipe["cut_length_m"] <= 0:
            yield f"{pipe['id']} has no length"
        leaving = (_way(path[0], path[1]), _way(path[-1], path[-2]))
        for end, tip, way in zip(pipe["ends"], (path[0], path[-1]), leaving, strict=True):
            if end["fitting"] is None:
                continue
            fitting, port = ports[end["fitting"], end["port"]]
            from_centre_m = port["centre_to_stop_m"] + port["socket_depth_m"] - end["seat_depth_m"]
            seat = [c + from_centre_m * d for c, d in zip(fitting["position_m"], port["direction"], strict=True)]
            if math.dist(seat, tip) > 0.0005:
                yield f"{pipe['id']} misses its seat in {end['fitting']} by {math.dist(seat, tip)} m"
            off_deg = math.degrees(math.acos(min(1.0, sum(a * b for a, b in zip(way, port["direction"], strict=True)))))
            if off_deg > (2.0 if pipe["shape"] == "bent" else 0.1):  # a bent pipe's first chord turns a little
                yield f"{pipe['id']} is {off_deg} degrees out of line with {end['fitting']}"


def contradictions(job: dict[str, Any]) -> Iterator[str]:
    """Every figure of the file that another figure of it denies."""
    pipes, cuts, sticks = job["frame"]["pipes"], job["cuts"], job["stock"]["sticks"]
    kerf_m, rounding_m = job["stock"]["kerf_m"], 0.0254 / 32 + 1e-9
    counts = {cut["mark"]: cut["count"] for cut in cuts}
    if counts != Counter(pipe["mark"] for pipe in pipes):
        yield "the cut list and the marks of the pipes differ"
    if counts != Counter(cut["mark"] for stick in sticks for cut in stick["cuts"]):
        yield "the cut list and the sticks differ"
    if [cut["length_m"] for cut in cuts] != sorted((cut["length_m"] for cut in cuts), reverse=True):
        yield "the cut list is not longest first"
    length_of = {cut["mark"]: cut["length_m"] for cut in cuts}
    yield from (
        f"{pipe['id']} is {pipe['cut_length_m']} m and its mark {length_of.get(pipe['mark'])} m"
        for pipe in pipes
        if abs(pipe["cut_length_m"] - length_of.get(pipe["mark"], 0.0)) > rounding_m
    )
    for number, stick in enumerate(sticks):
        if any(cut["length_m"] != length_of.get(cut["mark"]) for cut in stick["cuts"]):
            yield f"stick {number} has a cut that is not the cut list's"
        left_m = stick["length_m"] - sum(cut["length_m"] for cut in stick["cuts"])
        saws = len(stick["cuts"])
        if left_m < (saws - 1) * kerf_m - 1e-6:
            yield f"stick {number} is too short for what is cut from it"
        if abs(max(0.0, left_m - saws * kerf_m) - stick["offcut_m"]) > 1e-6:
            yield f"stick {number} leaves {left_m} m less {saws} kerfs, and its offcut is {stick['offcut_m']} m"
    yield from _wrong_sums(job)


def _wrong_sums(job: dict[str, Any]) -> Iterator[str]:
    supplies, mass = job["supplies"], job["mass_kg"]
    for row in supplies:
        if row["price"] is not None and abs(row["price"] - row["quantity"] * row["unit_price"]) > 0.005:
            yield f"{row['what']}: {row['quantity']} at {row['unit_price']} is not {row['price']}"
    total = sum(row["price"] or 0 for row in supplies)
    if abs(total - job["supplies_total"]) > 0.005:
        yield f"the prices come to {total}, not {job['supplies_total']}"
    bought = sum(stick["origin"] == "buy" for stick in job["stock"]["sticks"])
    sold = sum(row["quantity"] for row in supplies if row["item"].startswith("pipe:"))
    if sold < bought:
        yield f"{bought} sticks are sawn and {sold} bought"
    on_frame = Counter(f["kind"] for f in job["frame"]["fittings"] if f["kind"] != "sleeve")
    on_list = {r["item"].split(":")[1]: r["quantity"] for r in supplies if r["item"].startswith("fitting:")}
    yield from (
        f"{count} of {kind} in the frame, {on_list.get(kind, 0)} on the list"
        for kind, count in on_frame.items()
        if count != on_list.get(kind, 0)
    )
    parts_kg = sum(mass[part] for part in ("frame", "film", "lath", "hardware"))
    if abs(parts_kg - mass["lid"]) > 1e-6:
        yield f"the parts weigh {parts_kg} kg and the lid {mass['lid']} kg"
    seated = {(e["fitting"], e["port"], p["id"]) for p in job["frame"]["pipes"] for e in p["ends"] if e["fitting"]}
    joined = {(joint["fitting"], joint["port"], joint["pipe"]) for joint in job["joints"]}
    if seated != joined:
        yield f"joints and pipe ends differ: {sorted(map(str, seated ^ joined))[:4]}"


def _way(start: list[float], end: list[float]) -> list[float]:
    length_m = math.dist(start, end)
    return [(b - a) / length_m for a, b in zip(start, end, strict=True)]
