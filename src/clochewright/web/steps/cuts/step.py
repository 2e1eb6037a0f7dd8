"""The cuts: what is sawn, from which stick, what is left, and what a dry test fit shows."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from clochewright.findings import word
from clochewright.job import Shape
from clochewright.measures import Units, show_length
from clochewright.plan import Plan
from clochewright.web.steps.kit import Figure, Seen, Shown, SourceRow, Step, between, entries


@dataclass(frozen=True, slots=True)
class CutLine:
    """One row of the cut list; `id` names it for ticks, `last` says that it is best cut last."""

    id: str
    mark: str
    count: int
    length: str
    role: str
    last: bool


@dataclass(frozen=True, slots=True)
class FirstCutLine:
    """One stick that is sawn at the shop: which, how long, where, and what is carried home."""

    stick: int
    length: str
    at: str
    pieces: str


@dataclass(frozen=True, slots=True)
class CutsShown(Shown):
    """The cut list, and the first cuts at the shop."""

    cuts: tuple[CutLine, ...] = ()
    first_cuts: tuple[FirstCutLine, ...] = ()


def _fields(plan: Plan) -> tuple[str, ...]:
    return (
        "stock.sticks",
        "stock.kerf",
        *entries("stock.on_hand", ("length", "count", "mark", "cemented", "port", "sound"), len(plan.stock.on_hand)),
        *entries("stock.fittings", ("kind", "count"), len(plan.stock.fittings)),
        "car.inside_length",
        *entries("built", ("what", "reading", "state"), len(plan.built)),
    )


def cut_lines(shape: Shape, units: Units) -> tuple[CutLine, ...]:
    """The cut list as shown. A tick belongs to a mark and its length: cut anew, it is ticked anew."""
    last = {late.mark for late in shape.spreads.matter_most}
    return tuple(
        CutLine(
            f"{cut.mark}-{round(cut.length_m * 1e5)}",
            cut.mark,
            cut.count,
            show_length(cut.length_m, units),
            cut.role,
            cut.mark in last,
        )
        for cut in shape.cutlist.cuts
    )


def _figures(seen: Seen) -> Iterator[Figure]:
    stock, units = seen.made.cutlist.stock, seen.units
    bought = [stick for stick in stock.sticks if stick.origin == "buy"]
    lengths = dict.fromkeys(show_length(stick.length_m, units, style="long") for stick in bought)
    yield seen.figure("pieces", str(sum(cut.count for cut in seen.made.cutlist.cuts)))
    proof = "proven" if stock.proven else "not-proven"
    yield seen.figure(
        "sticks", f"{len(bought)} × {', '.join(lengths)}" if bought else "0", proof, percent=math.ceil(stock.gap * 100)
    )
    shed = len(stock.sticks) - len(bought)
    if shed:
        yield seen.figure("shed", str(shed))
    yield seen.figure("waste", seen.long(sum(stick.offcut_m for stick in stock.sticks)))
    dry = seen.made.dry.size("length")
    if dry is not None and dry.dry_high_m > dry.finished_m:
        low, high = seen.length(dry.dry_low_m), seen.length(dry.dry_high_m)
        yield seen.figure("dry-fit", between(low, high), "dry-fit-note", low=low, high=high)


def _show(seen: Seen) -> CutsShown:
    cutlist = seen.made.cutlist
    firsts = tuple(
        FirstCutLine(
            cut.stick + 1,
            seen.long(cutlist.stock.sticks[cut.stick].length_m),
            ", ".join(seen.length(at_m) for at_m in cut.positions_m),
            ", ".join(seen.length(piece_m) for piece_m in cut.pieces_m),
        )
        for cut in cutlist.first_cuts
        if cut.positions_m
    )
    pieces, sticks = sum(cut.count for cut in cutlist.cuts), len(cutlist.stock.sticks)
    joint = seen.made.dry.joint_m
    sources: tuple[SourceRow, ...] = ()
    if joint is not None:
        sources = (seen.source(word("web.figure.dry-fit"), joint, seen.fine),)
    gist = word("web.gist.cuts", pieces=pieces, sticks=sticks)
    return CutsShown(gist, tuple(_figures(seen)), sources, cut_lines(seen.job.shape, seen.units), firsts)


STEP = Step(
    "cuts",
    _fields,
    _show,
    finding_steps=("cuts", "job"),
    drawings=("sticks",),
)
