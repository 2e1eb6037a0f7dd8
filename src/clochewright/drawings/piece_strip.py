"""The row above a build step's picture: what is taken in hand, and how many of each."""

from __future__ import annotations

from clochewright.assembly import Count, StoredPart, fitting_name
from clochewright.cuts import CutList
from clochewright.drawings.balloons import RADIUS_MM, letter_mm
from clochewright.drawings.lettering import CAP_HEIGHT, text_width_mm
from clochewright.drawings.marks import Circle, Mark, Text
from clochewright.drawings.members import Placing, fitting_solids
from clochewright.drawings.projection import View
from clochewright.drawings.sheet import MARGIN_MM, moved
from clochewright.drawings.solids import draw_solids
from clochewright.findings import word
from clochewright.frame import Fitting, Frame
from clochewright.measures import Units, show_length

ROW_MM = 11.0
_ICON_MM = 9.0
_TEXT_MM = 4.2
_GAP_MM = 5.0


def piece_strip(
    counts: tuple[Count, ...],
    frame: Frame,
    cutlist: CutList,
    stored: tuple[StoredPart, ...],
    view: View,
    units: Units,
    width_mm: float,
    *,
    each: bool = False,
) -> tuple[list[Mark], float]:
    """The pieces of a step in rows from the upper left corner, (0, 0) downwards, and the rows' height [mm].

    A pipe and a part have their balloon, a fitting its picture. `each` says that they are for one of several parts.
    """
    marks: list[Mark] = []
    x, y = MARGIN_MM, -ROW_MM / 2
    if each and counts:
        said = word("drawings.build.each")
        marks.append(Text("title", (x, y - CAP_HEIGHT * _TEXT_MM / 2), said, _TEXT_MM, face="bold"))
        x += text_width_mm(said, _TEXT_MM, "bold") + _GAP_MM / 2
    for count in counts:
        icon, icon_mm = _icon(count, frame, view)
        said = _said(count, cutlist, stored, units)
        wide = icon_mm + 1.5 + text_width_mm(said, _TEXT_MM)
        if x > MARGIN_MM and x + wide > width_mm - MARGIN_MM:
            x, y = MARGIN_MM, y - ROW_MM
        marks += [moved(mark, (x + icon_mm / 2, y)) for mark in icon]
        marks.append(Text("title", (x + icon_mm + 1.5, y - CAP_HEIGHT * _TEXT_MM / 2), said, _TEXT_MM))
        x += wide + _GAP_MM
    return marks, -y + ROW_MM / 2 if counts else 0.0


def _said(count: Count, cutlist: CutList, stored: tuple[StoredPart, ...], units: Units) -> str:
    what = count.what
    if count.sort == "pipe":
        length_m = next((cut.length_m for cut in cutlist.cuts if cut.mark == count.what), None)
        what = show_length(length_m, units) if length_m is not None else ""
    elif count.sort == "part":
        what = next((part.name for part in stored if part.id == count.what), "")
    else:
        what = fitting_name(what)
    return word("drawings.build.pieces", count=count.count, what=what).strip()


def _icon(count: Count, frame: Frame, view: View) -> tuple[list[Mark], float]:
    """A balloon, or a small picture, about (0, 0), and its width [mm]."""
    if count.sort == "fitting":
        fitting = next((one for one in frame.fittings if one.kind == count.what), None)
        return (_picture(fitting, view), _ICON_MM) if fitting is not None else ([], 0.0)
    size = letter_mm(count.what)
    letters = Text("mark", (0.0, -CAP_HEIGHT * size / 2), count.what, size, "middle", face="bold")
    return [Circle("mark", (0.0, 0.0), RADIUS_MM), letters], 2 * RADIUS_MM


def _picture(fitting: Fitting, view: View) -> list[Mark]:
    reach_m = max(port.centre_to_face_m for port in fitting.ports) + fitting.hub_diameter_m / 2
    placing = Placing(view, 1000 * 2 * reach_m / (_ICON_MM * 1.2))
    x, y = placing.point(fitting.position_m)
    return [moved(mark, (-x, -y)) for mark in draw_solids(list(fitting_solids(fitting, "fitting-new-fine", placing)))]
