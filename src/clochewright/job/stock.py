"""Sticks for sale and pipe in the shed, as the nesting wants them."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from clochewright.catalogue import Catalogue, PipeRow, Prices, stick_label
from clochewright.cuts import OldPiece, Reuse, cut_lengths, reuse_old
from clochewright.frame import Frame
from clochewright.plan import Plan

# Without any price the sticks must still be compared: by their length, so that waste is what counts.
NO_PRICE_PER_M = 1.0


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
    frame: Frame, plan: Plan, catalogue: Catalogue, pieces: Sequence[OldPiece], pays: Callable[[str, float], bool]
) -> tuple[Reuse, ...]:
    """Old pieces with a fitting on their end, each put to use where the frame has that fitting."""
    coupling = catalogue.fitting(frame.pipe_key, "coupling")
    if coupling is None or not any(piece.cemented for piece in pieces):
        return ()
    socket = coupling.sockets[0]
    lengths = (socket.centre_to_stop.value, socket.depth.value)
    return reuse_old(frame, pieces, lengths, cut_lengths(frame, plan.units)[1], pays)
