"""Bars that prop a leaf open: pivoted on its ends, dropped over pins on the bed, with a hole for every opening."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Literal

from clochewright.findings import Finding, Level
from clochewright.frame import Frame, Pipe, Vec
from clochewright.lid.bare import bare_stretches, nearest_spot
from clochewright.lid.types import HingeLine, Hole, Prop

# All of these are common practice, no source.
ONE_PROP_m = 1.2  # one bar for a leaf up to so long, one at each end beyond
PIVOT_SHARE = 2 / 3  # how far from the hinges to the handle a bar's pivot sits
PIVOT_WIDTH_m = 0.050
PIN_DOWN_m = 0.050  # the pin's middle under the rim, so that its screw stays clear of the board's edge
NEAR_m = 0.20  # a rafter that stays takes the pin where it is this near to the leaf's end
PAST_HOLE_m = 0.030  # of bar past its last hole and past its pivot


def place_props(
    frame: Frame,
    mine: Sequence[Pipe],
    line: HingeLine,
    reach_m: float,
    bed_height_m: float,
    openings_deg: Sequence[float],
    rim_below_m: float = 0.0,
    stays: Sequence[Pipe] = (),
) -> tuple[tuple[Prop, ...], list[Finding]]:
    """Bars for one leaf, at its first end or at both, and what could not be placed.

    Args:
        frame: the solved frame.
        mine: the leaf's own pipes.
        line: its hinge line.
        reach_m: how far the handle is out from the line while shut [m].
        bed_height_m: the rim above the ground, which limits how far down a pin can be [m].
        openings_deg: openings wanted, from shut [deg]; the widest is the prop's own.
        rim_below_m: how far the rim is below the hinge line [m].
        stays: pipes of a frame that stays, under a panel: the pin goes into a rafter beside the panel's end.
    """
    along = 0 if abs(line.over[1]) > 0.5 else 1
    across = 1 - along
    ends = _ends(line, along)
    if line.length_m <= ONE_PROP_m:
        ends = ends[:1]
    middle_m = (line.start_m[along] + line.end_m[along]) / 2
    wanted_m = line.start_m[across] + line.over[across] * reach_m * PIVOT_SHARE
    crossing = [pipe for pipe in mine if _crosses(pipe, along)]
    props, findings = [], []
    for name, x_m in ends:
        toward = math.copysign(1.0, x_m - middle_m)
        pipes = _outermost(crossing, along, toward)
        spot = nearest_spot(bare_stretches(frame, pipes, axis=across), wanted_m, PIVOT_WIDTH_m)
        if spot is None:
            findings.append(Finding(Level.WARN, "lid", "lid.no-room-for-prop", "end rail", {"end": name}))
            continue
        pipe = next(pipe for pipe in pipes if pipe.id == spot.pipe)
        head = _at(x_m, spot.along_m, _height_at(pipe, across, spot.along_m), along)
        down_m = min(PIN_DOWN_m, bed_height_m / 3)
        foot = _at(x_m, spot.along_m, line.start_m[2] - rim_below_m - down_m, along)
        under = [other for other in stays if _crosses(other, along) and _is_at(other, along, across, x_m, spot.along_m)]
        if under:
            pins = [_at(x_m, spot.along_m, _height_at(other, across, spot.along_m), along) for other in under]
            foot = min(pins, key=lambda pin, head=head: math.dist(pin, head))  # type: ignore[misc]
        props.append(_prop(name, pipe.id, line, head, foot, openings_deg, "frame" if under else "board"))
    return tuple(props), findings


def _is_at(pipe: Pipe, along: int, across: int, along_m: float, across_m: float) -> bool:
    """Whether a pipe passes close by a place."""
    a, b = sorted((pipe.path_m[0][across], pipe.path_m[-1][across]))
    return a <= across_m <= b and abs(pipe.path_m[0][along] - along_m) < NEAR_m


def _prop(
    end: str,
    pipe: str,
    line: HingeLine,
    head: Vec,
    foot: Vec,
    openings_deg: Sequence[float],
    pin_in: Literal["board", "frame"],
) -> Prop:
    holes = tuple(Hole(deg, math.dist(line.turned(head, deg), foot)) for deg in sorted(openings_deg))
    bar_m = max(hole.from_pivot_m for hole in holes) + 2 * PAST_HOLE_m
    return Prop(end, pipe, foot, head, holes[-1].from_pivot_m, holes[-1].open_deg, holes, bar_m, pin_in)


def _ends(line: HingeLine, along: int) -> list[tuple[str, float]]:
    places = sorted((line.start_m[along], line.end_m[along]))
    if along == 0:
        return [("front", places[0]), ("far", places[1])]
    return [("right", places[0]), ("left", places[1])]


def _crosses(pipe: Pipe, along: int) -> bool:
    """Whether a straight pipe runs from the hinges towards the handle, level or sloping."""
    a, b = pipe.path_m[0], pipe.path_m[-1]
    return pipe.shape == "straight" and abs(b[along] - a[along]) < 0.1 * math.dist(a, b) and pipe.role != "post"


def _outermost(pipes: Sequence[Pipe], along: int, toward: float) -> list[Pipe]:
    """The pipes nearest to one end; of several above one another, the lowest."""
    if not pipes:
        return []
    end_m = max(pipe.path_m[0][along] * toward for pipe in pipes)
    last = [pipe for pipe in pipes if pipe.path_m[0][along] * toward > end_m - 0.02]
    low_m = min(min(point[2] for point in pipe.path_m) for pipe in last)
    return [pipe for pipe in last if min(point[2] for point in pipe.path_m) < low_m + 0.02]


def _height_at(pipe: Pipe, across: int, at_m: float) -> float:
    a, b = pipe.path_m[0], pipe.path_m[-1]
    run_m = b[across] - a[across]
    return a[2] if abs(run_m) < 1e-9 else a[2] + (b[2] - a[2]) * (at_m - a[across]) / run_m


def _at(along_m: float, across_m: float, up_m: float, along: int) -> Vec:
    return (along_m, across_m, up_m) if along == 0 else (across_m, along_m, up_m)
