"""Pipe, sockets and cement against published tables. Each table's source stands above it."""

from __future__ import annotations

import pytest

from clochewright.catalogue import load_catalogue, pipe_section
from clochewright.sources import Grade

INCH = 0.0254
POUND_PER_FOOT = 0.45359237 / 0.3048

SIZES = ("1/2", "3/4", "1", "1-1/4", "1-1/2", "2")


# R. L. Mott, Machine Elements in Mechanical Design, 4th ed., Table A16-6: Schedule 40 pipe (steel, of the same outside
# diameter and wall): area [in2], second moment [in4], section modulus [in3], radius of gyration [in].
MOTT_A16_6 = {
    "1/2": (0.250, 0.01709, 0.04069, 0.2613),
    "3/4": (0.333, 0.03704, 0.07055, 0.3337),
    "1": (0.494, 0.08734, 0.1328, 0.4205),
    "1-1/4": (0.669, 0.1947, 0.2346, 0.5397),
    "1-1/2": (0.799, 0.3099, 0.3262, 0.6226),
    "2": (1.075, 0.6657, 0.5606, 0.7871),
}


@pytest.mark.parametrize("size", SIZES)
def test_section_properties_are_the_handbooks(size: str) -> None:
    pipe = load_catalogue().find_pipe(f"{size} in")
    assert pipe.wall is not None
    section = pipe_section(pipe.outside_diameter.value, pipe.wall.value)
    found = (section.area_m2 / INCH**2, section.I_m4 / INCH**4, section.S_m3 / INCH**3, section.r_m / INCH)
    assert found == pytest.approx(MOTT_A16_6[size], rel=1.5e-3)


# Schedule 80 at minimum wall, ASTM D1785 Table 1 and 2 (outside diameter and wall [in]); second moments [in4] as in the
# common handbook tables of pipe sections, from memory.
SCHEDULE_80 = {"1/2": (0.840, 0.147, 0.0201), "1": (1.315, 0.179, 0.1056), "2": (2.375, 0.218, 0.868)}


@pytest.mark.parametrize("size", SCHEDULE_80)
def test_a_thicker_wall_gives_the_handbooks_second_moment(size: str) -> None:
    outside, wall, second_moment = SCHEDULE_80[size]
    assert pipe_section(outside * INCH, wall * INCH).I_m4 / INCH**4 == pytest.approx(second_moment, rel=2e-3)


# ASTM D1785 Table 1 (outside diameter and its tolerance [in]) and Table 2 (Schedule 40 minimum wall [in]).
D1785 = {
    "1/2": (0.840, 0.004, 0.109),
    "3/4": (1.050, 0.004, 0.113),
    "1": (1.315, 0.005, 0.133),
    "1-1/4": (1.660, 0.005, 0.140),
    "1-1/2": (1.900, 0.006, 0.145),
    "2": (2.375, 0.006, 0.154),
}


@pytest.mark.parametrize("size", SIZES)
def test_inch_pipe_is_as_the_standard_has_it(size: str) -> None:
    pipe = load_catalogue().find_pipe(f"{size} in Sch 40")
    outside, tolerance, wall = D1785[size]
    assert pipe.wall is not None
    assert pipe.outside_diameter.value / INCH == pytest.approx(outside, abs=1e-6)
    assert pipe.outside_diameter.high / INCH == pytest.approx(outside + tolerance, abs=1e-6)
    assert pipe.wall.value / INCH == pytest.approx(wall, abs=1e-6)
    assert pipe.outside_diameter.grade is Grade.PUBLISHED


# Two pipe makers' tables of mass [lb/ft], lower and higher.
MASS = {"1/2": (0.161, 0.170), "1": (0.315, 0.333), "2": (0.682, 0.720)}


@pytest.mark.parametrize("size", MASS)
def test_mass_lies_between_two_makers_tables(size: str) -> None:
    mass = load_catalogue().find_pipe(f"{size} in").mass_kg_m
    assert mass is not None
    assert (mass.low / POUND_PER_FOOT, mass.high / POUND_PER_FOOT) == pytest.approx(MASS[size], rel=1e-6)
    assert mass.low <= mass.value <= mass.high


# DIN 8062: outside diameter and least wall [mm], mass [kg/m] from a second table.
DIN_8062 = {
    "25 mm PN 10": (25, 1.5, 0.174),
    "32 mm PN 10": (32, 1.8, 0.264),
    "40 mm PN 10": (40, 1.9, 0.350),
    "25 mm PN 16": (25, 1.9, 0.212),
    "32 mm PN 16": (32, 2.4, 0.342),
    "40 mm PN 16": (40, 3.0, 0.525),
}


@pytest.mark.parametrize("name", DIN_8062)
def test_metric_pipe_is_as_the_standard_has_it(name: str) -> None:
    pipe = load_catalogue().find_pipe(name)
    assert pipe.wall is not None
    assert pipe.mass_kg_m is not None
    found = (pipe.outside_diameter.value * 1000, pipe.wall.value * 1000, pipe.mass_kg_m.value)
    assert found == pytest.approx(DIN_8062[name], rel=1e-6)


# Tapered sockets of ASTM D2466, as a pipe maker's how-to guide (p. 15) reproduces them: least depth [in].
LEAST_DEPTH = {"1/2": 0.688, "3/4": 0.719, "1": 0.875, "1-1/4": 0.938, "1-1/2": 1.094, "2": 1.156}
# One maker's fittings catalogue: 90 elbow, centre to stop G, centre to face H, hub M [in].
NINETY = {
    "1/2": (0.500, 1.250, 1.125),
    "3/4": (0.5625, 1.500, 1.34375),
    "1": (0.6875, 1.8125, 1.625),
    "1-1/4": (0.96875, 2.15625, 2.000),
    "1-1/2": (1.0625, 2.34375, 2.250),
    "2": (1.3125, 2.6875, 2.750),
}


