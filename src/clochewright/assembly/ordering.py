"""In which order rigid units come together: taken apart one after another, told backwards.

A group of several units that comes off as one is put together by itself, beside the rest. Where nothing can be pulled
off, a straight pipe between two facing sockets is sprung out: with it gone, the rest must come apart.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Iterable
from dataclasses import dataclass

from clochewright.assembly.blocking import (
    SAME_WAY,
    Group,
    Link,
    Split,
    Web,
    comes_apart,
    slides_off,
    sprung_out,
    stopped_links,
)
from clochewright.frame import Vec

Far = Callable[[frozenset[int]], float]  # how late a set of units is added: the larger, the later
# Of the units of a group and the sets that would free it, the set to spring in; None where none may be.
MayForce = Callable[[frozenset[int], list[frozenset[int]]], frozenset[int] | None]


@dataclass(frozen=True, slots=True)
class Joined:
    """One joining of two groups of atoms: `way` is how `moving` travels.

    `sprung` is 2 for a frame opened by force, 1 for a hoop bent by hand, 0 for a plain slide. `turns` says that
    `moving` can then be turned about `way`. `depth` is 0 for what is added to the work that stands, more for what is
    put together beside it first.
    """

    moving: frozenset[int]
    onto: frozenset[int]
    way: Vec
    links: tuple[Link, ...]
    sprung: int = 0
    turns: bool = False
    depth: int = 0


class Stuck(Exception):  # noqa: N818  a result of the search, not an error of the program
    """No order was found; `units` are what can't be parted."""

    def __init__(self, units: frozenset[int]) -> None:
        super().__init__("stuck")
        self.units = units


