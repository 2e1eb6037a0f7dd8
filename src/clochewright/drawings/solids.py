"""Round bars and boards on their way to paper: outlines, which lies in front, and what stays visible.

Each solid is drawn as a convex outline, in millimetres on paper. Which of two solids lies in front is found where
their centre lines cross or come nearest, so long pipes need no cutting up. Lines are then cut where a solid in front covers
them: every writer gets the visible lines only, and nothing rests on one thing being painted over another.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from clochewright.drawings.marks import Area, Line, Mark, Point
from clochewright.drawings.projection import Array

_INSIDE_MM = 0.03  # how far within an outline a line must run to be covered by it
_ROUND_STEPS = 7  # corners in half an ellipse
_FLAT = 0.03  # a bar this near to the paper's plane [sine] has straight ends


@dataclass(frozen=True, slots=True)
class Solid:
    """A convex thing on paper.

    `start` and `end` are its centre line as (right, up, toward) [mm]; `outline` its silhouette and `edges` the lines to
    draw. Solids of one `weld` are one casting: where neither lies clearly in front, they lose the lines between them.
    """

    part: str
    pen: str
    start: tuple[float, float, float]
    end: tuple[float, float, float]
    radius_mm: float
    outline: tuple[Point, ...]
    edges: tuple[tuple[Point, ...], ...]
    weld: str = ""


def bar(
    part: str, pen: str, start: Array, end: Array, radius_mm: float, *, start_cap: bool, end_cap: bool, weld: str = ""
) -> Solid:
    """A round bar from `start` to `end`, each (right, up, toward) [mm]; a cap is the line around an end."""
    along = end - start
    length = float(np.linalg.norm(along))
    lean = float(along[2]) / length if length else 0.0
    flat = math.hypot(along[0], along[1])
    ax, ay = (float(along[0]) / flat, float(along[1]) / flat) if flat > 1e-9 else (1.0, 0.0)
    depth = radius_mm * abs(lean) if abs(lean) > _FLAT else 0.0

    def rim(centre: Array, outward: int, full: bool = False) -> tuple[Point, ...]:
        """Half the end's ellipse, from the bar's right side to its left about `outward`, or all of it."""
        steps = (2 if full else 1) * (_ROUND_STEPS if depth or full else 1)
        turn = math.tau if full else math.pi
        angles = [-math.pi / 2 + turn * k / steps for k in range(steps + 1)]
        return tuple(
            (
                float(centre[0]) + outward * (math.cos(a) * depth * ax - math.sin(a) * radius_mm * ay),
                float(centre[1]) + outward * (math.cos(a) * depth * ay + math.sin(a) * radius_mm * ax),
            )
            for a in angles
        )

    far, near = rim(end, 1), rim(start, -1)
    edges = [(near[-1], far[0]), (far[-1], near[0])] if flat > 1e-9 else []
    for centre, outward, half, wanted, faces_eye in (
        (start, -1, near, start_cap, lean < -_FLAT),
        (end, 1, far, end_cap, lean > _FLAT),
    ):
        if wanted:
            edges.append(rim(centre, outward, full=True) if faces_eye else half)
    return Solid(part, pen, _triple(start), _triple(end), radius_mm, far + near, tuple(edges), weld)


def ball(part: str, pen: str, centre: Array, radius_mm: float, weld: str = "") -> Solid:
    """A ball about `centre`, (right, up, toward) [mm]."""
    steps = 4 * _ROUND_STEPS
    x, y = float(centre[0]), float(centre[1])
    ring = tuple(
        (x + radius_mm * math.cos(math.tau * k / steps), y + radius_mm * math.sin(math.tau * k / steps))
        for k in range(steps)
    )
    at = _triple(centre)
    return Solid(part, pen, at, at, radius_mm, ring, ((*ring, ring[0]),), weld)


def _triple(point: Array) -> tuple[float, float, float]:
    return float(point[0]), float(point[1]), float(point[2])


def draw_solids(solids: Sequence[Solid]) -> list[Mark]:
    """Areas from the back to the front, then the lines that can be seen."""
    if not solids:
        return []
    front = _in_front(solids)
    order = _back_to_front(front, [s.start[2] + s.end[2] for s in solids])
    rank = np.empty(len(solids), dtype=np.int64)
    rank[order] = np.arange(len(solids))
    marks: list[Mark] = [Area(solids[i].pen, solids[i].outline, solids[i].part) for i in order]
    visible = _visible(solids, _covers(solids, front, rank))
    for i in order:
        marks += [Line(solids[i].pen, run, part=solids[i].part) for run in visible[i]]
    return marks


def _in_front(solids: Sequence[Solid]) -> Array:
    """How far solid i lies in front of solid j where they meet on paper [mm], shape (n, n); 0 where they don't."""
    a = np.array([s.start for s in solids])
    b = np.array([s.end for s in solids])
    d = b - a
    radius = np.array([s.radius_mm for s in solids])
    n = len(solids)
    flat2 = np.maximum((d[:, :2] ** 2).sum(axis=1), 1e-12)

    def nearest_on(points: Array) -> Array:
        """Where along each solid j (columns) the points of solid i (rows) come nearest, 0 to 1."""
        off = points[:, None, :2] - a[None, :, :2]
        return np.clip((off * d[None, :, :2]).sum(axis=2) / flat2[None, :], 0.0, 1.0)

    zero, one = np.zeros((n, n)), np.ones((n, n))
    from_a, from_b = nearest_on(a), nearest_on(b)
    pairs = [(zero, from_a), (one, from_b), (from_a.T, zero), (from_b.T, one)]
    # Where the two centre lines cross, if they do.
    cross = d[:, None, 0] * d[None, :, 1] - d[:, None, 1] * d[None, :, 0]
    safe = np.where(np.abs(cross) > 1e-9, cross, np.inf)
    off = a[None, :, :2] - a[:, None, :2]
    s = (off[..., 0] * d[None, :, 1] - off[..., 1] * d[None, :, 0]) / safe
    t = (off[..., 0] * d[:, None, 1] - off[..., 1] * d[:, None, 0]) / safe
    crosses = np.isfinite(safe) & (s >= 0) & (s <= 1) & (t >= 0) & (t <= 1)
    pairs.append((np.where(crosses, s, 0.0), np.where(crosses, t, from_a)))

    best = np.full((n, n), np.inf)
    ahead = np.zeros((n, n))
    for s, t in pairs:
        gap = a[:, None, :] + s[..., None] * d[:, None, :] - a[None, :, :] - t[..., None] * d[None, :, :]
        apart = np.hypot(gap[..., 0], gap[..., 1])
        nearer = apart < best - 1e-6
        as_near = ~nearer & (apart < best + 1e-6) & (np.abs(gap[..., 2]) > np.abs(ahead))
        ahead = np.where(nearer | as_near, gap[..., 2], ahead)
        best = np.where(nearer, apart, best)
    # Where they touch at one point (a pipe in its socket, two sockets of a fitting), the middles tell.
    middle = (a[:, 2] + b[:, 2]) / 2
    ahead = np.where(np.abs(ahead) > 1e-6, ahead, middle[:, None] - middle[None, :])
    meet = best < radius[:, None] + radius[None, :]
    np.fill_diagonal(meet, False)
    return np.where(meet & (np.abs(ahead) > 1e-6), ahead, 0.0)


