"""What is said of old parts: what becomes of each, what is left over, and how to tell a brittle one."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Sequence

from clochewright.cuts.old_parts import ALIKE, sockets_meant
from clochewright.cuts.types import CutList, OldPiece, Reuse
from clochewright.findings import Finding, Level, word
from clochewright.frame import Frame
from clochewright.measures import show_length
from clochewright.plan import Plan

AGEING = "pipe makers' two-year exposure study: sun takes impact strength first, strength and stiffness hardly"
SAME_M = 1e-5


def old_findings(
    cutlist: CutList, frame: Frame, plan: Plan, pieces: Sequence[OldPiece], kinds: Collection[str]
) -> tuple[Finding, ...]:
    """Findings on the old parts that the plan lists.

    Args:
        cutlist: What was made of them.
        frame: The frame they go into.
        plan: Loose old fittings, seats, units.
        pieces: Every old piece, one by one.
        kinds: The kinds of fitting that are known for this pipe.
    """
    if not pieces and not plan.stock.fittings:
        return ()
    found = [Finding(Level.NOTE, "cuts", "cuts.old-pipe-ages", "stock.on_hand", {}, AGEING)] if pieces else []
    found += _not_understood(plan, frame, pieces, kinds)
    for use in cutlist.reused:
        values = {"old": use.piece.mark or use.piece.cemented, "mark": use.mark, "length_m": use.length_m,
                  "new_m": use.new_m}  # fmt: skip
        found.append(
            Finding(Level.NOTE, "cuts", "cuts.old-spliced" if use.new_m else "cuts.old-sawn", use.mark, values)
        )
        if _planned_dry(use, frame, plan):
            values = {"old": use.piece.mark or use.piece.cemented, "mark": use.mark, "fitting": _name(use.piece)}
            found.append(Finding(Level.WARN, "cuts", "cuts.old-stays-joined", use.mark, values))
    sawn_up, left = _plain(cutlist, plan, pieces)
    if sawn_up:
        found.append(Finding(Level.NOTE, "cuts", "cuts.old-cut-up", "stock.on_hand", {"pieces": sawn_up}))
    left += _fittings_left(cutlist, frame, plan, kinds)
    if left:
        found.append(Finding(Level.NOTE, "cuts", "cuts.old-left-over", "stock.on_hand", {"pieces": left}))
    return tuple(found)


def _not_understood(plan: Plan, frame: Frame, pieces: Sequence[OldPiece], kinds: Collection[str]) -> Iterator[Finding]:
    cemented = [piece.cemented for piece in pieces if piece.cemented]
    named = dict.fromkeys([*cemented, *(old.kind for old in plan.stock.fittings)])
    for kind in named:
        if kind not in kinds:
            values = {"kind": kind, "pipe": frame.pipe_key, "known": tuple(sorted(kinds))}
            yield Finding(Level.WARN, "cuts", "cuts.old-unknown-fitting", "stock", values)
    for piece in pieces:
        if piece.cemented in kinds and sockets_meant(piece.cemented, piece.port) is None:
            sockets = [name for group in ALIKE[piece.cemented] for name in group]
            ports = tuple(dict.fromkeys(name.removesuffix("-a").removesuffix("-b") for name in sockets))
            values = {"old": piece.mark or piece.cemented, "fitting": _name(piece), "ports": ports}
            yield Finding(Level.WARN, "cuts", "cuts.old-which-socket", "stock.on_hand", values)


def _planned_dry(use: Reuse, frame: Frame, plan: Plan) -> bool:
    """Whether the joint that is cemented for good was to be one that comes apart."""
    role = next(pipe.role for pipe in frame.pipes if pipe.id == use.pipe)
    return {seat.role: seat.seat for seat in plan.joints.seats}.get(role, plan.joints.seat) == "dry"


def _plain(cutlist: CutList, plan: Plan, pieces: Sequence[OldPiece]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Old pieces that sticks are sawn from, each with its new marks, and all pieces that nothing comes of."""
    kerf_m = cutlist.stock.kerf_m
    used = {use.piece.number: use for use in cutlist.reused}
    whole = [piece for piece in pieces if piece.number not in used]
    rests = [(use.offcut_m(kerf_m), f"the rest of {_called(use.piece, plan)}") for use in used.values()]
    free = [(piece.sound_m, _called(piece, plan)) for piece in whole if not piece.cemented]
    free.sort(key=lambda one: one[1][0].isdigit())  # those with a mark of their own first
    free += rests
    sawn_up, taken = [], set()
    for stick in cutlist.stock.sticks:
        own = next((one for one in free if abs(one[0] - stick.length_m) < SAME_M), None)
        if stick.origin == "on-hand" and own is not None:
            free.remove(own)
            taken.add(own[1])
            sawn_up.append(f"{own[1]} → {' + '.join(mark for mark, _ in stick.cuts)}")
    left = Counter(name for _, name in free if name not in [rest for _, rest in rests])
    left.update(_called(piece, plan) for piece in whole if piece.cemented)
    return tuple(sawn_up), tuple(_counted(name, count, name in taken) for name, count in left.items())


def _counted(name: str, count: int, also_used: bool) -> str:
    """Pieces of one name; where one of them is sawn up, these are told from it."""
    if also_used:
        return word("cuts.old.one-more", count=count, size=name)
    return word("cuts.old.several", count=count, size=name) if count > 1 else name


def _fittings_left(cutlist: CutList, frame: Frame, plan: Plan, kinds: Collection[str]) -> tuple[str, ...]:
    """Loose old fittings that this frame has no place for."""
    needed = Counter(fitting.kind for fitting in frame.fittings)
    needed.subtract(use.piece.cemented for use in cutlist.reused)
    needed["coupling"] += sum(use.new_m > 0 for use in cutlist.reused)
    shed: Counter[str] = Counter()
    for old in plan.stock.fittings:
        shed[old.kind] += old.count
    left = {kind: count - max(0, needed[kind]) for kind, count in shed.items() if kind in kinds}
    return tuple(f"{count} × {word(f'supplies.fitting.{kind}').lower()}" for kind, count in left.items() if count > 0)


def _called(piece: OldPiece, plan: Plan) -> str:
    size = show_length(piece.sound_m, plan.units)
    size = f"{size} with its {_name(piece)}" if piece.cemented else size
    return f"{piece.mark} ({size})" if piece.mark else size


def _name(piece: OldPiece) -> str:
    try:
        return word(f"supplies.fitting.{piece.cemented}").lower()
    except KeyError:  # a fitting that we don't know, told as the user wrote it
        return piece.cemented
