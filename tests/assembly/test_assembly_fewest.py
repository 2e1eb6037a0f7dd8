"""The fewest screws, against every choice tried one by one.

The brute force below has its own idea of what comes apart: it looks for any two-part split, over all subsets of parts
and all axes, and knows nothing of blocking graphs.
"""

from __future__ import annotations

import itertools
import random
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from assembly_making import CATALOGUE, EXAMPLES, si

from clochewright.assembly import Judge
from clochewright.frame import raise_frame
from clochewright.joints import choose_joints, site_of
from clochewright.joints.boxes import Solids
from clochewright.plan import plan_with, read_plan

NEAR = 1e-6


class Cut:
    """A piece of a frame as pieces and joints, for the brute force."""

    def __init__(self, frame):
        self.pieces = [*(f.id for f in frame.fittings), *(p.id for p in frame.pipes)]
        ports = {(f.id, port.name): port.direction for f in frame.fittings for port in f.ports}
        self.joints = [
            (pipe.id, end.fitting, np.array(ports[end.fitting, end.port]), (end.fitting, end.port))
            for pipe in frame.pipes
            for end in pipe.ends
            if end.fitting is not None
        ]

    def parts(self, screwed):
        """Rigid parts as sets of pieces, by flooding."""
        left, found = set(self.pieces), []
        beside = {piece: set() for piece in self.pieces}
        for pipe, fitting, _, spot in self.joints:
            if spot not in screwed:
                beside[pipe].add(fitting)
                beside[fitting].add(pipe)
        while left:
            part, edge = set(), [next(iter(left))]
            while edge:
                piece = edge.pop()
                if piece not in part:
                    part.add(piece)
                    edge += beside[piece] - part
            left -= part
            found.append(frozenset(part))
        return found

    def comes_apart(self, screwed):
        """Whether some two-part split works, and both sides come apart in turn: all subsets are tried."""
        parts = self.parts(screwed)
        of = {piece: k for k, part in enumerate(parts) for piece in part}
        links = [(of[pipe], of[fitting], way) for pipe, fitting, way, _ in self.joints if of[pipe] != of[fitting]]

        @cache
        def apart(group):
            if len(group) == 1:
                return True
            first, *rest = sorted(group)
            for size in range(len(rest)):
                for others in itertools.combinations(rest, size):
                    here = frozenset({first, *others})
                    if can_leave(here, group - here) and apart(here) and apart(group - here):
                        return True
            return False

        def can_leave(here, there):
            ways = [
                way if a in here else -way
                for a, b, way in links
                if (a in here and b in there) or (b in here and a in there)
            ]
            return all(np.linalg.norm(way - ways[0]) < NEAR for way in ways)

        return apart(frozenset(range(len(parts))))


def fewest_by_force(frame, groups, space, most=None):
    """The least number of screws over all choices of groups, or None."""
    cut, solids = Cut(frame), Solids(frame)
    best = None
    for chosen in itertools.product((False, True), repeat=len(groups)):
        screwed = {spot for group, yes in zip(groups, chosen, strict=True) if yes for spot in group}
        if (best is not None and len(screwed) >= best) or (most is not None and len(screwed) > most):
            continue
        if all(solids.fits(part, space) for part in cut.parts(screwed)) and cut.comes_apart(frozenset(screwed)):
            best = len(screwed)
    return best


def tent_of(draw):
    """A small tent of one size or another."""
    return si(
        bed={"length_m": draw.uniform(1.4, 2.6), "width_m": draw.uniform(0.7, 1.4)},
        cover={"shape": "tent", "apex": draw.choice(("pointed", "butted", "flat")), "bents": 3, "braces": "each"},
        pipe={"size": draw.choice(("1 in Sch 40", "3/4 in Sch 40", "32 mm PN 16")), "bench": "furniture"},
        store={"wish": "few-screws"},
    )


def without_the_open(frame, pipes):
    """The frame of these pipes, their fittings, and no port that nothing goes into."""
    names = {end.fitting for pipe in pipes for end in pipe.ends}
    used = {(end.fitting, end.port) for pipe in pipes for end in pipe.ends}
    fittings = tuple(
        replace(fitting, ports=tuple(port for port in fitting.ports if (fitting.id, port.name) in used))
        for fitting in frame.fittings
        if fitting.id in names
    )
    return replace(frame, fittings=fittings, pipes=tuple(pipes))


def ring(frame, draw):
    """The four corners with a rail in each side, whole or in two with a tee between: up to 12 joints."""
    role = {fitting.id: fitting.role for fitting in frame.fittings}
    corners = [fitting for fitting in frame.fittings if fitting.role == "corner"]
    assert len(corners) == 4
    ends = [pipe for pipe in frame.pipes if pipe.role == "end rail"]
    sides = []
    for y in sorted({round(corner.position_m[1], 6) for corner in corners}):
        front, far = sorted((c for c in corners if round(c.position_m[1], 6) == y), key=lambda c: c.position_m[0])
        stop = front.port("a").centre_to_face_m - front.port("a").socket_depth_m
        a = (front.position_m[0] + stop, *front.position_m[1:])
        b = (far.position_m[0] - stop, *far.position_m[1:])
        end = [replace(ends[0].ends[0], fitting=c.id, port="a", point_m=p) for c, p in ((front, a), (far, b))]
        sides.append(replace(ends[0], id=f"S{len(sides)}", role="side rail", ends=tuple(end), path_m=(a, b),
                             cut_length_m=b[0] - a[0]))  # fmt: skip
    assert role
    return without_the_open(frame, [*ends, *sides])


