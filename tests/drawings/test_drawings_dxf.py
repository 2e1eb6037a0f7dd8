"""The DXF writer, read back and audited with ezdxf."""

from __future__ import annotations

import io
import math
import os
import subprocess
import sys

import ezdxf
import pytest
from drawing_samples import INCH, sticks

from clochewright.drawings import Area, Circle, Drawing, Line, Text, draw_sticks, stick_sheets, write_dxf
from clochewright.drawings.dxf import COLOURS, line_weight
from clochewright.drawings.lettering import CAP_HEIGHT, FONT_FILES
from clochewright.drawings.pens import LAYERS, PENS


def read(drawing):
    return ezdxf.read(io.StringIO(write_dxf(drawing).decode("utf-8")))


def page(units):
    marks = (
        Area("fitting", ((0.0, 0.0), (10.0, 0.0), (10.0, 5.0))),
        Line("pipe", ((0.0, 0.0), (25.4, 0.0))),
        Line("fitting", ((0.0, 2.0), (20.0, 2.0), (20.0, 9.0)), closed=True),
        Circle("mark", (30.0, 40.0), 3.0),
        Text("dimension", (5.0, 6.0), "45° × ½", 4.0, "middle", 90.0, "bold"),
        Text("note", (7.0, 8.0), "note", 3.0),
    )
    return Drawing("Test", 60.0, 50.0, 10.0, units, marks, "words")


def test_all_views_audit_clean(any_views):
    for drawing in any_views.values():
        audit = read(drawing).audit()
        assert audit.errors == []
        assert audit.fixes == []


def test_cutting_diagrams_audit_clean():
    diagrams = draw_sticks(sticks((120, 46, 46, 2), (48, 20)))
    for drawing in (*diagrams, *stick_sheets(diagrams)):
        audit = read(drawing).audit()
        assert (audit.errors, audit.fixes) == ([], [])


@pytest.mark.parametrize(("units", "code", "unit_mm"), [("inch", 1, 25.4), ("mm", 4, 1.0)])
def test_it_is_at_true_size_and_says_its_unit(units, code, unit_mm):
    document = read(page(units))
    assert document.header["$INSUNITS"] == code  # 1 inches, 4 millimetres: DXF reference, $INSUNITS
    (line,) = document.modelspace().query("LINE")
    assert line.dxf.start.distance(line.dxf.end) == pytest.approx(254.0 / unit_mm, abs=1e-5)
    (circle,) = document.modelspace().query("CIRCLE")
    assert circle.dxf.radius == pytest.approx(30.0 / unit_mm, abs=1e-5)
    assert document.header["$EXTMAX"][:2] == pytest.approx((600 / unit_mm, 500 / unit_mm), abs=1e-5)


def test_entities_carry_shape_and_lettering():
    space = read(page("mm")).modelspace()
    (polyline,) = space.query("LWPOLYLINE")
    assert polyline.closed
    assert [tuple(point[:2]) for point in polyline.get_points()] == [(0, 20), (200, 20), (200, 90)]
    turned, plain = space.query("TEXT")
    assert turned.dxf.text == "45° × ½"
    assert (turned.dxf.rotation, turned.dxf.style) == (90.0, "lettering bold")
    assert turned.dxf.height == pytest.approx(40.0 * CAP_HEIGHT)
    assert turned.get_placement()[0].name == "CENTER"
    assert plain.get_placement()[0].name == "LEFT"
    assert not space.query("HATCH")


def test_layers_are_named_for_what_they_show(usual_views):
    for drawing in usual_views.values():
        document = read(drawing)
        assert {entity.dxf.layer for entity in document.modelspace()} <= set(LAYERS)
        assert set(LAYERS) <= {layer.dxf.name for layer in document.layers}
    assert {PENS[name].layer for name in PENS} == set(LAYERS)


def test_a_dimension_line_is_as_long_as_it_says(usual_tent, usual_views):
    lengths = [
        math.dist(line.dxf.start, line.dxf.end)
        for line in read(usual_views["plan"]).modelspace().query('LINE[layer=="dimension"]')
    ]
    assert any(abs(length - usual_tent.base_length_m / INCH) < 1e-4 for length in lengths)
    assert any(abs(length - usual_tent.length_m / INCH) < 1e-4 for length in lengths)


def test_handles_are_unique_and_below_the_seed(usual_views):
    document = read(usual_views["plan"])
    handles = [int(entity.dxf.handle, 16) for entity in document.modelspace()]
    assert len(set(handles)) == len(handles)
    text = write_dxf(usual_views["plan"]).decode()
    seed = int(text.split("$HANDSEED\n  5\n")[1].split("\n")[0], 16)
    assert max(handles) < seed


def test_the_same_drawing_gives_the_same_bytes(usual_views):
    for drawing in usual_views.values():
        assert write_dxf(drawing) == write_dxf(drawing)


def test_layers_and_lettering_are_what_the_pens_ask_for():
    document = read(Drawing("", 1.0, 1.0, 1.0, "mm", (), ""))
    assert {style.dxf.name: style.dxf.font for style in document.styles if style.dxf.name != "Standard"} == {
        "lettering": FONT_FILES["regular"].name,
        "lettering bold": FONT_FILES["bold"].name,
        "lettering italic": FONT_FILES["italic"].name,
    }
    for layer in LAYERS:
        assert document.layers.get(layer).dxf.color == COLOURS[layer]
        assert document.layers.get(layer).dxf.lineweight == line_weight(layer)
    # A line weight is one of those that the format allows: DXF reference, common group codes, 370.
    assert {line_weight(layer) for layer in LAYERS} <= set(ezdxf.lldxf.const.VALID_DXF_LINEWEIGHTS)


def test_another_run_gives_the_same_bytes(usual_views):
    """In a process of its own, at another time, where sets and tables may come in another order."""
    code = (
        "import sys; from clochewright.drawings import *\n"
        "marks = (Line('pipe', ((0.0, 0.0), (25.4, 0.0))), Text('note', (7.0, 8.0), 'note', 3.0))\n"
        "sys.stdout.buffer.write(write_dxf(Drawing('Test', 60.0, 50.0, 10.0, 'mm', marks, 'words')))"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, check=True, env={**os.environ, "PYTHONHASHSEED": "7"}
    )
    marks = (Line("pipe", ((0.0, 0.0), (25.4, 0.0))), Text("note", (7.0, 8.0), "note", 3.0))
    assert done.stdout == write_dxf(Drawing("Test", 60.0, 50.0, 10.0, "mm", marks, "words"))
