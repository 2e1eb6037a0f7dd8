"""The closure check again, written apart from the product's: it knows only parts and how fittings are moulded."""

from __future__ import annotations

import math
from collections import Counter
from itertools import pairwise

from clochewright.frame import Fitting, Frame, Pipe

# How the sockets of each kind stand to each other, as one can see on any of them: angle between two ports [deg].
MOULDED = {
    "elbow-90": {("a", "b"): 90},
    "tee": {("run-a", "run-b"): 180, ("run-a", "branch"): 90, ("run-b", "branch"): 90},
    "cross": {("run-a", "run-b"): 180, ("arm-a", "arm-b"): 180, ("run-a", "arm-a"): 90, ("run-b", "arm-b"): 90},
    "side-outlet-elbow": {("a", "b"): 90, ("a", "side"): 90, ("b", "side"): 90},
    "side-outlet-tee": {
        ("run-a", "run-b"): 180,
        ("run-a", "branch"): 90,
        ("run-a", "side"): 90,
        ("branch", "side"): 90,
    },
    "five-way-cross": {
        ("run-a", "run-b"): 180,
        ("arm-a", "arm-b"): 180,
        ("run-a", "arm-a"): 90,
        ("run-a", "side"): 90,
        ("arm-a", "side"): 90,
    },
    "coupling": {("a", "b"): 180},
    "sleeve": {},
    "cap": {},
}


def angle_deg(u: tuple[float, ...], v: tuple[float, ...]) -> float:
    """Angle between two vectors [deg]."""
    cross = math.dist(
        (0.0, 0.0, 0.0),
        (u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]),
    )
    return math.degrees(math.atan2(cross, sum(a * b for a, b in zip(u, v, strict=True))))


def faults(frame: Frame, bends_deg: dict[str, float]) -> list[str]:
    """Everything that is wrong with a frame; empty when it closes. `bends_deg` gives the bend of each elbow kind."""
    out: list[str] = []
    by_id = {fitting.id: fitting for fitting in frame.fittings}
    used: Counter[tuple[str, str]] = Counter()
    for fitting in frame.fittings:
        out += _badly_moulded(fitting, bends_deg)
    for pipe in frame.pipes:
        seats = []
        for end, tip in zip(pipe.ends, (pipe.path_m[0], pipe.path_m[-1]), strict=True):
            if end.fitting is None:
                continue
            port = next(p for p in by_id[end.fitting].ports if p.name == end.port)
            used[end.fitting, port.name] += 1
            from_centre_m = port.centre_to_stop_m + (port.socket_depth_m - end.seat_depth_m)
            seat = [c + from_centre_m * d for c, d in zip(by_id[end.fitting].position_m, port.direction, strict=True)]
            seats.append((seat, port.direction))
            if math.dist(seat, tip) > 0.0005:
                out.append(f"{pipe.id} {pipe.role}: end {math.dist(seat, tip) * 1000:.2f} mm off its seat")
        if len(seats) == 2 and pipe.shape == "bent":
            out += _badly_bent(pipe, seats)
        if len(seats) == 2 and pipe.shape == "straight":
            (p, u), (q, v) = seats
            apart_m = math.dist(p, q)
            if abs(apart_m - pipe.cut_length_m) > 0.0005:
                out.append(f"{pipe.id} {pipe.role}: cut {pipe.cut_length_m:.4f}, seats {apart_m:.4f} apart")
            line = [b - a for a, b in zip(p, q, strict=True)]
            if max(angle_deg(line, u), angle_deg([-c for c in line], v)) > 0.1:
                out.append(f"{pipe.id} {pipe.role}: not in line with its sockets")
    out += [f"{fitting}.{port} used {count} times" for (fitting, port), count in used.items() if count > 1]
    out += [f"{f.id}.{p.name} left open" for f in frame.fittings for p in f.ports if not used[f.id, p.name]]
    out += _clashes(frame)
    return out


def _badly_bent(pipe: Pipe, seats: list[tuple[list[float], tuple[float, ...]]]) -> list[str]:
    """A bent pipe leaves both sockets in line, bends nowhere in a kink, and is as long as its cut."""
    out = []
    runs = [[b - a for a, b in zip(p, q, strict=True)] for p, q in pairwise(pipe.path_m)]
    along_m = sum(math.hypot(*run) for run in runs)
    if abs(along_m - pipe.cut_length_m) > 2e-3 * pipe.cut_length_m:  # chords of the drawn curve are a little shorter
        out.append(f"{pipe.id} {pipe.role}: cut {pipe.cut_length_m:.4f}, drawn {along_m:.4f} long")
    if angle_deg(runs[0], seats[0][1]) > 0.1 or angle_deg([-c for c in runs[-1]], seats[1][1]) > 0.1:
        out.append(f"{pipe.id} {pipe.role}: leaves its socket askew")
    if max(angle_deg(a, b) for a, b in pairwise(runs)) > 15:
        out.append(f"{pipe.id} {pipe.role}: has a kink")
    return out


def _badly_moulded(fitting: Fitting, bends_deg: dict[str, float]) -> list[str]:
    ways = {port.name: port.direction for port in fitting.ports}
    wanted = MOULDED[fitting.kind] if fitting.kind in MOULDED else {("a", "b"): 180 - bends_deg[fitting.kind]}
    return [
        f"{fitting.id} {fitting.kind}: no such fitting, {a} and {b} stand {angle_deg(ways[a], ways[b]):.2f} apart"
        for (a, b), deg in wanted.items()
        if abs(angle_deg(ways[a], ways[b]) - deg) > 1e-6
    ]


def _clashes(frame: Frame) -> list[str]:
    """Points along each hub's axis that lie well inside another fitting's hub."""
    out = []
    hubs = [(f, p.direction, p.centre_to_stop_m + p.socket_depth_m) for f in frame.fittings for p in f.ports]
    for i, (f, _, reach_f) in enumerate(hubs):
        for g, way_g, reach_g in hubs[i + 1 :]:
            if f.id == g.id or math.dist(f.position_m, g.position_m) > reach_f + reach_g + f.hub_diameter_m:
                continue
            for step in range(21):
                point = [c + d * reach_f * step / 20 for c, d in zip(f.position_m, hubs[i][1], strict=True)]
                rel = [a - b for a, b in zip(point, g.position_m, strict=True)]
                along_m = sum(a * b for a, b in zip(rel, way_g, strict=True))
                off_m = math.sqrt(max(0.0, sum(a * a for a in rel) - along_m**2))
                if 0.0005 < along_m < reach_g - 0.0005 and off_m < g.hub_diameter_m / 2 - 0.0005:
                    out.append(f"{f.id} {f.role} stands inside {g.id} {g.role}")
                    break
    return out
