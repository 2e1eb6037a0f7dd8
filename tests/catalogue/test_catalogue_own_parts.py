"""The user's own parts: what they measured wins, and what can't be used is said all at once."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from clochewright.catalogue import load_catalogue, load_prices
from clochewright.errors import CatalogueError, FolderError
from clochewright.sources import Grade


def own_fitting(kind: str, **figures: Any) -> dict[str, Any]:
    empty = dict.fromkeys(("port", "centre_to_stop_m", "socket_depth_m", "hub_m", "bend_deg"))
    return {"kind": kind, **empty, **figures}


def own_pipe(size: str, outside_diameter_m: float, **figures: Any) -> dict[str, Any]:
    return {
        "size": size,
        "outside_diameter_m": outside_diameter_m,
        "wall_m": None,
        "sticks_m": (),
        "price": None,
    } | figures


def part_list(folder: Path, text: str) -> Path:
    path = folder / "shed.toml"
    path.write_text(text, encoding="utf-8")
    return path


def test_a_measured_fitting_replaces_each_figure_that_was_measured() -> None:
    catalogue = load_catalogue(own_fittings=[own_fitting("tee", centre_to_stop_m=0.0206, socket_depth_m=0.0254)])
    tee, plain = catalogue.fitting("1 in Sch 40", "tee"), load_catalogue().fitting("1 in Sch 40", "tee")
    assert tee is not None
    assert plain is not None
    for socket in tee.sockets:
        assert socket.centre_to_stop.value == socket.centre_to_stop.low == socket.centre_to_stop.high == 0.0206
        assert socket.depth.value == 0.0254
        assert socket.depth.grade is Grade.MEASURED
    assert tee.hub_diameter == plain.hub_diameter


def test_one_socket_can_be_measured_by_itself() -> None:
    catalogue = load_catalogue(own_fittings=[own_fitting("tee", port="branch", socket_depth_m=0.03)])
    tee, plain = catalogue.fitting("1 in Sch 40", "tee"), load_catalogue().fitting("1 in Sch 40", "tee")
    assert tee is not None
    assert plain is not None
    assert tee.socket("branch").depth.value == 0.03
    assert tee.socket("run-a") == plain.socket("run-a")


def test_a_new_kind_is_built_from_what_was_measured_and_the_90_elbows_hub() -> None:
    own = own_fitting("elbow-60", centre_to_stop_m=0.012, socket_depth_m=0.025)
    catalogue = load_catalogue(own_fittings=[own], pipe="1 in")
    elbow, ninety = (catalogue.fitting("1 in Sch 40", kind) for kind in ("elbow-60", "elbow-90"))
    assert elbow is not None
    assert ninety is not None
    assert elbow.bend_deg == 60
    assert elbow.hub_diameter.value == ninety.hub_diameter.value
    assert elbow.hub_diameter.grade is Grade.ESTIMATE
    assert catalogue.fitting("2 in Sch 40", "elbow-60") is None


def test_the_real_bend_of_an_elbow_wins() -> None:
    catalogue = load_catalogue(own_fittings=[own_fitting("elbow-90", bend_deg=87.5)])
    elbow = catalogue.fitting("40 mm waste", "elbow-90")
    assert elbow is not None
    assert elbow.bend_deg == 87.5


def test_an_own_pipe_overrides_the_figures_of_its_namesake() -> None:
    catalogue = load_catalogue(own_pipes=[own_pipe("40 mm waste", 0.0427, wall_m=0.002)])
    pipe = catalogue.find_pipe("waste 40")
    assert len(catalogue.pipes) == len(load_catalogue().pipes)
    assert pipe.outside_diameter.value == pipe.outside_diameter.high == 0.0427
    assert pipe.outside_diameter.grade is Grade.MEASURED
    assert pipe.bore is not None
    assert pipe.bore.value == pytest.approx(0.0387)
    assert catalogue.fitting(pipe.key, "tee") is not None


def test_a_fatter_own_pipe_stops_sooner_when_dry() -> None:
    # 33.6 mm, as BS 3505 1 in pipe may be, in a D2466 socket of 33.66 to 33.27 mm.
    catalogue = load_catalogue(own_pipes=[own_pipe("1 in", 0.0336)])
    seat = catalogue.dry_seat("1 in Sch 40", "elbow-90", "a")
    assert seat.value < load_catalogue().dry_seat("1 in Sch 40", "elbow-90", "a").value / 2
    assert 0 <= seat.low <= seat.value <= seat.high


def test_a_new_pipe_stands_beside_the_others_with_its_own_price() -> None:
    own = own_pipe("grey conduit", 0.0264, sticks_m=(3.048,), price=Decimal("2.80"))
    fittings = [own_fitting("tee", centre_to_stop_m=0.015, socket_depth_m=0.02, hub_m=0.032)]
    catalogue = load_catalogue(own_pipes=[own], own_fittings=fittings, pipe="Grey Conduit")
    pipe = catalogue.find_pipe("grey conduit")
    assert pipe.mass_kg_m is None
    assert [fitting.kind for fitting in catalogue.fittings(pipe.key)] == ["tee"]
    assert load_prices(catalogue=catalogue).price("pipe:grey conduit", "10 ft") == Decimal("2.80")


@pytest.mark.parametrize(
    ("own", "says"),
    [
        (own_fitting("elbow-60", centre_to_stop_m=0.01), "no socket depth"),
        (own_fitting("elbow-60", socket_depth_m=0.02), "no centre to stop"),
        (own_fitting("wye", socket_depth_m=0.02), "no kind of fitting"),
        (own_fitting("tee", port="side", socket_depth_m=0.02), "Its sockets are run-a, run-b, branch"),
        (own_fitting("tee", hub_m=0.02), "thinner than the pipe"),
    ],
)
def test_an_own_fitting_that_cannot_be_used_is_refused(own: dict[str, Any], says: str) -> None:
    with pytest.raises(CatalogueError, match=says) as error:
        load_catalogue(own_fittings=[own_fitting("cap"), own])
    assert all(mistake.where == "own.fittings[1]" for mistake in error.value.mistakes)


@pytest.mark.parametrize(
    ("own", "says"),
    [
        (own_pipe("32 mm", 0.036), "may be"),
        (own_pipe("thick pipe", 0.02, wall_m=0.011), "too thick"),
        (own_pipe("  ", 0.02), "needs a size"),
    ],
)
def test_an_own_pipe_that_cannot_be_used_is_refused(own: dict[str, Any], says: str) -> None:
    with pytest.raises(CatalogueError, match=says):
        load_catalogue(own_pipes=[own])


def test_a_plans_unknown_pipe_is_left_to_find_pipe() -> None:
    catalogue = load_catalogue(own_fittings=[own_fitting("tee", socket_depth_m=0.02)], pipe="32")
    with pytest.raises(CatalogueError, match="several pipes"):
        catalogue.find_pipe("32")


GOOD = """
[[pipe]]
size = "27 mm hose pipe"
outside_diameter = "27 mm"
wall = "2 mm"
sticks = ["2.5 m"]
price = "£3.20"
source = "tape, shed"

