"""What is cemented for good and what is only screwed."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import replace

from clochewright.findings import Finding, Level, Mend
from clochewright.frame import Frame
from clochewright.joints.boxes import Solids
from clochewright.joints.fewest import Problem, fewest_screws, merge
from clochewright.joints.likeness import parts_by_likeness
from clochewright.joints.types import Found, Joint, JointPlan, Part, Spot, Treatment
from clochewright.joints.wishes import is_dry, kind_of_joint, knock_down, settled_joints, site_of
from clochewright.plan import Plan

F402 = "ASTM F402, safe handling of solvent cements, primers and cleaners"
PRACTICE = "common practice, no source"
SMALL = 14  # with no more open joints than this each is decided by itself

Judge = Callable[[Collection[Spot]], bool]


def never_minds(_screwed: Collection[Spot]) -> bool:
    """A judge that takes anything, for those who only ask what is where."""
    return True


def choose_joints(
    frame: Frame,
    plan: Plan,
    kept: Collection[tuple[str, str]] = (),
    judge: Judge = never_minds,
    measured: bool = True,
    slides_home: bool = False,
) -> JointPlan:
    """Choose for each joint whether it is cemented or screwed, as the plan's wish has it.

    Without a space to store it in, the usual split: flat bents, ends and braces, and loose pipes along the bed. With
    one, the fewest screws with which every part goes in and the whole goes together.

    Args:
        frame: the solved frame, whose pipes know how deep they sit.
        plan: wish, storage space, seats, and how many people build, for the cautions.
        kept: fitting and pipe of each joint that an old part brings along, cemented long ago.
        judge: says whether the frame goes together when these joints, by fitting and port, are screwed.
        measured: whether the parts are wanted, with their boxes.
        slides_home: whether dry pipe slides home in these sockets, so that none need be eased.

    Returns:
        The joints and the parts they make, with the cautions that belong to this step.
    """
    spaces = _spaces(plan)
    solids = Solids(frame)
    settled = settled_joints(frame, plan, kept)
    loose, found = _loose(frame, plan, settled, solids, spaces, judge)
    fittings = {fitting.id: fitting for fitting in frame.fittings}
    joints: list[Joint] = []
    for pipe in frame.pipes:
        for end in pipe.ends:
            if end.fitting is None or end.port is None:
                continue
            treatment: Treatment = "screwed" if (end.fitting, end.port) in loose else "cemented"
            old = (end.fitting, pipe.id) in kept
            dry = is_dry(plan, pipe, fittings[end.fitting])
            name = f"J{len(joints) + 1}"
            joints.append(Joint(name, end.fitting, end.port, pipe.id, end.seat_depth_m, treatment, old, dry))
    parts = _parts(frame, joints, solids, spaces) if measured or spaces else ()
    goes = judge(loose)
    home = [joint for joint in joints if joint.treatment == "screwed" and not joint.dry]
    in_sockets = [joint.id for joint in home if fittings[joint.fitting].kind != "sleeve"]
    eased = frozenset(() if slides_home else in_sockets)
    made = JointPlan(tuple(joints), (), parts, plan.store.wish, found, goes, _split(parts, spaces), eased)
    findings = (
        *_cautions(made, plan, len(in_sockets)),
        *_storing(made, plan, solids, spaces),
        *_unknown(frame, plan),
    )
    return replace(made, findings=findings)


def _loose(
    frame: Frame,
    plan: Plan,
    settled: Mapping[Spot, Treatment],
    solids: Solids,
    spaces: Sequence[tuple[float, float, float]],
    judge: Judge,
) -> tuple[frozenset[Spot], Found]:
    """The screwed joints, and how they were found."""
    asked = frozenset(spot for spot, how in settled.items() if how == "screwed")
    usual = frozenset(spot for spot in knock_down(frame, plan) if spot not in settled) | asked
    open_spots = _open_spots(frame, settled)
    if not open_spots:
        return asked, "as-said"

    def fits(ids: Collection[str]) -> bool:
        return all(solids.fits(ids, space) for space in spaces)

    wish = plan.store.wish
    if wish == "knock-down" and judge(usual) and (not spaces or _all_fit(frame, usual, fits)):
        return usual, "as-said"
    groups = _groups(frame, settled)
    search = _search(frame, groups, settled, fits, judge, asked)
    if search is not None:
        return search
    return usual if judge(usual) else frozenset((*open_spots, *asked)), "best-found"


def _search(
    frame: Frame,
    groups: Sequence[tuple[Spot, ...]],
    settled: Mapping[Spot, Treatment],
    fits: Callable[[Collection[str]], bool],
    judge: Judge,
    asked: frozenset[Spot],
) -> tuple[frozenset[Spot], Found] | None:
    """The fewest screws that do, over these groups of joints."""
    atoms = [*(fitting.id for fitting in frame.fittings), *(pipe.id for pipe in frame.pipes)]
    number = {atom: i for i, atom in enumerate(atoms)}
    spots = [(spot, pipe) for pipe in frame.pipes for end in pipe.ends if (spot := (end.fitting, end.port))[0]]
    links = tuple((number[pipe.id], number[str(name)]) for (name, _), pipe in spots)
    at = {(str(name), str(port)): j for j, ((name, port), _) in enumerate(spots)}
    problem = Problem(
        len(atoms),
        links,
        tuple(tuple(at[spot] for spot in group) for group in groups),
        tuple(at[spot] for spot, how in settled.items() if how == "cemented"),
    )

    def screwed(chosen: Collection[int]) -> frozenset[Spot]:
        return asked.union(*(groups[g] for g in chosen))

    best = fewest_screws(problem, lambda part: fits([atoms[i] for i in part]), lambda chosen: judge(screwed(chosen)))
    return None if best is None else (screwed(best.screwed), "exact" if best.proven else "best-found")


def _open_spots(frame: Frame, settled: Mapping[Spot, Treatment]) -> list[Spot]:
    held = [(end.fitting, end.port) for pipe in frame.pipes for end in pipe.ends if end.fitting and end.port]
    return [(str(name), str(port)) for name, port in held if (name, port) not in settled]


def _groups(frame: Frame, settled: Mapping[Spot, Treatment]) -> list[tuple[Spot, ...]]:
    """Joints that are decided together: like ones, or each by itself where there are few."""
    open_spots = _open_spots(frame, settled)
    if len(open_spots) <= SMALL:
        return [(spot,) for spot in open_spots]
    fittings = {fitting.id: fitting for fitting in frame.fittings}
    groups: dict[tuple[str, str, str], list[Spot]] = {}
    for pipe in frame.pipes:
        for end in pipe.ends:
            if end.fitting is not None and end.port is not None and (end.fitting, end.port) not in settled:
                kind = kind_of_joint(pipe, fittings[end.fitting], end)
                groups.setdefault(kind, []).append((end.fitting, end.port))
    return [tuple(group) for group in groups.values()]


def _all_fit(frame: Frame, loose: Collection[Spot], fits: Callable[[Collection[str]], bool]) -> bool:
    return all(fits(ids) for ids in _rigid(frame, loose))


def _rigid(frame: Frame, loose: Collection[Spot]) -> list[list[str]]:
    """Ids of the pieces of each part, in the frame's order."""
    atoms = [*(fitting.id for fitting in frame.fittings), *(pipe.id for pipe in frame.pipes)]
    number = {atom: i for i, atom in enumerate(atoms)}
    links = [
        (number[end.fitting], number[pipe.id])
        for pipe in frame.pipes
        for end in pipe.ends
        if end.fitting is not None and (end.fitting, end.port) not in loose
    ]
    labels, _ = merge(list(range(len(atoms))), links)
    parts: dict[int, list[str]] = {}
    for atom, label in zip(atoms, labels, strict=True):
        parts.setdefault(label, []).append(atom)
    return list(parts.values())


