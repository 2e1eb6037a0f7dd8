"""A tent frame put together by hand, so that tests of later steps don't rest on the frame room."""

from __future__ import annotations

import itertools
import math

from clochewright.frame import End, Fitting, Frame, Pipe, Port

INCH = 0.0254
FOOT = 0.3048


class _Builder:
    """Puts fittings down and joins facing ports with straight pipe, all seats home."""

    def __init__(self, stop_m, depth_m, hub_m, seat_m):
        self.stop_m, self.depth_m, self.hub_m, self.seat_m = stop_m, depth_m, hub_m, seat_m
        self.fittings, self.pipes = [], []

    def put(self, kind, role, position_m, **ports):
        made = tuple(Port(name.replace("_", "-"), way, self.stop_m, self.depth_m) for name, way in ports.items())
        fitting = Fitting(f"F{len(self.fittings) + 1}", kind, role, position_m, self.hub_m, made)
        self.fittings.append(fitting)
        return fitting

    def join(self, role, one, one_port, two, two_port):
        ends = tuple(self._end(fitting, port) for fitting, port in ((one, one_port), (two, two_port)))
        path = (ends[0].point_m, ends[1].point_m)
        self.pipes.append(Pipe(f"P{len(self.pipes) + 1}", role, math.dist(*path), ends, path))

    def _end(self, fitting, name):
        port = fitting.port(name)
        reach_m = port.centre_to_face_m - self.seat_m
        point = tuple(c + d * reach_m for c, d in zip(fitting.position_m, port.direction, strict=True))
        return End(fitting.id, name, self.seat_m, point)


def tent(
    length_m,
    width_m,
    bents=3,
    *,
    pipe_key="1 in Sch 40",
    pipe_m=1.315 * INCH,
    stop_m=13 / 16 * INCH,
    depth_m=1 * INCH,
    hub_m=1.625 * INCH,
    seat_m=None,
):
    """A pointed tent of 45 degrees, base so long and wide over the hubs, the hubs flush with the bed's outside.

    Every socket is alike; a middle bent has one brace beside it; `seat_m` is how deep the pipes sit, home if left out.
    """
    build = _Builder(stop_m, depth_m, hub_m, depth_m if seat_m is None else seat_m)
    face_m = stop_m + depth_m
    half_x, half_y, z = (length_m - hub_m) / 2, (width_m - hub_m) / 2, hub_m / 2
    root = math.sqrt(0.5)
    back, ahead = (-1.0, 0.0, 0.0), (1.0, 0.0, 0.0)
    first = -half_x + 2 * face_m
    stations = [first + (-2 * first) * i / (bents - 1) for i in range(bents)]

    rails = {}  # side -> fittings along it, in order, with the ports that look back and ahead
    for side in (1.0, -1.0):
        inward = (0.0, -side, 0.0)
        up = (0.0, -side * root, root)
        row = [(build.put("elbow-90", "corner", (-half_x, side * half_y, z), a=ahead, b=inward), None, "a")]
        for i, x in enumerate(stations):
            foot = (x, side * half_y, z)
            row.append((build.put("tee", "rafter foot", foot, run_a=back, run_b=ahead, branch=up), "run-a", "run-b"))
            if 0 < i < bents - 1:
                beside = (x + 2 * face_m, side * half_y, z)
                brace = build.put("tee", "brace foot", beside, run_a=back, run_b=ahead, branch=inward)
                row.append((brace, "run-a", "run-b"))
        row.append((build.put("elbow-90", "corner", (half_x, side * half_y, z), a=back, b=inward), "a", None))
        rails[side] = row
        for (one, _, ahead_port), (two, back_port, _) in itertools.pairwise(row):
            apart = two.position_m[0] - one.position_m[0] - 2 * face_m
            build.join("stub" if apart < 1e-6 else "side rail", one, ahead_port, two, back_port)

    left, right = ([fitting for fitting, _, _ in rails[side]] for side in (1.0, -1.0))
    for i in (0, -1):
        build.join("end rail", left[i], "b", right[i], "b")
    for one, two in zip(left, right, strict=True):
        if one.role == "brace foot":
            build.join("brace", one, "branch", two, "branch")

    down_left, down_right = (0.0, root, -root), (0.0, -root, -root)
    apexes = []
    for i, x in enumerate(stations):
        top = (x, 0.0, z + half_y)
        if i in (0, bents - 1):
            ridge = ahead if i == 0 else back
            apexes.append(build.put("side-outlet-elbow", "apex", top, a=down_left, b=down_right, side=ridge))
        else:
            ports = {"run_a": back, "run_b": ahead, "branch": down_left, "side": down_right}
            apexes.append(build.put("side-outlet-tee", "apex", top, **ports))
    feet = [[fitting for fitting in row if fitting.role == "rafter foot"] for row in (left, right)]
    for apex, left_foot, right_foot in zip(apexes, *feet, strict=True):
        within = apex.kind == "side-outlet-tee"
        build.join("rafter", left_foot, "branch", apex, "branch" if within else "a")
        build.join("rafter", right_foot, "branch", apex, "side" if within else "b")
    for one, two in itertools.pairwise(apexes):
        ports = ["run-b" if one.kind == "side-outlet-tee" else "side", "run-a" if two is not apexes[-1] else "side"]
        build.join("ridge", one, ports[0], two, ports[1])

    return Frame(
        shape="tent",
        pipe_key=pipe_key,
        pipe_outside_diameter_m=pipe_m,
        fittings=tuple(build.fittings),
        pipes=tuple(build.pipes),
        stations_m=tuple(stations),
        height_m=z + half_y + hub_m / 2,
        ridge_height_m=z + half_y,
        length_m=length_m,
        width_m=width_m,
        base_length_m=2 * half_x,
        base_width_m=2 * half_y,
        diagonal_m=math.hypot(2 * half_x, 2 * half_y),
        pitch_deg=45.0,
        longest_bay_m=-2 * first / (bents - 1),
        recipes={"apex": "pointed"},
    )


def small_tent():
    """The sample most tests use: 4 ft by 3 ft, three bents."""
    return tent(4 * FOOT, 3 * FOOT, 3)
