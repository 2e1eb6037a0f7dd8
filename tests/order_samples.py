"""An order of assembly for a frame of bents along a bed, put together by hand.

Tests of pictures and pages rest on no planner: what crosses the bed is cemented, what runs along it is slid in.
"""

from __future__ import annotations

import itertools

from clochewright.assembly import (
    AssemblyPlan,
    Count,
    Diagonals,
    Jig,
    Move,
    Packed,
    Packing,
    ScrewPlace,
    Screws,
    Spring,
    Step,
    StoredPart,
    Taking,
    Times,
    Way,
)
from clochewright.joints import Joint, JointPlan
from clochewright.sources import Cited, Grade

ALONG = (-1.0, 0.0, 0.0)  # new pieces come from the far end


def is_loose(pipe):
    """Whether a pipe runs along the bed, the stubs at the ridge aside."""
    (x0, y0, _), (x1, _, _) = pipe.path_m[0], pipe.path_m[-1]
    return abs(x1 - x0) > 0.9 * pipe.cut_length_m and not (pipe.role == "stub" and abs(y0) < 1e-6)


def groups_of(frame):
    """Ids of the pieces that cemented joints hold together, in the order they stand along the bed."""
    parent = {piece.id: piece.id for piece in (*frame.fittings, *frame.pipes)}

    def root(one):
        while parent[one] != one:
            one = parent[one]
        return one

    for pipe in frame.pipes:
        if not is_loose(pipe):
            for end in pipe.ends:
                parent[root(pipe.id)] = root(end.fitting)
    places = {fitting.id: fitting.position_m[0] for fitting in frame.fittings}
    groups = {}
    for one in parent:
        groups.setdefault(root(one), []).append(one)
    made = [tuple(group) for group in groups.values() if len(group) > 1]
    return sorted(
        made, key=lambda group: sum(places.get(one, 0) for one in group) / sum(one in places for one in group)
    )


def joined(frame, one, other):
    """Ids of the joints between two groups; a joint is named by its pipe and fitting."""
    return tuple(
        f"{pipe.id}-{end.fitting}"
        for pipe in frame.pipes
        for end in pipe.ends
        if (pipe.id in one and end.fitting in other) or (pipe.id in other and end.fitting in one)
    )


def cementing(frame, number, group, cutlist, jig):
    """The step that makes one group: each next piece is pushed on along its pipe."""
    pipes = {pipe.id: pipe for pipe in frame.pipes if pipe.id in group}
    have, moves = [next(one for one in group if one not in pipes)], []
    while len(have) < len(group):
        for pipe in pipes.values():
            here, there = (pipe.ends[0], pipe.ends[1]) if pipe.ends[0].fitting in have else pipe.ends[::-1]
            if here.fitting in have and pipe.id not in have:
                way = [b - a for a, b in zip(there.point_m, here.point_m, strict=True)]
                size = sum(c * c for c in way) ** 0.5
                axis = tuple(c / size for c in way)
                for new, on in ((pipe.id, here.fitting), (there.fitting, pipe.id)):
                    if new not in have:
                        text = f"Push {new} onto {on}."
                        moves.append(Move(number, "slide", axis, (new,), (on,), joined(frame, {new}, {on}), True, text))
                        have.append(new)
    marks = sorted(cutlist.mark_of[one] for one in pipes)
    kinds = sorted(fitting.kind for fitting in frame.fittings if fitting.id in group)
    counts = [Count(mark, marks.count(mark), "pipe") for mark in dict.fromkeys(marks)]
    counts += [Count(kind, kinds.count(kind), "fitting") for kind in dict.fromkeys(kinds)]
    return Step(
        number,
        "cement",
        f"Cement part M{number}",
        ("Dry-fit it flat on the floor.", "Cement one joint at a time."),
        tuple(moves),
        parts=(f"M{number}",),
        pieces=tuple(counts),
        new=group,
        hands="Hold each joint for 30 seconds.",
        jig=jig,
        times=(Times(15.6, 37.8, 900.0, 3600.0),),
    )


def joints_for(frame):
    """Every joint: cemented where its pipe crosses the bed, else screwed."""
    return JointPlan(
        tuple(
            Joint(f"{pipe.id}-{end.fitting}", end.fitting, end.port, pipe.id, end.seat_depth_m,
                  "screwed" if is_loose(pipe) else "cemented")
            for pipe in frame.pipes
            for end in pipe.ends
        )
    )  # fmt: skip


