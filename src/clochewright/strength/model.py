"""From the frame in space to what the solver takes: stiff zones in the fittings, end springs, rim, hinges, latches."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

import numpy as np

from clochewright.catalogue import Section
from clochewright.frame import End, Frame, Pipe, Vec
from clochewright.joints import JointPlan
from clochewright.lid import LidPlan
from clochewright.sources import Cited, Grade
from clochewright.strength.structure import Contact, Floats, Members, Structure, Support

Level = Literal["low", "likely", "high"]

# Between a pin and a stiff joint EN 1993-1-8, 5.2.2.5 (from memory) calls a joint semi-rigid: 0.5 to 25 EI/L.
LOOSE_JOINT_EI_L = Cited(2.0, 0.0, 25.0, Grade.ESTIMATE, "no published stiffness of a dry or screwed PVC socket found; "
                         "EN 1993-1-8, 5.2.2.5 (from memory) calls 0.5 to 25 EI/L semi-rigid")  # fmt: skip
# A cemented pipe is one with its socket from the mouth inwards; where the bead is thin, from half its seat.
SOFT_SEAT_SHARE = Cited(0.0, 0.0, 0.5, Grade.ESTIMATE, "cemented socket: no published stiffness found")
RIM_N_m = Cited(1e6, 3e5, 3e6, Grade.ESTIMATE, "a fitting's hub on a softwood board's edge")
HARDWARE_N_m = Cited(1e5, 3e4, 3e5, Grade.ESTIMATE, "a small hinge on two screws in a pipe's wall")
FRICTION_N_m = 1e4  # keeps a cover without hinges where it lies while snow is on it; wind is judged by its weight alone
HOOP_PIECES = 8
LEAST_PIECE_SHARE = 0.5  # of the pipe's diameter: a stub between two mouths still has so much free length

ON_RIM_m = 0.002
CLEAR_m = 0.01  # nearer to a fitting than this, a hinge holds the fitting


@dataclass(frozen=True, slots=True)
class Piece:
    """One member of the model: the pipe it is part of and how far along that pipe's middle line it begins and ends."""

    pipe: str
    role: str


@dataclass(frozen=True, slots=True)
class Model:
    """The structure, and how it goes with the frame.

    `pieces` has one entry a member; `node_of` the node of each fitting, hinge and latch by its id; `crowns` the nodes
    at the tops of hoops; `arms_m` (members, 2) the length of stiff fitting at each end [m].
    """

    structure: Structure
    pieces: tuple[Piece, ...]
    node_of: Mapping[str, int]
    crowns: tuple[int, ...]
    arms_m: Floats
    section: Section
    hinge_nodes: tuple[int, ...]
    latch_nodes: tuple[int, ...]


class _Builder:
    def __init__(self) -> None:
        self.nodes: list[Vec] = []
        self.names: list[str] = []
        self.rows: list[tuple[int, int, Floats, Floats, bool, bool]] = []
        self.pieces: list[Piece] = []

    def node(self, point: Vec, name: str) -> int:
        self.nodes.append(point)
        self.names.append(name)
        return len(self.nodes) - 1

    def member(self, pipe: Pipe, start: int, stop: int, arms: tuple[Floats, Floats], loose: tuple[bool, bool]) -> None:
        self.rows.append((start, stop, *arms, *loose))
        self.pieces.append(Piece(pipe.id, pipe.role))


NONE = np.zeros(3)


def model_frame(
    frame: Frame,
    lid: LidPlan,
    joints: JointPlan,
    section: Section,
    E_Pa: float,
    G_Pa: float,
    level: Level = "likely",
    latched: bool = True,
    grips: Mapping[str, tuple[str, Vec]] | None = None,
) -> Model:
    """Build the model of one cover, shut.

    Args:
        frame: one cover, its middle at x = 0.
        lid: hinges and latches of this cover, in the same axes.
        joints: says which joints are loose (screwed) and which cemented.
        section: the pipe's section, at its minimum wall.
        E_Pa: modulus for the temperature and duration of the case [Pa].
        G_Pa: shear modulus [Pa].
        level: which end of the estimates of joint and support stiffness to take.
        latched: whether the latches hold.
        grips: further places on pipes that get a node of their own, by name: the pipe and the place.
    """
    build = _Builder()
    node_of = {fitting.id: build.node(fitting.position_m, f"{fitting.role} {fitting.id}") for fitting in frame.fittings}
    loose = {(joint.fitting, joint.port) for joint in joints.joints if joint.treatment == "screwed"}
    marks: dict[str, list[tuple[str, Vec]]] = {}
    for fixing in (*lid.hinges, *lid.latches):
        marks.setdefault(fixing.pipe, []).append((fixing.id, fixing.position_m))
    for name, (pipe_id, place) in (grips or {}).items():
        marks.setdefault(pipe_id, []).append((name, place))
    crowns: list[int] = []
    tied = [pipe for pipe in frame.pipes if all(end.fitting is None for end in pipe.ends)]
    for pipe in frame.pipes:
        if pipe in tied:
            continue
        if pipe.shape == "bent":
            crowns += _bent(build, frame, pipe, node_of, loose, level)
        else:
            _straight(build, frame, pipe, node_of, loose, marks.get(pipe.id, []), level)
    for bar in tied:
        _tied_bar(build, bar, crowns, frame.pipe_outside_diameter_m)
    hinge_nodes = tuple(node_of[fixing.id] for fixing in lid.hinges if fixing.id in node_of)
    latch_nodes = tuple(node_of[fixing.id] for fixing in lid.latches if fixing.id in node_of)
    members = _members(build, section, E_Pa, G_Pa, level)
    supports, contacts = _supports(frame, node_of, hinge_nodes, latch_nodes if latched else (), level)
    names = tuple(piece.role for piece in build.pieces)
    structure = Structure(np.array(build.nodes), members, supports, contacts, tuple(build.names), names)
    arms = np.stack([np.linalg.norm(members.start_arm_m, axis=1), np.linalg.norm(members.stop_arm_m, axis=1)], axis=1)
    return Model(structure, tuple(build.pieces), node_of, tuple(crowns), arms, section, hinge_nodes, latch_nodes)


