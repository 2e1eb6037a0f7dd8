"""Sticks for sale and pipe in the shed, as the nesting wants them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence

from clochewright.catalogue import Catalogue, PipeRow, Prices, stick_label
from clochewright.cuts import OldPiece, Reuse, cut, cut_lengths, reuse_old
from clochewright.frame import Frame
from clochewright.plan import Plan

# Without any price the sticks must still be compared: by their length, so that waste is what counts.
NO_PRICE_PER_M = 1.0
TRYING_S = 0.3  # how long a nesting that is only tried may look for proof


def sticks_for_sale(plan: Plan, pipe: PipeRow, prices: Prices) -> list[tuple[float, float]]:
    """Lengths for sale [m] with their prices; by length alone as soon as one of them has no price."""
    lengths_m = plan.stock.sticks_m or pipe.sticks_m
    priced = [prices.price(f"pipe:{pipe.key}", stick_label(length_m, pipe)) for length_m in lengths_m]
    if any(price is None for price in priced):
        return [(length_m, length_m * NO_PRICE_PER_M) for length_m in lengths_m]
    return [(length_m, float(price)) for length_m, price in zip(lengths_m, priced, strict=True) if price is not None]


def old_pieces(plan: Plan) -> tuple[OldPiece, ...]:
    """Every piece in the shed, one by one, with how much of it is sound."""
    pieces = [
        (piece.sound_m or piece.length_m, piece.mark, piece.cemented, piece.port)
        for piece in plan.stock.on_hand
        for _ in range(piece.count)
    ]
    return tuple(OldPiece(number, *piece) for number, piece in enumerate(pieces, start=1))


def splices_pay(pipe: PipeRow, prices: Prices, sticks: list[tuple[float, float]]) -> Callable[[str, float], bool]:
    """Whether a splice pays: the fitting and the pipe it saves against the coupling it takes; yes where unpriced."""
    per_m = min((price / length_m for length_m, price in sticks), default=0.0)
    coupling = prices.price(f"fitting:coupling:{pipe.key}", "each")

    def pays(kind: str, saved_m: float) -> bool:
        fitting = prices.price(f"fitting:{kind}:{pipe.key}", "each")
        if coupling is None or fitting is None:
            return True
        return float(coupling) < float(fitting) + per_m * saved_m

    return pays


def use_old(
    frame: Frame,
    plan: Plan,
    catalogue: Catalogue,
    prices: Prices,
    pieces: Sequence[OldPiece],
    done: frozenset[str] = frozenset(),
) -> tuple[Reuse, ...]:
    """Old pieces with a fitting on their end, each put to use where the frame has that fitting.

    Splices are left out where all told they would cost more than new pipe and fittings, and in a frame that is put
    together dry, since a coupling has to be cemented. `done` are the ids of the pipes that are cut already.
    """
    if not any(piece.cemented for piece in pieces):
        return ()
    pipe, mark_of = catalogue.pipe(frame.pipe_key), cut_lengths(frame, plan.units)[1]
    pays = splices_pay(pipe, prices, sticks_for_sale(plan, pipe, prices))
    plain = reuse_old(frame, pieces, None, mark_of, pays, done)
    row = catalogue.fitting(frame.pipe_key, "coupling")
    if row is None or plan.joints.seat == "dry":
        return plain
    coupling = (row.sockets[0].centre_to_stop.value, row.sockets[0].depth.value)
    spliced = reuse_old(frame, pieces, coupling, mark_of, pays, done)
    if len(spliced) == len(plain):  # every piece that can be sawn to length is, so the rest are splices
        return plain
    new, joined = (_cost(frame, plan, pipe, prices, pieces, reused, done) for reused in (plain, spliced))
    return plain if new is not None and joined is not None and new < joined else spliced


def on_hand(plan: Plan, pieces: Sequence[OldPiece], reused: Sequence[Reuse]) -> list[float]:
    """Plain pipe to saw from [m]: old pieces without a fitting, and what is left of those sawn to length."""
    offcuts_m = [use.offcut_m(plan.stock.kerf_m) for use in reused]
    return [piece.sound_m for piece in pieces if not piece.cemented] + [size_m for size_m in offcuts_m if size_m > 0]


def _cost(
    frame: Frame,
    plan: Plan,
    pipe: PipeRow,
    prices: Prices,
    pieces: Sequence[OldPiece],
    reused: Sequence[Reuse],
    done: frozenset[str],
) -> float | None:
    """What sticks and fittings cost with these old pieces put to use; None where a price is missing."""
    sticks = sticks_for_sale(plan, pipe, prices)
    wanted = Counter(fitting.kind for fitting in frame.fittings if fitting.kind != "sleeve")
    wanted.subtract(use.piece.cemented for use in reused)
    wanted["coupling"] += sum(use.new_m > 0 for use in reused)
    for old in plan.stock.fittings:
        wanted[old.kind] -= old.count
    each = {kind: prices.price(f"fitting:{kind}:{pipe.key}", "each") for kind, count in wanted.items() if count > 0}
    per_stick = [prices.price(f"pipe:{pipe.key}", stick_label(length_m, pipe)) for length_m, _ in sticks]
    if any(price is None for price in (*each.values(), *per_stick)):
        return None
    cutlist = cut(
        frame,
        units=plan.units,
        kerf_m=plan.stock.kerf_m,
        sticks=sticks,
        on_hand_m=on_hand(plan, pieces, reused),
        patience_s=TRYING_S,
        already=done,
        reused=reused,
    )
    return cutlist.stock.cost + sum(float(price) * wanted[kind] for kind, price in each.items() if price is not None)
