"""The named pens: line width, ink, tint and layer of everything that is drawn.

Five layers (pipe, fitting, dimension, mark, bed) carry all lines. Inks are dark enough to read in sunlight and keep
their order of weight in grey print; tints are pale, so that lines and lettering on them stay sharp.
"""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType

INK = "#1f2a33"
SLATE = "#3f4e59"
MOSS = "#4c6638"
TERRACOTTA = "#a23f22"
EARTH = "#8a7358"
PAPER = "#ffffff"
PALE_MOSS = "#dfe9d0"
MID_MOSS = "#b9cda0"
FAR_INK = "#7a858c"
FAINT_MOSS = "#eff4e8"
PALE_CLAY = "#f6e2d8"
PALE_TIMBER = "#f3eadb"
PALE_SOIL = "#eee7da"
FAINT = "#f4f5f3"
PALE_WATER = "#eef3f2"
NIGHT = "#2c3a4f"
FROSTY = "#9fb0bd"
HOT_CLAY = "#e2a284"
GRID = "#cfd3d1"

LAYERS = ("pipe", "fitting", "dimension", "mark", "bed")


@dataclass(frozen=True, slots=True)
class Pen:
    """One pen. `width_mm` is on paper [mm]; `tint` fills areas and circles; `dash_mm` is dash and gap [mm]."""

    name: str
    layer: str
    width_mm: float
    ink: str
    tint: str = PAPER
    dash_mm: tuple[float, ...] = ()


