"""The shopping list: nothing missing, packs rounded up, prices added."""

from __future__ import annotations

import csv
import io
from collections import Counter
from decimal import Decimal
from types import SimpleNamespace

import pytest

from clochewright.catalogue import Prices, load_catalogue, load_prices
from clochewright.cuts import cut
from clochewright.film import cut_sheet
from clochewright.findings import say
from clochewright.joints import choose_joints
from clochewright.lid import hang_lid
from clochewright.plan import plan_from_si
from clochewright.supplies import list_supplies, supplies_csv
from frame_samples import FOOT, INCH, tent


@pytest.fixture(scope="module")
def catalogue():
    return load_catalogue()


@pytest.fixture(scope="module")
def prices(catalogue):
    return load_prices(None, catalogue)


def bench(frame, catalogue, prices, units="inch", sticks=((10 * FOOT, 7.2),), seat="home", **film):
    """All steps up to the list."""
    bed = {"length_m": frame.length_m, "width_m": frame.width_m}
    plan = plan_from_si({"bed": bed, "units": units, "film": film, "joints": {"seat": seat}})
    found = SimpleNamespace(plan=plan, frame=frame)
    found.cuts = cut(frame, units=units, kerf_m=0.003, sticks=list(sticks), on_hand_m=())
    found.film = cut_sheet(frame, plan, catalogue)
    found.lid = hang_lid(frame, plan)
    found.joints = choose_joints(frame, plan)
    found.list = list_supplies(frame, found.cuts, found.film, found.lid, found.joints, plan, catalogue, prices)
    return found


def bought(supplies, group):
    return [row for row in supplies.rows if row.group == group]


def in_packs(catalogue, rows):
    """How much the packs of these rows hold, in the goods' unit."""
    (row,) = {row.item for row in rows}
    packs = dict(next(goods for goods in catalogue.all_goods if goods.key == row).packs)
    return sum(packs[supply.unit] * supply.quantity for supply in rows)


@pytest.mark.parametrize("units", ["inch", "mm"])
@pytest.mark.parametrize("bents", [2, 3, 5])
def test_nothing_is_missing(catalogue, prices, units, bents):
    frame = tent(8 * FOOT, 4 * FOOT, bents)
    done = bench(frame, catalogue, prices, units)

    counts = Counter(fitting.kind for fitting in frame.fittings)
    assert {row.item.split(":")[1]: row.quantity for row in bought(done.list, "fitting")} == counts

    sticks = Counter(stick.length_m for stick in done.cuts.stock.sticks)
    assert sum(row.quantity for row in bought(done.list, "pipe")) == sum(sticks.values())
    sawn = Counter(mark for stick in done.cuts.stock.sticks for mark, _ in stick.cuts)
    assert sawn == {row.mark: row.count for row in done.cuts.cuts}
    assert sum(sawn.values()) == len(frame.pipes)

    assert in_packs(catalogue, bought(done.list, "staples")) >= done.film.staples
    assert in_packs(catalogue, bought(done.list, "lath screws")) >= done.film.screws
    assert in_packs(catalogue, bought(done.list, "hinge")) >= len(done.lid.hinges)
    assert in_packs(catalogue, bought(done.list, "latch")) >= len(done.lid.latches)
    assert in_packs(catalogue, bought(done.list, "lath")) >= sum(sum(lath.pieces_m) for lath in done.film.laths)
    assert in_packs(catalogue, bought(done.list, "prop")) >= sum(prop.length_m for prop in done.lid.props)
    assert len(bought(done.list, "film")) == 1


def test_a_dry_frame_needs_screws_and_no_cement(catalogue, prices):
    done = bench(tent(8 * FOOT, 4 * FOOT, 3, seat_m=0.6 * INCH), catalogue, prices, seat="dry")
    assert bought(done.list, "cement") == bought(done.list, "primer") == []
    assert in_packs(catalogue, bought(done.list, "joint screws")) >= done.joints.screws > 0


def test_paint_covers_pipe_and_hubs_twice(catalogue, prices, small_tent):
    """Ten square metres a litre, from memory; two coats all round what film lies on, by hand from the frame's sizes."""
    done = bench(small_tent, catalogue, prices)
    skin = [pipe for pipe in small_tent.pipes if pipe.role in ("side rail", "end rail", "rafter", "ridge")]
    pipe_m2 = 3.14159 * 1.315 * INCH * sum(pipe.cut_length_m for pipe in skin)
    assert in_packs(catalogue, bought(done.list, "paint")) >= 2 * pipe_m2 / 10
    vinyl = bench(small_tent, catalogue, prices, kind="8 mil clear vinyl film")
    assert bought(vinyl.list, "paint") == []


def test_pipe_on_hand_is_not_bought(catalogue, prices, small_tent):
    plan = plan_from_si({"bed": {"length_m": 1.2, "width_m": 0.9}})
    cuts = cut(small_tent, units="inch", kerf_m=0.003, sticks=[(3.048, 7.2)], on_hand_m=[6.0] * 4)
    done = list_supplies(
        small_tent, cuts, cut_sheet(small_tent, plan, catalogue), hang_lid(small_tent, plan),
        choose_joints(small_tent, plan), plan, catalogue, prices,
    )  # fmt: skip
    assert bought(done, "pipe") == []


def test_joined_film_brings_its_tape(catalogue, prices):
    done = bench(tent(16 * FOOT, 8 * FOOT, 5), catalogue, prices, kind="8 mil clear vinyl film")
    joins = len(done.film.sheets) - 1
    assert joins > 0
    (row,) = bought(done.list, "film")
    assert row.quantity == done.film.roll.count
    along = done.film.sheets[0].width_m if done.film.roll.across else done.film.sheets[0].length_m
    assert in_packs(catalogue, bought(done.list, "tape")) >= 2 * joins * along


def test_the_total_is_the_sum_of_the_rows(catalogue, prices, small_tent):
    done = bench(small_tent, catalogue, prices).list
    assert done.complete
    assert done.total == sum(row.unit_price * row.quantity for row in done.rows)
    assert "supplies.invented-prices" in [finding.key for finding in done.findings]


def test_a_missing_price_is_named_with_the_line_to_add(catalogue, prices, small_tent):
    some = Prices({key: price for key, price in prices.rows.items() if key[0] != "latch"})
    done = bench(small_tent, catalogue, some).list
    assert not done.complete
    (finding,) = [finding for finding in done.findings if finding.key == "supplies.no-price"]
    assert finding.where == "latch"
    assert "latch,each,0.00" in say(finding, "inch").mend
    assert done.total == sum((row.price for row in done.rows if row.price is not None), Decimal(0))


def test_the_line_to_add_is_the_line_the_price_file_reads(catalogue, small_tent, tmp_path):
    """Every missing price that is written as the finding says is found again."""
    missing = bench(small_tent, catalogue, Prices()).list
    lines = [finding.values["line"] for finding in missing.findings if finding.key == "supplies.no-price"]
    file = tmp_path / "prices.csv"
    file.write_text("item,pack,price\n" + "".join(f"{line}\n" for line in lines), encoding="utf-8")
    again = bench(small_tent, catalogue, load_prices(file, catalogue)).list
    assert again.complete


def test_the_table_holds_every_row_and_the_total(catalogue, prices, small_tent):
    done = bench(small_tent, catalogue, prices).list
    text = supplies_csv(done)
    assert text == supplies_csv(done)
    rows = list(csv.DictReader(io.StringIO(text)))
    assert [row["item"] for row in rows] == [*(row.item for row in done.rows), "total"]
    assert Decimal(rows[-1]["price"]) == sum(Decimal(row["price"]) for row in rows[:-1])
