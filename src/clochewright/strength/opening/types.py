"""What opening a cover asks of hands, props, hinges and anchors. `low` and `high` are the ends of a band."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from clochewright.findings import Finding
from clochewright.frame import Vec
from clochewright.sources import Cited

Point = tuple[float, float]  # seen along the hinge line: out over the bed, up from the line [m]


@dataclass(frozen=True, slots=True)
class AtAngle:
    """A leaf held still at one angle from shut.

    `lift_force_N` is the hand's at the handle, square to its way, the least that holds the leaf; below zero it must be
    held back. `cord_force_N` is in a cord over its post, `pole_force_N` along a pole pushed from beside the bed; both
    are None where they can't work. `hinge_force_N` is on all hinges together while a hand holds it.
    `prop_force_N` is in each bar, pushing above zero, were it propped at this angle; `prop_angle_deg` between bar and
    leaf, `prop_hinge_force_N` then on all hinges. The handle is `handle_height_m` above the ground and `handle_in_m`
    in from the bed's side at which the leaf opens; `centre_m` is the centre of gravity.
    """

    angle_deg: float
    lift_force_N: float
    lift_low_N: float
    lift_high_N: float
    cord_force_N: float | None
    pole_force_N: float | None
    hinge_force_N: float
    prop_force_N: float
    prop_angle_deg: float
    prop_hinge_force_N: float
    handle_height_m: float
    handle_in_m: float
    in_reach: bool
    centre_m: Point


@dataclass(frozen=True, slots=True)
class PropAt:
    """The bar with one of its holes on the pin: the opening, the hole's distance from the pivot, and its forces.

    `force_N` is the likely force in each bar, `one_bar_N` that in one bar if the other has slipped, at the heavy end
    of the band.
    """

    angle_deg: float
    hole_m: float
    bar_angle_deg: float
    force_N: float
    one_bar_N: float
    hinge_force_N: float


@dataclass(frozen=True, slots=True)
class PropWork:
    """All of a prop: its bars, what holds the pin, what share of that is used, and whether the bar is always pushed.

    `pin_bears_N` is what pin and pivot bear. Where the bar is not always pushed, an open notch would let go of its pin:
    only a closed hole with a clip will do. `stop_m` is the length of the check cord that stops the leaf just past its
    widest opening, from pivot to pin.
    """

    bars: int
    holes: tuple[PropAt, ...]
    pin_bears_N: float
    share: float
    always_pushed: bool
    stop_m: float


@dataclass(frozen=True, slots=True)
class Cord:
    """A cord from the leaf over an eye on a post, down to a cleat: post above the rim [m], where it is tied, parts.

    `parts_count` is 1 for a plain cord, 2 or 3 with blocks; `pull_N` the most a hand pulls, `pulled_m` how much cord
    comes in, `cord_m` how much to buy.
    """

    post_m: float
    tied_m: Point
    parts_count: int
    pull_N: float
    pulled_m: float
    cord_m: float
    within_limit: bool


@dataclass(frozen=True, slots=True)
class Strut:
    """Gas struts, each of `force_N`: stroke, shut and open length, mounting points on leaf and bed [m].

    `most_N` and `least_N` are what a hand then needs over the sweep; below zero the strut opens by itself.
    """

    count: int
    force_N: float
    stroke_m: float
    shut_m: float
    open_m: float
    on_leaf_m: Point
    on_bed_m: Point
    most_N: float
    least_N: float
    within_limit: bool


@dataclass(frozen=True, slots=True)
class Counterweight:
    """A weight on an arm behind the hinges: its mass, the arm, the most a hand then needs, and what is below it [m]."""

    mass_kg: float
    arm_m: float
    most_N: float
    clear_m: float
    within_limit: bool


@dataclass(frozen=True, slots=True)
class WaxOpener:
    """A wax-cylinder opener: what it lifts, what is asked of it over its stroke, and how far it opens the leaf.

    `at_m` is how far from the hinge line its arm is fixed; `spare_kg` what would have to be balanced where it is weak.
    """

    lifts_N: Cited
    asked_N: float
    at_m: float
    opens_deg: float
    works: bool
    spare_kg: float


@dataclass(frozen=True, slots=True)
class LiftLimit:
    """One published limit for one person lifting: its key ("niosh"), the limit and how much of it is asked [1]."""

    key: str
    limit_kg: Cited
    share: float


@dataclass(frozen=True, slots=True)
class Lifting:
    """Taking it off: mass, published limits, how many people it takes (0: split it), and where they hold it.

    `grips_m` are holding points for two, at both ends beside the balance point; for one, at the middle.
    `half_kg` is a half, were it split.
    """

    mass_kg: Cited
    limits: tuple[LiftLimit, ...]
    people: int
    grips_m: tuple[Vec, ...]
    half_kg: float
    may: bool


@dataclass(frozen=True, slots=True)
class Reach:
    """Whether the hand gets there: posture, its limits, the widest angle in reach, the greatest force on the way.

    `reached_deg` is below `wanted_deg` where the handle goes out of reach first; `low_m` and `high_m` are heights above
    the ground, `in_m` how far in over the bed a hand gets. `limit_N` is the plan's.
    """

    posture: str
    low_m: Cited
    high_m: Cited
    in_m: Cited
    wanted_deg: float
    reached_deg: float
    most_N: float
    limit_N: float

    @property
    def reaches(self) -> bool:
        """Whether the handle stays in reach up to the wanted opening."""
        return self.reached_deg >= self.wanted_deg - 1e-9

    @property
    def is_light(self) -> bool:
        """Whether the force stays within the limit."""
        return self.most_N <= self.limit_N + 1e-9


@dataclass(frozen=True, slots=True)
class OpenWind:
    """Wind on a leaf propped at one angle, as gusts 10 m up over open country.

    `off_pin_m_s` takes the weight off the bar, `over_m_s` turns the leaf over its hinges were the bar not held,
    `breaks_m_s` is where a held bar's pin or the hinges give way. Forces are those at `told_gust_m_s`: in each bar
    (`pull_N` upwards, `push_N` downwards) and on the worst hinge.
    """

    angle_deg: float
    off_pin_m_s: Cited
    over_m_s: Cited
    breaks_m_s: Cited
    gives: str
    told_gust_m_s: float
    pull_N: float
    push_N: float
    hinge_N: float
    tie_N: float


@dataclass(frozen=True, slots=True)
class FixingWork:
    """One kind of fixing ("hinge" or "latch"): how many by practice and by strength, and how each is fixed.

    `how` is "screws" (into the pipe's near wall), "bolts" (through both walls) or "saddles" (round the pipe). `share`
    is how much of what it bears is used; forces are on the worst one. Sizes [m]: screw or bolt, pilot hole in the
    board, hole in the pipe. `reason` is the key of the words that say why screws alone are not enough, "" if they are.
    """

    what: str
    placed: int
    practice: int
    strength: int
    how: str
    each: int
    pull_N: float
    bears_N: float
    share: float
    screw_m: float
    screw_length_m: float
    board_pilot_m: float
    pipe_hole_m: float
    bolt_m: float
    reason: str


@dataclass(frozen=True, slots=True)
class Anchor:
    """One anchor: hinge, latch or strap, where it sits, and the most it is pulled in the gust [N], with its band."""

    id: str
    kind: str
    position_m: Vec
    pull_N: float
    low_N: float
    high_N: float
    bears_N: float
    wind: str

    @property
    def share(self) -> float:
        """How much of what it bears is asked of it."""
        return self.pull_N / self.bears_N


@dataclass(frozen=True, slots=True)
class Weighted:
    """Loose weights in place of anchors: what the gust asks for, what the plan has, and whether that is enough."""

    needed_kg: Cited
    planned_kg: float
    sandbags: int
    enough: bool


@dataclass(frozen=True, slots=True)
class HoldDown:
    """What keeps the shut cover on its bed in a gust: uplift and side push [N], anchors, straps to add, weights.

    `straps` is how many straps over the cover are added to hinges and latches, each with its screws at both ends;
    `without_straps` are the anchors as they would be pulled without them.
    """

    gust_m_s: float
    uplift_N: Cited
    side_N: Cited
    anchors: tuple[Anchor, ...]
    straps: int
    strap_pull_N: float
    strap_m: float
    strap_screws: int
    weights: Weighted
    without_straps: tuple[Anchor, ...] = ()

    @property
    def worst(self) -> Anchor | None:
        """The anchor that is pulled most for what it bears."""
        return max(self.anchors, key=lambda anchor: anchor.share, default=None)


@dataclass(frozen=True, slots=True)
class Alternative:
    """Another way to open it, worked out.

    `key` is "cord", "strut", "counterweight", "pole", "front", "far", "near-side" (hinged on the side it is reached
    from), "halves", "panel", "lift-off", "lift-off-panel" or "slide". `force_N` is the most a hand needs, `reached_deg`
    how far the handle stays in reach, `change` the plan keys that bring it, where it is a change of plan.
    """

    key: str
    force_N: float
    reached_deg: float
    mass_kg: float
    works: bool
    change: Mapping[str, object] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class LeafOpening:
    """One leaf (the whole cover, a section or a panel) worked out over its opening. Angles are from shut.

    `handle_m` is the handle while it is shut, seen along the hinge line.
    `over_centre_deg` is where it balances over its hinges; `rest_deg` where it comes to rest thrown fully open,
    `stays_open` whether it stays there by its own weight.
    """

    body: str
    mass_kg: Cited
    centre_m: Vec
    angles: tuple[AtAngle, ...]
    over_centre_deg: float
    rest_deg: float
    rests_on: str
    stays_open: bool
    prop: PropWork | None
    cord: Cord | None
    strut: Strut | None
    counterweight: Counterweight | None
    wax: WaxOpener
    reach: Reach
    lifting: Lifting
    wind: tuple[OpenWind, ...]
    fixings: tuple[FixingWork, ...]
    handle_m: Point = (0.0, 0.0)

    def at(self, angle_deg: float) -> AtAngle:
        """The row nearest to an angle."""
        return min(self.angles, key=lambda row: abs(row.angle_deg - angle_deg))

    @property
    def most_N(self) -> float:
        """The greatest force of a hand up to the wanted opening."""
        return self.reach.most_N


@dataclass(frozen=True, slots=True)
class Buy:
    """Something to buy: the goods' group, how many (or how much, in the goods' unit), the note's word key."""

    group: str
    quantity: float
    note: str
    values: Mapping[str, object] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Opening:
    """Everything about opening a cover and keeping it shut.

    `leaves` are in the order of the lid's; leaves that are alike have rows alike. `alternatives` is filled on request.
    """

    leaves: tuple[LeafOpening, ...] = ()
    hold_down: HoldDown | None = None
    buys: tuple[Buy, ...] = ()
    alternatives: tuple[Alternative, ...] = ()
    findings: tuple[Finding, ...] = ()

    @property
    def first(self) -> LeafOpening | None:
        """The leaf that stands for all that are alike."""
        return self.leaves[0] if self.leaves else None
