"""The order in which a frame goes together and comes apart, and how it is stored."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from clochewright.findings import Finding
from clochewright.frame import Vec
from clochewright.sources import Cited

MoveKind = Literal["slide", "turn", "spring-in", "tie"]
StepKind = Literal["cut", "test-fit", "mark", "cement", "assemble", "square", "screw"]
WayKind = Literal["no-force", "spring-in", "slip-coupling"]


@dataclass(frozen=True, slots=True)
class Spring:
    """What springing in asks for.

    `spread_m` is how far the gap must open along the pipe's axis, one socket depth [m]; `force_N` the pull of one hand
    (and as much back by the other) with its band; `stress_Pa` and `strain_share` the highest (0.02 is 2 %).
    `together_N` is the force a bent when all bents are opened at once, each by its own pair of hands; 0 where there is
    only one.
    """

    spread_m: float
    force_N: Cited
    stress_Pa: float
    strain_share: float
    together_N: float = 0.0


@dataclass(frozen=True, slots=True)
class Move:
    """One movement that joins two rigid groups, or turns one on the other.

    `axis` is a unit vector in the frame's axes: the way the moving group travels (slide, spring-in) or the line it
    turns about (turn). `moving` and `onto` are ids of fittings and pipes; `joints` are the joints that the move closes
    (none for a turn or a tie); `cemented` says that they get cement. `text` says it in words, in the plan's units.
    """

    step: int
    kind: MoveKind
    axis: Vec
    moving: tuple[str, ...]
    onto: tuple[str, ...]
    joints: tuple[str, ...]
    cemented: bool
    text: str
    spring: Spring | None = None


@dataclass(frozen=True, slots=True)
class Count:
    """So many pieces of one kind: `what` is a cut's mark ("A"), a kind of fitting ("tee"), or a part's id ("M1")."""

    what: str
    count: int
    sort: Literal["pipe", "fitting", "part"]


@dataclass(frozen=True, slots=True)
class Jig:
    """How a part is held while its cement sets: flat on the floor or not, at which angle [deg], by what.

    `raise_m` is how much higher one of its sides lies than the other [m], 0 where both lie on the floor. `up` is the
    unit vector in the frame's axes that looks up from the floor, the way of its free sockets; None where it isn't flat.
    """

    flat: bool
    angle_deg: float | None
    text: str
    raise_m: float = 0.0
    up: Vec | None = None


@dataclass(frozen=True, slots=True)
class Times:
    """How long until cement holds (`set_s`) and may be loaded (`cure_s`) [s], between two temperatures [degC]."""

    low_degC: float
    high_degC: float
    set_s: float
    cure_s: float


@dataclass(frozen=True, slots=True)
class Diagonals:
    """The least and most that a diagonal of the base reads, corner centre to centre; how far the two may differ [m]."""

    low_m: float
    high_m: float
    differ_m: float


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the work: one complete thought, like parts at once.

    `texts` are its sentences in the order they are done; `hands` says who holds what when alone ("" where two hands are
    enough). `parts` are the ids of the parts made (cement) or added (assemble); in a cement step the first is shown and
    the others are made alike. `new` are the ids of fittings and pipes to be drawn strong, `there` those that stand
    already. `look_along` is the axis that the pieces travel along, for drawing them apart.
    """

    number: int
    kind: StepKind
    title: str
    texts: tuple[str, ...]
    moves: tuple[Move, ...] = ()
    parts: tuple[str, ...] = ()
    pieces: tuple[Count, ...] = ()
    new: tuple[str, ...] = ()
    there: tuple[str, ...] = ()
    hands: str = ""
    jig: Jig | None = None
    times: tuple[Times, ...] = ()
    diagonals: Diagonals | None = None
    screws: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ScrewPlace:
    """Where one joint's screw goes: through the hub at `position_m`, driven along the unit vector `way`.

    `from_mouth_m` is how far in from the socket's mouth; `side` is the word for where on the hub ("inside", "below").
    """

    joint: str
    number: int
    position_m: Vec
    way: Vec
    from_mouth_m: float
    side: str


@dataclass(frozen=True, slots=True)
class Screws:
    """One screw for each screwed joint: its size, the pilot hole's drill [m], and the places."""

    name: str
    diameter_m: float
    length_m: float
    pilot_m: float
    through_m: float
    places: tuple[ScrewPlace, ...] = ()


@dataclass(frozen=True, slots=True)
class StoredPart:
    """A part as it is stored: the smallest box it goes into, longest side first [m], and its mass."""

    id: str
    like: str
    name: str
    pipes: tuple[str, ...]
    fittings: tuple[str, ...]
    box_m: tuple[float, float, float]
    mass_kg: Cited
    centre_m: Vec


@dataclass(frozen=True, slots=True)
class Packed:
    """A part in the storage space: its box's corner nearest the origin, and the box's sides along the space [m]."""

    part: str
    corner_m: Vec
    box_m: Vec


@dataclass(frozen=True, slots=True)
class Packing:
    """Where each part lies. `space_m` is length, depth and height of the space or of the stack where none was given."""

    space_m: Vec
    given: bool
    packed: tuple[Packed, ...]
    left_out: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Way:
    """One way to close a loop that can't be closed by pushing, or to have none; `chosen` is the one in the order.

    `pipes` are the pipes concerned. For a coupling without a stop, `piece_m` is the length of each of the two pieces a
    pipe is cut into, `coupling_m` how long the coupling must be at least [m].
    """

    kind: WayKind
    possible: bool
    chosen: bool
    text: str
    pipes: tuple[str, ...] = ()
    springs: tuple[Spring, ...] = ()
    piece_m: float = 0.0
    coupling_m: float = 0.0


@dataclass(frozen=True, slots=True)
class Taking:
    """One step of taking down: the step of building it undoes, and what to do, in words."""

    undoes: int
    text: str


@dataclass(frozen=True, slots=True)
class AssemblyPlan:
    """The whole order. `goes_together` is False where no order was found; the findings say what would mend it."""

    steps: tuple[Step, ...]
    screws: Screws | None
    stored: tuple[StoredPart, ...]
    packing: Packing | None
    ways: tuple[Way, ...]
    down: tuple[Taking, ...]
    look_for: tuple[str, ...]
    goes_together: bool
    findings: tuple[Finding, ...] = ()

    @property
    def moves(self) -> tuple[Move, ...]:
        """All moves, in order."""
        return tuple(move for step in self.steps for move in step.moves)


# What stands in the place of an order where none was asked for.
NO_ORDER = AssemblyPlan((), None, (), None, (), (), (), True)