[[fitting]]
kind = "tee"
pipe = "27 mm hose pipe"
centre_to_stop = "14 mm"
socket_depth = "20 mm"
hub = "33 mm"

[[fitting]]
kind = "elbow-60"
pipe = "1 in"
centre_to_stop = "7/16 in"
socket_depth = "1 in"
bend = "60 deg"
bench = "furniture"
"""


def test_a_part_list_adds_pipe_and_fittings(tmp_path: Path) -> None:
    catalogue = load_catalogue(part_list(tmp_path, GOOD))
    pipe = catalogue.find_pipe("27 mm hose pipe")
    assert pipe.sticks_m == (2.5,)
    assert pipe.outside_diameter.source == "tape, shed"
    tee, elbow = catalogue.fitting(pipe.key, "tee"), catalogue.fitting("1 in Sch 40", "elbow-60")
    assert tee is not None
    assert tee.hub_diameter.value == pytest.approx(0.033)
    assert elbow is not None
    assert elbow.socket("b").centre_to_stop.value == pytest.approx(7 / 16 * 0.0254)
    assert elbow.bench == "furniture"
    assert load_prices(catalogue=catalogue).price(f"pipe:{pipe.key}", "2.5 m") == Decimal("3.20")


def test_the_plan_wins_over_the_part_list(tmp_path: Path) -> None:
    path = part_list(tmp_path, '[[fitting]]\nkind = "tee"\nsocket_depth = "20 mm"\ncentre_to_stop = "15 mm"\n')
    catalogue = load_catalogue(path, own_fittings=[own_fitting("tee", socket_depth_m=0.021)])
    tee = catalogue.fitting("1 in Sch 40", "tee")
    assert tee is not None
    assert tee.socket("run-a").depth.value == 0.021
    assert tee.socket("run-a").centre_to_stop.value == 0.015


BAD = """
spare = 1

[[pipe]]
sticks = "10 ft"

[[fitting]]
kind = "tee"
pipe = "7 in"
socket_depth = 25

[[fitting]]
kind = "elbow-60"
soket_depth = "1 in"
hub = "3 m"
bench = "kitchen"
"""


def test_every_mistake_in_a_part_list_is_told_at_once(tmp_path: Path) -> None:
    with pytest.raises(CatalogueError) as error:
        load_catalogue(part_list(tmp_path, BAD))
    told = str(error.value)
    for part in ("spare", "shed.toml, pipe 1", "its size", "sticks", "shed.toml, fitting 1: socket_depth", "fitting 2"):
        assert part in told
    assert 'Did you mean "socket_depth"?' in told
    assert len(error.value.mistakes) == 7


def test_a_row_without_a_socket_depth_names_file_and_row(tmp_path: Path) -> None:
    rows = '[[fitting]]\nkind = "cap"\n\n[[fitting]]\nkind = "elbow-60"\ncentre_to_stop = "11 mm"\n'
    with pytest.raises(CatalogueError, match=r"shed\.toml, fitting 2: .*no socket depth"):
        load_catalogue(part_list(tmp_path, rows))


@pytest.mark.parametrize("text", ["not toml at all", "[[pipe", "pipe = 3", "[pipe]\nsize='1 in'", "a = " + "[" * 3000])
def test_a_file_that_is_no_part_list_is_refused(tmp_path: Path, text: str) -> None:
    with pytest.raises(CatalogueError, match=r"shed\.toml"):
        load_catalogue(part_list(tmp_path, text))


def test_bytes_that_are_no_text_are_refused(tmp_path: Path) -> None:
    path = tmp_path / "shed.toml"
    path.write_bytes(b"\xff\xfe\x00")
    with pytest.raises(CatalogueError, match="UTF-8"):
        load_catalogue(path)


def test_a_missing_part_list_is_said_plainly(tmp_path: Path) -> None:
    with pytest.raises(FolderError, match=r"none\.toml can't be read"):
        load_catalogue(tmp_path / "none.toml")
    with pytest.raises(FolderError):
        load_catalogue(tmp_path)
