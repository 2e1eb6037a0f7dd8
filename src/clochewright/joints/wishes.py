"""Which joints are settled by the plan, and the usual split: flat parts, and loose pipes along the bed."""

from __future__ import annotations

from collections.abc import Collection

from clochewright.frame import End, Fitting, Frame, Pipe
from clochewright.joints.types import Treatment
from clochewright.plan import Plan

Settled = dict[tuple[str, str], Treatment]  # by fitting and port
ON_BASE = ("corner", "brace foot", "rafter foot", "post foot", "hoop foot")  # a stub stays with the later one
ALONG = 0.999


def site_of(fitting: Fitting) -> str:
    """What a fitting does, ends and inner bents alike: "apex elbow" is an apex."""
    return fitting.role.removesuffix(" elbow")


def kind_of_joint(pipe: Pipe, fitting: Fitting, end: End) -> tuple[str, str, str]:
    """Joints of one kind are treated alike: the pipe's role, the fitting's, and the side of a coupling."""
    return pipe.role, site_of(fitting), str(end.port) if fitting.kind == "coupling" else ""


def settled_joints(frame: Frame, plan: Plan, kept: Collection[tuple[str, str]]) -> Settled:
    """What old parts, sleeves, dry seats, the plan's own choices and its wish leave no choice about.

    A sleeve takes no cement, since the hoop has to come out of it; nor does a pipe that goes in dry.
    """
    held = {(one.role, one.at.removesuffix(" elbow")): one.how for one in plan.joints.held}
    fittings = {fitting.id: fitting for fitting in frame.fittings}
    settled: Settled = {}
    for pipe in frame.pipes:
        for end in pipe.ends:
            if end.fitting is None or end.port is None:
                continue
            fitting = fittings[end.fitting]
            role, site, _ = kind_of_joint(pipe, fitting, end)
            how = held.get((role, site)) or held.get((role, ""))
            spot = (end.fitting, end.port)
            if (end.fitting, pipe.id) in kept:
                settled[spot] = "cemented"
            elif fitting.kind == "sleeve" or is_dry(plan, pipe, fitting):
                settled[spot] = "screwed"
            elif how is not None:
                settled[spot] = "cemented" if how == "cemented" else "screwed"
            elif plan.store.wish in ("no-cement", "one-piece"):
                settled[spot] = "screwed" if plan.store.wish == "no-cement" else "cemented"
    return settled


def is_dry(plan: Plan, pipe: Pipe, fitting: Fitting) -> bool:
    """Whether the plan has this pipe go into this fitting only as far as it pushes by hand."""
    site = site_of(fitting)
    if fitting.kind == "sleeve":
        return False
    held = {(one.role, one.at.removesuffix(" elbow")): one.how for one in plan.joints.held if one.how != "screwed"}
    how = held.get((pipe.role, site)) or held.get((pipe.role, ""))
    if how is not None:
        return how == "screwed-dry"
    return {seat.role: seat.seat for seat in plan.joints.seats}.get(pipe.role, plan.joints.seat) == "dry"


def knock_down(frame: Frame, plan: Plan) -> frozenset[tuple[str, str]]:
    """The usual split, as the screwed joints by fitting and port.

    Every pipe along the bed is loose at both ends and slides between the rest; each bent, each end and each brace is
    one flat part, a stub on the base staying with its bent. A hoop is loose, so that it straightens, and its feet stay
    with the brace or the end beside them. A coupling in a pipe along the bed, or one that the storage asks for, opens
    on one side.
    """
    fittings = {fitting.id: fitting for fitting in frame.fittings}
    loose: set[tuple[str, str]] = set()
    for pipe in frame.pipes:
        ends = [(end.fitting, end.port) for end in pipe.ends if end.fitting is not None and end.port is not None]
        sites = [site_of(fittings[name]) for name, _ in ends]
        along = pipe.shape == "straight" and _is_along(pipe)
        if pipe.role == "stub":
            if along and len(ends) == 2 and frame.hoop is None and all(site in ON_BASE for site in sites):
                loose.add(ends[0 if ON_BASE.index(sites[0]) < ON_BASE.index(sites[1]) else 1])
            continue
        for (name, port), site in zip(ends, sites, strict=True):
            if fittings[name].kind == "coupling":
                if port == "b" and (along or plan.joints.longest_m is not None):
                    loose.add((name, port))
            elif along or (pipe.shape == "bent" and (site.endswith("foot") or site == "sleeve")):
                loose.add((name, port))
    return frozenset(loose)


def _is_along(pipe: Pipe) -> bool:
    a, b = pipe.path_m[0], pipe.path_m[-1]
    return abs(b[0] - a[0]) > ALONG * pipe.cut_length_m
