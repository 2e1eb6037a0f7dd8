"""A cluster: the fittings that one bent puts on one rail, and where its members leave from.

A rail runs along the bed. At each bent one or more fittings stand on it, told here by their place along the rail
relative to the bent, so that rails can be solved before anything has a place in space.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from clochewright.frame.parts import Vec
from clochewright.frame.shelf import Spec


@dataclass(frozen=True, slots=True)
class Item:
    """A fitting on the rail: `dx_m` along it from the bent's reference; `back` and `fore` name the ports on the rail.

    `back` looks towards the front end (-x), `fore` towards the far end (+x); None where the rail ends here.
    """

    spec: Spec
    role: str
    dx_m: float
    ports: Mapping[str, Vec]
    back: str | None
    fore: str | None

    @property
    def low_m(self) -> float:
        """Where the item begins on the rail, relative to the bent [m]."""
        return self.dx_m - (self.spec.face(self.back) if self.back else self.spec.hub_m / 2)

    @property
    def high_m(self) -> float:
        """Where the item ends on the rail, relative to the bent [m]."""
        return self.dx_m + (self.spec.face(self.fore) if self.fore else self.spec.hub_m / 2)


@dataclass(frozen=True, slots=True)
class Hanger:
    """A fitting beside the rail, hung on an item's port by a stub (the elbows of a flat apex).

    `apart_m` is from centre to centre [m]: the faces touch where the fittings are as long as the longest of their kind.
    """

    spec: Spec
    role: str
    item: int
    item_port: str
    own_port: str
    apart_m: float
    ports: Mapping[str, Vec]


@dataclass(frozen=True, slots=True)
class Cluster:
    """What one bent puts on one rail.

    `members` says for each member where it leaves: ("item" | "hanger", index, port).
    """

    items: tuple[Item, ...]
    members: Mapping[str, tuple[str, int, str]]
    hangers: tuple[Hanger, ...] = field(default=())

    @property
    def low_m(self) -> float:
        """Where the cluster begins on the rail, relative to the bent's reference [m]."""
        return min(item.low_m for item in self.items)

    @property
    def high_m(self) -> float:
        """Where it ends [m]."""
        return max(item.high_m for item in self.items)

    def plane_m(self, member: str) -> float:
        """How far along the bed from the cluster's reference a member's plane stands [m]."""
        where, index, _ = self.members[member]
        item = self.items[index] if where == "item" else self.items[self.hangers[index].item]
        return item.dx_m


def shifted(cluster: Cluster, by_m: float) -> Cluster:
    """The same cluster, moved along the rail [m]."""
    items = tuple(
        Item(item.spec, item.role, item.dx_m + by_m, item.ports, item.back, item.fore) for item in cluster.items
    )
    return Cluster(items, cluster.members, cluster.hangers)
