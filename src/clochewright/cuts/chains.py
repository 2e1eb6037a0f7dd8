"""Dimension chains: which pipes add up to each size that a tape can take of a frame.

From the centre of one fitting to the centre of the next is the cut, and at each end the fitting from its centre to its
mouth less the seat: `cut + (face - seat) + (face - seat)`. Every size over all is made of such spans.
"""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from clochewright.frame import Fitting, Frame, Pipe, Port, Vec

STRAIGHT = 1e-9  # how far the cosine of two directions may be from 1 for them to be one line
IN_LINE_RAD = 1e-6


@dataclass(frozen=True, slots=True)
class Line:
    """A straight run of pipes from fitting `start` to fitting `end`; fittings between them belong to it.

    `centres_m` is from centre to centre as planned [m], `place_m` where along the bed its middle is [m].
    """

    pipes: tuple[str, ...]
    start: str
    end: str
    centres_m: float
    place_m: float


@dataclass(frozen=True, slots=True)
class Leg:
    """One straight leg of a bent: its pipes, its role, its length from corner to corner of the bent [m], its heading.

    The heading is the angle up from +y, on the way from the left foot to the right one [rad].
    """

    pipes: tuple[str, ...]
    role: str
    length_m: float
    heading_rad: float


@dataclass(frozen=True, slots=True)
class Bent:
    """One cross-frame as a chain of legs from the left foot to the right one, both of which turn on their rails.

    `fixed` says of each angle between two legs whether one fitting holds it (an elbow does; two tees butted on a rail
    turn until they are fastened). `apart` names the lines across the base that hold its feet apart, by their place in
    `Chains.widths`, each with its share. `rise_m` is the right foot's height above the left one [m].
    """

    legs: tuple[Leg, ...]
    fixed: tuple[bool, ...]
    apart: tuple[tuple[int, float], ...]
    apart_m: float
    rise_m: float


@dataclass(frozen=True, slots=True)
class Sprung:
    """One hoop from foot to foot: its pipes, and the lines across the base that hold its feet apart, as in `Bent`.

    Feet in sleeves are held apart by the bed alone, and `apart` is empty.
    """

    pipes: tuple[str, ...]
    apart: tuple[tuple[int, float], ...]


@dataclass(frozen=True, slots=True)
class Base:
    """The four lines around one base: left and right by their place in `Chains.lengths`, front and far in `widths`."""

    left: int
    right: int
    front: int
    far: int


@dataclass(frozen=True, slots=True)
class Chains:
    """All chains of a frame. `widths` holds end rails and braces, by their place along the bed."""

    lengths: tuple[Line, ...]
    widths: tuple[Line, ...]
    bases: tuple[Base, ...]
    bents: tuple[Bent, ...]
    hoops: tuple[Sprung, ...]


def find_chains(frame: Frame) -> Chains:
    """The dimension chains of a frame of any shape; a frame without parts has none."""
    net = _Net(frame)
    lengths = tuple(_lengths(net))
    rail_of = {fitting: i for i, line in enumerate(lengths) for fitting in net.fittings_of(line)}
    widths = tuple(sorted(_widths(net, rail_of), key=lambda line: (line.place_m, line.start)))
    based = {pipe for line in (*lengths, *widths) for pipe in line.pipes}
    crossed = tuple(_cross_frames(net, rail_of, widths, based))
    bents = tuple(one for one in crossed if isinstance(one, Bent))
    hoops = tuple(one for one in crossed if isinstance(one, Sprung))
    return Chains(lengths, widths, tuple(_bases(lengths, widths)), bents, hoops)


@dataclass(frozen=True, slots=True)
class _Link:
    """A pipe as seen from one of its fittings."""

    pipe: Pipe
    here: str
    way: Vec
    other: str
    other_port: Port


class _Net:
    """The frame as fittings and the pipes that link them; `links` holds the straight ones by fitting and port."""

    def __init__(self, frame: Frame) -> None:
        self.fittings: dict[str, Fitting] = {fitting.id: fitting for fitting in frame.fittings}
        self.links: dict[tuple[str, str], _Link] = {}
        self.pipes: dict[str, Pipe] = {pipe.id: pipe for pipe in frame.pipes}
        self.links_of: dict[str, list[_Link]] = {fitting.id: [] for fitting in frame.fittings}
        for pipe in frame.pipes:
            for here, there in (pipe.ends, pipe.ends[::-1]):
                if here.fitting is None or here.port is None or there.fitting is None or there.port is None:
                    continue
                way = self.fittings[here.fitting].port(here.port).direction
                link = _Link(pipe, here.fitting, way, there.fitting, self.fittings[there.fitting].port(there.port))
                if pipe.shape == "straight":
                    self.links[here.fitting, here.port] = link
                self.links_of[here.fitting].append(link)

    def walk(self, fitting: str, port: str) -> Line | None:
        """Straight on from one port, through every fitting with a socket opposite; None if nothing is there."""
        pipes: list[str] = []
        end, link = fitting, self.links.get((fitting, port))
        while link is not None and len(pipes) < len(self.pipes):
            pipes.append(link.pipe.id)
            end = link.other
            onward = _opposite(self.fittings[end], link.other_port)
            link = self.links.get((end, onward)) if onward else None
        if not pipes:
            return None
        first, last = self.fittings[fitting], self.fittings[end]
        return Line(
            tuple(pipes),
            fitting,
            end,
            math.dist(first.position_m, last.position_m),
            (first.position_m[0] + last.position_m[0]) / 2,
        )

    def fittings_of(self, line: Line) -> tuple[str, ...]:
        """Every fitting on a line, in the line's order: what is found from them comes in the same order in each run."""
        ends = (end for pipe in line.pipes for end in self.pipes[pipe].ends)
        return tuple(dict.fromkeys(end.fitting for end in ends if end.fitting is not None))