def bent(frame, draw):
    """One bent within: feet, slopes and what joins them at the top."""
    return _bent(frame, with_brace=False)


def bent_with_brace(frame, draw):
    """The same with the brace beside it, and the stubs between: one closed loop."""
    return _bent(frame, with_brace=True)


def _bent(frame, with_brace):
    by_id = {fitting.id: fitting for fitting in frame.fittings}
    slopes = sorted((pipe for pipe in frame.pipes if pipe.role == "rafter"), key=lambda pipe: abs(pipe.path_m[0][0]))
    names = {end.fitting for pipe in slopes[:2] for end in pipe.ends}
    kept = list(slopes[:2])
    stubs = [pipe for pipe in frame.pipes if pipe.role == "stub"]
    top = {name for name in names if by_id[name].role.startswith("apex")}
    while grown := [pipe for pipe in stubs if pipe not in kept and {e.fitting for e in pipe.ends} & top]:
        kept += list(grown)
        top |= {end.fitting for pipe in grown for end in pipe.ends}
    if with_brace:
        brace = next(pipe for pipe in frame.pipes if pipe.role == "brace")
        feet = {end.fitting for end in brace.ends}
        links = [p for p in frame.pipes if p.role in ("stub", "side rail")
                 and {e.fitting for e in p.ends} & feet and {e.fitting for e in p.ends} & names]  # fmt: skip
        kept += [brace, *links]
    return without_the_open(frame, kept)


@pytest.mark.parametrize("cut", [ring, bent, bent_with_brace])
def test_as_few_as_trying_every_choice(cut):
    """Sixty-seven of each sort: 201 cut-down frames of up to 14 joints, each stored in a space it is too big for."""
    draw = random.Random(f"fewest {cut.__name__}")
    counts = set()
    for _ in range(67):
        plan = tent_of(draw)
        frame = cut(raise_frame(plan, CATALOGUE), draw)
        spots = [(end.fitting, end.port) for pipe in frame.pipes for end in pipe.ends]
        assert len(spots) <= 14
        box = Solids(frame).smallest([*(f.id for f in frame.fittings), *(p.id for p in frame.pipes)])
        space = tuple(side * draw.uniform(0.5, 1.05) for side in box)
        long_m = max(pipe.cut_length_m for pipe in frame.pipes) * draw.choice((1.0, 1.1, 1.3))
        hub_m = max(2 * port.centre_to_face_m for f in frame.fittings for port in f.ports)
        space = (max(space[0], long_m), max(space[1], hub_m), max(space[2], hub_m))
        stored = plan_with(plan, list(zip(("store.length", "store.depth", "store.height"), space, strict=True)))
        found = choose_joints(frame, stored, judge=Judge(frame))
        best = fewest_by_force(frame, [(spot,) for spot in spots], space, found.screwed)
        assert found.found == "exact"
        assert found.screwed == best, (cut.__name__, space)
        counts.add(best)
    assert len(counts) > 1


def grouped(frame):
    """Joints that do the same thing: the pipe's role and the fitting's."""
    fittings = {fitting.id: fitting for fitting in frame.fittings}
    groups = {}
    for pipe in frame.pipes:
        for end in pipe.ends:
            if end.fitting is not None:
                groups.setdefault((pipe.role, site_of(fittings[end.fitting])), []).append((end.fitting, end.port))
    return [tuple(group) for group in groups.values()]


@pytest.mark.parametrize("space", [(2.0, 1.25, 0.4), (1.95, 1.3, 0.5)])
@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_the_examples_take_as_few_as_every_choice_of_like_joints(path, space):
    """All choices with fewer screws fail, tried one by one; the choice that was made does."""
    sizes = list(zip(("store.length", "store.depth", "store.height"), space, strict=True))
    plan = plan_with(read_plan(path), [("store.wish", "few-screws"), *sizes])
    frame = raise_frame(plan, CATALOGUE)
    longest_m = max(pipe.cut_length_m for pipe in frame.pipes)
    if longest_m > space[0]:
        plan = plan_with(plan, [("joints.longest", space[0])])
        frame = raise_frame(plan, CATALOGUE)
    found = choose_joints(frame, plan, judge=Judge(frame))
    assert found.found == "exact"
    assert found.goes_together
    groups, solids, cut, judge = grouped(frame), Solids(frame), Cut(frame), Judge(frame)
    sleeves = {fitting.id for fitting in frame.fittings if fitting.kind == "sleeve"}
    assert not sleeves
    sizes = [len(group) for group in groups]
    tried = 0
    for mask in range(2 ** len(groups)):
        count = sum(size for k, size in enumerate(sizes) if mask >> k & 1)
        if count >= found.screwed:
            continue
        screwed = frozenset(spot for k, group in enumerate(groups) if mask >> k & 1 for spot in group)
        parts = cut.parts(screwed)
        tried += 1
        assert not (all(solids.fits(part, space) for part in parts) and judge(screwed)), sorted(screwed)
    assert tried
