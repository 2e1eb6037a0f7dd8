"""Patterns of load of unit size on a model: weight, pressure and pull on each face, snow, hands."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from clochewright.film import FilmPlan
from clochewright.frame import Frame
from clochewright.measures import GRAVITY_M_S2
from clochewright.strength.faces import Face, Outline
from clochewright.strength.model import Model
from clochewright.strength.structure import Floats, Loads
from clochewright.weights import Weights

DOWN = np.array([0.0, 0.0, -1.0])
HANDS = ("hand ridge", "hand rail")


@dataclass(frozen=True, slots=True)
class Patterns:
    """The loads, and which row is which: "own", "press 0", "pull 0", "strain 0", "front", "far", "snow", ...

    A press or pull is 1 Pa on that face, inwards or outwards; a strain 1 N/m of film tension along it; "front" and
    "far" 1 Pa inwards on an end; snow 1 Pa on the ground; a hand 1 N downwards.
    """

    loads: Loads
    row: dict[str, int]

    def mix(self, amounts: dict[str, float]) -> Floats:
        """Weights (p,) for so much of each; amounts of nothing may name rows that are not there."""
        weights = np.zeros(len(self.row))
        for name, amount in amounts.items():
            if amount:
                weights[self.row[name]] += amount
        return weights


class Table:
    """Collects patterns row by row."""

    def __init__(self, model: Model) -> None:
        self.model = model
        self.rows: list[str] = []
        self.nodal: list[Floats] = []
        self.spread: list[Floats] = []
        members = model.structure.members
        ends = model.structure.nodes_m
        self.whole_m = np.linalg.norm(ends[members.stop] - ends[members.start], axis=1)

    def start(self, name: str) -> None:
        """Begin a new pattern."""
        self.rows.append(name)
        self.nodal.append(np.zeros((len(self.model.structure.nodes_m), 6)))
        self.spread.append(np.zeros((len(self.model.pieces), 3)))

    def lines(self, chosen: Sequence[int], loads_N_m: Floats) -> None:
        """Loads (n, 3) all along members, from node to node; what falls on their stiff ends goes to the nodes."""
        at, members = np.array(chosen, dtype=np.int64), self.model.structure.members
        loads_N_m = np.broadcast_to(loads_N_m, (len(at), 3))
        arms = self.model.arms_m[at]
        np.add.at(self.spread[-1], at, loads_N_m)
        np.add.at(self.nodal[-1][:, :3], members.start[at], loads_N_m * arms[:, :1])
        np.add.at(self.nodal[-1][:, :3], members.stop[at], loads_N_m * arms[:, 1:])

    def shared(self, chosen: Sequence[int], total_N: Floats) -> None:
        """A force shared evenly along several members by their length."""
        if len(chosen):
            self.lines(chosen, total_N / float(self.whole_m[list(chosen)].sum()))

    def at(self, node: int, force_N: Floats) -> None:
        """A force at a node."""
        self.nodal[-1][node, :3] += force_N

    def made(self) -> Patterns:
        """All of them."""
        return Patterns(
            Loads(np.array(self.nodal), np.array(self.spread)), {name: i for i, name in enumerate(self.rows)}
        )


def make_patterns(
    frame: Frame,
    model: Model,
    shape: Outline,
    film: FilmPlan,
    weights: Weights,
    pipe_kg_m: float,
    snow_share: Callable[[float], float],
    covers: int = 1,
) -> Patterns:
    """All unit patterns of one cover.

    Args:
        frame: the cover.
        model: its model.
        shape: its faces.
        film: what it is covered with; of a row of covers, all their film.
        weights: masses of fittings, laths and hardware; of a row of covers, of all.
        pipe_kg_m: mass of the pipe [kg/m].
        snow_share: snow on a slope over snow on the ground, by the slope [deg], on plan.
        covers: how many covers the masses are for.
    """
    table = Table(model)
    _own_weight(table, frame, shape, film, weights, pipe_kg_m, covers)
    for k, face in enumerate(shape.faces):
        _press(table, face, f"press {k}", -1.0)
        if face.has_edges:
            _pull(table, face, f"pull {k}")
            _strain(table, face, f"strain {k}")
    for name, members, way in (("front", shape.front, 1.0), ("far", shape.far, -1.0)):
        table.start(name)
        if members:
            table.shared(members, np.array([way * shape.end_area_m2, 0.0, 0.0]))
    for name, sides in (("snow", (1.0, 0.0, -1.0)), ("snow left", (1.0,)), ("snow right", (-1.0,))):
        table.start(name)
        for face in shape.faces:
            _snow(table, face, sides, snow_share)
    for name, node in model.node_of.items():
        if name in HANDS:
            table.start(name)
            table.at(node, DOWN)
    return table.made()


def _own_weight(
    table: Table, frame: Frame, shape: Outline, film: FilmPlan, weights: Weights, pipe_kg_m: float, covers: int
) -> None:
    table.start("own")
    table.lines(range(len(table.model.pieces)), DOWN * pipe_kg_m * GRAVITY_M_S2)
    for fitting in frame.fittings:
        mass = weights.fitting_kg.get(fitting.kind)
        if mass is not None:
            table.at(table.model.node_of[fitting.id], DOWN * mass.value * GRAVITY_M_S2)
    rails = [m for m, piece in enumerate(table.model.pieces) if piece.role in ("side rail", "end rail")]
    edge_kg = (weights.lath_kg.value + weights.hardware_kg.value) / covers
    if rails:
        table.shared(rails, DOWN * edge_kg * GRAVITY_M_S2)
    area_m2 = sum(face.area_m2 for face in shape.faces) + 2 * shape.end_area_m2
    for face in shape.faces:
        table.shared(face.members, DOWN * film.mass_kg.value / covers * GRAVITY_M_S2 * face.area_m2 / area_m2)
    for end in (shape.front, shape.far):
        table.shared(end, DOWN * film.mass_kg.value / covers * GRAVITY_M_S2 * shape.end_area_m2 / area_m2)


def _outwards(table: Table, face: Face) -> Floats:
    """Outward directions (n, 3) at the members of a face; on an arch each has its own."""
    if face.zone is None:
        return np.array([[0.0, *face.out]] * len(face.members))
    at = np.array(face.members, dtype=np.int64)
    members, nodes = table.model.structure.members, table.model.structure.nodes_m
    along = (nodes[members.stop[at]] - nodes[members.start[at]])[:, 1:]
    along /= np.linalg.norm(along, axis=1, keepdims=True)
    middle = (nodes[members.stop[at]] + nodes[members.start[at]])[:, 1] / 2
    out = np.stack([np.zeros(len(at)), along[:, 1], -along[:, 0]], axis=1)
    towards = out[:, 1] * np.sign(middle) + out[:, 2] * 0.3
    return out * np.where(towards > 0, 1.0, -1.0)[:, None]


def _bent_share(face: Face, bay_m: float) -> float:
    """How much of a panel's load the bents beside it carry, the rest going to the rails: as 45 deg lines divide it.

    Common practice for panels held all round (yield lines).
    """
    if not face.has_edges:
        return 1.0
    depth_m = face.depth_m
    return depth_m / (2 * bay_m) if depth_m < bay_m else 1 - bay_m / (2 * depth_m)


def _press(table: Table, face: Face, name: str, sign: float) -> None:
    """1 Pa on a face; `sign` -1 inwards."""
    table.start(name)
    bay_m = face.length_m / max(len(set(face.members)) - 1, 1) if face.zone is None else 1.0
    share = _bent_share(face, bay_m)
    table.lines(face.members, sign * share * np.array(face.widths_m)[:, None] * _outwards(table, face))
    if share < 1:
        edge_N = sign * (1 - share) * face.area_m2 / 2 * np.array([0.0, *face.out])
        table.shared(face.first_line, edge_N)
        table.shared(face.second_line, edge_N)


def _pull(table: Table, face: Face, name: str) -> None:
    """1 Pa outwards: the film leaves the bents and hangs in the pipes along its two edges."""
    table.start(name)
    half_N = face.area_m2 / 2 * np.array([0.0, *face.out])
    table.shared(face.first_line, half_N)
    table.shared(face.second_line, half_N)


def _strain(table: Table, face: Face, name: str) -> None:
    """1 N/m of film tension along a face, on both its edges towards each other."""
    table.start(name)
    along = np.array([0.0, -face.out[1], face.out[0]])  # from the first edge to the second
    table.shared(face.first_line, along * face.length_m)
    table.shared(face.second_line, -along * face.length_m)


def _snow(table: Table, face: Face, sides: tuple[float, ...], share_of: Callable[[float], float]) -> None:
    """1 Pa of snow on the ground, on faces that look to these sides."""
    members, nodes = table.model.structure.members, table.model.structure.nodes_m
    at = np.array(face.members, dtype=np.int64)
    along = nodes[members.stop[at]] - nodes[members.start[at]]
    on_plan = np.abs(along[:, 1]) / np.linalg.norm(along, axis=1)
    slopes_deg = np.degrees(np.arctan2(np.abs(along[:, 2]), np.abs(along[:, 1])))
    middles_m = (nodes[members.stop[at]][:, 1] + nodes[members.start[at]][:, 1]) / 2
    looks = np.full(len(at), face.side) if face.zone is None else np.sign(middles_m.round(6))
    shares = np.array([share_of(float(slope_deg)) for slope_deg in slopes_deg])
    loads_N_m = shares * on_plan * np.array(face.widths_m) * np.isin(looks, sides)
    bents = _bent_share(face, face.length_m / max(len(at) - 1, 1))
    table.lines(face.members, DOWN * (bents * loads_N_m)[:, None])
    rest_N = (1 - bents) / 2 * float(loads_N_m @ table.whole_m[at])
    if rest_N > 0:
        table.shared(face.first_line, DOWN * rest_N)
        table.shared(face.second_line, DOWN * rest_N)