def _opposite(fitting: Fitting, entered: Port) -> str | None:
    for port in fitting.ports:
        if _dot(port.direction, entered.direction) < STRAIGHT - 1:
            return port.name
    return None


def _dot(a: Vec, b: Vec) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def _lengths(net: _Net) -> Iterator[Line]:
    """From corner to corner along the bed, the left rail first."""
    corners = [fitting for fitting in net.fittings.values() if fitting.role == "corner"]
    for corner in sorted(corners, key=lambda fitting: (-fitting.position_m[1], fitting.position_m[0])):
        for port in corner.ports:
            line = net.walk(corner.id, port.name) if port.direction[0] > 1 - STRAIGHT else None
            if line is not None and net.fittings[line.end].role == "corner":
                yield line


def _widths(net: _Net, rail_of: Mapping[str, int]) -> Iterator[Line]:
    """Straight across from one base rail to another."""
    for fitting, rail in rail_of.items():
        for port in net.fittings[fitting].ports:
            line = net.walk(fitting, port.name) if port.direction[1] < STRAIGHT - 1 else None
            if line is not None and rail_of.get(line.end, rail) != rail:
                yield line


def _bases(lengths: tuple[Line, ...], widths: tuple[Line, ...]) -> Iterator[Base]:
    across = {(line.start, line.end): i for i, line in enumerate(widths)}
    for i, left in enumerate(lengths):
        for j, right in enumerate(lengths):
            front, far = across.get((left.start, right.start)), across.get((left.end, right.end))
            if front is not None and far is not None:
                yield Base(i, j, front, far)


def _cross_frames(
    net: _Net, rail_of: Mapping[str, int], widths: tuple[Line, ...], based: set[str]
) -> Iterator[Bent | Sprung]:
    """Every way from a foot on the left over the top to a foot on the right."""
    sleeves = {f.id: -1 if f.position_m[1] > 0 else -2 for f in net.fittings.values() if f.role == "sleeve"}
    side_of = {**rail_of, **sleeves}
    for foot in side_of:
        path = _path(net, side_of, foot, based)
        if not path:
            continue
        left, right = net.fittings[foot], net.fittings[path[-1].other]
        if left.position_m[1] <= right.position_m[1]:
            continue
        places = [left.position_m[0], *(net.fittings[link.other].position_m[0] for link in path)]
        sides = {side_of[left.id], side_of[right.id]}
        between = [(i, w.place_m) for i, w in enumerate(widths) if {rail_of[w.start], rail_of[w.end]} == sides]
        apart = _apart(sum(places) / len(places), between)
        if any(link.pipe.shape != "straight" for link in path):
            yield Sprung(tuple(link.pipe.id for link in path), apart)
        elif apart:
            legs, fixed = _legs(net, path)
            _, left_m, left_z_m = left.position_m
            _, right_m, right_z_m = right.position_m
            yield Bent(legs, fixed, apart, left_m - right_m, right_z_m - left_z_m)


def _path(net: _Net, side_of: Mapping[str, int], start: str, based: set[str]) -> list[_Link]:
    """The shortest way from a foot over the top to a foot on another side, square to the bed; [] if there is none."""
    came: dict[str, tuple[str, _Link]] = {}
    queue = deque([start])
    while queue:
        here = queue.popleft()
        for link in net.links_of[here]:
            square = abs(link.way[0]) < STRAIGHT or link.pipe.role == "stub"
            if not square or link.pipe.id in based or link.other in came or link.other == start:
                continue
            came[link.other] = (here, link)
            if link.other in side_of:
                if side_of[link.other] == side_of[start]:
                    continue
                return _back(came, start, link.other)
            queue.append(link.other)
    return []


def _back(came: Mapping[str, tuple[str, _Link]], start: str, end: str) -> list[_Link]:
    path = []
    while end != start:
        end, link = came[end]
        path.append(link)
    return path[::-1]


def _legs(net: _Net, path: list[_Link]) -> tuple[tuple[Leg, ...], tuple[bool, ...]]:
    """The path as straight legs; a stub along the bed between two fittings leaves the angle there free."""
    legs: list[tuple[list[_Link], float]] = []
    fixed: list[bool] = []
    held = True
    for link in path:
        if abs(link.way[0]) > STRAIGHT:
            held = False
            continue
        heading = math.atan2(link.way[2], link.way[1])
        if legs and held and abs(math.remainder(heading - legs[-1][1], math.tau)) < IN_LINE_RAD:
            legs[-1][0].append(link)
        else:
            if legs:
                fixed.append(held)
            legs.append(([link], heading))
        held = True
    return tuple(_leg(net, links, heading) for links, heading in legs), tuple(fixed)


def _leg(net: _Net, links: list[_Link], heading_rad: float) -> Leg:
    roles = [link.pipe.role for link in links if link.pipe.role != "stub"]
    return Leg(
        tuple(link.pipe.id for link in links),
        roles[0] if roles else "stub",
        sum(math.dist(net.fittings[link.here].position_m, net.fittings[link.other].position_m) for link in links),
        heading_rad,
    )


def _apart(place_m: float, lines: list[tuple[int, float]]) -> tuple[tuple[int, float], ...]:
    """The lines across that hold two feet apart, with their shares: rails are straight from one line to the next."""
    before = [(i, at_m) for i, at_m in lines if at_m <= place_m]
    after = [(i, at_m) for i, at_m in lines if at_m > place_m]
    if before and after:
        (i, from_m), (j, to_m) = before[-1], after[0]
        share = (place_m - from_m) / (to_m - from_m)
        return ((i, 1 - share), (j, share))
    if lines:
        return (((before[-1] if before else after[0])[0], 1.0),)
    return ()
