"""The catalogue itself: what there is, found by name."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from difflib import get_close_matches

from clochewright.catalogue.finding_pipe import find_pipe
from clochewright.catalogue.fittings import Taper
from clochewright.catalogue.goods import CementTable
from clochewright.catalogue.types import BandEnd, FittingRow, GoodsRow, PipeRow
from clochewright.errors import CatalogueError, Mistake
from clochewright.sources import Cited, Grade

_STOPS_SHORT = "ASTM D2855 and F3328: a dry pipe stops 1/3 to 2/3 of the way into a tapered socket"
_GOES_HOME = "a dry pipe goes fully home in a parallel socket: trade article comparing tapered and parallel sockets"
_NOT_KNOWN = "taken as parallel, from memory; a tapered one would stop it at a third of the depth. Try it"


@dataclass(frozen=True, slots=True)
class Catalogue:
    """Pipe, fittings and goods. `pipes` stand in the order of the data file, the user's own last."""

    pipes: tuple[PipeRow, ...]
    all_goods: tuple[GoodsRow, ...]
    fittings_by_pipe: Mapping[str, Mapping[str, FittingRow]]
    tapers: Mapping[str, Taper]
    cement: CementTable

    def find_pipe(self, text: str) -> PipeRow:
        """The one pipe that a name means: "1 in", `1-1/4" Sch 40`, "32 mm PN 16", "waste 40".

        Raises:
            CatalogueError: if the name fits no pipe, or several ("32").
        """
        return find_pipe(self.pipes, text)

    def pipe(self, pipe_key: str) -> PipeRow:
        """The pipe of exactly that key; KeyError if there is none."""
        for pipe in self.pipes:
            if pipe.key == pipe_key:
                return pipe
        raise KeyError(pipe_key)

    def fitting(self, pipe_key: str, kind: str) -> FittingRow | None:
        """One kind of fitting for one pipe, or None where it is not made or not known."""
        return self.fittings_by_pipe.get(pipe_key, {}).get(kind)

    def fittings(self, pipe_key: str) -> tuple[FittingRow, ...]:
        """All fittings for one pipe."""
        return tuple(self.fittings_by_pipe.get(pipe_key, {}).values())

    def with_kind_at(self, pipe_key: str, kind: str, end: BandEnd) -> Catalogue:
        """The catalogue with one kind of fitting at the low or the high end of what its unsure sizes may be.

        Raises:
            KeyError: if there is no such fitting for that pipe.
        """
        rows = self.fittings_by_pipe[pipe_key]
        by_pipe = {**self.fittings_by_pipe, pipe_key: {**rows, kind: rows[kind].at(end)}}
        return replace(self, fittings_by_pipe=by_pipe)

    def goods(self, group: str, market: str | None = None) -> tuple[GoodsRow, ...]:
        """The goods of a group ("film", "lath", "cement", ...), as one market ("inch" or "mm") sells them if named."""
        return tuple(
            row for row in self.all_goods if row.group == group and (market is None or row.market in (market, "any"))
        )

    def find_goods(self, group: str, text: str) -> GoodsRow:
        """The goods of a group by name or key, however it is spaced and capitalled.

        Raises:
            CatalogueError: if there is none of that name; the nearest names are given.
        """
        by_name = {_plain(name): row for row in self.goods(group) for name in (row.key, row.name)}
        row = by_name.get(_plain(text[:100]))
        if row is not None:
            return row
        near = get_close_matches(_plain(text[:100]), list(by_name), n=3, cutoff=0.4) or list(by_name)
        names = list(dict.fromkeys(by_name[name].name for name in near))
        shown = "".join(sign if sign.isprintable() else "�" for sign in text[:40])
        what = f'there is no {group} called "{shown}" in the catalogue.'
        raise CatalogueError((Mistake(group, what, f"There is {', '.join(names)}."),))

    def slides_home(self, pipe_key: str) -> bool:
        """Whether a dry pipe slides home by hand: metric sockets are as wide all the way down, and hold nothing dry.

        Raises:
            KeyError: if there is no such pipe.
        """
        return self.pipe(pipe_key).system == "metric" and pipe_key not in self.tapers

    def dry_seat(self, pipe_key: str, kind: str, socket_name: str) -> Cited:
        """How deep a dry pipe goes into one socket before it stops [m].

        In a tapered socket a pipe of the tabled size meets the wall where their diameters are equal, two thirds down.

        Raises:
            KeyError: if there is no such pipe, fitting or socket.
        """
        pipe, depth = self.pipe(pipe_key), self.fittings_by_pipe[pipe_key][kind].socket(socket_name).depth
        taper = self.tapers.get(pipe_key)
        if taper is not None:
            narrowing_m = taper.entrance_m - taper.bottom_m
            part = min(1.0, max(0.0, (taper.entrance_m - pipe.outside_diameter.value) / narrowing_m))
            seat_m = part * depth.value
            low, high = min(seat_m, depth.value / 3), max(seat_m, depth.value * 2 / 3)
            return Cited(seat_m, low, high, Grade.DERIVED, f"{_STOPS_SHORT}; {taper.source}")
        if self.slides_home(pipe_key):
            return Cited(depth.value, depth.value, depth.value, Grade.PUBLISHED, _GOES_HOME)
        return Cited(depth.value, depth.value / 3, depth.value, Grade.FROM_MEMORY, _NOT_KNOWN)

    def joints_per_quart(self, pipe_key: str, what: str = "cement") -> Cited:
        """Joints (sockets) that a US quart of "cement" or "primer" makes in this size of pipe.

        Raises:
            KeyError: if there is no such pipe.
        """
        cement = self.cement.joints_per_quart(self.pipe(pipe_key))
        if what == "cement":
            return cement
        factor = self.cement.primer_factor
        return Cited(
            cement.value * factor.value, cement.low * factor.low, cement.high * factor.high, cement.grade, factor.source
        )


def _plain(name: str) -> str:
    return " ".join(name.casefold().replace("-", " ").split())
