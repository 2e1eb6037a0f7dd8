"""Straps that hold the frame that stays to the bed's rim, where only panels of its roof open."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from clochewright.frame import Frame, covers
from clochewright.lid.bare import Spot, bare_stretches, nearest_spot
from clochewright.lid.types import Fixing

STRAP_WIDTH_M = 0.050  # two-hole tube strap, over both its screws (common practice, no source)


def saddle_down(frame: Frame, places_of: Callable[[float], Sequence[float]]) -> tuple[Fixing, ...]:
    """Straps along both side rails of each cover, on bare pipe; what finds no place is left out.

    Args:
        frame: the solved frame.
        places_of: for the length of a rail, where along it from its middle straps are wanted [m].
    """
    found: list[Fixing] = []
    for cover, middle_m in covers(frame):
        for side in (1.0, -1.0):
            rails = [p for p in cover.pipes if p.role == "side rail" and p.path_m[0][1] * side > 0]
            bare = bare_stretches(cover, rails, axis=0)
            spots: list[Spot] = []
            for wanted_m in places_of(cover.length_m):
                spot = nearest_spot(bare, wanted_m, STRAP_WIDTH_M, [other.along_m for other in spots])
                if spot is not None:
                    spots.append(spot)
            for spot in sorted(spots, key=lambda spot: spot.along_m):
                place = (middle_m + spot.along_m, side * cover.width_m / 2, 0.0)
                found.append(Fixing(f"S{len(found) + 1}", spot.pipe, place))
    return tuple(found)
