"""Whether a choice of screwed joints goes together and comes apart without force."""

from __future__ import annotations

from collections.abc import Collection

from clochewright.assembly.blocking import Group, Spot, Web, comes_apart, stopped_links, web_of
from clochewright.frame import Frame


class Judge:
    """Judges choices of screwed joints in one frame."""

    def __init__(self, frame: Frame) -> None:
        """Reads the frame once."""
        self._web = web_of(frame)

    def __call__(self, screwed: Collection[Spot]) -> bool:
        """Whether the parts that the other joints make slide together; `screwed` names joints by fitting and port.

        Sprung hoops are bent in by hand, which is how they come to be hoops; that counts as no force here.
        """
        units, unit_of = rigid_units(self._web, screwed)
        return comes_apart(Group(units, stopped_links(self._web), unit_of), self._web.bent)


def rigid_units(web: Web, screwed: Collection[Spot]) -> tuple[list[int], dict[int, int]]:
    """What is rigid when these joints are screwed and all others cemented: units by number, and each atom's unit."""
    parent = list(range(len(web.atoms)))

    def root(atom: int) -> int:
        while parent[atom] != atom:
            parent[atom] = parent[parent[atom]]
            atom = parent[atom]
        return atom

    for a, b in (*web.one_base, *((link.pipe, link.fitting) for link in web.links if link.spot not in screwed)):
        one, other = root(a), root(b)
        parent[max(one, other)] = min(one, other)
    unit_of = {atom: root(atom) for atom in range(len(web.atoms))}
    return sorted(set(unit_of.values())), unit_of
