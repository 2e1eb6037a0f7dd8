"""Which group can move: the blocking graph along the axes of the sockets.

After Wilson and Latombe (AAAI-92): for one axis, what is locked for a move along it is taken together, and the rest is
a directed graph of "if this moves, that must come along"; every set that such arrows don't leave can be pulled off.
For pipe in sockets it is small: only the axes of the sockets are worth trying, a joint across the axis locks, and a
joint along it lets the pipe leave one way only. A part of something that comes apart by slides comes apart too (it has
fewer joints to mind), so whichever group is taken off first, nothing is lost by it.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass

from clochewright.frame import Frame, Vec

SAME_WAY = 1 - 4e-6  # within 0.16 degrees; a frame closes within 0.1
Spot = tuple[str, str]  # a fitting and one of its ports


@dataclass(frozen=True, slots=True)
class Link:
    """One joint: the atoms of its pipe and its fitting, the axis (by number) and whether the port looks along it."""

    pipe: int
    fitting: int
    axis: int
    sense: int
    spot: Spot


@dataclass(frozen=True, slots=True)
class Web:
    """A frame as atoms (pipes, fittings, and the bed that sleeves are strapped to) and links.

    `middle_m` is where each atom is; `bent` are the sprung pipes; `slips` the couplings without a stop; `axes` the unit
    vectors along sockets.
    """

    atoms: tuple[str, ...]
    links: tuple[Link, ...]
    axes: tuple[Vec, ...]
    middle_m: tuple[Vec, ...]
    bent: frozenset[int]
    slips: frozenset[int]
    one_base: tuple[tuple[int, int], ...]
    number: Mapping[str, int]


def web_of(frame: Frame) -> Web:
    """Read a frame as a web."""
    atoms = (*(fitting.id for fitting in frame.fittings), *(pipe.id for pipe in frame.pipes))
    number = {atom: i for i, atom in enumerate(atoms)}
    axes: list[Vec] = []
    links: list[Link] = []
    ports = {(f.id, port.name): port.direction for f in frame.fittings for port in f.ports}
    middles = [f.position_m for f in frame.fittings]
    for pipe in frame.pipes:
        a, b = pipe.path_m[0], pipe.path_m[-1]
        middles.append(((a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2))
        for end in pipe.ends:
            if end.fitting is not None and end.port is not None:
                spot = (end.fitting, end.port)
                axis, sense = _axis(axes, ports[spot])
                links.append(Link(number[pipe.id], number[end.fitting], axis, sense, spot))
    sleeves = [number[f.id] for f in frame.fittings if f.kind == "sleeve"]
    base = tuple((sleeves[0], other) for other in sleeves[1:])
    bent = frozenset(number[pipe.id] for pipe in frame.pipes if pipe.shape == "bent")
    slips = frozenset(number[f.id] for f in frame.fittings if f.kind == "slip-coupling")
    return Web(atoms, tuple(links), tuple(axes), tuple(middles), bent, slips, base, number)


def _axis(axes: list[Vec], way: Vec) -> tuple[int, int]:
    for i, axis in enumerate(axes):
        along = axis[0] * way[0] + axis[1] * way[1] + axis[2] * way[2]
        if abs(along) > SAME_WAY:
            return i, 1 if along > 0 else -1
    # axes look along the bed, or to the left, or up, so that the same frame gives the same words
    flip = next((x for x in way if abs(x) > 1e-9), 1.0) < 0
    axes.append((-way[0], -way[1], -way[2]) if flip else way)
    return len(axes) - 1, -1 if flip else 1


def stopped_links(web: Web) -> tuple[Link, ...]:
    """All links but those that a coupling without a stop makes last: it slides off that piece at any time."""
    return tuple(link for link in web.links if not slides_off(web, link))


def slides_off(web: Web, link: Link) -> bool:
    """Whether this is the side of a coupling without a stop that is closed last."""
    return link.fitting in web.slips and link.spot[1] == "b"


@dataclass(frozen=True, slots=True)
class Split:
    """One way to part a group: `moving` leaves `onto` along an axis in a sense; the links between them open.

    `spring` says that a sprung pipe, or the frame about it, has to be bent for it.
    """

    moving: frozenset[int]
    onto: frozenset[int]
    axis: int
    sense: int
    links: tuple[Link, ...]
    spring: bool = False


class Group:
    """Units (numbers of rigid parts) with the links between them, ready to be parted."""

    def __init__(self, units: Collection[int], links: Iterable[Link], unit_of: Mapping[int, int]) -> None:
        """`unit_of` gives the unit of each atom; links within a unit are passed over."""
        self.units = frozenset(units)
        self.unit_of = unit_of
        self.links = [
            (unit_of[link.pipe], unit_of[link.fitting], link)
            for link in links
            if unit_of[link.pipe] != unit_of[link.fitting]
            and unit_of[link.pipe] in self.units
            and unit_of[link.fitting] in self.units
        ]

    def within(self, units: Collection[int]) -> Group:
        """The same for some of its units."""
        return Group(units, (link for _, _, link in self.links), self.unit_of)

    def pieces(self) -> list[frozenset[int]]:
        """The units that hang together, each set by itself."""
        return _classes(self.units, ((a, b) for a, b, _ in self.links))

    def knots(self, axis: int) -> tuple[list[frozenset[int]], dict[int, set[int]]]:
        """For a move along an axis: what is locked together, and for each such knot those that must come along."""
        units = sorted(self.units)
        locked = _classes(units, ((a, b) for a, b, link in self.links if link.axis != axis))
        knot_of = {unit: k for k, knot in enumerate(locked) for unit in knot}
        follows: dict[int, set[int]] = {k: set() for k in range(len(locked))}
        for pipe, fitting, link in self.links:
            a, b = knot_of[pipe], knot_of[fitting]
            if link.axis == axis and a != b:
                # along the port's way the pipe may leave; so if the fitting goes that way, the pipe is pushed along
                first, then = (b, a) if link.sense > 0 else (a, b)
                follows[first].add(then)
        return _strong(locked, follows)

    def axes(self) -> list[int]:
        """The axes of its links, by number."""
        return sorted({link.axis for _, _, link in self.links})

    def between(self, moving: frozenset[int]) -> tuple[Link, ...]:
        """The links between some of the units and the others."""
        return tuple(link for a, b, link in self.links if (a in moving) != (b in moving))


def comes_apart(group: Group, bent: Collection[int]) -> bool:
    """Whether slides take a group apart into its units; `bent` are sprung pipes, which come out first where they can.

    Along an axis everything that can part is parted at once.
    """
    todo = [piece for piece in group.pieces() if len(piece) > 1]
    while todo:
        units = todo.pop()
        here = group.within(units)
        sprung = sprung_out(here, bent)
        if sprung:
            todo += [piece for piece in here.within(units - sprung).pieces() if len(piece) > 1]
            continue
        for axis in here.axes():
            knots, _ = here.knots(axis)
            if len(knots) > 1:
                todo += [piece for knot in knots for piece in here.within(knot).pieces() if len(piece) > 1]
                break
        else:
            return False
    return True


def sprung_out(group: Group, bent: Collection[int]) -> frozenset[int]:
    """Those units that hold on to the others by the ends of sprung pipes only; `bent` are the sprung pipes' atoms."""
    held = {unit for a, b, link in group.links for unit in ((b,) if link.pipe in bent else (a, b))}
    units = {group.unit_of[atom] for atom in bent} & group.units
    return frozenset(units - held) if len(group.units) > 1 else frozenset()