def _back_to_front(front: Array, depths: Sequence[float]) -> list[int]:
    """An order in which nothing is painted before what lies behind it; a ring of overlaps is opened at its back."""
    n = len(depths)
    later = [np.flatnonzero(front[:, i] > 0).tolist() for i in range(n)]  # those in front of i
    behind = (front > 0).sum(axis=1).tolist()  # how many lie behind i
    ready = [(depths[i], i) for i in range(n) if behind[i] == 0]
    heapq.heapify(ready)
    waiting = set(range(n))
    order: list[int] = []
    while waiting:
        if not ready:
            ready = [min((depths[i], i) for i in waiting)]
        _, i = heapq.heappop(ready)
        if i not in waiting:
            continue
        waiting.discard(i)
        order.append(i)
        for k in later[i]:
            behind[k] -= 1
            if behind[k] == 0 and k in waiting:
                heapq.heappush(ready, (depths[k], k))
    return order


def _covers(solids: Sequence[Solid], front: Array, rank: Array) -> Array:
    """Which solid's area (rows) takes away which solid's lines (columns), shape (n, n)."""
    covers = rank[:, None] > rank[None, :]
    names = {name: k for k, name in enumerate(dict.fromkeys(s.weld for s in solids if s.weld), start=1)}
    weld = np.array([names.get(s.weld, 0) for s in solids])
    radius = np.array([s.radius_mm for s in solids])
    one_casting = (weld[:, None] == weld[None, :]) & (weld[:, None] > 0)
    level = np.abs(front) < 0.6 * radius[:, None]
    covers = covers | (one_casting & level)
    np.fill_diagonal(covers, False)
    return covers


