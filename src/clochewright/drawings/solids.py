"""Round bars and boards on their way to paper: outlines, which lies in front, and what stays visible.

Each solid is drawn as a convex outline, in millimetres on paper. Which of two solids lies in front is found where
their centre lines cross or come nearest, so long pipes need no cutting up. Lines are then cut where a solid in front
covers them: every writer gets the visible lines only, and nothing rests on one thing being painted over another.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from clochewright.drawings.marks import Area, Line, Mark, Point
from clochewright.drawings.projection import Array, Flags
from clochewright.drawings.shapes import Solid

_INSIDE_MM = 0.01  # how far within an outline a line must run to be covered by it
_SPECK_MM = 0.12  # shorter bits of line are left out
_CLEARLY = 0.3  # of its radius: a socket this far in front of another shows its whole rim


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
    runs: dict[tuple[str, str], list[tuple[Point, ...]]] = {}
    for i in order:
        runs.setdefault((solids[i].pen, solids[i].part), []).extend(visible[i])
    for (pen, part), lines in runs.items():
        marks += [Line(pen, line, part=part) for line in _joined(lines)]
    return marks


def _joined(runs: Sequence[tuple[Point, ...]]) -> list[tuple[Point, ...]]:
    """The runs, those that meet end to end made one: a hoop of many bars is one line on either side."""
    lines: dict[int, list[Point]] = {}
    ends: dict[Point, int] = {}  # which line can be gone on with there
    for k, run in enumerate(runs):
        line, first, last = list(run), _snapped(run[0]), _snapped(run[-1])
        for _ in range(0 if first == last else 2):  # at its one end, then at its other
            other = lines.pop(ends.pop(last, -1), None)
            if other is not None:
                onward = _snapped(other[0]) == last
                line += other[1:] if onward else other[-2::-1]
                last = _snapped(line[-1])
            line.reverse()
            first, last = last, first
        lines[k] = line
        if first != last:
            ends |= {first: k, last: k}
    return [tuple(line) for line in lines.values()]


def _snapped(point: Point) -> Point:
    return round(point[0], 4), round(point[1], 4)


def _in_front(solids: Sequence[Solid]) -> Array:
    """How far solid i lies in front of solid j where they meet on paper [mm], shape (n, n); 0 where they don't."""
    starts = np.array([s.start for s in solids])
    ends = np.array([s.end for s in solids])
    radius = np.array([s.radius_mm for s in solids])
    low, high = np.minimum(starts, ends) - radius[:, None], np.maximum(starts, ends) + radius[:, None]
    near = (low[:, None, 0] < high[:, 0]) & (low[:, None, 1] < high[:, 1])
    i, j = np.nonzero(np.triu(near & near.T, 1))

    a, d = starts[i].T, (ends - starts)[i].T  # the two centre lines of each pair: a + s d and b + t e
    b, e = starts[j].T, (ends - starts)[j].T
    zero, one = np.zeros(len(i)), np.ones(len(i))
    meetings = [
        (zero, _nearest(a, b, e)),
        (one, _nearest(a + d, b, e)),
        (_nearest(b, a, d), zero),
        (_nearest(b + e, a, d), one),
        _crossing(a, d, b, e),
    ]
    best = np.full(len(i), np.inf)
    ahead = np.zeros(len(i))
    for s, t in meetings:
        gap = a + s * d - b - t * e
        apart = np.hypot(gap[0], gap[1])
        nearer = apart < best - 1e-6
        as_near = ~nearer & (apart < best + 1e-6) & (np.abs(gap[2]) > np.abs(ahead))
        ahead = np.where(nearer | as_near, gap[2], ahead)
        best = np.where(nearer, apart, best)
    # Where they touch at one point (a pipe in its socket, two sockets of a fitting), the middles tell.
    ahead = np.where(np.abs(ahead) > 1e-6, ahead, a[2] + d[2] / 2 - b[2] - e[2] / 2)
    ahead = np.where((best < radius[i] + radius[j]) & (np.abs(ahead) > 1e-6), ahead, 0.0)
    front = np.zeros((len(solids), len(solids)))
    front[i, j], front[j, i] = ahead, -ahead
    return front


def _nearest(point: Array, start: Array, along: Array) -> Array:
    """Where on each line (0 to 1) each point comes nearest on paper; all of shape (3, n)."""
    length2 = np.maximum(along[0] ** 2 + along[1] ** 2, 1e-12)
    where: Array = ((point[0] - start[0]) * along[0] + (point[1] - start[1]) * along[1]) / length2
    return np.clip(where, 0.0, 1.0)


def _crossing(a: Array, d: Array, b: Array, e: Array) -> tuple[Array, Array]:
    """Where on each of two lines they cross on paper; where they don't, their starts."""
    turn = d[0] * e[1] - d[1] * e[0]
    crosses = np.abs(turn) > 1e-9
    safe = np.where(crosses, turn, 1.0)
    x, y = b[0] - a[0], b[1] - a[1]
    s, t = (x * e[1] - y * e[0]) / safe, (x * d[1] - y * d[0]) / safe
    crosses &= (s >= 0.0) & (s <= 1.0) & (t >= 0.0) & (t <= 1.0)
    return np.where(crosses, s, 0.0), np.where(crosses, t, 0.0)


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


