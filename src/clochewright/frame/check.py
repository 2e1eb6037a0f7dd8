"""The closure check: does every pipe really go into its two sockets, and does nothing stand in anything's place?

It takes nothing from the way the frame was solved: it looks at the fittings and pipes alone, as a builder would.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from clochewright.findings import Finding, Level
from clochewright.frame.parts import Adjust, Frame, Vec
from clochewright.plan import Plan

ANGLE_DEG = 0.1
MISFIT_M = 0.0005
ON_RIM = ("corner", "rafter foot", "post foot", "hoop foot", "brace foot")
TOUCH_M = 0.0002  # parts may touch; deeper than this they would stand in each other's place


def check_closure(frame: Frame, plan: Plan, adjust: Adjust | None = None) -> tuple[Finding, ...]:
    """Every way in which the frame does not close, as stop findings; empty when it closes.

    Pipes are in line with their sockets within 0.1 degree and at their seats within 0.5 mm; each port is used at most
    once; no two parts overlap; the base stands where the plan puts it; no port is left open without a cap.
    """
    if not frame.pipes:
        return (_stop("frame.nothing-built"),)
    return (*_ends(frame), *_ports(frame), *_overlaps(frame), *_base_place(frame, plan, adjust or Adjust()))


def _stop(key: str, where: str = "", **values: object) -> Finding:
    return Finding(Level.STOP, "frame", key, where, values)


def _ends(frame: Frame) -> Iterator[Finding]:
    """Each end against its socket: in line, and as deep as planned."""
    sockets = {(fitting.id, port.name): (fitting, port) for fitting in frame.fittings for port in fitting.ports}
    held = [
        (pipe, end, pipe.path_m[0 if end is pipe.ends[0] else -1], pipe.path_m[1 if end is pipe.ends[0] else -2])
        for pipe in frame.pipes
        for end in pipe.ends
        if end.fitting is not None and end.port is not None
    ]
    found = [sockets[end.fitting, end.port] for _, end, _, _ in held if end.fitting and end.port]
    centre = np.array([fitting.position_m for fitting, _ in found])
    way = np.array([port.direction for _, port in found])
    face_m = np.array([port.centre_to_stop_m + port.socket_depth_m for _, port in found])
    depth_m = np.array([port.socket_depth_m for _, port in found])
    seat_m = np.array([end.seat_depth_m for _, end, _, _ in held])
    tip = np.array([point for _, _, point, _ in held])
    run = np.array([point for _, _, _, point in held]) - tip
    misfit_m = np.linalg.norm(centre + way * (face_m - seat_m)[:, None] - tip, axis=1)
    off_deg = np.degrees(np.arctan2(np.linalg.norm(np.cross(run, way), axis=1), np.einsum("ij,ij->i", run, way)))
    bad = (misfit_m > MISFIT_M) | (off_deg > ANGLE_DEG) | (seat_m < 0) | (seat_m > depth_m + 1e-9)
    for i in np.flatnonzero(bad):
        pipe = held[i][0]
        yield _stop(
            "frame.does-not-close", pipe.id, role=pipe.role, misfit_m=float(misfit_m[i]), off_deg=float(off_deg[i])
        )
    for pipe in frame.pipes:
        if pipe.cut_length_m <= 0:
            yield _stop("frame.negative-cut", pipe.id, role=pipe.role)
        elif pipe.shape == "straight":
            misfit = abs(math.dist(pipe.path_m[0], pipe.path_m[-1]) - pipe.cut_length_m)
            if misfit > MISFIT_M:
                yield _stop("frame.wrong-length", pipe.id, role=pipe.role, misfit_m=misfit)


def _ports(frame: Frame) -> Iterator[Finding]:
    """Each port used at most once, and none left open."""
    used = [(end.fitting, end.port) for pipe in frame.pipes for end in pipe.ends if end.fitting is not None]
    seen = set(used)
    if len(seen) != len(used):
        twice = next(pair for pair in used if used.count(pair) > 1)
        yield _stop("frame.port-used-twice", str(twice[0]), port=str(twice[1]))
    for fitting in frame.fittings:
        for port in fitting.ports:
            if (fitting.id, port.name) not in seen:
                yield _stop("frame.open-port", fitting.id, role=fitting.role, port=port.name)


def _overlaps(frame: Frame) -> Iterator[Finding]:
    """Hubs and pipes as rods with round ends that lie inside the real ones, so that a touch is never called a clash."""
    owner: list[str] = []
    start: list[tuple[float, float, float]] = []
    end: list[tuple[float, float, float]] = []
    radius: list[float] = []
    for fitting in frame.fittings:
        for port in fitting.ports:
            rod_m = min(fitting.hub_diameter_m / 2, port.centre_to_face_m)
            reach_m = port.centre_to_face_m - rod_m
            x, y, z = fitting.position_m
            dx, dy, dz = port.direction
            owner.append(fitting.id)
            start.append(fitting.position_m)
            end.append((x + dx * reach_m, y + dy * reach_m, z + dz * reach_m))
            radius.append(rod_m)
    a, b, r = np.array(start), np.array(end), np.array(radius)
    low, high = np.minimum(a, b) - r[:, None], np.maximum(a, b) + r[:, None]
    order = np.argsort(low[:, 0], kind="stable")
    reach = np.searchsorted(low[order, 0], high[order, 0], side="left")
    counts = reach - np.arange(len(order)) - 1
    first = np.repeat(np.arange(len(order)), counts)
    second = first + 1 + np.arange(len(first)) - np.repeat(np.cumsum(counts) - counts, counts)
    first, second = order[first], order[second]
    ids = np.array(_numbered(owner))
    keep = ids[first] != ids[second]
    for axis in (1, 2):
        keep &= (low[first, axis] < high[second, axis]) & (low[second, axis] < high[first, axis])
    first, second = first[keep], second[keep]
    if not len(first):
        return
    apart = _rod_distance(a[first], b[first], a[second], b[second]) - r[first] - r[second]
    roles = {fitting.id: fitting.role for fitting in frame.fittings}
    said: set[tuple[str, str]] = set()
    for i in np.flatnonzero(apart < -TOUCH_M):
        one, other = sorted((owner[first[i]], owner[second[i]]))
        if (one, other) not in said:
            said.add((one, other))
            yield _stop("frame.overlap", one, first=roles[one], second=roles[other], short_m=float(-apart[i]))


def _numbered(names: list[str]) -> list[int]:
    numbers: dict[str, int] = {}
    return [numbers.setdefault(name, len(numbers)) for name in names]


def _rod_distance(p1: np.ndarray, q1: np.ndarray, p2: np.ndarray, q2: np.ndarray) -> np.ndarray:
    """Shortest distance between pairs of straight pieces, each (n, 3) [m] (closest points, clamped to the pieces)."""
    d1, d2, r = q1 - p1, q2 - p2, p1 - p2
    a, e = np.einsum("ij,ij->i", d1, d1), np.einsum("ij,ij->i", d2, d2)
    f, c, b = np.einsum("ij,ij->i", d2, r), np.einsum("ij,ij->i", d1, r), np.einsum("ij,ij->i", d1, d2)
    tiny = 1e-18
    safe_a, safe_e = np.maximum(a, tiny), np.maximum(e, tiny)
    denominator = a * e - b * b
    s = np.where(denominator > tiny, np.clip((b * f - c * e) / np.maximum(denominator, tiny), 0, 1), 0.0)
    t = (b * s + f) / safe_e
    s = np.where(t < 0, np.clip(-c / safe_a, 0, 1), np.where(t > 1, np.clip((b - c) / safe_a, 0, 1), s))
    t = np.clip(t, 0, 1)
    apart: np.ndarray = np.linalg.norm(p1 + d1 * s[:, None] - p2 - d2 * t[:, None], axis=1)
    return apart


def _base_place(frame: Frame, plan: Plan, adjust: Adjust) -> Iterator[Finding]:
    """The fattest hub of the base on the rim, the base's line where the plan puts it; sleeves against the boards."""
    bed, board_m = plan.bed, plan.bed.board_m
    sleeves = [fitting for fitting in frame.fittings if fitting.role == "sleeve"]
    if sleeves:
        out_m = sleeves[0].hub_diameter_m / 2
        wanted_m = bed.outside_width_m / 2 + (out_m if plan.hoops.feet == "sleeves-outside" else -board_m - out_m)
        off_m = max(abs(abs(sleeve.position_m[1]) - wanted_m) for sleeve in sleeves)
    else:
        on_rim = [fitting for fitting in frame.fittings if fitting.role in ON_RIM]
        hub_m = max(fitting.hub_diameter_m for fitting in on_rim)
        lowest_m = min(fitting.position_m[2] - fitting.hub_diameter_m / 2 for fitting in on_rim)
        inward_m = {"outside": hub_m, "middle": board_m, "inside": 2 * board_m - hub_m}[plan.cover.line]
        corners = [fitting.position_m for fitting in frame.fittings if fitting.role == "corner"]
        off_m = max(
            abs((adjust.base_length_m or bed.outside_length_m - inward_m + hub_m) - hub_m - _spread(corners, 0)),
            abs((adjust.base_width_m or bed.outside_width_m - inward_m + hub_m) - hub_m - _spread(corners, 1)),
            abs(lowest_m),
        )
    if off_m > MISFIT_M:
        yield _stop("frame.base-off", "cover.line", off_m=off_m)


def _spread(points: list[Vec], axis: int) -> float:
    along = [point[axis] for point in points]
    return max(along) - min(along)
