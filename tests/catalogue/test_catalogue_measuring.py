"""From tape readings to figures, against published fitting sizes, plane geometry and points worked out one by one."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from clochewright.catalogue import (
    KINDS,
    Legs,
    arm_off_m,
    load_catalogue,
    mean_m,
    odd_figures,
    other_sockets,
    unlike_m,
    work_out,
)
from clochewright.errors import CatalogueError
from clochewright.sources import Grade

INCH = 0.0254
PIPE = "1 in Sch 40"

# 90 degree elbow: nominal, centre to stop G, centre to face H, hub M [in]. One US maker's fittings catalogue as
# transcribed in a public CSV parts dataset; G and H as printed there, in sixteenths and thirty-seconds.
NINETIES = [
    ("1/2", 0.500, 1.250, 1.125),
    ("3/4", 0.5625, 1.500, 1.34375),
    ("1", 0.6875, 1.8125, 1.625),
    ("1-1/4", 0.96875, 2.15625, 2.000),
    ("1-1/2", 1.0625, 2.34375, 2.250),
    ("2", 1.3125, 2.6875, 2.750),
]


@pytest.mark.parametrize(("nominal", "g", "h", "m"), NINETIES)
def test_a_90_elbow_gives_its_published_centre_to_stop(nominal: str, g: float, h: float, m: float) -> None:
    """Stood on one mouth, it is H + M / 2 high; the depth is H - G."""
    got = work_out("elbow-90", overall_m=(h + m / 2) * INCH, depth_m=(h - g) * INCH, hub_m=m * INCH)
    assert got.centre_to_stop_m / INCH == pytest.approx(g, abs=1e-9)
    assert got.bend_deg is None


def test_a_1_in_elbow_from_whole_tape_marks() -> None:
    """H 1 13/16, M 1 5/8, depth 1 1/8 (same catalogue): 2 5/8 in high, and 11/16 in from centre to stop."""
    got = work_out("elbow-90", overall_m=2.625 * INCH, depth_m=1.125 * INCH, hub_m=1.625 * INCH)
    assert got.centre_to_stop_m == pytest.approx(11 / 16 * INCH)


def test_a_run_is_half_the_overall_less_the_depth() -> None:
    """A tee with the elbow's G and depth is 2 (0.6875 + 1.125) = 3 5/8 in from mouth to mouth."""
    for kind in ("tee", "cross", "coupling", "side-outlet-tee", "five-way-cross"):
        got = work_out(kind, overall_m=3.625 * INCH, depth_m=1.125 * INCH, hub_m=1.625 * INCH)
        assert got.centre_to_stop_m / INCH == pytest.approx(0.6875)


def test_a_branch_is_read_over_the_runs_hub() -> None:
    got = work_out("tee", port="branch", overall_m=2.625 * INCH, depth_m=1.125 * INCH, hub_m=1.625 * INCH)
    assert got.centre_to_stop_m / INCH == pytest.approx(0.6875)


@pytest.mark.parametrize(("kind", "stop", "face"), [("elbow-45", 0.46875, 1.5), ("elbow-22.5", 0.28125, 1.375)])
def test_a_shallow_elbow_against_the_rim_of_its_other_hub_point_by_point(kind: str, stop: float, face: float) -> None:
    """The published 1 in elbow is set up in space and its other mouth's rim is walked round for the highest point."""
    hub, turn = 1.625, math.radians(KINDS[kind].bend_deg)
    axis, across, level = (math.cos(turn), math.sin(turn)), (math.sin(turn), -math.cos(turn)), 0.0
    assert axis[0] * across[0] + axis[1] * across[1] == pytest.approx(level)
    highest = max(
        face + face * axis[0] + hub / 2 * math.cos(math.radians(step / 10)) * across[0] for step in range(3600)
    )
    got = work_out(kind, overall_m=highest * INCH, depth_m=(face - stop) * INCH, hub_m=hub * INCH)
    assert got.centre_to_stop_m / INCH == pytest.approx(stop, abs=1e-6)


