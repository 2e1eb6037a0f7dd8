"""How hard a frame must be pulled open for a pipe to go between two facing sockets, and how much that bends it.

The frame lies on the floor and is pulled against itself, so no support bears anything: it is held at three points only,
as little as keeps it in place.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace

import numpy as np

from clochewright.catalogue import Section
from clochewright.frame import Frame
from clochewright.joints import JointPlan
from clochewright.lid import LidPlan
from clochewright.sources import Cited, Grade
from clochewright.strength.material import GUST_S, ROOM_DEGC, modulus
from clochewright.strength.model import Level, Model, at_level, model_frame, shear_modulus
from clochewright.strength.solver import prepare, respond
from clochewright.strength.structure import Floats, Loads, Structure, Support

Spot = tuple[str, str]  # a fitting and one of its ports
LEVELS: tuple[Level, ...] = ("low", "likely", "high")
NO_LID = LidPlan(((0.0, 0.0, 0.0), (1.0, 0.0, 0.0)), (), (), ())
SOURCE = "frame solver; low and high: modulus of the pipe, and a screwed joint between a pin and a stiff one"


@dataclass(frozen=True, slots=True)
class Spread:
    """The pull at each gap with its band [N], and the highest stress [Pa] and strain at the stiff end of the band."""

    forces_N: tuple[Cited, ...]
    stress_Pa: float
    strain_share: float


def spread_open(
    frame: Frame,
    joints: JointPlan,
    there: Collection[str],
    gaps: Sequence[tuple[Spot, Spot]],
    spread_m: float,
    section: Section,
    temperature_degC: float = ROOM_DEGC,
) -> Spread:
    """Pull gaps open, all at once.

    Args:
        frame: the whole frame.
        joints: says which joints are stiff (cemented) and which loose (screwed).
        there: ids of the fittings and pipes that stand already.
        gaps: two sockets each that look at one another, by fitting and port.
        spread_m: how far each gap is to open along the line between its sockets [m].
        section: the pipe's section, at its minimum wall.
        temperature_degC: how warm the pipe is [degC].

    Returns:
        The forces and what they do. A frame that folds without force opens for nothing.
    """
    standing = _standing(frame, there)
    E = modulus(temperature_degC, GUST_S)
    found = {}
    stress_Pa = strain_share = 0.0
    for level in LEVELS:
        E_Pa = at_level(E, level)
        model = model_frame(standing, NO_LID, joints, section, E_Pa, shear_modulus(E_Pa), level)
        forces_N, stresses_Pa = pull(held_at_three(model.structure), opening_ways(standing, model, gaps), spread_m)
        found[level] = forces_N
        stress_Pa = max(stress_Pa, stresses_Pa)
        strain_share = max(strain_share, stresses_Pa / E_Pa)
    forces = tuple(
        Cited(likely, min(low, likely), max(high, likely), Grade.ESTIMATE, SOURCE)
        for low, likely, high in zip(found["low"], found["likely"], found["high"], strict=True)
    )
    return Spread(forces, stress_Pa, strain_share)


def opening_ways(frame: Frame, model: Model, gaps: Sequence[tuple[Spot, Spot]]) -> Floats:
    """For each gap the load (gaps, nodes, 6) of a unit force that pushes its two fittings apart."""
    ways = np.zeros((len(gaps), len(model.structure.nodes_m), 6))
    for i, gap in enumerate(gaps):
        for fitting, port in gap:
            ways[i, model.node_of[fitting], :3] -= frame.fitting(fitting).port(port).direction
    return ways


def pull(structure: Structure, ways: Floats, spread_m: float) -> tuple[list[float], float]:
    """Forces that open all gaps by `spread_m` [N], and the highest stress they make [Pa].

    Movements along a gap under unit forces at the others are solved for once; the forces follow from them.
    """
    prepared = prepare(structure)
    members = structure.members
    answer = respond(prepared, Loads(ways, np.zeros((len(ways), len(members), 3))))
    if answer.motion is not None:
        return [0.0] * len(ways), 0.0
    gives_m_N = np.einsum("inf,jnf->ij", answer.moves, ways)
    forces_N = np.linalg.solve(gives_m_N, np.full(len(ways), spread_m))
    ends = np.einsum("c,cmk->mk", forces_N, answer.end_forces)
    outside_m = np.sqrt(8 * members.I_m4 / members.area_m2 + 2 * members.area_m2 / np.pi)  # of a round pipe
    stress_Pa = np.zeros(len(members))
    for first in (0, 6):
        bending = np.hypot(ends[:, first + 4], ends[:, first + 5])
        across = np.abs(ends[:, first]) / members.area_m2
        stress_Pa = np.maximum(stress_Pa, across + bending * outside_m / 2 / members.I_m4)
    return [float(force) for force in forces_N], float(stress_Pa.max())


def held_at_three(structure: Structure) -> Structure:
    """The structure held at three of its lowest nodes, by six freedoms: free to change its shape."""
    nodes = structure.nodes_m
    low = np.flatnonzero(nodes[:, 2] < nodes[:, 2].min() + 0.02)
    low = low if len(low) >= 3 else np.arange(len(nodes))
    first = low[np.argmin(nodes[low, 0] + nodes[low, 1])]
    along = low[np.argmax(np.abs(nodes[low, 0] - nodes[first, 0]) - np.abs(nodes[low, 1] - nodes[first, 1]))]
    beside = low[np.argmax(np.abs(nodes[low, 1] - nodes[first, 1]))]
    held = [(first, 0), (first, 1), (first, 2), (along, 1), (along, 2), (beside, 2)]
    return replace(structure, supports=tuple(Support(int(node), f) for node, f in held), contacts=())


def _standing(frame: Frame, there: Collection[str]) -> Frame:
    """The frame with only what stands; a pipe that hangs by one end bears nothing and is left out."""
    fittings = tuple(fitting for fitting in frame.fittings if fitting.id in there)
    names = {fitting.id for fitting in fittings}
    pipes = tuple(pipe for pipe in frame.pipes if pipe.id in there and all(end.fitting in names for end in pipe.ends))
    return replace(frame, fittings=fittings, pipes=pipes)
