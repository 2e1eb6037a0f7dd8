"""The bench: fittings are put in their place, pipes are cut between them."""

from __future__ import annotations

from collections.abc import Mapping

from clochewright.frame.parts import End, Fitting, Pipe, Port, Vec
from clochewright.frame.shelf import Shelf, Spec, stop
from clochewright.frame.vectors import ahead, distance

# Faces nearer than this touch: the pipe between them is a stub, not a piece of rail.
TOUCHING_M = 1e-6


class Bench:
    """Collects the parts of one frame; refuses a pipe whose two fittings would stand in each other's place."""

    def __init__(self, shelf: Shelf, seat: str, seat_by_role: Mapping[str, str]) -> None:
        self.shelf = shelf
        self.fittings: list[Fitting] = []
        self.pipes: list[Pipe] = []
        self._seat = seat
        self._seat_by_role = seat_by_role

    def place(self, spec: Spec, role: str, position: Vec, directions: Mapping[str, Vec], body: str = "lid") -> Fitting:
        """Put a fitting down: where its centre is [m] and which way each port looks (unit vectors)."""
        lengths = spec.lengths
        ports = tuple(
            Port(name, direction, lengths[name][0], lengths[name][1]) for name, direction in directions.items()
        )
        fitting = Fitting(f"F{len(self.fittings) + 1}", spec.kind, role, position, spec.hub_m, ports, body)
        self.fittings.append(fitting)
        return fitting

    def join(self, first: Fitting, first_port: str, second: Fitting, second_port: str, role: str) -> Pipe:
        """Cut a straight pipe between two facing ports; a stub when their faces touch."""
        a, b = first.port(first_port), second.port(second_port)
        apart = distance(first.position_m, second.position_m)
        gap = apart - a.centre_to_face_m - b.centre_to_face_m
        if gap < -TOUCHING_M:
            raise stop("frame.no-room", role, role=role, first=first.role, second=second.role, short_m=-gap)
        if gap <= TOUCHING_M:
            role = "stub"
        end_a, end_b = self._end(first, a, role), self._end(second, b, role)
        pipe = Pipe(
            f"P{len(self.pipes) + 1}",
            role,
            distance(end_a.point_m, end_b.point_m),
            (end_a, end_b),
            (end_a.point_m, end_b.point_m),
            body=first.body,
        )
        self.pipes.append(pipe)
        return pipe

    def _end(self, fitting: Fitting, port: Port, role: str) -> End:
        seat = port.socket_depth_m
        if self._seat_by_role.get(role, self._seat) == "dry":
            seat = self.shelf.dry_seat(fitting.kind, port.name)
        reach = port.centre_to_stop_m + port.socket_depth_m - seat
        return End(fitting.id, port.name, seat, ahead(fitting.position_m, port.direction, reach))
