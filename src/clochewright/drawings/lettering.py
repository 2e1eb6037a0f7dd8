"""The lettering: the shipped typeface, how wide a text comes out, and the room it takes on paper.

Atkinson Hyperlegible (SIL Open Font License 1.1, text beside the files) is made to be told apart at a glance. It has
no prime signs, so feet and inches are written `ft` and `in`, or with the plain marks ' and ".
"""

from __future__ import annotations

import math
from functools import lru_cache
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING

from clochewright.drawings.marks import Face, Point, Text

if TYPE_CHECKING:
    from PIL.ImageFont import FreeTypeFont

FAMILY = "Atkinson Hyperlegible"
FONT_FOLDER = Path(__file__).parent / "fonts"
FONT_FILES = MappingProxyType(
    {
        "regular": FONT_FOLDER / "AtkinsonHyperlegible-Regular.ttf",
        "bold": FONT_FOLDER / "AtkinsonHyperlegible-Bold.ttf",
        "italic": FONT_FOLDER / "AtkinsonHyperlegible-Italic.ttf",
    }
)

# Parts of the type size, from the typeface's own tables (OS/2 cap height, hhea ascent and descent; 1000 to the em).
CAP_HEIGHT = 0.668
DESCENT = 0.22

_MEASURED_AT = 1000


@lru_cache(maxsize=3)
def _font(face: Face) -> FreeTypeFont:
    from PIL import ImageFont

    return ImageFont.truetype(FONT_FILES[face], _MEASURED_AT, layout_engine=ImageFont.Layout.BASIC)


@lru_cache(maxsize=4096)
def _em_width(text: str, face: Face) -> float:
    return _font(face).getlength(text) / _MEASURED_AT


def text_width_mm(text: str, size_mm: float, face: Face = "regular") -> float:
    """Width of a text set at `size_mm` [mm], in [mm]."""
    return _em_width(text, face) * size_mm


def text_corners(text: Text, pad_mm: float = 0.0) -> tuple[Point, Point, Point, Point]:
    """The four corners [mm] of the box around a text, with `pad_mm` to spare all round, counter-clockwise."""
    width = text_width_mm(text.text, text.size_mm, text.face)
    left = {"start": 0.0, "middle": -width / 2, "end": -width}[text.anchor]
    bottom, top = -DESCENT * text.size_mm - pad_mm, CAP_HEIGHT * text.size_mm + pad_mm
    cos, sin = math.cos(math.radians(text.turn_deg)), math.sin(math.radians(text.turn_deg))

    def corner(x: float, y: float) -> Point:
        return text.at[0] + x * cos - y * sin, text.at[1] + x * sin + y * cos

    start, end = left - pad_mm, left + width + pad_mm
    return corner(start, bottom), corner(end, bottom), corner(end, top), corner(start, top)