@pytest.mark.parametrize("size", SIZES)
def test_sockets_of_the_90_elbow(size: str) -> None:
    elbow = load_catalogue().fitting(f"{size} in Sch 40", "elbow-90")
    assert elbow is not None
    stop, face, hub = NINETY[size]
    for socket in elbow.sockets:
        assert socket.depth.low / INCH == pytest.approx(LEAST_DEPTH[size], abs=1e-6)
        assert socket.centre_to_stop.value / INCH == pytest.approx(stop, abs=1e-6)
        assert socket.centre_to_face_m / INCH == pytest.approx(face, abs=1e-6)
    assert elbow.hub_diameter.value / INCH == pytest.approx(hub, abs=1e-6)


def test_no_known_socket_is_shallower_than_the_standard_allows() -> None:
    catalogue = load_catalogue()
    for size in SIZES:
        for fitting in catalogue.fittings(f"{size} in Sch 40"):
            for socket in fitting.sockets:
                assert socket.depth.value / INCH >= LEAST_DEPTH[size] - 1e-6, fitting.key


# ASTM D2855 and F3328: a dry pipe stops 1/3 to 2/3 of the way in. Pipe and socket of the tabled sizes meet at 2/3.
@pytest.mark.parametrize("size", SIZES)
def test_a_nominal_dry_pipe_stops_two_thirds_in(size: str) -> None:
    catalogue = load_catalogue()
    key = f"{size} in Sch 40"
    for fitting in catalogue.fittings(key):
        for socket in fitting.sockets:
            seat = catalogue.dry_seat(key, fitting.kind, socket.name)
            assert seat.value / socket.depth.value == pytest.approx(2 / 3, abs=1e-9)
            assert seat.low / socket.depth.value == pytest.approx(1 / 3, abs=1e-9)
            assert seat.high >= seat.value


# ASTM D2467 stop width, 3/32 in at least: two pipes in a coupling are that far apart.
@pytest.mark.parametrize("size", SIZES)
def test_a_couplings_stop(size: str) -> None:
    coupling = load_catalogue().fitting(f"{size} in Sch 40", "coupling")
    assert coupling is not None
    assert sum(socket.centre_to_stop.value for socket in coupling.sockets) / INCH == pytest.approx(3 / 32, abs=1e-6)


# One maker's fittings catalogue, to the nearest 0.01 lb.
ELBOW_LB = {"1/2": 0.05, "3/4": 0.07, "1": 0.12, "1-1/4": 0.20, "1-1/2": 0.25, "2": 0.38}


@pytest.mark.parametrize("size", SIZES)
def test_mass_of_the_90_elbow(size: str) -> None:
    elbow = load_catalogue().fitting(f"{size} in Sch 40", "elbow-90")
    assert elbow is not None
    assert elbow.mass_kg is not None
    assert elbow.mass_kg.value / 0.45359237 == pytest.approx(ELBOW_LB[size], abs=1e-6)
    assert elbow.mass_kg.grade is Grade.PUBLISHED


# A pipe maker's plastics technical manual, p. 96, and a second cement maker with the same figures: joints per US quart.
# The second maker sets 25 mm by 3/4 in, 32 mm by 1 in, 50 mm by 1-1/2 in. Primer goes twice as far.
JOINTS_PER_QUART = {
    "1/2 in": 300,
    "3/4 in": 200,
    "1 in": 125,
    "1-1/2 in": 90,
    "2 in": 60,
    "25 mm PN 16": 200,
    "32 mm PN 16": 125,
    "50 mm PN 10": 90,
}


@pytest.mark.parametrize("name", JOINTS_PER_QUART)
def test_joints_per_quart(name: str) -> None:
    catalogue = load_catalogue()
    key = catalogue.find_pipe(name).key
    assert catalogue.joints_per_quart(key).value == JOINTS_PER_QUART[name]
    assert catalogue.joints_per_quart(key, "primer").value == 2 * JOINTS_PER_QUART[name]


# ISO 727-1, from memory: a parallel socket is half the diameter and 6 mm deep. DIN 8063, from memory: z of a 90 elbow.
@pytest.mark.parametrize(("size", "stop_mm"), [(25, 13.5), (32, 17.0), (40, 21.0)])
def test_metric_sockets_from_memory(size: int, stop_mm: float) -> None:
    catalogue = load_catalogue()
    elbow = catalogue.fitting(f"{size} mm PN 16", "elbow-90")
    assert elbow is not None
    for socket in elbow.sockets:
        assert socket.depth.value * 1000 == pytest.approx(0.5 * size + 6)
        assert socket.centre_to_stop.value * 1000 == pytest.approx(stop_mm)
        assert socket.depth.grade is Grade.FROM_MEMORY


# A trade article comparing tapered and parallel sockets: in a parallel one a dry pipe goes fully home.
def test_a_dry_metric_pipe_goes_home() -> None:
    catalogue = load_catalogue()
    seat = catalogue.dry_seat("32 mm PN 16", "tee", "branch")
    tee = catalogue.fitting("32 mm PN 16", "tee")
    assert tee is not None
    assert seat.value == seat.high == tee.socket("branch").depth.value
