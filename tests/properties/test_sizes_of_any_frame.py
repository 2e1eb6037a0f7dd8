"""Spreads and dry sizes over random beds, shapes and boxes of fittings: what must hold for every frame that stands."""

from __future__ import annotations

import random

import pytest
from plans import random_plan

from clochewright.catalogue import load_catalogue
from clochewright.cuts import CutList, Stock, cut_lengths, dry_size, spread
from clochewright.frame import raise_frame
from clochewright.plan import plan_from_si

NO_STOCK = Stock(0.0, True, 0.0, 0.0, ())


@pytest.fixture(scope="module")
def frames():
    """Frames that stand, each with its plan and shop."""
    draw = random.Random(20)
    found = []
    for _ in range(150):
        plan = plan_from_si(random_plan(draw))
        shop = load_catalogue(own_fittings=[one.model_dump() for one in plan.own.fittings], pipe=plan.pipe.size)
        frame = raise_frame(plan, shop)
        if frame.stands:
            found.append((plan, shop, frame))
    assert len(found) > 75
    return found


def test_sizes_as_planned_are_those_of_the_frame(frames):
    for plan, shop, frame in frames:
        sizes = spread(frame, CutList(*cut_lengths(frame, plan.units), NO_STOCK), plan, shop)
        if sizes.length and plan.cover.sections == 1:
            assert sizes.length.nominal == pytest.approx(frame.length_m, abs=1e-9)
        if sizes.diagonal and plan.cover.sections == 1:
            assert sizes.diagonal.nominal == pytest.approx(frame.diagonal_m, abs=1e-9)
        for size in (sizes.width, sizes.height):
            if size:
                assert size.nominal == pytest.approx({"width": frame.width_m, "height": frame.height_m}[size.name])
        for size in (sizes.rafter_gap, sizes.rafter_angle):
            assert size is None or size.nominal == pytest.approx(0, abs=1e-6)


def test_every_spread_holds_together(frames):
    for plan, shop, frame in frames:
        sizes = spread(frame, CutList(*cut_lengths(frame, plan.units), NO_STOCK), plan, shop)
        assert sizes.all
        for one in sizes.all:
            assert one.worst_low < one.likely < one.worst_high
            assert 0 < one.rss < (one.worst_high - one.worst_low) / 2 * 1.02  # 2 %: a bent is not quite straight
            assert one.fittings_low <= 0 <= one.fittings_high
        assert all(0.1 <= late.share <= 1 + 1e-9 for late in sizes.matter_most)


def test_a_bent_of_straight_pipes_has_its_height(frames):
    for plan, shop, frame in frames:
        sizes = spread(frame, CutList(*cut_lengths(frame, plan.units), NO_STOCK), plan, shop)
        if frame.shape != "tunnel":
            assert sizes.height, frame.shape
            assert {"length", "width", "diagonal"} <= {one.name for one in sizes.all}, frame.shape


def test_dry_is_never_smaller_than_home_on_a_straight_line(frames):
    for _, shop, frame in frames:
        for size in dry_size(frame, shop).sizes:
            assert size.dry_low_m <= size.dry_high_m
            if size.name in ("length", "width", "diagonal", "rafter", "post"):
                assert size.home_m - 1e-9 <= size.dry_low_m <= size.dry_m + 1e-9
                assert size.dry_m <= size.dry_high_m + 1e-9
