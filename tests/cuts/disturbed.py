"""Frames to disturb, and their cut lists without nesting; no geometry of the rooms under test is repeated here."""

from __future__ import annotations

from functools import cache

from clochewright.catalogue import load_catalogue
from clochewright.cuts import CutList, Stock, cut_lengths
from clochewright.frame import raise_frame
from clochewright.plan import plan_from_si

INCH = 0.0254


@cache
def shop():
    return load_catalogue()


def bench(length_m=96 * INCH, width_m=46 * INCH, **wishes):
    """Plan, frame and cut list of a bed so long and wide."""
    plan = plan_from_si({"bed": {"length_m": length_m, "width_m": width_m}, **wishes})
    frame = raise_frame(plan, shop())
    assert frame.stands, frame.findings
    return plan, frame, cutlist(frame, plan.units)


def cutlist(frame, units):
    return CutList(*cut_lengths(frame, units), Stock(0.0, True, 0.0, 0.0, ()))


