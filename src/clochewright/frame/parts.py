"""The frame in space: fittings with ports, pipes between ports, and the whole."""

from __future__ import annotations

from dataclasses import dataclass, field

from clochewright.findings import Finding

Vec = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Port:
    """One socket of a fitting, in space.

    `direction` is a unit vector out of the mouth; `centre_to_stop_m` runs from the fitting's centre to the shoulder
    at the bottom of the socket [m]; `socket_depth_m` from there to the mouth [m].
    """

    name: str
    direction: Vec
    centre_to_stop_m: float
    socket_depth_m: float

    @property
    def centre_to_face_m(self) -> float:
        """Centre of the fitting to the mouth of the socket [m]."""
        return self.centre_to_stop_m + self.socket_depth_m


@dataclass(frozen=True, slots=True)
class Fitting:
    """A fitting where it stands. `kind` is the catalogue's name; `role` says what it does here ("rafter foot")."""

    id: str
    kind: str
    role: str
    position_m: Vec
    hub_diameter_m: float
    ports: tuple[Port, ...]
    body: str = "lid"

    def port(self, name: str) -> Port:
        """The port of that name; KeyError if there is none."""
        for port in self.ports:
            if port.name == name:
                return port
        raise KeyError(name)


@dataclass(frozen=True, slots=True)
class End:
    """One end of a pipe: which port it sits in, how deep [m], and where the end itself is [m].

    An open or tied end has `fitting` and `port` None and a seat of 0.
    """

    fitting: str | None
    port: str | None
    seat_depth_m: float
    point_m: Vec


@dataclass(frozen=True, slots=True)
class Pipe:
    """One pipe. `path_m` is its centre line from end to end, two points when straight, many when bent."""

    id: str
    role: str
    cut_length_m: float
    ends: tuple[End, End]
    path_m: tuple[Vec, ...]
    shape: str = "straight"
    body: str = "lid"


@dataclass(frozen=True, slots=True)
class HoopFacts:
    """One hoop as it bends: pipe between its mouths, span between them, rise above them [m], and what that asks of it.

    `least_radius_m` is where it bends most; `strain_share` the stretch of its outer skin there (0.02 is 2 %);
    `push_N` how hard each foot pushes outwards, short-term [N].
    """

    length_m: float
    span_m: float
    rise_m: float
    foot_angle_deg: float
    least_radius_m: float
    strain_share: float
    push_N: float


@dataclass(frozen=True, slots=True)
class Adjust:
    """What a build has settled that the plan would otherwise have worked out; all of it optional.

    `base_length_m` and `base_width_m` are the base over all, hubs included [m], where it came out otherwise.
    `bay_gaps_m` gives for each bay the clear length between its two bents' fittings [m], None where it is still free.
    `insets_m` is how much further in than planned the front and the far bent stand [m]; `apex_stub_m` how much longer
    the stubs beside a flat apex are [m].
    """

    base_length_m: float | None = None
    base_width_m: float | None = None
    bay_gaps_m: tuple[float | None, ...] = ()
    insets_m: tuple[float, float] = (0.0, 0.0)
    apex_stub_m: float = 0.0


@dataclass(frozen=True, slots=True)
class Frame:
    """The whole frame, solved.

    Axes: x along the bed, y across it, z up; origin at the middle of the bed, z = 0 on the rim. `length_m` and
    `width_m` are the base over all, hubs included; `height_m` is from the rim to the top of the highest hub;
    `ridge_height_m` from the rim to the ridge pipe's centre line; `base_length_m` and `base_width_m` are the base
    between corner centres; `diagonal_m` is that base's diagonal; `longest_bay_m` the longest distance from one bent's
    member to the next; `bay_gaps_m` the clear length between the fittings of neighbouring bents, in the first section;
    `bent_spans_m` where each bent's fittings begin and end along the bed. `recipes` names the joint recipe used at each
    place ("apex": "pointed"); `sleeve_pipe_key` the pipe that sleeves are cut from, if there are any.
    A plan that was refused has findings and no parts.
    """

    shape: str
    pipe_key: str
    pipe_outside_diameter_m: float
    fittings: tuple[Fitting, ...] = ()
    pipes: tuple[Pipe, ...] = ()
    stations_m: tuple[float, ...] = ()
    height_m: float = 0.0
    ridge_height_m: float = 0.0
    length_m: float = 0.0
    width_m: float = 0.0
    base_length_m: float = 0.0
    base_width_m: float = 0.0
    diagonal_m: float = 0.0
    pitch_deg: float = 0.0
    longest_bay_m: float = 0.0
    bay_gaps_m: tuple[float, ...] = ()
    bent_spans_m: tuple[tuple[float, float], ...] = ()
    recipes: dict[str, str] = field(default_factory=dict)
    hoop: HoopFacts | None = None
    sleeve_pipe_key: str = ""
    findings: tuple[Finding, ...] = ()

    @property
    def stands(self) -> bool:
        """Whether there is a frame: a plan that was refused has findings and no parts."""
        return bool(self.pipes)

    def fitting(self, fitting_id: str) -> Fitting:
        """The fitting of that id; KeyError if there is none."""
        for fitting in self.fittings:
            if fitting.id == fitting_id:
                return fitting
        raise KeyError(fitting_id)
