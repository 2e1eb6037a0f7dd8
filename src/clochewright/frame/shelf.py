"""The fittings that can be had for one pipe, with the lengths the geometry needs at hand."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from clochewright.catalogue import Catalogue, FittingRow, PipeRow
from clochewright.findings import Finding, Level, Mend


class CannotBuildError(Exception):
    """The frame can't be built; carries the finding that says why. Never leaves this room."""

    def __init__(self, finding: Finding) -> None:
        super().__init__(finding.key)
        self.finding = finding


def stop(key: str, where: str = "", change: Mend | None = None, **values: object) -> CannotBuildError:
    """The error for a frame that can't be built, with its finding."""
    return CannotBuildError(Finding(Level.STOP, "frame", key, where, values, change=change))


@dataclass(frozen=True, slots=True)
class Spec:
    """One kind of fitting: its hub, its bend and, by port, centre to stop, socket depth and centre to face [m]."""

    kind: str
    hub_m: float
    bend_deg: float
    lengths: Mapping[str, tuple[float, float, float]]

    def face(self, port: str) -> float:
        """Centre to the mouth of that port [m]."""
        return self.lengths[port][2]


class Shelf:
    """Looks up fittings for one pipe; refuses by name what can't be had."""

    def __init__(self, catalogue: Catalogue, pipe_key: str, bench: str) -> None:
        self._catalogue = catalogue
        self._pipe_key = pipe_key
        self._bench = bench
        self._specs: dict[str, Spec | None] = {}

    def find(self, kind: str) -> Spec | None:
        """That kind of fitting, or None when it can't be had for this pipe from this bench."""
        if kind not in self._specs:
            row = self._catalogue.fitting(self._pipe_key, kind)
            usable = row is not None and (row.bench == "plumbing" or self._bench == "furniture")
            self._specs[kind] = _spec(row) if usable and row is not None else None
        return self._specs[kind]

    def has(self, *kinds: str) -> bool:
        """Whether all of these can be had."""
        return all(self.find(kind) is not None for kind in kinds)

    def shapes(self) -> tuple[str, ...]:
        """What can be made with what is on the shelf, in words of the trade."""
        if self.has("tee", "elbow-90"):
            return ("a tent with a butted apex", "a barn with butted eaves", "a lean-to", "a tunnel")
        return ("a tunnel with its hoops in sleeves",)

    def get(self, kind: str) -> Spec:
        """That kind of fitting; CannotBuildError naming it when it can't be had."""
        spec = self.find(kind)
        if spec is None:
            can = self.shapes()
            raise stop("frame.missing-fitting", "pipe.size", kind=kind, pipe=self._pipe_key, bench=self._bench, can=can)
        return spec

    def sleeve(self, length_m: float) -> tuple[Spec, PipeRow]:
        """A sleeve `length_m` long, mouth up, and the pipe it is cut from: the smallest that this pipe slides into.

        Not always the next size: a pipe's bore can be narrower than the outside of the pipe one size down.
        """
        pipe = self._catalogue.find_pipe(self._pipe_key)
        wider = [
            row
            for row in self._catalogue.pipes
            if row.system == pipe.system and row.bore is not None and row.bore.low > pipe.outside_diameter.high
        ]
        if not wider:
            raise stop("frame.no-sleeve", "hoops.feet", Mend("hoops.feet", "tees"), pipe=self._pipe_key)
        row = min(wider, key=lambda row: row.outside_diameter.value)
        return Spec("sleeve", row.outside_diameter.value, 0.0, {"mouth": (0.0, length_m, length_m)}), row

    def dry_seat(self, kind: str, port: str) -> float:
        """How deep a dry pipe goes into that socket [m]."""
        return self._catalogue.dry_seat(self._pipe_key, kind, port).value


def _spec(row: FittingRow) -> Spec:
    lengths = {
        socket.name: (socket.centre_to_stop.value, socket.depth.value, socket.centre_to_stop.value + socket.depth.value)
        for socket in row.sockets
    }
    return Spec(row.kind, row.hub_diameter.value, row.bend_deg, lengths)
