"""A frame as the solver sees it: nodes, straight members, supports and patterns of load. Nothing here knows of gardens.

Six freedoms a node, in this order: along x, y, z [m] and about x, y, z [rad]. Arrays are numpy, one row an item.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Members:
    """Round members, one row each.

    `start` and `stop` are node numbers; `start_arm_m` and `stop_arm_m` (n, 3) run from the node to where the elastic
    part begins, through the stiff fitting [m]; `E_Pa`, `G_Pa`, `area_m2`, `I_m4` (any bending axis) and `J_m4` are of
    the pipe; `start_spring_Nm_rad` and `stop_spring_Nm_rad` are what holds the ends against bending [N·m/rad]: infinite
    for a stiff joint, 0 for a pin.
    """

    start: Ints
    stop: Ints
    start_arm_m: Floats
    stop_arm_m: Floats
    E_Pa: Floats
    G_Pa: Floats
    area_m2: Floats
    I_m4: Floats
    J_m4: Floats
    start_spring_Nm_rad: Floats
    stop_spring_Nm_rad: Floats

    def __len__(self) -> int:
        return len(self.start)


@dataclass(frozen=True, slots=True)
class Support:
    """One freedom of one node held: fixed if the stiffness is infinite, else a spring [N/m; N·m/rad about an axis]."""

    node: int
    freedom: int
    stiffness_N_m: float = np.inf


@dataclass(frozen=True, slots=True)
class Contact:
    """A support that only pushes: upwards along the freedom for `sign` +1, downwards for -1. Stiffness in [N/m]."""

    node: int
    freedom: int
    stiffness_N_m: float
    sign: float = 1.0


@dataclass(frozen=True, slots=True)
class Structure:
    """Everything but the loads. `names` tells what each node and member is when it has to be named to people."""

    nodes_m: Floats
    members: Members
    supports: tuple[Support, ...]
    contacts: tuple[Contact, ...] = ()
    node_names: tuple[str, ...] = ()
    member_names: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Loads:
    """Patterns of load, one layer each: `nodal` (p, nodes, 6) in [N] and [N·m]; `spread_N_m` (p, members, 3) in [N/m].

    A spread load acts along the elastic part of its member, in the frame's axes.
    """

    nodal: Floats
    spread_N_m: Floats

    def __len__(self) -> int:
        return len(self.nodal)


@dataclass(frozen=True, slots=True)
class Shape:
    """Where the elastic part of each member lies: length (n,) [m] and axes (n, 3, 3), rows along, across, across."""

    length_m: Floats
    axes: Floats = field(repr=False)


def member_shape(nodes_m: Floats, members: Members) -> Shape:
    """Lengths and local axes of the elastic parts.

    The first axis runs from start to stop; the second is level; a round section has no other preference.

    Raises:
        ValueError: when an elastic part has no length.
    """
    a = nodes_m[members.start] + members.start_arm_m
    b = nodes_m[members.stop] + members.stop_arm_m
    along = b - a
    length_m = np.linalg.norm(along, axis=1)
    if len(length_m) and length_m.min() < 1e-9:
        raise ValueError(f"member {int(length_m.argmin())} has no length")
    along = along / length_m[:, None]
    upright = np.abs(along[:, 2]) > 0.9999
    level = np.stack([-along[:, 1], along[:, 0], np.zeros(len(along))], axis=1)
    level[upright] = (0.0, 1.0, 0.0)
    level -= along * np.sum(level * along, axis=1, keepdims=True)
    level /= np.linalg.norm(level, axis=1, keepdims=True)
    return Shape(length_m, np.stack([along, level, np.cross(along, level)], axis=1))
