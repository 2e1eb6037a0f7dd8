"""Drawings as DXF: lines and lettering at true size, on layers named for what they show; written by ezdxf."""

from __future__ import annotations

import io
from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING

from clochewright.drawings.lettering import CAP_HEIGHT, FONT_FILES
from clochewright.drawings.marks import Area, Circle, Drawing, Line, Mark, Text
from clochewright.drawings.pens import LAYERS, PENS

if TYPE_CHECKING:
    from ezdxf.document import Drawing as Document
    from ezdxf.layouts.layout import Modelspace

VERSION = "R2010"  # text in UTF-8, line weights, light polylines; CAD programs of the last fifteen years read it
COLOURS = MappingProxyType({"pipe": 7, "fitting": 94, "dimension": 8, "mark": 30, "bed": 33})  # DXF colour numbers
LINE_WEIGHTS = (5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70)  # of those that DXF allows [1/100 mm]
STYLES = MappingProxyType({"regular": "lettering", "bold": "lettering bold", "italic": "lettering italic"})
_MM_TO_UNIT = {"inch": 1 / 25.4, "mm": 1.0}
_DECIMALS = 6


def write_dxf(drawing: Drawing) -> bytes:
    """The drawing as a DXF file, one drawing unit being one inch or one millimetre of the real thing.

    Tints are left out: lines that something covers are cut already, and a plotter or a CAD program wants lines.
    """
    factor = drawing.scale * _MM_TO_UNIT[drawing.units]
    document = _empty(drawing, factor)
    _draw(document.modelspace(), drawing.marks, factor)
    stream = io.StringIO()
    document.write(stream)
    return stream.getvalue().encode(document.output_encoding, "dxfreplace")


def line_weight(layer: str) -> int:
    """The allowed weight nearest to the layer's widest pen [1/100 mm]."""
    widest_mm = max(pen.width_mm for pen in PENS.values() if pen.layer == layer)
    return min(LINE_WEIGHTS, key=lambda weight: abs(weight - 100 * widest_mm))


def _empty(drawing: Drawing, factor: float) -> Document:
    """A document with our layers and lettering styles and nothing drawn; it shows the whole sheet when opened."""
    from ezdxf import options, units  # type: ignore[attr-defined]  # here: only those who want DXF wait for it
    from ezdxf.filemanagement import new

    options.write_fixed_meta_data_for_testing = True  # no clock and no random ids: same drawing, same bytes
    document = new(VERSION, units=units.IN if drawing.units == "inch" else units.MM)
    document.header["$MEASUREMENT"] = 0 if drawing.units == "inch" else 1
    document.header["$LASTSAVEDBY"] = "clochewright"
    for face, name in STYLES.items():
        document.styles.add(name, font=FONT_FILES[face].name)
    for layer in LAYERS:
        document.layers.add(layer, color=COLOURS[layer], lineweight=line_weight(layer))
    # ezdxf keeps the names of the classes in a set, whose order is another one in each run
    document.classes.add_required_classes(document.dxfversion)
    document.classes.classes = dict(sorted(document.classes.classes.items()))
    width, height = float(drawing.width_mm) * factor, float(drawing.height_mm) * factor
    document.set_modelspace_vport(height=max(height, width * 0.6), center=(width / 2, height / 2))
    document.modelspace().reset_extents((0.0, 0.0, 0.0), (width, height, 0.0))
    document.header["$EXTMIN"], document.header["$EXTMAX"] = (0.0, 0.0, 0.0), (width, height, 0.0)
    return document


def _draw(space: Modelspace, marks: Iterable[Mark], factor: float) -> None:
    from ezdxf.enums import TextEntityAlignment as Align

    anchors: Mapping[str, Align] = {"start": Align.LEFT, "middle": Align.CENTER, "end": Align.RIGHT}

    def place(point: tuple[float, float]) -> tuple[float, float]:
        return round(point[0] * factor, _DECIMALS), round(point[1] * factor, _DECIMALS)

    for mark in marks:
        layer = {"layer": PENS[mark.pen].layer}
        if isinstance(mark, Area):
            continue
        if isinstance(mark, Line) and len(mark.points) == 2:
            space.add_line(place(mark.points[0]), place(mark.points[1]), layer)
        elif isinstance(mark, Line):
            space.add_lwpolyline(list(map(place, mark.points)), "xy", close=mark.closed, dxfattribs=layer)
        elif isinstance(mark, Circle):
            space.add_circle(place(mark.centre), mark.radius_mm * factor, layer)
        elif isinstance(mark, Text):
            text = space.add_text(
                mark.text,
                height=CAP_HEIGHT * mark.size_mm * factor,
                rotation=mark.turn_deg,
                dxfattribs=layer | {"style": STYLES[mark.face]},
            )
            text.set_placement(place(mark.at), align=anchors[mark.anchor])
