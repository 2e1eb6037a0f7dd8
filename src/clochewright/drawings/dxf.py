"""Drawings as DXF: lines and lettering at true size, on layers named for what they show."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

from clochewright.drawings.lettering import CAP_HEIGHT, FONT_FILES
from clochewright.drawings.marks import Circle, Drawing, Line, Point, Text
from clochewright.drawings.pens import LAYERS, PENS

if TYPE_CHECKING:
    from ezdxf.document import Drawing as Document
    from ezdxf.layouts import Modelspace

_MM_TO_UNIT = {"inch": 1 / 25.4, "mm": 1.0}
_INSUNITS = {"inch": 1, "mm": 4}  # group code 70 values of $INSUNITS, DXF reference
_MEASUREMENT = {"inch": 0, "mm": 1}
_STYLES = {"regular": "lettering", "bold": "lettering bold", "italic": "lettering italic"}
_LAYER_COLOURS = {"pipe": 7, "fitting": 94, "dimension": 8, "mark": 30, "bed": 33}  # numbers of the DXF colour table
_LINE_WEIGHTS = (5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70)  # allowed by DXF [1/100 mm]


def write_dxf(drawing: Drawing) -> bytes:
    """The drawing as a DXF file, one drawing unit being one inch or one millimetre of the real thing.

    Tints are left out: lines that something covers are cut already, and a plotter or a CAD program wants lines.
    """
    import ezdxf

    before = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True  # no clock and no random ids: same drawing, same bytes
    try:
        document = ezdxf.new("R2010")
        _set_up(document, drawing)
        factor = drawing.scale * _MM_TO_UNIT[drawing.units]
        _draw(document.modelspace(), drawing, factor)
        stream = io.StringIO(newline="")
        document.write(stream)
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = before
    return stream.getvalue().encode("utf-8")


def _set_up(document: Document, drawing: Drawing) -> None:
    document.units = _INSUNITS[drawing.units]
    document.header["$MEASUREMENT"] = _MEASUREMENT[drawing.units]
    for face, name in _STYLES.items():
        document.styles.add(name, font=FONT_FILES[face].name)
    for name in LAYERS:
        widths = [pen.width_mm for pen in PENS.values() if pen.layer == name]
        weight = min(_LINE_WEIGHTS, key=lambda w: abs(w - 100 * max(widths)))
        document.layers.add(name, color=_LAYER_COLOURS[name], lineweight=weight)


def _draw(space: Modelspace, drawing: Drawing, factor: float) -> None:
    def true(point: Point) -> Point:
        return round(point[0] * factor, 6), round(point[1] * factor, 6)

    for mark in drawing.marks:
        layer = {"layer": PENS[mark.pen].layer}
        if isinstance(mark, Line):
            if len(mark.points) == 2:
                space.add_line(true(mark.points[0]), true(mark.points[1]), dxfattribs=layer)
            else:
                space.add_lwpolyline([true(p) for p in mark.points], close=mark.closed, dxfattribs=layer)
        elif isinstance(mark, Circle):
            space.add_circle(true(mark.centre), round(mark.radius_mm * factor, 6), dxfattribs=layer)
        elif isinstance(mark, Text):
            _letter(space, mark, true(mark.at), factor)


def _letter(space: Modelspace, mark: Text, at: Point, factor: float) -> None:
    from ezdxf.enums import TextEntityAlignment

    anchor = {
        "start": TextEntityAlignment.LEFT,
        "middle": TextEntityAlignment.CENTER,
        "end": TextEntityAlignment.RIGHT,
    }[mark.anchor]
    entity = space.add_text(
        mark.text,
        height=round(CAP_HEIGHT * mark.size_mm * factor, 6),
        rotation=mark.turn_deg,
        dxfattribs={"layer": PENS[mark.pen].layer, "style": _STYLES[mark.face]},
    )
    entity.set_placement(at, align=anchor)