_PENS = (
    Pen("bed", "bed", 0.25, EARTH, PALE_TIMBER),
    Pen("soil", "bed", 0.18, EARTH, PALE_SOIL),
    Pen("pipe", "pipe", 0.35, INK, PAPER),
    Pen("fitting", "fitting", 0.5, INK, PALE_MOSS),
    Pen("pipe-fine", "pipe", 0.22, INK, PAPER),
    Pen("fitting-fine", "fitting", 0.28, INK, PALE_MOSS),
    Pen("pipe-behind", "pipe", 0.2, FAR_INK, PAPER),
    Pen("fitting-behind", "fitting", 0.25, FAR_INK, FAINT_MOSS),
    Pen("fitting-hidden", "fitting", 0.25, INK, PAPER, (1.4, 1.0)),
    Pen("pipe-new", "pipe", 0.5, INK, PAPER),
    Pen("fitting-new", "fitting", 0.55, INK, MID_MOSS),
    Pen("pipe-new-fine", "pipe", 0.3, INK, PAPER),
    Pen("fitting-new-fine", "fitting", 0.32, INK, MID_MOSS),
    Pen("fitting-strong", "fitting", 0.3, INK, INK),
    Pen("pipe-there", "pipe", 0.2, FAR_INK, PAPER),
    Pen("fitting-there", "fitting", 0.22, FAR_INK, FAINT_MOSS),
    Pen("guide", "mark", 0.28, TERRACOTTA, TERRACOTTA, (1.3, 0.9)),
    Pen("move", "mark", 0.7, TERRACOTTA, TERRACOTTA),
    Pen("twist", "mark", 0.45, TERRACOTTA),
    Pen("tag", "dimension", 0.3, INK, INK),
    Pen("tag-text", "dimension", 0.3, PAPER),
    Pen("inset", "dimension", 0.3, SLATE, PAPER),
    Pen("inset-ring", "dimension", 0.3, SLATE, "none"),
    Pen("floor", "bed", 0.18, EARTH, FAINT),
    Pen("box", "bed", 0.3, INK, PALE_TIMBER),
    Pen("box-side", "bed", 0.3, INK, PAPER),
    Pen("dimension", "dimension", 0.18, SLATE),
    Pen("tick", "dimension", 0.45, SLATE),
    Pen("leader", "mark", 0.18, TERRACOTTA, TERRACOTTA),
    Pen("mark", "mark", 0.4, TERRACOTTA, PAPER),
    Pen("title", "dimension", 0.3, INK, INK),
    Pen("note", "dimension", 0.18, SLATE, FAINT),
    Pen("piece", "pipe", 0.4, INK, PAPER),
    Pen("rule", "dimension", 0.18, SLATE),
    Pen("saw", "mark", 0.6, TERRACOTTA, TERRACOTTA),
    Pen("offcut", "bed", 0.25, EARTH, PALE_CLAY),
    Pen("roll", "bed", 0.35, EARTH, PAPER),
    Pen("sheet", "bed", 0.35, INK, PALE_WATER),
    Pen("skin", "bed", 0.18, SLATE, PALE_MOSS),
    Pen("rail-line", "pipe", 0.55, INK),
    Pen("crest-line", "pipe", 0.3, INK, PAPER, (4.0, 1.0)),
    Pen("bent-line", "pipe", 0.18, SLATE),
    Pen("roll-line", "dimension", 0.18, SLATE, PAPER, (0.8, 0.8)),
    Pen("pleat-line", "fitting", 0.35, MOSS, PAPER, (1.8, 1.0)),
    Pen("air-kills", "mark", 0.2, NIGHT, NIGHT),
    Pen("air-cold", "mark", 0.2, SLATE, FROSTY),
    Pen("air-grows", "mark", 0.2, MOSS, FAINT_MOSS),
    Pen("air-hot", "mark", 0.2, TERRACOTTA, HOT_CLAY),
    Pen("hot-hatch", "mark", 0.22, TERRACOTTA),
    Pen("month-line", "dimension", 0.12, FAR_INK),
    Pen("grid", "dimension", 0.15, GRID),
    Pen("air-range", "mark", 0.2, SLATE, "#d5dde1"),
    Pen("air-outside", "mark", 0.55, SLATE, PAPER, (2.2, 1.4)),
    Pen("air-inside", "mark", 0.75, INK),
    Pen("air-opened", "mark", 0.75, MOSS, PAPER, (0.1, 1.5)),
    Pen("air-level", "mark", 0.4, TERRACOTTA, PAPER, (4.0, 1.2)),
    Pen("week-bare", "mark", 0.18, SLATE, "#d5dde1"),
    Pen("week-covered", "mark", 0.18, NIGHT, NIGHT),
    Pen("unbent", "bed", 0.25, FAR_INK),
    Pen("bent", "pipe", 0.8, INK),
    Pen("worked-little", "pipe", 0.3, SLATE),
    Pen("worked-half", "pipe", 1.0, INK),
    Pen("worked-most", "pipe", 2.0, INK),
    Pen("load", "mark", 1.0, TERRACOTTA, TERRACOTTA),
    Pen("trim-line", "mark", 0.35, TERRACOTTA, PAPER, (3.2, 1.2)),
    Pen("ground", "bed", 0.6, EARTH),
    Pen("wall", "bed", 0.35, EARTH, PALE_SOIL),
    Pen("way", "mark", 0.25, TERRACOTTA, PAPER, (0.9, 1.1)),
    Pen("reach", "dimension", 0.3, SLATE, PAPER, (2.2, 1.2)),
    Pen("bar", "pipe", 0.35, INK, PALE_TIMBER),
    Pen("bar-behind", "pipe", 0.2, FAR_INK, PAPER),
    Pen("scale-line", "dimension", 0.13, FAR_INK),
    Pen("axis", "dimension", 0.35, INK),
    Pen("band", "bed", 0.15, EARTH, PALE_CLAY),
    Pen("curve", "mark", 0.75, TERRACOTTA),
    Pen("curve-bar", "pipe", 0.45, INK, PAPER, (3.0, 1.2)),
    Pen("limit", "mark", 0.5, INK, PAPER, (0.9, 0.9)),
    Pen("cut-line", "dimension", 0.18, SLATE, PAPER, (2.0, 1.4)),
    Pen("centre-line", "dimension", 0.25, INK, PAPER, (5.0, 1.0, 0.8, 1.0)),
    Pen("hole", "mark", 0.3, INK, PALE_MOSS),
    Pen("hand", "mark", 0.45, TERRACOTTA, PALE_CLAY),
)
PENS = MappingProxyType({pen.name: pen for pen in _PENS})
