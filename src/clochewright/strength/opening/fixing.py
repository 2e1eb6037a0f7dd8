"""How hinges, latches and a bar's pin are fixed, and what each of them bears."""

from __future__ import annotations

import math
from dataclasses import dataclass

from clochewright.catalogue import PipeRow
from clochewright.strength.opening.types import FixingWork
from clochewright.strength.resistance import (
    BOLT_IN_PIPE_N,
    SCREWS_EACH,
    SHORT_LOAD,
    WET,
    BOLT_m,
    CLEARS_m,
    INCH_m,
    SCREW_m,
    how_fixed,
    in_pipe_N,
    screw_side_load_N,
    timber_named,
)

NUT_m = 0.012  # for leaf, washer and nut
SCREW_LENGTH_m = 0.025
BOARD_SPARE_m = 0.006  # a screw stops this short of the board's far face
PIN_m = 0.25 * INCH_m
# Pilot hole: 70 % of the root diameter in soft woods, 90 % in hard (NDS 12.1.5, from memory); the root is about 2/3.
ROOT_share, SOFT_share, HARD_share, HARD_gravity_ratio = 0.67, 0.7, 0.9, 0.6


@dataclass(frozen=True, slots=True)
class Bears:
    """What one hinge or latch bears [N], by how it is fixed to the pipe; what a bar's pin and pivot bear."""

    how: str
    each_N: float
    pin_N: float
    frame_pin_N: float


def bears_of(pipe: PipeRow, timber_name: str) -> Bears:
    """How a hinge is fixed to a pipe, and what it bears there and in the board, for a short load on wet wood."""
    timber, _ = timber_named(timber_name)
    short = SHORT_LOAD * WET
    board_N = screw_side_load_N(timber.side_factor, SCREW_m.value) * SCREWS_EACH * short
    pin_N = screw_side_load_N(timber.side_factor, PIN_m) * short
    how = how_fixed(pipe)
    each_N = min(board_N, in_pipe_N(pipe).value)
    return Bears(how, each_N, min(pin_N, BOLT_IN_PIPE_N.value), BOLT_IN_PIPE_N.value)


def fixing_work(
    what: str, placed: int, practice: int, total_N: float, worst_N: float, bears: Bears, board_m: float,
    timber_name: str,
) -> FixingWork:  # fmt: skip
    """How many of one kind, and how each is fixed.

    Args:
        what: "hinge" or "latch".
        placed: how many found a place.
        practice: how many practice asks for.
        total_N: the greatest force on all of them together [N].
        worst_N: that on the worst of them [N].
        bears: what one bears.
        board_m: thickness of the boards [m].
        timber_name: what they are made of.
    """
    timber, _ = timber_named(timber_name)
    strength = max(math.ceil(total_N / bears.each_N - 1e-9), 1)
    if placed and worst_N > bears.each_N:
        strength = max(strength, math.ceil(placed * worst_N / bears.each_N - 1e-9))
    share = HARD_share if timber.gravity_ratio > HARD_gravity_ratio else SOFT_share
    hole_m = {"bolts": BOLT_m + CLEARS_m, "saddles": 0.0, "screws": ROOT_share * SCREW_m.value + CLEARS_m}[bears.how]
    return FixingWork(
        what,
        placed,
        practice,
        strength,
        bears.how,
        SCREWS_EACH,
        worst_N,
        bears.each_N,
        worst_N / bears.each_N,
        SCREW_m.value,
        min(SCREW_LENGTH_m, board_m - BOARD_SPARE_m),
        share * ROOT_share * SCREW_m.value,
        hole_m,
        0.0 if bears.how == "screws" else BOLT_m,
        "" if bears.how == "screws" else ("thin-pipe" if bears.how == "saddles" else "short-thread"),
    )