def test_a_bend_by_the_sides_of_a_right_triangle() -> None:
    """3, 4, 5 make a right angle (Euclid, Elements I.48): arms of 36 and 48 in from the centre, 60 in across."""
    face = 1.8125
    legs = Legs((36 - face) * INCH, (48 - face) * INCH, 60 * INCH)
    got = work_out("elbow-90", overall_m=2.625 * INCH, depth_m=1.125 * INCH, hub_m=1.625 * INCH, legs=legs)
    assert got.bend_deg == pytest.approx(90.0, abs=1e-6)
    assert not got.is_bent_otherwise
    assert got.centre_to_stop_m / INCH == pytest.approx(0.6875)


@given(st.floats(40, 50), st.floats(8, 40), st.floats(8, 40))
def test_a_bend_comes_back_from_points_laid_out_in_the_plane(bend: float, first: float, second: float) -> None:
    """A real elbow sold as 45: arms are drawn from the centre and the tape is laid between their ends."""
    face, hub, depth = 1.5, 1.625, 1.03125
    turn = math.radians(bend)
    ends = [(-(first + face), 0.0), ((second + face) * math.cos(turn), (second + face) * math.sin(turn))]
    height = face + face * math.cos(turn) + hub / 2 * math.sin(turn)
    legs = Legs(first * INCH, second * INCH, math.dist(*ends) * INCH)
    got = work_out("elbow-45", overall_m=height * INCH, depth_m=depth * INCH, hub_m=hub * INCH, legs=legs)
    assert got.bend_deg == pytest.approx(bend, abs=1e-6)
    assert got.centre_to_stop_m / INCH == pytest.approx(face - depth, abs=1e-6)


def test_the_band_is_what_one_mark_on_the_tape_does() -> None:
    legs = [Legs(12 * INCH, 12 * INCH, apart * INCH) for apart in (24.9, 24.9 + 1 / 16)]
    sizes = {"overall_m": 3.1352 * INCH, "depth_m": 1.03125 * INCH, "hub_m": 1.625 * INCH}
    here, there = (work_out("elbow-45", legs=each, **sizes) for each in legs)
    assert here.bend_deg is not None
    assert there.bend_deg is not None
    assert abs(here.bend_deg - there.bend_deg) == pytest.approx(here.bend_band_deg, rel=0.05)


def test_one_degree_is_about_a_fifth_of_an_inch_in_a_foot() -> None:
    """Chord of 1 degree for radius 1: 0.017453 (table of chords); times 12 in."""
    assert arm_off_m(46.0, 45.0) / INCH == pytest.approx(12 * 0.017453, abs=1e-4)
    assert arm_off_m(89.0, 90.0) == pytest.approx(arm_off_m(91.0, 90.0))


@pytest.mark.parametrize(
    ("kind", "readings", "told"),
    [
        ("tee", {"overall_m": 0.05, "depth_m": 0.025}, "half the overall"),
        ("tee", {"overall_m": 0.05, "depth_m": 0.03}, "half the overall"),
        ("elbow-90", {"overall_m": 0.05, "depth_m": 0.03}, "between the ledge and the middle"),
        ("tee", {"overall_m": 0.09, "depth_m": 0.0}, "more than nothing"),
        ("tee", {"overall_m": math.nan, "depth_m": 0.02}, "more than nothing"),
        ("knee", {"overall_m": 0.09, "depth_m": 0.02}, "no kind of fitting"),
        ("tee", {"overall_m": 0.09, "depth_m": 0.02, "port": "chimney"}, "no socket called"),
        ("tee", {"overall_m": 0.09, "depth_m": 0.02, "legs": Legs(0.3, 0.3, 0.4)}, "no bend"),
        ("elbow-90", {"overall_m": 0.067, "depth_m": 0.028, "legs": Legs(0.3, 0.3, 2.0)}, "no triangle"),
        ("elbow-90", {"overall_m": 0.067, "depth_m": 0.028, "legs": Legs(0.3, 0.9, 0.1)}, "no triangle"),
    ],
)
def test_readings_that_make_no_sense_are_refused(kind: str, readings: dict[str, float], told: str) -> None:
    with pytest.raises(CatalogueError, match=told):
        work_out(kind, hub_m=0.041, **readings)  # type: ignore[arg-type]


