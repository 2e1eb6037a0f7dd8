"""Rows of the catalogue as the rest of the house sees them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from decimal import Decimal
from typing import Literal

from clochewright.sources import Cited

BandEnd = Literal["low", "high"]


@dataclass(frozen=True, slots=True)
class PipeRow:
    """One pipe. `key` is its full name ("1 in Sch 40"); lengths in m, mass per length in kg/m.

    `wall` is the MINIMUM wall (for strength), `mass_kg_m` the tabled mass (for weight); both may be None where unknown.
    `bore` is the average inside diameter. `taper` says whether its fittings' sockets are tapered (a dry pipe stops
    short). `own_price` is what the user pays for the first stick length, where they said so.
    """

    key: str
    system: str  # "inch" | "metric" | "waste" | "own"
    nominal: str
    pipe_class: str
    outside_diameter: Cited
    wall: Cited | None
    bore: Cited | None
    mass_kg_m: Cited | None
    sticks_m: tuple[float, ...]
    taper: bool
    note: str = ""
    own_price: Decimal | None = None


@dataclass(frozen=True, slots=True)
class SocketRow:
    """One socket of a kind of fitting: name, centre to stop and depth, both cited [m]."""

    name: str
    centre_to_stop: Cited
    depth: Cited

    @property
    def centre_to_face_m(self) -> float:
        """Centre to the mouth [m]."""
        return self.centre_to_stop.value + self.depth.value


@dataclass(frozen=True, slots=True)
class FittingRow:
    """One kind of fitting for one pipe. `bend_deg` is the angle an elbow turns the run through (0 for straight)."""

    key: str
    kind: str
    pipe_key: str
    bench: str  # "plumbing" | "furniture"
    bend_deg: float
    sockets: tuple[SocketRow, ...]
    hub_diameter: Cited
    mass_kg: Cited | None
    note: str = ""

    def socket(self, name: str) -> SocketRow:
        """The socket of that name; KeyError if there is none."""
        for socket in self.sockets:
            if socket.name == name:
                return socket
        raise KeyError(name)

    @property
    def is_sure(self) -> bool:
        """Whether all its sizes can be built on without a tape in hand."""
        sizes = (size for socket in self.sockets for size in (socket.centre_to_stop, socket.depth))
        return self.hub_diameter.grade.is_sure and all(size.grade.is_sure for size in sizes)

    def at(self, end: BandEnd) -> FittingRow:
        """The same kind with every size that is not sure at one end of its band."""
        sockets = tuple(
            replace(socket, centre_to_stop=_at(socket.centre_to_stop, end), depth=_at(socket.depth, end))
            for socket in self.sockets
        )
        return replace(self, sockets=sockets, hub_diameter=_at(self.hub_diameter, end))


def _at(cited: Cited, end: BandEnd) -> Cited:
    if cited.grade.is_sure:
        return cited
    return replace(cited, value=cited.low if end == "low" else cited.high)


@dataclass(frozen=True, slots=True)
class FilmRoll:
    """A roll, or a length off a roll, as it is sold: its pack label and its size [m]."""

    label: str
    width_m: float
    length_m: float
    status: str = ""
    source: str = ""


PILOT_SHARE = 0.75  # of a screw's diameter: the hole for it in pipe (common practice, no source)


@dataclass(frozen=True, slots=True)
class GoodsRow:
    """Anything else on the shopping list: film, lath, screws, staples, cement, primer, hinges, latches, paint.

    `figures` holds what is known of it by name, each cited ("thickness_m", "mass_kg_m2", "joints_per_L", ...).
    `packs` are the sizes it is sold in, each (label, quantity in `unit`). `market` says who sells it so: "inch", "mm"
    or "any". Film also has `rolls`, in the order of its packs.
    """

    key: str
    group: str
    name: str
    unit: str
    packs: tuple[tuple[str, float], ...]
    figures: Mapping[str, Cited] = field(default_factory=dict)
    note: str = ""
    source: str = ""
    market: str = "any"
    rolls: tuple[FilmRoll, ...] = ()
