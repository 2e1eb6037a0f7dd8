"""Drawings as DXF: lines and lettering at true size, on layers named for what they show.

The file's frame (header, layers, lettering styles) is `blank.dxf`, an empty drawing made once with ezdxf by
`tests/drawings/blank_dxf.py` and checked against the pens by the tests. The entities are written here, straight from
the marks (AutoCAD 2010 DXF reference, ENTITIES section): loading ezdxf would take longer than the whole job.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from pathlib import Path

from clochewright.drawings.lettering import CAP_HEIGHT
from clochewright.drawings.marks import Area, Circle, Drawing, Line, Mark, Text
from clochewright.drawings.pens import PENS

_BLANK = Path(__file__).with_name("blank.dxf")
_MM_TO_UNIT = {"inch": 1 / 25.4, "mm": 1.0}
_INSUNITS = {"inch": 1, "mm": 4}  # $INSUNITS, DXF reference, HEADER section
_MEASUREMENT = {"inch": 0, "mm": 1}
_STYLES = {"regular": "lettering", "bold": "lettering bold", "italic": "lettering italic"}
_ANCHORS = {"start": 0, "middle": 1, "end": 2}  # group 72 of TEXT
_FIRST_HANDLE = 0x1000  # well above those in the blank

Tags = list[tuple[int, str | int | float]]


def write_dxf(drawing: Drawing) -> bytes:
    """The drawing as a DXF file, one drawing unit being one inch or one millimetre of the real thing.

    Tints are left out: lines that something covers are cut already, and a plotter or a CAD program wants lines.
    """
    factor = drawing.scale * _MM_TO_UNIT[drawing.units]
    space = _space_handle()
    entities: list[str] = []
    handle = _FIRST_HANDLE
    for mark in drawing.marks:
        for kind, tags in _entity(mark, factor):
            head: Tags = [(0, kind), (5, f"{handle:X}"), (330, space), (100, "AcDbEntity"), (8, PENS[mark.pen].layer)]
            entities += [_group(code, value) for code, value in (*head, *tags)]
            handle += 1
    width, height = drawing.width_mm * factor, drawing.height_mm * factor
    text = _blank()
    for anchor, code, value in (
        ("$INSUNITS", 70, _INSUNITS[drawing.units]),
        ("$MEASUREMENT", 70, _MEASUREMENT[drawing.units]),
        ("$HANDSEED", 5, f"{handle:X}"),
        ("$EXTMIN", 10, 0.0),
        ("$EXTMIN", 20, 0.0),
        ("$EXTMAX", 10, width),
        ("$EXTMAX", 20, height),
        ("*Active", 12, width / 2),  # what a program shows first: the whole sheet
        ("*Active", 22, height / 2),
        ("*Active", 40, max(height, width * 0.6)),
    ):
        text = _put(text, anchor, code, value)
    place = text.index("ENTITIES\n") + len("ENTITIES\n")
    return "".join((text[:place], *entities, text[place:])).encode("utf-8")


@cache
def _blank() -> str:
    return _BLANK.read_text(encoding="utf-8")


@cache
def _space_handle() -> str:
    """Handle of the block record that owns what is drawn."""
    text = _blank()
    record = text.index("*Model_Space", text.index("\nBLOCK_RECORD\n"))
    start = text.rindex("\n  5\n", 0, record) + len("\n  5\n")
    return text[start : text.index("\n", start)]


def _entity(mark: Mark, factor: float) -> Iterator[tuple[str, Tags]]:
    """The mark as a kind of entity and its own groups, at true size."""
    if isinstance(mark, Area):
        return
    if isinstance(mark, Line) and len(mark.points) == 2:
        (x1, y1), (x2, y2) = mark.points
        yield "LINE", [(100, "AcDbLine"), *_at(10, x1, y1, factor), *_at(11, x2, y2, factor)]
    elif isinstance(mark, Line):
        corners = [(code, v * factor) for x, y in mark.points for code, v in ((10, x), (20, y))]
        yield "LWPOLYLINE", [(100, "AcDbPolyline"), (90, len(mark.points)), (70, int(mark.closed)), *corners]
    elif isinstance(mark, Circle):
        yield "CIRCLE", [(100, "AcDbCircle"), *_at(10, *mark.centre, factor), (40, mark.radius_mm * factor)]
    elif isinstance(mark, Text):
        at = _at(10, *mark.at, factor)
        yield (
            "TEXT",
            [
                (100, "AcDbText"),
                *at,
                (40, CAP_HEIGHT * mark.size_mm * factor),
                (1, mark.text),
                (50, mark.turn_deg),
                (7, _STYLES[mark.face]),
                (72, _ANCHORS[mark.anchor]),
                *((code + 1, value) for code, value in at),
                (100, "AcDbText"),
            ],
        )


def _at(code: int, x: float, y: float, factor: float) -> Tags:
    return [(code, x * factor), (code + 10, y * factor), (code + 20, 0.0)]


def _group(code: int, value: str | int | float) -> str:
    shown = f"{value:.6f}" if isinstance(value, float) else value
    return f"{code:>3}\n{shown}\n"


def _put(text: str, anchor: str, code: int, value: str | int | float) -> str:
    """The text with another value in the first group `code` after `anchor`."""
    head = f"\n{code:>3}\n"
    start = text.index(head, text.index(anchor))
    end = text.index("\n", start + len(head))
    return f"{text[: start + 1]}{_group(code, value)}{text[end + 1 :]}"