def order_for(frame, cutlist):
    """The whole order."""
    groups = groups_of(frame)
    loose = [pipe for pipe in frame.pipes if is_loose(pipe)]
    steps = [Step(1, "test-fit", "Test fit", ("Cut two rafters first.",), pieces=(Count("A", 2, "pipe"),))]
    parts = {}
    for group in groups:
        sort = tuple(sorted(cutlist.mark_of.get(one, "") for one in group)), len(group)
        parts.setdefault(sort, []).append(group)
    names = {}
    for alike in parts.values():
        flat = len({round(p[0], 3) for pipe in frame.pipes if pipe.id in alike[0] for p in pipe.path_m}) <= 2
        jig = Jig(
            flat, 90.0 if any("apex" in f.role for f in frame.fittings if f.id in alike[0]) else None, "On the floor."
        )
        made = cementing(frame, len(steps) + 1, alike[0], cutlist, jig)
        mine = tuple(f"M{len(names) + k + 1}" for k in range(len(alike)))
        names |= dict(zip(alike, mine, strict=True))
        steps.append(Step(**{name: getattr(made, name) for name in Step.__slots__} | {"parts": mine}))
    standing = list(groups[0])
    for before, group in itertools.pairwise(groups):
        pipes = [p for p in loose if p.id not in standing and any(e.fitting in before for e in p.ends)]
        pipes += [
            p for p in loose if p.id not in standing and p not in pipes and any(e.fitting in standing for e in p.ends)
        ]
        number, ids = len(steps) + 1, tuple(p.id for p in pipes)
        moves = (
            Move(
                number, "slide", ALONG, ids, tuple(standing), joined(frame, ids, standing), False, "Slide the pipes in."
            ),
            Move(
                number,
                "slide",
                ALONG,
                group,
                (*standing, *ids),
                joined(frame, group, (*standing, *ids)),
                False,
                "Slide it on.",
            ),
        )
        marks = [cutlist.mark_of[one] for one in ids]
        counts = (
            Count(names[group], 1, "part"),
            *(Count(mark, marks.count(mark), "pipe") for mark in dict.fromkeys(marks)),
        )
        steps.append(
            Step(
                number, "assemble", f"Add {names[group]}", ("Slide the pipes in.", "Slide the part onto them."), moves,
                parts=(names[group],), pieces=counts, new=(*ids, *group), there=tuple(standing),
                hands="Rest the far end on a bucket.", screws=moves[0].joints,
            )
        )  # fmt: skip
        standing += [*ids, *group]
    whole = tuple(standing)
    square = Step(len(steps) + 1, "square", "Make it square", ("Measure both diagonals.",), there=whole,
                  diagonals=Diagonals(frame.diagonal_m, frame.diagonal_m, 0.003))  # fmt: skip
    places = tuple(_screw(frame, pipe, end) for pipe in loose for end in pipe.ends)
    screw = Step(len(steps) + 2, "screw", "Put the screws in", ("One screw a joint.",), there=whole,
                 screws=tuple(place.joint for place in places))  # fmt: skip
    stored = tuple(_stored(frame, names[group], group) for group in groups)
    packed, top = [], 0.0
    for part in stored:
        packed.append(Packed(part.id, (0.0, 0.0, top), (part.box_m[0], part.box_m[1], part.box_m[2])))
        top += part.box_m[2]
    return AssemblyPlan(
        (*steps, square, screw),
        Screws("#8 x 3/4 in", 0.0042, 0.019, 0.0032, 0.006, tuple(places)),
        stored,
        Packing((max(p.box_m[0] for p in stored), max(p.box_m[1] for p in stored), top), False, tuple(packed)),
        (Way("no-force", True, True, "Every long pipe is slid along the bed."),),
        tuple(Taking(step.number, f"Undo {step.title}.") for step in reversed(steps) if step.kind == "assemble"),
        ("Cracks at the hubs.",),
        True,
    )


def springing(order, spread_m=0.0254):
    """The same order, its last move sprung in."""
    number = max(step.number for step in order.steps if step.kind == "assemble")
    spring = Spring(spread_m, Cited(20.0, 6.0, 35.0, Grade.ESTIMATE, "the frame"), 2e6, 0.004, 40.0)
    steps = []
    for step in order.steps:
        if step.number == number:
            moves = tuple(_with(move, kind="spring-in", spring=spring) for move in step.moves)
            step = _with(step, moves=moves)
        steps.append(step)
    return _with(order, steps=tuple(steps))


def _with(made, **changes):
    return type(made)(**{name: getattr(made, name) for name in type(made).__slots__} | changes)


def _screw(frame, pipe, end):
    port = frame.fitting(end.fitting).port(end.port)
    hub = frame.fitting(end.fitting).hub_diameter_m / 2
    place = [
        c + d * (port.centre_to_face_m - 0.01)
        for c, d in zip(frame.fitting(end.fitting).position_m, port.direction, strict=True)
    ]
    place[2] += hub
    number = int(pipe.id[1:])
    return ScrewPlace(f"{pipe.id}-{end.fitting}", number, tuple(place), (0.0, 0.0, -1.0), 0.01, "above")


def _stored(frame, name, group):
    points = [p for pipe in frame.pipes if pipe.id in group for p in pipe.path_m]
    spans = sorted((max(c) - min(c) + 0.04 for c in zip(*points, strict=True)), reverse=True)
    centre = tuple(sum(c) / len(c) for c in zip(*points, strict=True))
    pipes = tuple(one for one in group if one.startswith("P"))
    fittings = tuple(one for one in group if one.startswith("F"))
    mass = Cited(1.2, 1.1, 1.3, Grade.ESTIMATE, "the frame")
    return StoredPart(name, name, f"part {name}", pipes, fittings, tuple(spans), mass, centre)