def _classes(units: Iterable[int], pairs: Iterable[tuple[int, int]]) -> list[frozenset[int]]:
    """Units that hang together by these pairs."""
    order = list(units)
    parent = {unit: unit for unit in order}

    def root(unit: int) -> int:
        while parent[unit] != unit:
            parent[unit] = parent[parent[unit]]
            unit = parent[unit]
        return unit

    for a, b in pairs:
        parent[root(a)] = root(b)
    classes: dict[int, list[int]] = {}
    for unit in order:
        classes.setdefault(root(unit), []).append(unit)
    return [frozenset(members) for members in classes.values()]


def _strong(
    knots: list[frozenset[int]], follows: dict[int, set[int]]
) -> tuple[list[frozenset[int]], dict[int, set[int]]]:
    """Knots that drag each other along, taken together (Tarjan's strongly connected components)."""
    index: dict[int, int] = {}
    low: dict[int, int] = {}
    stack: list[int] = []
    component: dict[int, int] = {}
    made: list[list[int]] = []
    for start in follows:
        if start in index:
            continue
        work: list[tuple[int, Iterator[int]]] = [(start, iter(sorted(follows[start])))]
        index[start] = low[start] = len(index)
        stack.append(start)
        while work:
            node, rest = work[-1]
            for other in rest:
                if other not in index:
                    index[other] = low[other] = len(index)
                    stack.append(other)
                    work.append((other, iter(sorted(follows[other]))))
                    break
                if other not in component:
                    low[node] = min(low[node], index[other])
            else:
                work.pop()
                if work:
                    low[work[-1][0]] = min(low[work[-1][0]], low[node])
                if low[node] == index[node]:
                    made.append([])
                    while True:
                        member = stack.pop()
                        component[member] = len(made) - 1
                        made[-1].append(member)
                        if member == node:
                            break
    arrows: dict[int, set[int]] = {k: set() for k in range(len(made))}
    for node, others in follows.items():
        arrows[component[node]] |= {component[other] for other in others} - {component[node]}
    return [frozenset().union(*(knots[k] for k in members)) for members in made], arrows
