"""The assembly plan of one frame: order, springing in, screws, storage, taking down."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from clochewright.assembly.blocking import Web, web_of
from clochewright.assembly.judging import rigid_units
from clochewright.assembly.moving import Mover
from clochewright.assembly.naming import Names
from clochewright.assembly.ordering import Joined, Orderer, Stuck
from clochewright.assembly.screwing import place_screws
from clochewright.assembly.slipping import slip_way
from clochewright.assembly.springing import COLD_DEGC, MOST_N, HOOP_E_Pa, Opener, hoop_spring, refused, spring_in
from clochewright.assembly.storing import pack, store_parts
from clochewright.assembly.types import AssemblyPlan, Spring, Step, Taking, Way
from clochewright.assembly.working import Work
from clochewright.catalogue import Catalogue, pipe_section
from clochewright.cuts import NO_READINGS, Readings
from clochewright.findings import Finding, Level, Mend, word
from clochewright.frame import Frame
from clochewright.joints import JointPlan, Part
from clochewright.lid import LidPlan
from clochewright.measures import show_force, show_length
from clochewright.plan import Plan
from clochewright.weights import Weights

PRACTICE = "common practice, no source"
WALL_SHARE = 0.05  # of the diameter, where a pipe's wall is not known: as the frame takes it
BIG = 16  # pieces in a part; more are put together from one end to the other


def plan_assembly(
    frame: Frame,
    plan: Plan,
    joints: JointPlan,
    lid: LidPlan,
    weights: Weights,
    catalogue: Catalogue,
    mark_of: Mapping[str, str],
    opener: Opener | None = None,
    done: frozenset[str] = frozenset(),
    read: Readings = NO_READINGS,
) -> AssemblyPlan:
    """Find the order in which the frame goes together, and all that belongs to it.

    Args:
        frame: the solved frame.
        plan: people, units, storage space.
        joints: what is cemented and screwed, and the parts.
        lid: hinges and latches, which screws keep clear of.
        weights: masses of pipe and fittings.
        catalogue: the joint screws to be had.
        mark_of: the printed mark of each pipe.
        opener: the frame solver, asked how hard a gap is to open; without it nothing is sprung in.
        done: ids of pipes that are cut already.
        read: what a tape reads of the frame, dry and joined, and which marks are cut last.

    Returns:
        The plan. Where no order is found it holds no assembly steps, and its findings say what would mend it.
    """
    web = web_of(frame)
    names = Names(frame, joints, mark_of)
    mover = Mover(frame, web, joints, names, plan.units)
    found = _Orders(frame, web, joints, opener, _bending(frame, catalogue))
    slides = catalogue.slides_home(frame.pipe_key)
    work = Work(frame, plan, joints, names, mover, read, slides)
    work.cut_first(done)
    made = _made(joints, found.inside)
    work.mark(len(made))
    for part, alike in made:
        work.cement(part, alike, found.inside, found.springs)
    if found.whole is not None:
        single = {web.number[part.ids[0]]: names.sort(part) for part in joints.parts if len(part.ids) == 1}
        # what is bent is bent last, over a base that is square
        late = next((i for i, one in enumerate(found.whole) if one.sprung and one.depth == 0), len(found.whole))
        work.assemble(found.whole[:late], single, found.springs)
        work.square()
        work.assemble(found.whole[late:], single, found.springs)
        work.tie([pipe.id for pipe in frame.pipes if all(end.fitting is None for end in pipe.ends)])
    order = [joint for step in work.steps for move in step.moves for joint in move.joints]
    screws = place_screws(frame, joints, lid, catalogue, order, plan.units)
    if screws is not None:
        work.screw([place.joint for place in screws.places], screws.pilot_m)
    stored = store_parts(frame, joints, weights, names.part)
    packing, unpacked = pack(stored, plan)
    ways = found.ways(plan)
    goes = found.whole is not None and not found.refused
    findings = (*found.findings(plan), *unpacked)
    return AssemblyPlan(
        tuple(work.steps), screws, stored, packing, ways, _down(work.steps), _look_for(frame, joints), goes, findings
    )


def _bending(frame: Frame, catalogue: Catalogue) -> float:
    """Bending stiffness of the pipe, short-term [N m2]."""
    row = catalogue.find_pipe(frame.pipe_key)
    outside_m = row.outside_diameter.value
    wall_m = row.wall.value if row.wall is not None else outside_m * WALL_SHARE
    return HOOP_E_Pa * pipe_section(outside_m, wall_m).I_m4


class _Orders:
    """The orders found: inside each cemented part, and of the parts."""

    def __init__(self, frame: Frame, web: Web, joints: JointPlan, opener: Opener | None, bending_N_m2: float) -> None:
        self._frame, self._web, self._joints, self._opener = frame, web, joints, opener
        self._bending_N_m2 = bending_N_m2
        self.springs: dict[int, Spring] = {}
        self.forced: list[str] = []
        self.stuck: frozenset[int] = frozenset()
        self.inside = self._inside()
        self.whole = self._whole()
        self.refused = any(refused(self.springs[web.number[pipe]]) for pipe in self.forced)

    def _inside(self) -> dict[str, list[Joined]]:
        """For each part of several pieces, the order of its pieces; old joints are there already."""
        web = self._web
        old = {(j.fitting, j.port) for j in self._joints.joints if j.old}
        _, unit_of = rigid_units(web, {link.spot for link in web.links} - old)
        orderer = Orderer(web, unit_of, ())
        orders = {}
        for part in self._joints.parts:
            atoms = [web.number[piece] for piece in part.ids]
            units = {unit_of[atom] for atom in atoms}
            if len(units) > 1:
                far = orderer.from_the_middle(units) if len(units) <= BIG else None
                try:
                    orders[part.id] = orderer.order(units, far)
                    self._bend_hoops(orders[part.id])
                except Stuck as stuck:
                    self.stuck = stuck.units
        return orders

    def _whole(self) -> list[Joined] | None:
        web = self._web
        spots = {(j.fitting, j.port) for j in self._joints.joints if j.treatment == "screwed"}
        units, unit_of = rigid_units(web, spots)
        self._unit_of = unit_of
        orderer = Orderer(web, unit_of, web.bent, self._least_force)
        try:
            order = orderer.order(units)
        except Stuck as stuck:
            self.stuck = stuck.units
            return None
        if self.stuck:
            return None
        self._bend_hoops(order)
        return order

    def _bend_hoops(self, order: Sequence[Joined]) -> None:
        pipe_of = {pipe.id: pipe for pipe in self._frame.pipes}
        for joined in order:
            hoops = [pipe_of[self._web.atoms[atom]] for atom in sorted(joined.moving & self._web.bent)]
            if joined.sprung == 1 and hoops:
                self.springs[min(joined.moving)] = hoop_spring(self._frame, hoops[0], self._bending_N_m2)

    def _least_force(self, units: frozenset[int], free: list[frozenset[int]]) -> frozenset[int] | None:
        """The set of pipes that takes the least force at its worst pipe; a set once begun is gone on with."""
        web = self._web
        begun = {web.number[pipe] for pipe in self.forced}
        for pipes in free:
            if pipes <= begun:
                return pipes
        if self._opener is None:
            return None
        tried = []
        for pipes in free:
            order = sorted(pipes, key=lambda atom: (web.middle_m[atom][0], atom))
            ids = [web.atoms[atom] for atom in order]
            there = frozenset(web.atoms[atom] for atom, unit in self._unit_of.items() if unit in units - pipes)
            springs = spring_in(self._frame, there, ids, self._opener)
            tried.append((max(spring.force_N.value for spring in springs), ids, springs, pipes))
        _, ids, springs, chosen = min(tried, key=lambda one: (one[0], one[1]))
        self.forced += ids
        self.springs |= {web.number[pipe]: spring for pipe, spring in zip(ids, springs, strict=True)}
        return chosen

    def ways(self, plan: Plan) -> tuple[Way, ...]:
        """How the loops are closed, and what else would do."""
        units = plan.units
        if not self.forced:
            goes = self.whole is not None
            return (Way("no-force", goes, goes, word(f"assembly.ways.{'no-force' if goes else 'stuck'}")),)
        springs = tuple(self.springs[self._web.number[pipe]] for pipe in self.forced)
        worst = max(springs, key=lambda spring: spring.force_N.value)
        words = {
            "count": len(springs),
            "spread": show_length(worst.spread_m, units),
            "force": show_force(worst.force_N.value, units),
            "together": show_force(max(spring.together_N for spring in springs), units),
            "strain": f"{max(spring.strain_share for spring in springs):.1%}",
        }
        key = "spring-refused" if self.refused else "spring-in"
        return (
            Way("no-force", True, False, word("assembly.ways.instead")),
            Way("spring-in", not self.refused, not self.refused, word(f"assembly.ways.{key}", **words),
                tuple(self.forced), springs),
            slip_way(self._frame, self.forced, self.refused, units),
        )  # fmt: skip

    def findings(self, plan: Plan) -> tuple[Finding, ...]:
        """What stands in the way, and what to mind when something is bent."""
        change = Mend("joints.held", []) if plan.joints.held else Mend("store.wish", "knock-down")
        if self.whole is None:
            values: dict[str, object] = {"pieces": tuple(self._web.atoms[atom] for atom in sorted(self.stuck))[:4]}
            return (Finding(Level.STOP, "assembly", "assembly.locked", "joints", values, "", change),)
        found = []
        springs = [self.springs[self._web.number[pipe]] for pipe in self.forced]
        if springs:
            worst = max(springs, key=lambda spring: spring.force_N.value)
            values = {
                "count": len(springs),
                "spread_m": worst.spread_m,
                "force_N": worst.force_N.value,
                "high_N": worst.force_N.high,
                "most_N": MOST_N,
                "strain": f"{max(spring.strain_share for spring in springs):.1%}",
            }
            source = worst.force_N.source
            if self.refused:
                found.append(Finding(Level.STOP, "assembly", "assembly.too-stiff", "joints", values, source, change))
            else:
                found.append(Finding(Level.NOTE, "assembly", "assembly.springs-in", "joints", values, source, change))
        hoops = [spring for atom, spring in self.springs.items() if self._web.atoms[atom] not in self.forced]
        if springs or hoops:
            values = {"cold_degC": COLD_DEGC}
            found.append(Finding(Level.WARN, "assembly", "assembly.not-in-the-cold", "joints", values, PRACTICE))
        if hoops and max(spring.force_N.value for spring in hoops) > MOST_N:
            values = {"force_N": max(spring.force_N.value for spring in hoops), "most_N": MOST_N}
            found.append(Finding(Level.WARN, "assembly", "assembly.stiff-hoop", "hoops", values, PRACTICE))
        return tuple(found)


def _made(joints: JointPlan, inside: Mapping[str, Sequence[Joined]]) -> list[tuple[Part, list[Part]]]:
    """The parts that are cemented, like ones together, the biggest first."""
    alike: dict[str, list[Part]] = {}
    for part in joints.parts:
        if part.id in inside:
            alike.setdefault(part.like, []).append(part)
    return [(parts[0], parts) for parts in alike.values()]


def _down(steps: Sequence[Step]) -> tuple[Taking, ...]:
    """Taking down is the order told backwards."""
    down = []
    for step in reversed(steps):
        if step.kind in ("screw", "assemble"):
            key = "screws" if step.kind == "screw" else "part" if not _sprung(step) else "sprung"
            down.append(Taking(step.number, word(f"assembly.down.{key}", step=step.number, title=step.title)))
    return tuple(down)


def _sprung(step: Step) -> bool:
    return any(move.kind == "spring-in" for move in step.moves)


def _look_for(frame: Frame, joints: JointPlan) -> tuple[str, ...]:
    """What to look for when it comes out again next year."""
    keys: list[str] = ["pipes", "fittings"]
    keys += ["cement"] if joints.cemented else []
    keys += ["holes"] if joints.screwed else []
    keys += ["eased"] if joints.eased else []
    keys += ["hoops"] if frame.hoop is not None else []
    keys += ["film", "count"]
    return tuple(word(f"assembly.look.{key}") for key in keys)
