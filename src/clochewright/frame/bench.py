"""The bench: fittings are put in their place, pipes are cut between them."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from clochewright.frame.parts import End, Fitting, Pipe, Port, Vec
from clochewright.frame.shelf import Shelf, Spec, stop
from clochewright.frame.vectors import ahead, distance, opposite, unit

# Faces nearer than this touch: the pipe between them is a stub, not a piece of rail.
TOUCHING_M = 1e-6


class Bench:
    """Collects the parts of one frame; refuses a pipe whose two fittings would stand in each other's place."""

    def __init__(
        self, shelf: Shelf, seat: str, seats: Mapping[tuple[str, str], str], longest_m: float
    ) -> None:
        """Seats are "home" or "dry"; a straight pipe longer than `longest_m` is joined from pieces by couplings.

        `seats` are those that differ, by the pipe's role and the fitting's ("" for any).
        """
        self.shelf = shelf
        self.fittings: list[Fitting] = []
        self.pipes: list[Pipe] = []
        self.body = "lid"
        self._seat = seat
        self._seats = seats
        self.longest_m = longest_m

    def place(self, spec: Spec, role: str, position: Vec, directions: Mapping[str, Vec]) -> Fitting:
        """Put a fitting down: where its centre is [m] and which way each port looks (unit vectors)."""
        lengths = spec.lengths
        ports = tuple(
            Port(name, direction, lengths[name][0], lengths[name][1]) for name, direction in directions.items()
        )
        fitting = Fitting(f"F{len(self.fittings) + 1}", spec.kind, role, position, spec.hub_m, ports, self.body)
        self.fittings.append(fitting)
        return fitting

    def join(self, first: Fitting, first_port: str, second: Fitting, second_port: str, role: str) -> None:
        """Cut a straight pipe between two facing ports; a stub when their faces touch, pieces when it is too long."""
        a, b = first.port(first_port), second.port(second_port)
        gap = distance(first.position_m, second.position_m) - a.centre_to_face_m - b.centre_to_face_m
        if gap < -TOUCHING_M:
            raise stop("frame.no-room", role, role=role, first=first.role, second=second.role, short_m=-gap)
        if gap <= TOUCHING_M:
            role = "stub"
        end_a, end_b = self._end(first, a, role), self._end(second, b, role)
        self._lay(end_a, end_b, role)

    def spring(
        self, first: Fitting, first_port: str, second: Fitting, second_port: str, role: str,
        curve: Sequence[Vec], length_m: float,
    ) -> None:  # fmt: skip
        """Spring a pipe between two sockets: straight inside them, along `curve` from mouth to mouth (`length_m`)."""
        ends = self._end(first, first.port(first_port), role), self._end(second, second.port(second_port), role)
        cut_m = length_m + distance(ends[0].point_m, curve[0]) + distance(curve[-1], ends[1].point_m)
        path = (ends[0].point_m, *curve, ends[1].point_m)
        self._add(role, cut_m, ends, path, "bent")

    def tie(self, start: Vec, finish: Vec, role: str) -> None:
        """Lay a bar that is tied, not socketed: both its ends are open."""
        self._lay(End(None, None, 0.0, start), End(None, None, 0.0, finish), role)

    def _lay(self, start: End, finish: End, role: str) -> None:
        whole_m = distance(start.point_m, finish.point_m)
        if whole_m <= self.longest_m:
            self._add(role, whole_m, (start, finish), (start.point_m, finish.point_m), "straight")
            return
        way = unit(start.point_m, finish.point_m)
        coupling = self.shelf.get("coupling")
        # from the end of one piece to the end of the next lie two stops, and what dry seats leave open
        probe = self.place(coupling, "coupling", start.point_m, {"a": opposite(way), "b": way})
        self.fittings.pop()
        apart_m = sum(port.centre_to_face_m - self._end(probe, port, role).seat_depth_m for port in probe.ports)
        pieces = math.ceil((whole_m + apart_m) / (self.longest_m + apart_m) - 1e-9)
        piece_m = (whole_m - (pieces - 1) * apart_m) / pieces
        here = start
        for _ in range(pieces - 1):
            from_stop_m = probe.ports[0].centre_to_face_m - self._end(probe, probe.ports[0], role).seat_depth_m
            centre = ahead(here.point_m, way, piece_m + from_stop_m)
            joint = self.place(coupling, "coupling", centre, {"a": opposite(way), "b": way})
            there = self._end(joint, joint.port("a"), role)
            self._add(role, piece_m, (here, there), (here.point_m, there.point_m), "straight")
            here = self._end(joint, joint.port("b"), role)
        self._add(role, piece_m, (here, finish), (here.point_m, finish.point_m), "straight")

    def _add(self, role: str, cut_m: float, ends: tuple[End, End], path: tuple[Vec, ...], shape: str) -> None:
        self.pipes.append(Pipe(f"P{len(self.pipes) + 1}", role, cut_m, ends, path, shape, self.body))

    def _end(self, fitting: Fitting, port: Port, role: str) -> End:
        seat = port.socket_depth_m
        # a sleeve is wider than the pipe all the way down
        site = fitting.role.removesuffix(" elbow")
        how = self._seats.get((role, site)) or self._seats.get((role, "")) or self._seat
        if fitting.kind != "sleeve" and how == "dry":
            seat = self.shelf.dry_seat(fitting.kind, port.name)
        reach = port.centre_to_stop_m + port.socket_depth_m - seat
        return End(fitting.id, port.name, seat, ahead(fitting.position_m, port.direction, reach))