def at_level(cited: Cited, level: Level, *, harms: bool = False) -> float:
    """That end of a cited value's band; `harms` where more of it makes the cover stand less."""
    low, high = (cited.high, cited.low) if harms else (cited.low, cited.high)
    return {"low": low, "likely": cited.value, "high": high}[level]


def _arm(frame: Frame, end: End, level: Level) -> tuple[Floats, float]:
    """From a fitting's centre to where its pipe is free, and the socket's depth from there to the mouth [m]."""
    assert end.fitting is not None
    assert end.port is not None
    port = frame.fitting(end.fitting).port(end.port)
    reach_m = port.centre_to_face_m - at_level(SOFT_SEAT_SHARE, level, harms=True) * end.seat_depth_m
    return np.array(port.direction) * reach_m, reach_m


def _straight(
    build: _Builder,
    frame: Frame,
    pipe: Pipe,
    node_of: dict[str, int],
    loose: set[tuple[str, str]],
    marks: list[tuple[str, Vec]],
    level: Level,
) -> None:
    start, stop = (node_of[end.fitting] for end in pipe.ends if end.fitting is not None)
    arms = [_arm(frame, end, level)[0] for end in pipe.ends]
    a, b = np.array(build.nodes[start]), np.array(build.nodes[stop])
    whole = b - a
    whole_m = float(np.linalg.norm(whole))
    along = whole / whole_m
    least_m = LEAST_PIECE_SHARE * frame.pipe_outside_diameter_m
    lengths = [float(np.linalg.norm(arm)) for arm in arms]
    if whole_m - sum(lengths) < least_m:  # mouth against mouth: a short stiff piece in the middle
        share = max(whole_m - least_m, 0.0) / sum(lengths)
        arms = [arm * share for arm in arms]
        lengths = [length * share for length in lengths]
    ends_loose = [(end.fitting, end.port) in loose for end in pipe.ends]
    stops = sorted((float(np.dot(np.array(point) - a, along)), name) for name, point in marks)
    places = [(d, name) for d, name in stops if lengths[0] + CLEAR_m < d < whole_m - lengths[1] - CLEAR_m]
    for d, name in set(stops) - set(places):
        node_of[name] = start if d < whole_m / 2 else stop
    before, arm, was_loose = start, arms[0], ends_loose[0]
    at_m = -math.inf
    for distance_m, name in places:
        if distance_m - at_m < CLEAR_m:  # one place for both
            node_of[name] = before
            continue
        at_m = distance_m
        point = a + along * distance_m
        node_of[name] = build.node((float(point[0]), float(point[1]), float(point[2])), name)
        build.member(pipe, before, node_of[name], (arm, NONE), (was_loose, False))
        before, arm, was_loose = node_of[name], NONE, False
    build.member(pipe, before, stop, (arm, arms[1]), (was_loose, ends_loose[1]))


