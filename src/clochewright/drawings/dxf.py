"""Drawings as DXF: lines and lettering at true size, on layers named for what they show.

ezdxf makes the document with its header, tables and objects; the entities are put in as text (see dxf_entities).
"""

from __future__ import annotations

import io
from types import MappingProxyType
from typing import TYPE_CHECKING

from clochewright.drawings.dxf_entities import entities
from clochewright.drawings.lettering import FONT_FILES
from clochewright.drawings.marks import Drawing
from clochewright.drawings.pens import LAYERS, PENS

if TYPE_CHECKING:
    from ezdxf.document import Drawing as Document

VERSION = "R2010"  # text in UTF-8, line weights, light polylines; CAD programs of the last fifteen years read it
COLOURS = MappingProxyType({"pipe": 7, "fitting": 94, "dimension": 8, "mark": 30, "bed": 33})  # DXF colour numbers
LINE_WEIGHTS = (5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70)  # of those that DXF allows [1/100 mm]
STYLES = MappingProxyType({"regular": "lettering", "bold": "lettering bold", "italic": "lettering italic"})
_MM_TO_UNIT = {"inch": 1 / 25.4, "mm": 1.0}
_ENTITIES, _END = "  2\nENTITIES\n", "  0\nENDSEC\n"
_NO_ENTITIES = _ENTITIES + _END


def write_dxf(drawing: Drawing) -> bytes:
    """The drawing as a DXF file, one drawing unit being one inch or one millimetre of the real thing.

    Tints are left out: lines that something covers are cut already, and a plotter or a CAD program wants lines.
    """
    factor = drawing.scale * _MM_TO_UNIT[drawing.units]
    document = _empty(drawing, factor)
    drawn = entities(drawing.marks, factor, document.entitydb.next_handle, document.modelspace().layout_key, STYLES)
    stream = io.StringIO()
    document.write(stream)
    head, tail = stream.getvalue().split(_NO_ENTITIES)
    return f"{head}{_ENTITIES}{drawn}{_END}{tail}".encode(document.output_encoding, "dxfreplace")


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
