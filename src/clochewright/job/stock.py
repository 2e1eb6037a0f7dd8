"""Sticks for sale and pipe in the shed, as the nesting wants them."""

from __future__ import annotations

from clochewright.catalogue import PipeRow, Prices, stick_label
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


def pieces_on_hand(plan: Plan) -> list[float]:
    """Every piece in the shed [m], one by one."""
    return [piece.length_m for piece in plan.stock.on_hand for _ in range(piece.count)]