@given(st.sampled_from(sorted(KINDS)), st.floats(0, 0.5), st.floats(0, 0.5), st.floats(0, 0.5))
def test_what_is_taken_has_a_middle(kind: str, overall_m: float, depth_m: float, hub_m: float) -> None:
    try:
        got = work_out(kind, overall_m=overall_m, depth_m=depth_m, hub_m=hub_m)
    except CatalogueError:
        return
    assert got.centre_to_stop_m > 0 or kind == "cap"
    assert got.socket_depth_m == depth_m
    assert kind == "cap" or 2 * depth_m < 2 * overall_m


def test_the_catalogues_own_figures_are_not_odd_and_others_are() -> None:
    catalogue = load_catalogue()
    for row in catalogue.fittings(PIPE):
        if row.kind.startswith("elbow") and row.bend_deg != 90:
            continue
        stop, depth, hub = row.sockets[0].centre_to_stop.value, row.sockets[0].depth.value, row.hub_diameter.value
        overall = stop + depth + (hub / 2 if row.bend_deg == 90 else stop + depth)
        assert odd_figures(work_out(row.kind, overall_m=overall, depth_m=depth, hub_m=hub), row) == ()
    tee = catalogue.fitting(PIPE, "tee")
    deep = work_out("tee", overall_m=4.4 * INCH, depth_m=1.5 * INCH, hub_m=1.625 * INCH)
    assert [figure.name for figure in odd_figures(deep, tee)] == ["depth"]
    assert odd_figures(deep, None) == ()


def test_readings_are_averaged_and_unlike_ones_are_seen() -> None:
    readings = [3.625 * INCH, 3.5625 * INCH, 3.625 * INCH]
    assert mean_m(readings) / INCH == pytest.approx(3.6041667)
    assert unlike_m(readings) == 0
    assert unlike_m([3.5 * INCH, 3.625 * INCH]) == 0
    assert unlike_m([3.5 * INCH, 3.75 * INCH]) / INCH == pytest.approx(0.25)


def test_every_socket_is_measured_with_the_first_two_or_by_itself() -> None:
    for kind in KINDS.values():
        others = [port for group in other_sockets(kind.name) for port in group]
        assert sorted((*kind.sockets[:2], *others)) == sorted(kind.sockets)


def test_a_kind_at_the_end_of_its_band_moves_what_is_not_sure_and_nothing_else() -> None:
    plain = load_catalogue()
    tee, elbow = plain.fitting(PIPE, "tee"), plain.fitting(PIPE, "elbow-90")
    assert tee is not None
    assert elbow is not None
    assert (tee.is_sure, elbow.is_sure) == (False, True)
    low, high = (plain.with_kind_at(PIPE, "tee", end).fitting(PIPE, "tee") for end in ("low", "high"))
    assert low is not None
    assert high is not None
    for socket in tee.sockets:
        assert low.socket(socket.name).centre_to_stop.value == socket.centre_to_stop.low
        assert high.socket(socket.name).depth.value == socket.depth.high
    assert low.hub_diameter.value == tee.hub_diameter.low < high.hub_diameter.value
    assert plain.with_kind_at(PIPE, "elbow-90", "low").fitting(PIPE, "elbow-90") == elbow
    assert plain.fitting(PIPE, "tee") == tee
    with pytest.raises(KeyError):
        plain.with_kind_at(PIPE, "elbow-60", "low")


def test_a_kind_measured_in_full_is_sure() -> None:
    own = {"kind": "tee", "centre_to_stop_m": 0.02, "socket_depth_m": 0.025, "hub_m": 0.041}
    tee = load_catalogue(own_fittings=[own], pipe=PIPE).fitting(PIPE, "tee")
    assert tee is not None
    assert tee.is_sure
    assert tee.hub_diameter.grade is Grade.MEASURED
