"""How much of what it bears each part is asked for, case by case: 1 is the limit."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from clochewright.strength.contact import Contacts, Opened
from clochewright.strength.model import Model
from clochewright.strength.patterns import Patterns
from clochewright.strength.resistance import Hold
from clochewright.strength.second_order import second_order
from clochewright.strength.solver import Prepared, Responses, prepare, respond
from clochewright.strength.spans import along_members
from clochewright.strength.structure import Flags, Floats

ROUGHLY = 0.05  # how far the thrusts of a second-order check may still be from settled
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
    (members, 2) says which ends are screwed. `hinge_N` (c, hinges, 3) is what each hinge holds with, and `latch_N`
    (c, latches) each latch while its contact, numbered in `latch_contacts`, is closed.
    """

    model: Model
    patterns: Patterns
    prepared: Prepared
    responses: Responses
    moment_Nm: Floats
    pull_N: Floats
    twist_Nm: Floats
    loose: Flags
    contacts: Contacts
    hinge_N: Floats
    latch_N: Floats
    latch_contacts: tuple[int, ...]


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
    stiffness = {(s.node, s.freedom): s.stiffness_N_m for s in model.structure.supports}
    hinges = np.array(model.hinge_nodes, dtype=np.int64)
    held = np.array([[stiffness.get((node, f), 0.0) for f in range(3)] for node in model.hinge_nodes])
    latches = [(i, c) for i, c in enumerate(model.structure.contacts) if c.sign < 0 and c.node in model.latch_nodes]
    latch_N = np.array([c.stiffness_N_m * found.moves[:, c.node, c.freedom] for _, c in latches])
    return Solved(
        model,
        patterns,
        prepared,
        found,
        along.moment_Nm,
        along.pull_N,
        found.end_forces[..., 3],
        loose,
        Contacts(found),
        -found.moves[:, hinges, :3] * held.reshape(-1, 3),
        latch_N.reshape(len(latches), len(found.moves)).T,
        tuple(i for i, _ in latches),
    )


def share_out(
    solved: Solved, cases: Floats | Sequence[Floats], bears: Bears, guesses: Sequence[tuple[int, ...]] = ()
) -> Shares:
    """The shares of some mixes of patterns, each with its one-way supports settled, first order.

    Args:
        solved: the model with its patterns solved.
        cases: weights (p,) of each case.
        bears: what the parts bear.
        guesses: contacts likely to be open in each case.
    """
    opened = solved.contacts.settle_all(np.asarray(cases), guesses)
    nothing = np.zeros(len(solved.responses.moves))
    weights = np.array([nothing if one.weights is None else one.weights for one in opened])
    moment = np.tensordot(weights, solved.moment_Nm, 1)
    pull = np.tensordot(weights, solved.pull_N, 1)
    twist = np.tensordot(weights, solved.twist_Nm, 1)
    pipes = stress_share(solved.model, moment, pull, twist, bears)
    found = {"pipe": pipes}
    if solved.loose.any():
        ends = np.maximum(pull[:, :, [0, -1]], 0.0) * solved.loose
        found["joint"] = ends.max(axis=2) / bears.joint_N
    if solved.model.hinge_nodes:
        forces = np.tensordot(weights, solved.hinge_N, 1)
        found["hinge board"], found["hinge pipe"] = _hold(forces, bears.hinge)
    if len(solved.latch_contacts):
        forces = np.zeros((len(cases), len(solved.latch_contacts), 3))
        forces[..., 2] = np.maximum(weights @ solved.latch_N, 0.0)
        for i, one in enumerate(opened):
            forces[i, [n for n, contact in enumerate(solved.latch_contacts) if contact in one.open]] = 0.0
        found["latch board"], found["latch pipe"] = _hold(forces, bears.latch)
    return _worst(solved, found, opened)


def _worst(solved: Solved, found: Mapping[str, Floats], opened: Sequence[Opened]) -> Shares:
    """The largest share of each case; `found` has the shares of each kind of part (cases, parts)."""
    names = list(found)
    places = np.array([found[name].argmax(axis=1) for name in names])
    tops = np.array([found[name].max(axis=1) for name in names])
    first = tops.argmax(axis=0)
    most, what, where = [], [], []
    for i, one in enumerate(opened):
        came_off = one.weights is None
        most.append(CAME_OFF if came_off else float(tops[first[i], i]))
        what.append("off" if came_off else names[first[i]])
        where.append(-1 if came_off else _number(solved, names[first[i]], int(places[first[i], i])))
    return Shares(np.array(most), tuple(what), tuple(where), found["pipe"], tuple(one.open for one in opened))


def _number(solved: Solved, name: str, place: int) -> int:
    """Which one: a member, a hinge, or a latch by its own number."""
    if not name.startswith("latch"):
        return place
    node = solved.model.structure.contacts[solved.latch_contacts[place]].node
    return solved.model.latch_nodes.index(node)


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


def _hold(force_N: Floats, hold: Hold) -> tuple[Floats, Floats]:
    """Shares of the screws in the board, which stand level across the bed, and in the pipe; forces (..., 3)."""
    side = np.hypot(force_N[..., 0], force_N[..., 2])
    across = np.abs(force_N[..., 1])
    return across / hold.pull_N + side / hold.side_N, np.hypot(side, across) / hold.pipe_N


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
    opened = solved.contacts.settle(case, is_open)
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
    opened = solved.contacts.settle(case, is_open)
    if opened.weights is None:
        return np.zeros((len(solved.model.structure.nodes_m), 6))
    out: Floats = np.tensordot(opened.weights, solved.responses.moves, 1)
    return out
