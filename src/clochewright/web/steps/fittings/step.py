"""The fittings: which, how many, how big, how sure; and the pipe they are for."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from clochewright.findings import word
from clochewright.plan import Plan
from clochewright.web.steps.kit import Figure, Seen, Shown, SourceRow, Step, entries

_OWN = ("kind", "port", "centre_to_stop", "socket_depth", "hub", "bend")
_OWN_PIPE = ("size", "outside_diameter", "wall", "sticks", "price")


@dataclass(frozen=True, slots=True)
class FittingLine:
    """One kind of fitting: its name, how many, what they do in the frame, its sizes, and whether those are sure."""

    name: str
    count: int
    roles: str
    to_stop: str
    depth: str
    hub: str
    sure: bool


@dataclass(frozen=True, slots=True)
class FittingsShown(Shown):
    """The fittings of the frame, most first."""

    rows: tuple[FittingLine, ...] = ()


def _fields(plan: Plan) -> tuple[str, ...]:
    return (
        "pipe.size",
        "pipe.bench",
        "joints.seat",
        *entries("joints.seats", ("role", "seat"), len(plan.joints.seats)),
        *entries("own.fittings", _OWN, len(plan.own.fittings)),
        *entries("own.pipes", _OWN_PIPE, len(plan.own.pipes)),
        "own.file",
    )


def _show(seen: Seen) -> FittingsShown:
    job = seen.job
    rows = {row.kind: row for row in job.fitting_rows}
    counts = Counter(fitting.kind for fitting in job.frame.fittings)
    lines, sources = [], []
    for kind, count in counts.most_common():
        roles = Counter(fitting.role for fitting in job.frame.fittings if fitting.kind == kind)
        row = rows.get(kind)
        name = word(f"supplies.fitting.{kind}") if row is not None else kind
        said = ", ".join(f"{role} × {many}" if many > 1 else role for role, many in roles.items())
        if row is None:
            lines.append(FittingLine(name.capitalize(), count, said, "", "", "", sure=True))
            continue
        to_stop = dict.fromkeys(seen.fine(socket.centre_to_stop.value) for socket in row.sockets)
        depth = dict.fromkeys(seen.fine(socket.depth.value) for socket in row.sockets)
        hub = seen.fine(row.hub_diameter.value)
        lines.append(FittingLine(name, count, said, ", ".join(to_stop), ", ".join(depth), hub, row.is_sure))
        sources += _sources(seen, kind, name)
    joints = seen.made.joints
    pipe = job.pipe
    diameter = seen.fine(pipe.outside_diameter.value)
    figures: list[Figure] = [
        seen.figure("pipe", pipe.key, "pipe-note", diameter=diameter),
        seen.figure("cemented", str(joints.cemented)),
        seen.figure("screwed", str(joints.screwed)),
    ]
    sources.insert(0, seen.source(word("booklet.source.outside"), pipe.outside_diameter, seen.fine))
    gist = word("web.gist.fittings", count=len(job.frame.fittings), pipe=pipe.key)
    return FittingsShown(gist, tuple(figures), tuple(sources), tuple(lines))


def _sources(seen: Seen, kind: str, name: str) -> list[SourceRow]:
    row = next(row for row in seen.job.fitting_rows if row.kind == kind)
    found = []
    for socket in row.sockets:
        found.append(seen.source(word("booklet.source.to-stop", fitting=name), socket.centre_to_stop, seen.fine))
        found.append(seen.source(word("booklet.source.depth", fitting=name), socket.depth, seen.fine))
    found.append(seen.source(word("booklet.source.hub", fitting=name), row.hub_diameter, seen.fine))
    return list(dict.fromkeys(found))


STEP = Step("fittings", _fields, _show, finding_wheres=("own.fittings", "pipe"))