def _visible(solids: Sequence[Solid], covers: Array) -> list[list[tuple[Point, ...]]]:
    """The parts of each solid's edges that nothing covers."""
    owner, starts, ends = [], [], []
    for i, solid in enumerate(solids):
        for edge in solid.edges:
            owner += [i] * (len(edge) - 1)
            starts += edge[:-1]
            ends += edge[1:]
    p, q, owners = np.array(starts), np.array(ends), np.array(owner)
    hidden = _hidden_spans(solids, covers, p, q, owners)
    visible: list[list[tuple[Point, ...]]] = []
    k = 0
    for solid in solids:
        runs: list[tuple[Point, ...]] = []
        for edge in solid.edges:
            pieces: list[list[Point]] = []
            for here, there in zip(edge, edge[1:], strict=False):
                for s, t in _left_over(hidden.get(k, ())):
                    head, tail = _between(here, there, s), _between(here, there, t)
                    if pieces and s == 0.0 and pieces[-1][-1] == head:
                        pieces[-1].append(tail)
                    elif math.dist(head, tail) > _INSIDE_MM or s == 0.0:
                        pieces.append([head, tail])
                k += 1
            runs += [tuple(piece) for piece in pieces if _length(piece) > 2 * _INSIDE_MM]
        visible.append(runs)
    return visible


def _hidden_spans(
    solids: Sequence[Solid], covers: Array, p: Array, q: Array, owners: Array
) -> dict[int, list[tuple[float, float]]]:
    """For each segment p to q, the spans (0 to 1) that lie within a covering solid's outline."""
    low = np.array([np.min(s.outline, axis=0) for s in solids])
    high = np.array([np.max(s.outline, axis=0) for s in solids])
    near = np.all((np.minimum(p, q)[:, None] < high[None]) & (np.maximum(p, q)[:, None] > low[None]), axis=2)
    segment, shape = np.nonzero(near & covers.T[owners])
    corners, inward, offset = _half_planes(solids)
    a, along = p[segment], (q - p)[segment]
    # Cyrus and Beck: the span of the line that lies on the inner side of every side of a convex outline.
    height = (inward[shape] * a[:, None, :]).sum(axis=2) - offset[shape]
    climb = (inward[shape] * along[:, None, :]).sum(axis=2)
    used = corners[shape]
    with np.errstate(divide="ignore", invalid="ignore"):
        at = -height / climb
    enter = np.where(used & (climb > 1e-12), at, -np.inf).max(axis=1)
    leave = np.where(used & (climb < -1e-12), at, np.inf).min(axis=1)
    outside = (used & (np.abs(climb) <= 1e-12) & (height <= 0)).any(axis=1)
    enter, leave = np.maximum(enter, 0.0), np.minimum(leave, 1.0)
    spans: dict[int, list[tuple[float, float]]] = {}
    for k in np.flatnonzero((enter < leave) & ~outside).tolist():
        spans.setdefault(int(segment[k]), []).append((float(enter[k]), float(leave[k])))
    return spans


def _half_planes(solids: Sequence[Solid]) -> tuple[Array, Array, Array]:
    """Sides of every outline: which are used (n, m), inward normals (n, m, 2), and offsets, a hair inside (n, m)."""
    most = max(len(s.outline) for s in solids)
    used = np.zeros((len(solids), most), dtype=bool)
    inward = np.zeros((len(solids), most, 2))
    offset = np.zeros((len(solids), most))
    for i, solid in enumerate(solids):
        ring = np.array(solid.outline)
        side = np.roll(ring, -1, axis=0) - ring
        length = np.hypot(side[:, 0], side[:, 1])
        normal = np.stack([-side[:, 1], side[:, 0]], axis=1) / np.maximum(length, 1e-12)[:, None]
        m = len(ring)
        used[i, :m] = length > 1e-9
        inward[i, :m] = normal
        offset[i, :m] = (normal * ring).sum(axis=1) + _INSIDE_MM
    return used, inward, offset


def _left_over(spans: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """What of 0 to 1 is in none of the spans."""
    left, reached = [], 0.0
    for start, end in sorted(spans):
        if start > reached:
            left.append((reached, start))
        reached = max(reached, end)
    if reached < 1.0:
        left.append((reached, 1.0))
    return left


def _between(a: Point, b: Point, t: float) -> Point:
    return a if t == 0.0 else b if t == 1.0 else (a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t)


def _length(points: Sequence[Point]) -> float:
    return sum(math.dist(a, b) for a, b in zip(points, points[1:], strict=False))