def _parts(
    frame: Frame, joints: Sequence[Joint], solids: Solids, spaces: Sequence[tuple[float, float, float]]
) -> tuple[Part, ...]:
    loose = {(joint.fitting, joint.port) for joint in joints if joint.treatment == "screwed"}
    pipes = {pipe.id for pipe in frame.pipes}
    rigid = [([a for a in ids if a in pipes], [a for a in ids if a not in pipes]) for ids in _rigid(frame, loose)]
    return parts_by_likeness(frame, joints, rigid, solids, spaces)


def _spaces(plan: Plan) -> list[tuple[float, float, float]]:
    """The spaces every part has to go into [m]; a side that the plan doesn't say is as long as the longest it does."""
    store, spaces = plan.store, []
    sides = [side_m for side_m in (store.length_m, store.depth_m, store.height_m) if side_m is not None]
    if sides:
        long_m = max(sides)
        spaces.append((store.length_m or long_m, store.depth_m or long_m, store.height_m or long_m))
    if store.in_car and plan.car is not None:
        spaces.append((plan.car.inside_length_m,) * 3)
    return spaces


def _split(parts: Sequence[Part], spaces: Sequence[tuple[float, float, float]]) -> float | None:
    """The longest piece of pipe that goes in [m], where a pipe that is a part by itself is too long; else None."""
    longest_m = min((max(space) for space in spaces), default=None)
    if longest_m is None:
        return None
    alone = [part for part in parts if not part.fittings and part.box_m[0] > longest_m]
    return longest_m if alone else None


