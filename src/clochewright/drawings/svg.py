"""Drawings as SVG: real lettering, sizes in millimetres, the same bytes for the same drawing."""

from __future__ import annotations

from collections.abc import Iterator
from html import escape
from itertools import groupby

import svg

from clochewright.drawings.lettering import FAMILY
from clochewright.drawings.marks import Area, Circle, Drawing, Line, Mark, Point, Text
from clochewright.drawings.pens import PENS, Pen

_MANY = 40  # areas of one pen in a row, from which they are one path
_FALLBACK = "Verdana, Arial, sans-serif"


def write_svg(drawing: Drawing) -> str:
    """The drawing as an SVG document.

    Pens become classes (`cw-pipe`), so a page may recolour them; marks of a pipe, fitting or stick carry its id in
    `data-part`.
    """
    used = sorted({mark.pen for mark in drawing.marks}, key=list(PENS).index)
    elements: list[svg.Element] = [
        svg.Title(text=escape(drawing.title)),
        svg.Desc(text=escape(drawing.alt_text)),
        svg.Style(text="".join(_rules(PENS[name]) for name in used)),
    ]
    height = drawing.height_mm
    for key, run in groupby(drawing.marks, key=_kind):
        elements += _elements(list(run), height, merge=key[0] is Line)
    document = svg.SVG(
        xmlns="http://www.w3.org/2000/svg",
        width=svg.mm(_short(drawing.width_mm)),
        height=svg.mm(_short(height)),
        viewBox=f"0 0 {_number(drawing.width_mm)} {_number(height)}",  # type: ignore[arg-type]
        class_=["cw-drawing"],
        extra={"role": "img", "font-family": f"{FAMILY}, {_FALLBACK}"},
        elements=elements,
    )
    return f"{document}\n"


def _rules(pen: Pen) -> str:
    """The styles of one pen: its lines, its areas, its lettering."""
    dash = f"stroke-dasharray:{','.join(map(_number, pen.dash_mm))};" if pen.dash_mm else ""
    return (
        f".cw-{pen.name}{{fill:none;stroke:{pen.ink};stroke-width:{_number(pen.width_mm)};{dash}"
        "stroke-linejoin:round;stroke-linecap:round}"
        f".cw-{pen.name}-area{{fill:{pen.tint}}}"
        f".cw-{pen.name}-text{{fill:{pen.ink}}}"
    )


def _kind(mark: Mark) -> tuple[type, str, str]:
    return type(mark), mark.pen, mark.part


def _elements(marks: list[Mark], height: float, *, merge: bool) -> Iterator[svg.Element]:
    first = marks[0]
    data = {"part": escape(first.part)} if first.part else None
    if merge:  # lines of one pen and part that follow each other are one path
        route = "".join(_route(mark.points, mark.closed, height) for mark in marks if isinstance(mark, Line))
        yield svg.Path(class_=[f"cw-{first.pen}"], data=data, extra={"d": route})
        return
    if len(marks) > _MANY and isinstance(first, Area):  # a field of rectangles, all drawn the same way round
        route = "".join(_route(mark.points, True, height) for mark in marks if isinstance(mark, Area))
        yield svg.Path(class_=[f"cw-{first.pen}-area"], data=data, extra={"d": route})
        return
    for mark in marks:
        if isinstance(mark, Area):
            route = _route(mark.points, True, height)
            yield svg.Path(class_=[f"cw-{mark.pen}-area"], data=data, extra={"d": route})
        elif isinstance(mark, Circle):
            x, y = mark.centre
            yield svg.Circle(
                class_=[f"cw-{mark.pen}", f"cw-{mark.pen}-area"],
                data=data,
                cx=_short(x),
                cy=_short(height - y),
                r=_short(mark.radius_mm),
            )
        elif isinstance(mark, Text):
            yield _lettering(mark, height, data)


def _lettering(mark: Text, height: float, data: dict[str, str] | None) -> svg.Text:
    x, y = mark.at[0], height - mark.at[1]
    turn = _number(-mark.turn_deg)
    return svg.Text(
        class_=[f"cw-{mark.pen}-text"],
        data=data,
        x=_short(x),
        y=_short(y),
        font_size=_short(mark.size_mm),
        text_anchor=None if mark.anchor == "start" else mark.anchor,
        font_weight="bold" if mark.face == "bold" else None,
        font_style="italic" if mark.face == "italic" else None,
        extra={"transform": f"rotate({turn} {_number(x)} {_number(y)})"} if turn != "0" else None,
        text=escape(mark.text, quote=False),
    )


def _route(points: tuple[Point, ...], closed: bool, height: float) -> str:
    steps = "L".join(f"{_number(x)} {_number(height - y)}" for x, y in points)
    return f"M{steps}{'Z' if closed else ''}"


def _number(value: float) -> str:
    """A length to 1/1000 mm, without trailing zeros or a minus before zero."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _short(value: float) -> float | int:
    number = float(_number(value))
    return int(number) if number.is_integer() else number
