"""The four views of a frame: plan, side, end and three-quarter, each with its dimensions and balloons."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from clochewright.cuts import CutList
from clochewright.drawings.balloons import Labelled, place_balloons
from clochewright.drawings.marks import Area, Drawing, Mark
from clochewright.drawings.measured import end_dimensions, plan_dimensions, side_dimensions
from clochewright.drawings.members import BedBox, Placing, bed_marks, frame_solids, seen_path_m
from clochewright.drawings.projection import VIEWS, View
from clochewright.drawings.sheet import HEADING_MM, MARGIN_MM, SCALES, Box, box_around, heading, moved, scale_bar
from clochewright.drawings.solids import Solid, draw_solids
from clochewright.frame import Frame
from clochewright.measures import Units, show_length

Measured = Callable[[Frame, Placing, Box, Units], list[Mark]]

_BALLOON_ROOM_MM = 9.0  # kept around a view that has no dimensions on that side


@dataclass(frozen=True, slots=True)
class _Plate:
    """What a view shows besides the frame: its dimensions, its note, and whether each pipe is labelled."""

    measured: Measured
    note: str
    every_pipe: bool = False


def _no_dimensions(frame: Frame, placing: Placing, around: Box, units: Units) -> list[Mark]:  # noqa: ARG001
    return []


_PLATES = {
    "plan": _Plate(plan_dimensions, "c-c: from pipe centre to pipe centre. Over all: hub to hub, as it stands on the bed."),
    "side": _Plate(side_dimensions, "The front end is on the left. Heights are from the rim of the bed."),
    "end": _Plate(end_dimensions, "Seen from the front. Slopes are measured from the foot's centre to the top's."),
    "three-quarter": _Plate(_no_dimensions, "From the front, on the right-hand side.", every_pipe=True),
}


def draw_views(
    frame: Frame,
    cutlist: CutList,
    bed: BedBox | None = None,
    units: Units = "inch",
    paper_mm: tuple[float, float] = (180.0, 120.0),
) -> dict[str, Drawing]:
    """Draws the frame in its four views.

    Args:
        frame: The frame in space.
        cutlist: Gives each pipe its mark.
        bed: The boards below, drawn pale; left out if None.
        units: How lengths are shown.
        paper_mm: Width and greatest height of each sheet [mm].

    Returns:
        "plan", "side", "end" and "three-quarter", in this order.
    """
    return {name: _draw(frame, cutlist, bed, units, view, paper_mm) for name, view in VIEWS.items()}


def _draw(
    frame: Frame, cutlist: CutList, bed: BedBox | None, units: Units, view: View, paper_mm: tuple[float, float]
) -> Drawing:
    plate = _PLATES[view.name]
    placing, boards, solids, dims = _fit(frame, bed, units, view, plate, paper_mm)
    standing = draw_solids(solids)
    content = [*boards, *standing, *dims]
    around = box_around(content)
    spare = 0.0 if dims else _BALLOON_ROOM_MM
    width = paper_mm[0]
    height = around.height + 2 * spare + HEADING_MM + MARGIN_MM
    sheet = Box(MARGIN_MM, MARGIN_MM / 2, width - MARGIN_MM, height - HEADING_MM + 1.0)
    by = ((width - around.width) / 2 - around.left, MARGIN_MM + spare - around.bottom)
    # The frame goes where it stands on the sheet before the balloons look for room.
    content = [moved(mark, by) for mark in content]
    placing = Placing(view, placing.scale, (placing.origin_mm[0] + by[0], placing.origin_mm[1] + by[1]))
    solids = frame_solids(frame, placing)
    obstacles = [mark for mark in content if mark.pen in ("dimension", "tick")]
    balloons = place_balloons(
        list(_groups(frame, cutlist, placing, plate.every_pipe)),
        solids,
        obstacles,
        (sheet.left, sheet.bottom, sheet.right, sheet.top),
    )
    marks = [*content, *balloons, *heading(view.title, plate.note, width, height)]
    if plate.measured is not _no_dimensions:
        marks += scale_bar((width - MARGIN_MM - 4.0, height - MARGIN_MM - 3.6), placing.scale, units)
    return Drawing(view.title, width, height, placing.scale, units, tuple(marks), _in_words(frame, cutlist, view, units))


def _fit(
    frame: Frame, bed: BedBox | None, units: Units, view: View, plate: _Plate, paper_mm: tuple[float, float]
) -> tuple[Placing, list[Mark], list[Solid], list[Mark]]:
    """The largest scale at which the view with its dimensions fits the paper; the smallest there is, if none does."""
    most_width = paper_mm[0] - 2 * MARGIN_MM
    most_height = paper_mm[1] - HEADING_MM - MARGIN_MM
    for scale in SCALES[units]:
        placing = Placing(view, scale)
        boards = bed_marks(bed, placing) if bed else []
        solids = frame_solids(frame, placing)
        around = box_around([*boards, *(Area(s.pen, s.outline) for s in solids)])
        last = scale == SCALES[units][-1]
        if not last and (around.width > most_width or around.height > most_height):
            continue
        dims = plate.measured(frame, placing, around, units)
        spare = 0.0 if dims else 2 * _BALLOON_ROOM_MM
        whole = box_around([*boards, *(Area(s.pen, s.outline) for s in solids), *dims])
        if last or (whole.width + spare <= most_width and whole.height + spare <= most_height):
            return placing, boards, solids, dims
    raise AssertionError("unreachable: the last scale is always taken")


def _groups(frame: Frame, cutlist: CutList, placing: Placing, every_pipe: bool) -> Iterator[list[Labelled]]:
    """Pipes by mark, in the order of the cut list, the longest on paper first; or each pipe on its own."""
    by_mark: dict[str, list[Labelled]] = {cut.mark: [] for cut in cutlist.cuts}
    for pipe in frame.pipes:
        path = seen_path_m(pipe)
        if len(path) > 1 and pipe.id in cutlist.mark_of:
            mark = cutlist.mark_of[pipe.id]
            by_mark.setdefault(mark, []).append(Labelled(pipe.id, mark, placing.place(path)))
    for pipes in by_mark.values():
        if every_pipe:
            yield from ([pipe] for pipe in pipes)
        elif pipes:
            yield pipes


def _in_words(frame: Frame, cutlist: CutList, view: View, units: Units) -> str:
    """What the drawing shows, for those who can't see it."""
    size = (
        f"{show_length(frame.length_m, units, style='long')} long, {show_length(frame.width_m, units, style='long')} wide "
        f"and {show_length(frame.height_m, units, style='long')} high over all"
    )
    pipes = "; ".join(f"{c.count} of {c.mark}, {c.role}, {show_length(c.length_m, units)}" for c in cutlist.cuts)
    return f"{view.title} of the frame: {size}, with {len(frame.stations_m)} bents. Pipes as cut: {pipes}."
