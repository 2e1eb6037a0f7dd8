"""Where the bents stand: the end bents against the corners, the others so that the pieces between are alike."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from clochewright.frame.cluster import Cluster
from clochewright.frame.shelf import stop

Bent = Mapping[str, Cluster]
SLACK_M = 1e-9


@dataclass(frozen=True, slots=True)
class Layout:
    """Bents from the front end on: place along the bed [m], clusters by node, and the clear length of each bay [m]."""

    places_m: tuple[float, ...]
    bents: tuple[Bent, ...]
    gaps_m: tuple[float, ...]

    @property
    def stations_m(self) -> tuple[float, ...]:
        """Where each bent stands along the bed, the mean of its members' planes [m]."""
        return tuple(
            place + sum(planes) / len(planes)
            for place, bent in zip(self.places_m, self.bents, strict=True)
            if (planes := [c.plane_m(m) for c in bent.values() for m in c.members])
        )

    @property
    def spans_m(self) -> tuple[tuple[float, float], ...]:
        """Where each bent's fittings begin and end along the bed [m]."""
        return tuple(
            (place + min(c.low_m for c in bent.values()), place + max(c.high_m for c in bent.values()))
            for place, bent in zip(self.places_m, self.bents, strict=True)
        )

    def longest_bay_m(self) -> float:
        """The longest distance from a member to the next bent's member at the same node [m]."""
        longest = 0.0
        for i in range(len(self.bents) - 1):
            apart = self.places_m[i + 1] - self.places_m[i]
            for name, here in self.bents[i].items():
                there = self.bents[i + 1][name]
                longest = max(longest, *(apart + there.plane_m(m) - here.plane_m(m) for m in here.members))
        return longest


def lay_out(
    bents: Sequence[Bent],
    base: Sequence[str],
    inner_length_m: float,
    insets_m: tuple[float, float],
    settled_m: Sequence[float | None] = (),
) -> Layout:
    """Solve the rails for a base whose corner fittings leave `inner_length_m` between their faces [m], middle at 0.

    The outermost foot of each end bent butts against its corner (or stands as much further in as `insets_m` says, front
    and far); the clear lengths between neighbouring bents come out alike, but for bays whose length is `settled_m`.
    CannotBuildError when the fittings alone are longer than the rail.
    """
    first = -inner_length_m / 2 + insets_m[0] - min(bents[0][name].low_m for name in base)
    last = inner_length_m / 2 - insets_m[1] - max(bents[-1][name].high_m for name in base)
    # how near two neighbours can stand: until on some rail their fittings touch
    near = [max(here[name].high_m - there[name].low_m for name in here) for here, there in pairwise(bents)]
    clear = last - first - sum(near)
    if clear < -SLACK_M:
        raise stop("frame.too-short", "bed.length", bents=len(bents), short_m=-clear)
    gaps = _share(max(clear, 0.0), [*settled_m, *[None] * len(near)][: len(near)])
    places = [first]
    for gap, nearest in zip(gaps[:-1], near[:-1], strict=True):
        places.append(places[-1] + nearest + gap)
    return Layout((*places, last), tuple(bents), tuple(gaps))


def _share(clear_m: float, settled_m: Sequence[float | None]) -> list[float]:
    """The clear length of each bay [m]: what is settled stays, the rest is shared alike."""
    free = sum(gap is None for gap in settled_m)
    rest = clear_m - sum(gap for gap in settled_m if gap is not None)
    if free and rest < -SLACK_M:
        raise stop("frame.too-short", "bed.length", bents=len(settled_m) + 1, short_m=-rest)
    return [max(rest, 0.0) / free if gap is None else gap for gap in settled_m]