def _bent(
    build: _Builder, frame: Frame, pipe: Pipe, node_of: dict[str, int], loose: set[tuple[str, str]], level: Level
) -> list[int]:
    """A hoop as a row of straight pieces; gives back the node at its top, where it has one between its ends."""
    path = np.array(pipe.path_m)
    arcs = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(path, axis=0), axis=1))])
    inside = [0.0, float(arcs[-1])]
    arms: list[Floats] = [NONE, NONE]
    ends_loose = [False, False]
    for i, end in enumerate(pipe.ends):
        if end.fitting is not None and end.port is not None:
            arms[i], _ = _arm(frame, end, level)
            taken_m = end.seat_depth_m * (1 - at_level(SOFT_SEAT_SHARE, level, harms=True))
            inside[i] += taken_m if i == 0 else -taken_m
            ends_loose[i] = (end.fitting, end.port) in loose
    halves = any(end.fitting and not frame.fitting(end.fitting).role.endswith(("foot", "sleeve")) for end in pipe.ends)
    pieces = HOOP_PIECES // 2 if halves else HOOP_PIECES
    places = np.linspace(inside[0], inside[1], pieces + 1)[1:-1]
    inner = [
        build.node(tuple(float(np.interp(s, arcs, path[:, k])) for k in range(3)), f"{pipe.role} {pipe.id}")  # type: ignore[arg-type]
        for s in places
    ]
    first, last = (
        node_of[end.fitting] if end.fitting is not None else build.node(end.point_m, pipe.id) for end in pipe.ends
    )
    row = [first, *inner, last]
    for k, (one, two) in enumerate(pairwise(row)):
        at_start, at_stop = k == 0, k == len(row) - 2
        build.member(
            pipe,
            one,
            two,
            (arms[0] if at_start else NONE, arms[1] if at_stop else NONE),
            (ends_loose[0] and at_start, ends_loose[1] and at_stop),
        )
    return [] if halves else [inner[len(inner) // 2]]


def _tied_bar(build: _Builder, bar: Pipe, crowns: list[int], below_m: float) -> None:
    """A bar tied under the hoops: it keeps their tops apart, and turns freely at each tie."""
    row = sorted(crowns, key=lambda node: build.nodes[node][0])
    down = np.array([0.0, 0.0, -below_m])
    for one, two in pairwise(row):
        build.member(bar, one, two, (down, down), (True, True))


def _members(build: _Builder, section: Section, E_Pa: float, G_Pa: float, level: Level) -> Members:
    n = len(build.rows)
    start = np.array([row[0] for row in build.rows], dtype=np.int64)
    stop = np.array([row[1] for row in build.rows], dtype=np.int64)
    start_arm = np.array([row[2] for row in build.rows])
    stop_arm = np.array([row[3] for row in build.rows])
    nodes = np.array(build.nodes)
    length_m = np.linalg.norm(nodes[stop] + stop_arm - nodes[start] - start_arm, axis=1)
    spring = at_level(LOOSE_JOINT_EI_L, level) * E_Pa * section.I_m4 / length_m
    tied = np.array([piece.role == "crown bar" for piece in build.pieces])
    loose = np.array([[row[4], row[5]] for row in build.rows])
    springs = np.where(loose, np.where(tied, 0.0, spring)[:, None], np.inf)
    ones = np.ones(n)
    return Members(
        start,
        stop,
        start_arm,
        stop_arm,
        E_Pa * ones,
        G_Pa * ones,
        section.area_m2 * ones,
        section.I_m4 * ones,
        2 * section.I_m4 * ones,
        springs[:, 0],
        springs[:, 1],
    )


def _supports(
    frame: Frame, node_of: Mapping[str, int], hinges: tuple[int, ...], latches: tuple[int, ...], level: Level
) -> tuple[tuple[Support, ...], tuple[Contact, ...]]:
    rim, hardware = at_level(RIM_N_m, level), at_level(HARDWARE_N_m, level)
    sleeves = [node_of[fitting.id] for fitting in frame.fittings if fitting.role == "sleeve"]
    if sleeves:  # strapped to the board
        return tuple(Support(node, freedom) for node in sleeves for freedom in range(6)), ()
    based = [
        node_of[fitting.id]
        for fitting in frame.fittings
        if abs(fitting.position_m[2] - fitting.hub_diameter_m / 2) < ON_RIM_m
    ]
    contacts = [Contact(node, 2, rim) for node in based]
    contacts += [Contact(node, 2, hardware, -1.0) for node in latches]
    supports = [Support(node, freedom, hardware) for node in hinges for freedom in range(3)]
    if not hinges:
        supports += [Support(node, freedom, FRICTION_N_m) for node in based for freedom in (0, 1)]
    return tuple(supports), tuple(contacts)


def shear_modulus(E_Pa: float) -> float:
    """G = E / 2(1 + ν) [Pa], with ν = 0.40 for PVC (0.38 to 0.41 in pipe makers' tables)."""
    return E_Pa / (2 * (1 + 0.40))


def chord_m(frame: Frame, pipe: Pipe) -> float:
    """Length from one fitting's centre to the other's, or along the path of a bent pipe [m]."""
    if pipe.shape == "bent" or any(end.fitting is None for end in pipe.ends):
        return math.fsum(math.dist(a, b) for a, b in pairwise(pipe.path_m))
    one, two = (frame.fitting(end.fitting).position_m for end in pipe.ends if end.fitting is not None)
    return math.dist(one, two)