class Orderer:
    """Finds orders in one web, for one choice of what is rigid."""

    def __init__(
        self,
        web: Web,
        unit_of: dict[int, int],
        bent: Collection[int],
        may_force: MayForce | None = None,
    ) -> None:
        """`may_force` picks, among sets of pipes each of which would free the rest, the one to spring in."""
        self._web, self._unit_of, self._bent, self._may_force = web, unit_of, frozenset(bent), may_force
        self._atoms: dict[int, list[int]] = {}
        for atom, unit in unit_of.items():
            self._atoms.setdefault(unit, []).append(atom)

    def order(self, units: Collection[int], far: Far | None = None) -> list[Joined]:
        """The joinings, first first; several things that don't hang together are each joined by themselves.

        Raises:
            Stuck: where no order was found.
        """
        group = Group(units, stopped_links(self._web), self._unit_of)
        mine = far or self._along_the_bed
        pieces = self._sorted(group.pieces())
        order = [joined for piece in pieces for joined in self._order(group.within(piece), mine, 0)]
        return [*order, *self._slipped(group)]

    def _slipped(self, group: Group) -> list[Joined]:
        """Couplings without a stop, slid over the gap once both pieces are in their sockets."""
        atoms = self._of(group.units)
        slipped = []
        for link in self._web.links:
            if slides_off(self._web, link) and {link.pipe, link.fitting} <= atoms:
                coupling = frozenset({link.fitting})
                axis = self._web.axes[link.axis]
                way = (axis[0] * link.sense, axis[1] * link.sense, axis[2] * link.sense)
                slipped.append(Joined(coupling, atoms - coupling, way, (link,)))
        return slipped

    def _sorted(self, pieces: Iterable[frozenset[int]]) -> list[frozenset[int]]:
        return sorted(pieces, key=lambda units: (self._along_the_bed(units), min(units)))

    def _order(self, group: Group, far: Far, depth: int) -> list[Joined]:
        backwards: list[list[Joined]] = []
        while len(group.units) > 1:
            split = self._split(group, far)
            inner = self._order(group.within(split.moving), far, depth + 1) if len(split.moving) > 1 else []
            backwards.append([*inner, self._joined(split, depth)])
            group = group.within(split.onto)
        return [joined for one in reversed(backwards) for joined in one]

    def _split(self, group: Group, far: Far) -> Split:
        sprung = sprung_out(group, self._bent)
        for unit in sorted(sprung, key=lambda unit: (-far(frozenset({unit})), unit)):
            rest = group.units - {unit}
            if len(group.within(rest).pieces()) == 1:
                links = group.between(frozenset({unit}))
                return Split(frozenset({unit}), rest, links[0].axis, links[0].sense, links, True)
        slides = [split for axis in group.axes() for split in _slides(group, axis)]
        if slides:
            return min(slides, key=lambda split: (len(split.moving), -round(far(split.moving), 6), min(split.moving)))
        return self._forced(group, far)

    def _forced(self, group: Group, far: Far) -> Split:
        """Pipes that are held at both ends, and one of which must be sprung in last."""
        classes: dict[int, set[int]] = {}
        for pipe, _, link in group.links:
            others = [other for a, b, other in group.links if pipe in (a, b)]
            if len(self._atoms[pipe]) == 1 and len(others) == 2 and all(other.axis == link.axis for other in others):
                classes.setdefault(link.axis, set()).add(pipe)
        free = [
            frozenset(pipes)
            for _, pipes in sorted(classes.items())
            if len(pipes) < len(group.units) and comes_apart(group.within(group.units - pipes), self._bent)
        ]
        chosen = self._may_force(group.units, free) if free and self._may_force is not None else None
        if chosen is None:
            raise Stuck(group.units)
        unit = max(chosen, key=lambda unit: (far(frozenset({unit})), unit))
        links = group.between(frozenset({unit}))
        return Split(frozenset({unit}), group.units - {unit}, links[0].axis, links[0].sense, links, True)

    def _joined(self, split: Split, depth: int) -> Joined:
        axis = self._web.axes[split.axis]
        away = split.sense
        way = (-axis[0] * away, -axis[1] * away, -axis[2] * away)
        moving, onto = self._of(split.moving), self._of(split.onto)
        hoops = moving & self._web.bent
        sprung = 0
        if split.spring:
            sprung = 1 if hoops else 2
        elif hoops and len(split.links) > 1:
            sprung = 1
        turns = not split.spring and self._can_turn(split)
        return Joined(moving, onto, way, split.links, sprung, turns, depth)

    def _can_turn(self, split: Split) -> bool:
        """Whether all that joins the two lies on one line, while each has something beside that line."""
        axis = self._web.axes[split.axis]
        start = self._web.middle_m[split.links[0].fitting]
        if any(_off_line(start, axis, self._web.middle_m[link.fitting]) for link in split.links):
            return False
        return all(self._beside(units, start, axis) for units in (split.moving, split.onto))

    def _beside(self, units: frozenset[int], start: Vec, axis: Vec) -> bool:
        atoms = self._of(units)
        spots = [link for link in self._web.links if link.fitting in atoms]
        return any(
            abs(sum(a * b for a, b in zip(self._web.axes[link.axis], axis, strict=True))) < SAME_WAY
            or _off_line(start, axis, self._web.middle_m[link.fitting])
            for link in spots
        )

    def _of(self, units: Iterable[int]) -> frozenset[int]:
        return frozenset(atom for unit in units for atom in self._atoms[unit])

    def _along_the_bed(self, units: frozenset[int]) -> float:
        atoms = self._of(units)
        return sum(self._web.middle_m[atom][0] for atom in atoms) / len(atoms)

    def from_the_middle(self, units: Collection[int]) -> Far:
        """For a small part: begin with what is nearest its middle."""
        atoms = self._of(units)
        middle = [sum(self._web.middle_m[atom][k] for atom in atoms) / len(atoms) for k in range(3)]

        def far(some: frozenset[int]) -> float:
            mine = self._of(some)
            at = [sum(self._web.middle_m[atom][k] for atom in mine) / len(mine) for k in range(3)]
            return math.dist(at, middle)

        return far


def _slides(group: Group, axis: int) -> list[Split]:
    """The smallest sets that can leave along an axis, either way, each with the rest still in one piece."""
    knots, arrows = group.knots(axis)
    if len(knots) == 1:
        return []
    dragged = {other for others in arrows.values() for other in others}
    found = []
    for k, knot in enumerate(knots):
        senses = ([1] if not arrows[k] else []) + ([-1] if k not in dragged else [])
        if not senses:
            continue
        rest = group.units - knot
        pieces = group.within(rest).pieces()
        if len(pieces) == 1:
            found.append(Split(knot, rest, axis, senses[0], group.between(knot)))
            continue
        # it holds others together: one of them leaves it instead, the other way
        piece = min(pieces, key=lambda units: (len(units), min(units)))
        found.append(Split(piece, group.units - piece, axis, -senses[0], group.between(piece)))
    return found


def _off_line(start: Vec, axis: Vec, point: Vec) -> bool:
    away = [b - a for a, b in zip(start, point, strict=True)]
    along = sum(a * b for a, b in zip(away, axis, strict=True))
    return math.sqrt(max(sum(x * x for x in away) - along * along, 0.0)) > 1e-4
