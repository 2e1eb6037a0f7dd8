"""Covers, places and weather that tests of the season begin with."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pvlib

from clochewright.season import Gardener, Tent, enclosure_of
from clochewright.site import SORREL_YARD, SORREL_YARD_NORMALS, draw_years, read_weather

# A tent 2.4 x 1.2 m, eaves 150 mm and ridge 650 mm over the rim, soil 0.3 m above the ground.
OUTLINE = [(0.6, 0.0), (0.6, 0.15), (0.0, 0.65), (-0.6, 0.15), (-0.6, 0.0)]
TENT = enclosure_of(OUTLINE, 2.4, 2.3, 1.1, 0.3)
SHUT = Gardener("never")
GREENSBORO = Path(pvlib.__file__).parent / "data" / "723170TYA.CSV"  # a TMY3 file that comes with pvlib


@cache
def greensboro():
    return read_weather(GREENSBORO)


@cache
def sorrel_years(years: int, seed: int = 1):
    return draw_years(SORREL_YARD_NORMALS, SORREL_YARD, years, seed)


def cover(**changes):
    return Tent(TENT, SORREL_YARD, gardener=SHUT).but(**changes)
