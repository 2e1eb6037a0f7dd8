"""What a tape reads: as planned, at a dry test fit, and with every joint as it stays."""

from __future__ import annotations

from dataclasses import dataclass

from clochewright.cuts.dry_size import NOT_SEEN_M, DrySizes
from clochewright.cuts.spread import Spreads


@dataclass(frozen=True, slots=True)
class Reading:
    """One size: as planned, the least and the most at a dry fit, and where it nearly always comes out joined [m]."""

    name: str
    planned_m: float
    dry_m: tuple[float, float]
    joined_m: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Readings:
    """Every size a tape can check; `longer_dry` says that a dry fit reads longer by what a tape shows.

    `last` are the marks that are best cut last.
    """

    all: tuple[Reading, ...] = ()
    longer_dry: bool = False
    last: tuple[str, ...] = ()

    def find(self, name: str) -> Reading | None:
        """The size of that name, or None."""
        return next((one for one in self.all if one.name == name), None)


NO_READINGS = Readings()


def readings(dry: DrySizes, spreads: Spreads) -> Readings:
    """What the tape reads, from the dry sizes and from how far the joined ones may come out."""
    known = {str(one.name): one for one in spreads.all if one.unit == "m"}
    sizes = []
    for size in dry.sizes:
        one = known.get(size.name)
        joined_m = (one.likely - one.rss, one.likely + one.rss) if one else (size.finished_m, size.finished_m)
        sizes.append(Reading(size.name, size.finished_m, (size.dry_low_m, size.dry_high_m), joined_m))
    longer = any(size.dry_high_m - size.finished_m > NOT_SEEN_M for size in dry.sizes)
    return Readings(tuple(sizes), longer, tuple(dict.fromkeys(cut.mark for cut in spreads.matter_most)))
