"""Marks as DXF entities, tag by tag: ezdxf writes an entity in a tenth of a millisecond, and a job has a thousand.

Group codes as in the DXF reference (R2010), entities LINE, LWPOLYLINE, CIRCLE and TEXT.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from types import MappingProxyType

from clochewright.drawings.lettering import CAP_HEIGHT
from clochewright.drawings.marks import Circle, Line, Mark, Point, Text
from clochewright.drawings.pens import PENS

_ALIGNED = MappingProxyType({"start": 0, "middle": 1, "end": 2})  # group 72 of TEXT
_DECIMALS = 6

Tag = tuple[int, object]


def entities(
    marks: Iterable[Mark], factor: float, handle: Callable[[], str], owner: str, styles: Mapping[str, str]
) -> str:
    """The entities section's content.

    Args:
        marks: What is drawn; areas are left out.
        factor: Drawing units to a millimetre on paper.
        handle: Gives the next free handle of the document.
        owner: Handle of the model space's block record.
        styles: Name of the lettering style for each face.
    """
    tags: list[Tag] = []
    for mark in marks:
        if isinstance(mark, Line):
            name, body = _line(mark, factor)
        elif isinstance(mark, Circle):
            name, body = "CIRCLE", [(100, "AcDbCircle"), *_at(10, mark.centre, factor), (40, mark.radius_mm * factor)]
        elif isinstance(mark, Text):
            name, body = "TEXT", _text(mark, factor, styles)
        else:
            continue
        head = [(0, name), (5, handle()), (330, owner), (100, "AcDbEntity"), (8, PENS[mark.pen].layer)]
        tags += head + body
    return "".join(f"{code:3d}\n{value}\n" for code, value in tags)


def _line(line: Line, factor: float) -> tuple[str, list[Tag]]:
    if len(line.points) == 2:
        start, end = line.points
        return "LINE", [(100, "AcDbLine"), *_at(10, start, factor), *_at(11, end, factor)]
    tags: list[Tag] = [(100, "AcDbPolyline"), (90, len(line.points)), (70, int(line.closed))]
    for point in line.points:
        tags += _at(10, point, factor)[:2]
    return "LWPOLYLINE", tags


def _text(text: Text, factor: float, styles: Mapping[str, str]) -> list[Tag]:
    aligned = _ALIGNED[text.anchor]
    return [
        (100, "AcDbText"),
        *_at(10, text.at, factor),
        (40, CAP_HEIGHT * text.size_mm * factor),
        (1, text.text),
        (50, text.turn_deg),
        (7, styles[text.face]),
        (72, aligned),
        *(_at(11, text.at, factor) if aligned else ()),
        (100, "AcDbText"),
    ]


def _at(code: int, point: Point, factor: float) -> list[Tag]:
    x, y = round(point[0] * factor, _DECIMALS), round(point[1] * factor, _DECIMALS)
    return [(code, x), (code + 10, y), (code + 20, 0.0)]