def _cautions(joints: JointPlan, plan: Plan, home: int) -> tuple[Finding, ...]:
    """What belongs to cement and to screws; so many screwed joints are home in a socket."""
    found = []
    if joints.cemented:
        values = {"count": joints.cemented}
        found.append(Finding(Level.NOTE, "joints", "joints.cement-fumes", "joints", values, F402))
        if plan.people == 1:
            found.append(Finding(Level.NOTE, "joints", "joints.cement-alone", "joints", values, F402))
    dry = sum(joint.treatment == "screwed" and joint.dry for joint in joints.joints)
    if dry:
        found.append(Finding(Level.NOTE, "joints", "joints.screwed-dry", "joints", {"count": dry}, PRACTICE))
    values = {"count": home}
    if joints.eased:
        found.append(Finding(Level.NOTE, "joints", "joints.screwed-eased", "joints", values, PRACTICE))
    elif home:
        found.append(Finding(Level.NOTE, "joints", "joints.screwed-sliding", "joints", values, PRACTICE))
    return tuple(found)


def _unknown(frame: Frame, plan: Plan) -> Iterator[Finding]:
    """Joints that the plan names and this frame doesn't have."""
    fittings = {fitting.id: fitting for fitting in frame.fittings}
    there = {(pipe.role, site_of(fittings[end.fitting])) for pipe in frame.pipes for end in pipe.ends if end.fitting}
    roles, sites = sorted({role for role, _ in there}), sorted({site for _, site in there})
    for number, one in enumerate(plan.joints.held):
        site = one.at.removesuffix(" elbow")
        if (one.role, site) not in there and not (one.role in roles and not site):
            named = f"{one.role} at {one.at}" if one.at else one.role
            values = {"named": named, "roles": tuple(roles), "sites": tuple(sites)}
            yield Finding(Level.WARN, "joints", "joints.no-such-joint", f"joints.held[{number}]", values)


def _storing(
    joints: JointPlan, plan: Plan, solids: Solids, spaces: Sequence[tuple[float, float, float]]
) -> tuple[Finding, ...]:
    """What doesn't go where it is to be stored."""
    found = []
    too_big = [part for part in joints.parts if not all(solids.fits(part.ids, space) for space in spaces)]
    if too_big and joints.split_m is None:
        biggest = max(too_big, key=lambda part: part.box_m)
        long_m, wide_m, thick_m = biggest.box_m
        values = {"count": len(too_big), "part": biggest.id, "long_m": long_m, "wide_m": wide_m, "thick_m": thick_m}
        change = None if plan.store.wish == "few-screws" else Mend("store.wish", "few-screws")
        found.append(Finding(Level.WARN, "joints", "joints.does-not-fit", "store", values, "", change))
    return tuple(found)