def _covers(solids: Sequence[Solid], front: Array, rank: NDArray[np.int64]) -> tuple[Flags, Flags]:
    """Whose area (rows) takes away whose sides, and whose rims (columns); two tables, each of shape (n, n)."""
    later = rank[:, None] > rank[None, :]
    names = {name: k for k, name in enumerate(dict.fromkeys(s.weld for s in solids if s.weld), start=1)}
    weld = np.array([names.get(s.weld, 0) for s in solids])
    one_casting = (weld[:, None] == weld[None, :]) & (weld[:, None] > 0)
    np.fill_diagonal(one_casting, False)
    radius = np.array([s.radius_mm for s in solids])
    clearly = front > _CLEARLY * radius[:, None]
    return later | one_casting, np.where(one_casting, clearly, later)


def _visible(solids: Sequence[Solid], covers: tuple[Flags, Flags]) -> list[list[tuple[Point, ...]]]:
    """The parts of each solid's sides and rims that nothing covers."""
    owner: list[int] = []
    kind: list[int] = []
    starts: list[Point] = []
    ends: list[Point] = []
    for i, solid in enumerate(solids):
        for k, edges in enumerate((solid.sides, solid.rims)):
            for edge in edges:
                owner += [i] * (len(edge) - 1)
                kind += [k] * (len(edge) - 1)
                starts += edge[:-1]
                ends += edge[1:]
    covered = np.where(np.array(kind)[:, None] == 0, covers[0].T[owner], covers[1].T[owner])
    hidden = _hidden_spans(solids, covered, np.array(starts), np.array(ends))
    visible: list[list[tuple[Point, ...]]] = []
    k = 0
    for solid in solids:
        runs: list[tuple[Point, ...]] = []
        for edge in solid.sides + solid.rims:
            spans = [hidden.get(k + n) for n in range(len(edge) - 1)]
            k += len(edge) - 1
            runs += _runs(edge, spans) if any(spans) else [edge]
        visible.append(runs)
    return visible


def _runs(edge: tuple[Point, ...], hidden: Sequence[Sequence[tuple[float, float]] | None]) -> list[tuple[Point, ...]]:
    """What is left of a line whose segments are hidden over some spans, as unbroken runs."""
    pieces: list[list[Point]] = []
    for here, there, spans in zip(edge, edge[1:], hidden, strict=False):
        for s, t in _left_over(spans or ()):
            head, tail = _between(here, there, s), _between(here, there, t)
            if pieces and s == 0.0 and pieces[-1][-1] == head:
                pieces[-1].append(tail)
            else:
                pieces.append([head, tail])
    return [tuple(piece) for piece in pieces if _length(piece) > _SPECK_MM]


def _hidden_spans(solids: Sequence[Solid], covered: Flags, p: Array, q: Array) -> dict[int, list[tuple[float, float]]]:
    """For each segment p to q, the spans (0 to 1) within the outlines that cover it; `covered` has a row a segment."""
    corners, inward, offset, ring = _half_planes(solids)
    near = covered
    for axis in (0, 1):
        low, high = ring[..., axis].min(axis=1), ring[..., axis].max(axis=1)
        near = near & (np.minimum(p[:, axis], q[:, axis])[:, None] < high)
        near &= np.maximum(p[:, axis], q[:, axis])[:, None] > low
    segment, shape = np.nonzero(near)
    a, along = p[segment], (q - p)[segment]
    # Cyrus and Beck: the span of the line that lies on the inner side of every side of a convex outline.
    nx, ny = inward[shape, :, 0], inward[shape, :, 1]
    height = nx * a[:, :1] + ny * a[:, 1:] - offset[shape]
    climb = nx * along[:, :1] + ny * along[:, 1:]
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


def _half_planes(solids: Sequence[Solid]) -> tuple[Flags, Array, Array, Array]:
    """Sides of every outline: which are used, inward normals, offsets a hair inside, and the corners they start at.

    Shapes (n, m), (n, m, 2), (n, m) and (n, m, 2); short outlines are filled up with their last corner.
    """
    most = max(len(s.outline) for s in solids)
    ring = np.array([s.outline + s.outline[-1:] * (most - len(s.outline)) for s in solids])
    side = np.roll(ring, -1, axis=1) - ring
    length = np.hypot(side[..., 0], side[..., 1])
    used = length > 1e-9
    normal = np.stack([-side[..., 1], side[..., 0]], axis=-1) / np.where(used, length, 1.0)[..., None]
    offset = normal[..., 0] * ring[..., 0] + normal[..., 1] * ring[..., 1] + _INSIDE_MM
    return used, normal, offset, ring


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
    return sum(math.dist(a, b) for a, b in pairwise(points))
