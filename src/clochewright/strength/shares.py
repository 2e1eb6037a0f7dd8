"""How much of what it bears each part is asked for, case by case: 1 is the limit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from clochewright.strength.contact import open_contacts
from clochewright.strength.model import Model
from clochewright.strength.patterns import Patterns
from clochewright.strength.resistance import Hold
from clochewright.strength.second_order import second_order
from clochewright.strength.solver import Prepared, Responses, prepare, respond
from clochewright.strength.spans import along_members
from clochewright.strength.structure import Flags, Floats

ROUGHLY = 0.02  # how far the thrusts of a second-order check may still be from settled
CAME_OFF = 1e9  # the share of a case that no support holds


@dataclass(frozen=True, slots=True)
class Bears:
    """What the parts bear: stress in each member [Pa], pull on a screwed joint [N], one hinge, one latch."""

    stress_Pa: Floats
    joint_N: float
    hinge: Hold
    latch: Hold


@dataclass(frozen=True, slots=True)
class Shares:
    """For each case (k,): the largest share, what it is of ("pipe", "joint", "hinge board", ...), and which one.

    `pipes` (k, members) are the shares of the members.
    """

    most: Floats
    what: tuple[str, ...]
    where: tuple[int, ...]
    pipes: Floats
    opened: tuple[tuple[int, ...], ...]


@dataclass(frozen=True, slots=True)
class Solved:
    """A model solved for its patterns, with what goes on along each member for each column, ready to be mixed.

    `moment_Nm` (c, members, stations, 2), `pull_N` (c, members, stations), `twist_Nm` (c, members). `loose`
    (members, 2) says which ends are screwed.
    """

    model: Model
    patterns: Patterns
    prepared: Prepared
    responses: Responses
    moment_Nm: Floats
    pull_N: Floats
    twist_Nm: Floats
    loose: Flags


def solve(model: Model, patterns: Patterns, prepared: Prepared | None = None) -> Solved:
    """Solve all patterns of a model."""
    prepared = prepared or prepare(model.structure)
    found = respond(prepared, patterns.loads)
    members = prepared.structure.members
    along = along_members(
        found.own_ends, found.end_forces, found.spread, prepared.shape.length_m, members.E_Pa * members.I_m4
    )
    tied = np.array([piece.role in ("crown bar", "diagonal") for piece in model.pieces])
    ends = np.stack([members.start_spring_Nm_rad, members.stop_spring_Nm_rad], axis=1)
    loose = np.isfinite(ends) & ~tied[:, None]
    return Solved(model, patterns, prepared, found, along.moment_Nm, along.pull_N, found.end_forces[..., 3], loose)


def share_out(solved: Solved, cases: Sequence[Floats], bears: Bears, guesses: Sequence[tuple[int, ...]] = ()) -> Shares:
    """The shares of some mixes of patterns, each with its one-way supports settled, first order.

    Args:
        solved: the model with its patterns solved.
        cases: weights (p,) of each case.
        bears: what the parts bear.
        guesses: contacts likely to be open in each case.
    """
    opened = [
        open_contacts(solved.responses, case, guesses[i] if i < len(guesses) else ()) for i, case in enumerate(cases)
    ]
    columns = len(solved.responses.moves)
    weights = np.array([np.zeros(columns) if one.weights is None else one.weights for one in opened])
    moment = np.tensordot(weights, solved.moment_Nm, 1)
    pull = np.tensordot(weights, solved.pull_N, 1)
    twist = np.tensordot(weights, solved.twist_Nm, 1)
    pipes = stress_share(solved.model, moment, pull, twist, bears)
    most, what, where = [], [], []
    moves = np.tensordot(weights, solved.responses.moves, 1)
    for i, one in enumerate(opened):
        if one.weights is None:
            most.append(CAME_OFF)
            what.append("off")
            where.append(-1)
            continue
        share, name, place = _worst(solved, pipes[i], pull[i], moves[i], one.open, bears)
        most.append(share)
        what.append(name)
        where.append(place)
    return Shares(np.array(most), tuple(what), tuple(where), pipes, tuple(one.open for one in opened))


def stress_share(model: Model, moment_Nm: Floats, pull_N: Floats, twist_Nm: Floats, bears: Bears) -> Floats:
    """Stress over what the pipe bears (..., members): σ = |N|/A + |M|/S with the shear of twist, τ = T/2S.

    Together by the greatest distortion, √(σ² + 3τ²) (von Mises).
    """
    section = model.section
    bending = np.sqrt(np.square(moment_Nm).sum(axis=-1)) / section.S_m3
    direct = (bending + np.abs(pull_N) / section.area_m2).max(axis=-1)
    shear = twist_Nm / (2 * section.S_m3)
    out: Floats = np.sqrt(direct**2 + 3 * shear**2) / bears.stress_Pa
    return out


def _worst(
    solved: Solved, pipes: Floats, pull: Floats, moves: Floats, is_open: tuple[int, ...], bears: Bears
) -> tuple[float, str, int]:
    member = int(pipes.argmax())
    found = [(float(pipes[member]), "pipe", member)]
    ends = np.maximum(pull[:, [0, -1]], 0.0) * solved.loose
    if solved.loose.any():
        pulled = int(ends.max(axis=1).argmax())
        found.append((float(ends[pulled].max()) / bears.joint_N, "joint", pulled))
    stiffness = {(s.node, s.freedom): s.stiffness_N_m for s in solved.model.structure.supports}
    for i, node in enumerate(solved.model.hinge_nodes):
        x, y, z = (-stiffness.get((node, f), 0.0) * moves[node, f] for f in range(3))
        found += [(share, f"hinge {part}", i) for share, part in _hold(x, y, z, bears.hinge)]
    latches = list(solved.model.latch_nodes)
    for i, contact in enumerate(solved.model.structure.contacts):
        if contact.sign < 0 and contact.node in latches and i not in is_open:
            force = max(contact.stiffness_N_m * moves[contact.node, contact.freedom], 0.0)
            place = latches.index(contact.node)
            found += [(share, f"latch {part}", place) for share, part in _hold(0.0, 0.0, force, bears.latch)]
    return max(found)


def _hold(x_N: float, y_N: float, z_N: float, hold: Hold) -> list[tuple[float, str]]:
    """Shares of a hinge's or latch's screws in the board, which stand level across the bed, and in the pipe."""
    side = (x_N**2 + z_N**2) ** 0.5
    return [(abs(y_N) / hold.pull_N + side / hold.side_N, "board"), ((side**2 + y_N**2) ** 0.5 / hold.pipe_N, "pipe")]


def second_order_gain(solved: Solved, case: Floats, is_open: tuple[int, ...], E_ratio: float, bears: Bears) -> float:
    """By how much the frame's own movement raises the largest stress of a case: 1 is not at all, infinite: it buckles.

    Args:
        solved: the model.
        case: weights of the patterns.
        is_open: contacts open at first order.
        E_ratio: the modulus of this case over the model's.
        bears: what the parts bear.

    Loads are raised instead of the modulus lowered: the same thrust over E I.
    """
    factor = 1 / E_ratio
    first = share_out(solved, [case], bears, [is_open])
    opened = open_contacts(solved.responses, case, is_open)
    if opened.weights is None:
        return 1.0
    forces = factor * np.tensordot(opened.weights, solved.responses.end_forces, 1)
    found = second_order(solved.prepared, solved.patterns.loads, case * factor, opened.open, forces, ROUGHLY)
    if not found.stands:
        return float("inf")
    pipes = stress_share(solved.model, found.along.moment_Nm, found.along.pull_N, found.end_forces[:, 3], bears)
    return max(float(pipes.max()) / (factor * float(first.pipes.max())), 1.0)


def movements(solved: Solved, case: Floats, is_open: tuple[int, ...]) -> Floats:
    """Movements of the nodes (nodes, 6) of a case, first order [m, rad]."""
    opened = open_contacts(solved.responses, case, is_open)
    if opened.weights is None:
        return np.zeros((len(solved.model.structure.nodes_m), 6))
    out: Floats = np.tensordot(opened.weights, solved.responses.moves, 1)
    return out
