"""Every row of every data file has its source, and no estimate is made out to be sharper than it is."""

from __future__ import annotations

import csv
import math
import subprocess
import sys
from pathlib import Path

import pytest

import clochewright.catalogue
from clochewright.catalogue import KINDS, Prices, listing, load_catalogue, load_prices, stick_label
from clochewright.sources import Grade

DATA = Path(clochewright.catalogue.__file__).parent / "data"
EIGHTH_INCH_M = 0.003175
STATUSES = {"published", "derived", "common practice", "from memory", "estimate", "invented"}


@pytest.mark.parametrize("path", sorted(DATA.glob("*.csv")), ids=lambda path: path.name)
def test_every_row_has_a_status_and_a_source(path: Path) -> None:
    with path.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert rows
    for row in rows:
        assert None not in row, row
        assert row["status"] in STATUSES, row
        assert len(row["source"].strip()) > 5, row


def test_every_figure_that_is_listed_has_a_source_and_a_band_around_it() -> None:
    rows = listing(load_catalogue())
    assert {row.section for row in rows} == {"pipe", "fitting", "goods"}
    for row in rows:
        cited = row.cited
        assert cited.source, row
        assert math.isfinite(cited.value), row
        assert 0 <= cited.low <= cited.value <= cited.high, row


def test_no_estimated_length_has_a_band_narrower_than_an_eighth_of_an_inch() -> None:
    seen = 0
    for row in listing(load_catalogue()):
        if row.section == "fitting" and row.unit == "m" and row.cited.grade is Grade.ESTIMATE:
            seen += 1
            assert row.cited.value - row.cited.low >= EIGHTH_INCH_M - 1e-9, row
            assert row.cited.high - row.cited.value >= EIGHTH_INCH_M - 1e-9, row
    assert seen > 100


def test_remembered_lengths_of_fittings_get_the_same_band_down_to_nothing() -> None:
    for row in listing(load_catalogue()):
        if row.section == "fitting" and row.unit == "m" and row.cited.grade is Grade.FROM_MEMORY:
            assert row.cited.low == 0 or row.cited.value - row.cited.low >= EIGHTH_INCH_M - 1e-9, row
            assert row.cited.high - row.cited.value >= EIGHTH_INCH_M - 1e-9, row


def test_sizes_that_must_be_there() -> None:
    names = {pipe.key for pipe in load_catalogue().pipes}
    inch = {f"{size} in Sch 40" for size in ("1/2", "3/4", "1", "1-1/4", "1-1/2", "2")}
    metric = {f"{size} mm {rating}" for size in (25, 32, 40) for rating in ("PN 10", "PN 16")}
    assert inch | metric | {"32 mm waste", "40 mm waste"} <= names


def test_every_pipe_has_the_fittings_of_a_tent() -> None:
    catalogue = load_catalogue()
    for pipe in catalogue.pipes:
        kinds = {fitting.kind for fitting in catalogue.fittings(pipe.key)}
        assert {"elbow-90", "elbow-45", "tee", "cross", "side-outlet-elbow", "side-outlet-tee"} <= kinds
        assert ("elbow-22.5" in kinds) == (pipe.system == "inch")
        assert "elbow-60" not in kinds


def test_a_fitting_has_its_kinds_sockets_and_a_hub_that_takes_the_pipe() -> None:
    catalogue = load_catalogue()
    for pipe in catalogue.pipes:
        for fitting in catalogue.fittings(pipe.key):
            assert tuple(socket.name for socket in fitting.sockets) == KINDS[fitting.kind].sockets
            assert fitting.hub_diameter.value > pipe.outside_diameter.high
            assert fitting.mass_kg is not None


def test_a_tee_borrows_the_90_elbows_depth_and_hub_as_estimates() -> None:
    catalogue = load_catalogue()
    tee, elbow = (catalogue.fitting("1 in Sch 40", kind) for kind in ("tee", "elbow-90"))
    assert tee is not None
    assert elbow is not None
    assert elbow.hub_diameter.grade is Grade.PUBLISHED
    assert tee.hub_diameter.value == elbow.hub_diameter.value
    assert tee.hub_diameter.grade is Grade.ESTIMATE
    assert tee.socket("branch").depth.value == elbow.socket("a").depth.value
    assert tee.socket("branch").depth.grade is Grade.ESTIMATE


def test_the_suspect_22_5_elbow_takes_the_45_elbows_depth() -> None:
    catalogue = load_catalogue()
    suspect, near = (catalogue.fitting("1-1/2 in Sch 40", kind) for kind in ("elbow-22.5", "elbow-45"))
    assert suspect is not None
    assert near is not None
    assert suspect.socket("a").depth.value == near.socket("a").depth.value
    assert suspect.socket("a").depth.grade is Grade.ESTIMATE
    assert suspect.socket("a").centre_to_stop.grade is Grade.ESTIMATE
    sound = catalogue.fitting("1 in Sch 40", "elbow-22.5")
    assert sound is not None
    assert sound.socket("a").depth.grade is Grade.DERIVED


def test_everything_has_a_demo_price() -> None:
    catalogue, prices = load_catalogue(), load_prices()
    assert prices.invented
    assert _unpriced(prices) == []
    assert {goods.group for goods in catalogue.all_goods} >= {
        *("film", "lath", "staples", "lath screws", "joint screws", "cement", "primer", "hinge", "latch", "prop"),
        *("paint", "tape"),
    }


def _unpriced(prices: Prices) -> list[str]:
    catalogue = load_catalogue()
    wanted = [(goods.key, label) for goods in catalogue.all_goods for label, _ in goods.packs]
    for pipe in catalogue.pipes:
        assert pipe.sticks_m
        wanted += [(f"pipe:{pipe.key}", stick_label(length_m, pipe)) for length_m in pipe.sticks_m]
        wanted += [(f"fitting:{fitting.key}", "each") for fitting in catalogue.fittings(pipe.key)]
    return [f"{item} {pack}" for item, pack in wanted if prices.price(item, pack) is None]


@pytest.mark.parametrize(
    "group", ["film", "lath", "staples", "lath screws", "joint screws", "cement", "hinge", "latch"]
)
@pytest.mark.parametrize("market", ["inch", "mm"])
def test_both_markets_can_buy_it(group: str, market: str) -> None:
    assert load_catalogue().goods(group, market)


def test_film_weighs_what_its_thickness_says() -> None:
    # Linear low-density polyethylene at 0.92 g/cm3 (a film converter's table): 23.4 g/m2 and mil.
    for film in load_catalogue().goods("film"):
        assert film.rolls
        assert [label for label, _ in film.packs] == [roll.label for roll in film.rolls]
        if "vinyl" not in film.name:
            mass, thickness = film.figures["mass_kg_m2"], film.figures["thickness_m"]
            assert mass.value / thickness.value == pytest.approx(920, rel=0.005), film.name


def test_a_film_is_found_by_its_name() -> None:
    assert load_catalogue().find_goods("film", "6 MIL  uv film").key == "6-mil-uv-film"


def test_the_plain_catalogue_is_read_once() -> None:
    assert load_catalogue() is load_catalogue()


def test_the_catalogue_needs_no_number_library() -> None:
    code = (
        "import sys, clochewright.catalogue as room; room.load_catalogue(); "
        "print(sorted({'numpy', 'pandas', 'pydantic'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
