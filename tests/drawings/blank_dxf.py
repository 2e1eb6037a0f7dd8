"""Makes `blank.dxf`, the empty drawing that the DXF writer fills. Run it again when pens or lettering change."""

import io
from pathlib import Path

import ezdxf

from clochewright.drawings import FONT_FILES
from clochewright.drawings.pens import LAYERS, PENS

COLOURS = {"pipe": 7, "fitting": 94, "dimension": 8, "mark": 30, "bed": 33}  # numbers of the DXF colour table
LINE_WEIGHTS = (5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70)  # those DXF allows [1/100 mm]


def line_weight(layer: str) -> int:
    """The allowed weight nearest to the layer's widest pen [1/100 mm]."""
    widest = max(pen.width_mm for pen in PENS.values() if pen.layer == layer)
    return min(LINE_WEIGHTS, key=lambda weight: abs(weight - 100 * widest))


def make_blank() -> str:
    """An empty drawing with our layers and lettering styles, without clock or random ids."""
    before = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True
    try:
        document = ezdxf.new("R2010")
        document.units = ezdxf.units.MM
        document.header["$LASTSAVEDBY"] = "clochewright"
        for face, name in (("regular", "lettering"), ("bold", "lettering bold"), ("italic", "lettering italic")):
            document.styles.add(name, font=FONT_FILES[face].name)
        for layer in LAYERS:
            document.layers.add(layer, color=COLOURS[layer], lineweight=line_weight(layer))
        document.set_modelspace_vport(height=100.0, center=(50.0, 50.0))
        stream = io.StringIO()
        document.write(stream)
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = before
    return stream.getvalue()


if __name__ == "__main__":
    import clochewright.drawings

    Path(clochewright.drawings.__file__).with_name("blank.dxf").write_text(make_blank(), encoding="utf-8", newline="\n")
