"""Cutting diagrams of what the shop made of the sticks: every piece has its own zero and ends where it ends."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest

from clochewright.cuts import carried
from clochewright.cuts.car import first_cuts
from clochewright.drawings import Line, Text, alike, draw_sticks
from clochewright.job import open_shelf, run_once
from clochewright.measures import read_length, show_length
from clochewright.plan import plan_from_text

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
CAR_M = 2.1  # for the plans that name no car
SIXTEENTH_M = 0.0254 / 16


@pytest.fixture(scope="module", params=EXAMPLES, ids=lambda path: path.stem)
def fetched(request):
    """A cut list whose sticks are fetched by car, the car's length [m] and the plan's units."""
    plan = plan_from_text(request.param.read_text(encoding="utf-8"), request.param.name)
    cutlist = run_once(plan, *open_shelf(plan, request.param.parent)).made.cutlist
    if plan.car is not None:
        return cutlist, plan.car.inside_length_m, plan.units
    firsts, _ = first_cuts(cutlist.stock, CAR_M, plan.units)
    return replace(cutlist, first_cuts=firsts), CAR_M, plan.units


def test_what_is_carried_fits_the_car_and_adds_up_to_the_stick(fetched):
    cutlist, car_m, _ = fetched
    kerf_m = cutlist.stock.kerf_m
    assert cutlist.first_cuts
    for first in cutlist.first_cuts:
        stick = cutlist.stock.sticks[first.stick]
        pieces = carried(stick, first, kerf_m)
        longest_m = max(length_m for _, length_m in stick.cuts)
        assert all(piece.length_m <= max(car_m, longest_m + 0.03) + 1e-9 for piece in pieces)
        if longest_m <= car_m:
            assert all(piece.length_m <= car_m + 1e-9 for piece in pieces)
        assert sum(piece.length_m for piece in pieces) + kerf_m * (len(pieces) - 1) == pytest.approx(stick.length_m)
        assert Counter(cut for piece in pieces for cut in piece.cuts) == Counter(stick.cuts)
        start_m = 0.0
        for at_m, piece in zip((*first.positions_m, stick.length_m), pieces, strict=True):
            assert at_m - start_m == pytest.approx(piece.length_m)
            start_m = at_m + kerf_m


def test_every_reading_lies_within_its_piece(fetched):
    cutlist, _, units = fetched
    groups, drawings = alike(cutlist), draw_sticks(cutlist, units)
    for group, drawing in zip(groups, drawings, strict=True):
        sawn = group[0].sawn
        assert show_length(sawn.length_m, units) in drawing.alt_text or group[0].piece == 0
        readings = [mark.text for mark in drawing.marks if isinstance(mark, Text) and mark.pen == "mark"]
        last_m = float(max(read_length(text.split(", to ")[-1]) for text in readings))
        assert last_m <= sawn.length_m + 1e-9
        # The last reading is where the last piece ends: all of them and a saw cut before each but the first.
        ends_m = sum(length_m for _, length_m in sawn.cuts) + cutlist.stock.kerf_m * (len(sawn.cuts) - 1)
        assert last_m == pytest.approx(ends_m, abs=SIXTEENTH_M / 2)


def test_every_cut_has_its_reading_or_its_rule(fetched):
    cutlist, _, units = fetched
    for group, drawing in zip(alike(cutlist), draw_sticks(cutlist, units), strict=True):
        told = 0
        for text in (mark.text for mark in drawing.marks if isinstance(mark, Text) and mark.pen == "mark"):
            told += 1
            if "every" in text:
                before, _, last = text.partition(", to ")
                step_m = read_length(before.split("every ")[1])
                run = next(n for mark, n in Counter(group[0].sawn.cuts).items()
                           if abs(mark[1] + cutlist.stock.kerf_m - step_m) < 1e-6)  # fmt: skip
                told += run - 1
                assert read_length(last) > step_m
        assert told == sum(1 for m in drawing.marks if isinstance(m, Line) and m.pen == "saw")


def test_pieces_from_the_shop_say_so(fetched):
    cutlist, _, units = fetched
    for group, drawing in zip(alike(cutlist), draw_sticks(cutlist, units), strict=True):
        one = group[0]
        if one.piece:
            assert f"piece {one.piece} of {one.pieces}" in drawing.title
            assert any(
                isinstance(mark, Text) and mark.text.startswith(show_length(one.sawn.length_m, units))
                for mark in drawing.marks
            )
        else:
            assert "piece" not in drawing.title
