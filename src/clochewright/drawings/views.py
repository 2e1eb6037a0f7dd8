"""The four views of a frame: plan, side, end and three-quarter, each with its dimensions and balloons."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from clochewright.cuts import CutList
from clochewright.drawings.balloons import Labelled, place_balloons
from clochewright.drawings.marks import Drawing, Mark, Text
from clochewright.drawings.measured import plan_dimensions, side_dimensions
from clochewright.drawings.measured_end import end_dimensions
from clochewright.drawings.members import BedBox, Placing, bed_marks, dashed, frame_solids, hidden_sleeves, seen_path_m
from clochewright.drawings.projection import VIEWS, View
from clochewright.drawings.sheet import (
    MARGIN_MM,
    SCALES,
    Box,
    box_around,
    heading_mm,
    on_sheet,
)
from clochewright.drawings.solids import draw_solids
from clochewright.findings import word
from clochewright.frame import Frame, is_panel
from clochewright.measures import Units, show_length

Measured = Callable[[Frame, Placing, Box, Units], list[Mark]]

_BALLOON_ROOM_MM = 9.0  # kept around a view that has no dimensions on that side
_MOST_BALLOONS = 26  # a frame with more pipes than this is labelled by mark only


@dataclass(frozen=True, slots=True)
class _Plate:
    """What a view shows besides the frame: its dimensions.

    `every_pipe` labels each pipe, not each mark; `fade_behind_m` draws what lies so far behind the middle lighter [m].
    """

    measured: Measured
    every_pipe: bool = False
    fade_behind_m: float | None = None


def _no_dimensions(frame: Frame, placing: Placing, around: Box, units: Units) -> list[Mark]:  # noqa: ARG001
    return []


_PLATES = {
    "plan": _Plate(plan_dimensions),
    "side": _Plate(side_dimensions, fade_behind_m=0.01),
    "end": _Plate(end_dimensions),
    "three-quarter": _Plate(_no_dimensions, every_pipe=True),
}
_OWN_END_NOTES = ("barn", "lean-to", "own", "tunnel")


def draw_views(
    frame: Frame,
    cutlist: CutList,
    bed: BedBox | None = None,
    units: Units = "inch",
    paper_mm: tuple[float, float] = (180.0, 120.0),
    heights_mm: Mapping[str, float] = MappingProxyType({}),
    names: Collection[str] = tuple(VIEWS),
) -> dict[str, Drawing]:
    """Draws the frame in its four views, or in some of them.

    Args:
        frame: The frame in space.
        cutlist: Gives each pipe its mark.
        bed: The boards below, drawn pale; left out if None.
        units: How lengths are shown.
        paper_mm: Width and greatest height of each sheet [mm].
        heights_mm: Greatest heights of single views by name, where they differ [mm].
        names: Which of them are wanted.

    Returns:
        "plan", "side", "end" and "three-quarter", in this order.
    """
    return {
        name: _draw(frame, cutlist, bed, units, view, (paper_mm[0], heights_mm.get(name, paper_mm[1])))
        for name, view in VIEWS.items()
        if name in names
    }


def _draw(
    frame: Frame, cutlist: CutList, bed: BedBox | None, units: Units, view: View, paper_mm: tuple[float, float]
) -> Drawing:
    plate = _PLATES[view.name]
    sleeves = hidden_sleeves(frame, bed, view)

    def note_on(dims: list[Mark]) -> str:
        return _note(frame, cutlist, view, dims, bool(sleeves))

    placing, dims, around = _fit(frame, bed, units, view, paper_mm, note_on)
    solids = frame_solids(frame, placing, fade_behind_m=plate.fade_behind_m, without={s.id for s in sleeves})
    drawn = [*(bed_marks(bed, placing) if bed else []), *draw_solids(solids), *dashed(sleeves, placing), *dims]
    spare = 0.0 if dims else _BALLOON_ROOM_MM
    width = paper_mm[0]
    left = around.left_mm - (width - around.width_mm) / 2
    free = Box(left + MARGIN_MM, around.bottom_mm - spare, left + width - MARGIN_MM, around.top_mm + spare)
    drawn += place_balloons(list(_groups(frame, cutlist, placing, plate.every_pipe)), solids, dims, free)
    note = note_on(dims)
    words = _in_words(frame, cutlist, view, units)
    return on_sheet(drawn, view.title, note, width, placing.scale, units, words, left_mm=left, bar=bool(dims))


def _note(frame: Frame, cutlist: CutList, view: View, dims: list[Mark], sleeves_hidden: bool) -> str:
    """The line below the title: how to read the view, and what it can't show."""
    name = view.name
    if name == "end" and frame.shape in _OWN_END_NOTES:
        name = f"end-{frame.shape}"
    elif name == "plan" and word("drawings.from-here") in {m.text for m in dims if isinstance(m, Text)}:
        name = "readings"
    said = [word(f"drawings.note.{name}")]
    if view.name == "plan" and len({fitting.body for fitting in frame.fittings if not is_panel(fitting.body)}) > 1:
        said.append(word("drawings.note.sections"))
    if sleeves_hidden:
        said.append(word("drawings.note.sleeves"))
    seen = {cutlist.mark_of.get(pipe.id) for pipe in frame.pipes if len(seen_path_m(pipe)) > 1}
    hidden = [cut.mark for cut in cutlist.cuts if cut.mark not in seen]
    if hidden and view.name == "three-quarter":
        said.append(word("drawings.note.hidden", marks=", ".join(hidden)))
    return " ".join(said)


def _fit(
    frame: Frame,
    bed: BedBox | None,
    units: Units,
    view: View,
    paper_mm: tuple[float, float],
    note_on: Callable[[list[Mark]], str],
) -> tuple[Placing, list[Mark], Box]:
    """The largest scale at which the view fits the paper, its dimensions, and the room that both take.

    Where nothing fits, the smallest scale there is.
    """
    plate = _PLATES[view.name]

    def most_height(dims: list[Mark]) -> float:
        return paper_mm[1] - heading_mm(note_on(dims), paper_mm[0]) - MARGIN_MM

    most_width, usual_height = paper_mm[0] - 2 * MARGIN_MM, most_height([])
    for scale in _scales(plate, units, _room(frame, bed, Placing(view, 1.0)), most_width, usual_height):
        placing = Placing(view, scale)
        alone = _room(frame, bed, placing)
        last = scale >= SCALES[units][-1]
        if not last and (alone.width_mm > most_width or alone.height_mm > usual_height):
            continue
        dims = plate.measured(frame, placing, alone, units)
        spare = 0.0 if dims else 2 * _BALLOON_ROOM_MM
        around = box_around(dims, alone)
        if last or (around.width_mm + spare <= most_width and around.height_mm + spare <= most_height(dims)):
            return placing, dims, around
    raise AssertionError("unreachable: the last scale is always taken")


def _scales(plate: _Plate, units: Units, full_size: Box, width_mm: float, height_mm: float) -> Iterator[float]:
    """Scales to try: the one that just fits where nothing is measured, then the usual ones."""
    if plate.measured is _no_dimensions:
        spare = 2 * _BALLOON_ROOM_MM + 0.1
        yield round(max(full_size.width_mm / (width_mm - spare), full_size.height_mm / (height_mm - spare)) + 0.005, 2)
    yield from SCALES[units]


def _room(frame: Frame, bed: BedBox | None, placing: Placing) -> Box:
    """The box around frame and bed on paper."""
    hub_m = max((fitting.hub_diameter_m for fitting in frame.fittings), default=0.0)
    thick_m = max(hub_m, frame.pipe_outside_diameter_m)
    points = [point for pipe in frame.pipes for point in pipe.path_m] + [f.position_m for f in frame.fittings]
    paper = placing.place(np.array(points))
    r = thick_m / 2 * placing.mm_per_m
    low, high = paper.min(axis=0) - r, paper.max(axis=0) + r
    return box_around(bed_marks(bed, placing) if bed else [], Box(low[0], low[1], high[0], high[1]))


def _groups(frame: Frame, cutlist: CutList, placing: Placing, every_pipe: bool) -> Iterator[list[Labelled]]:
    """Which pipes share a balloon, in the order of the cut list: those of a mark, the nearest first.

    With `every_pipe` each has its own; in a large frame, one in the front half of a mark's pipes and one in the back.
    """
    by_mark: dict[str, list[Labelled]] = {cut.mark: [] for cut in cutlist.cuts}
    for pipe in frame.pipes:
        path = seen_path_m(pipe)
        if len(path) > 1 and pipe.id in cutlist.mark_of:
            mark = cutlist.mark_of[pipe.id]
            by_mark.setdefault(mark, []).append(Labelled(pipe.id, mark, placing.place(path)))
    for pipes in by_mark.values():
        pipes.sort(key=lambda pipe: -round(float(pipe.path[:, 2].mean()), 1))
        if not every_pipe:
            groups = [pipes]
        elif len(frame.pipes) <= _MOST_BALLOONS:
            groups = [[pipe] for pipe in pipes]
        else:
            half = (len(pipes) + 1) // 2
            groups = [pipes[:half], pipes[half:]]
        yield from (group for group in groups if group)


def _in_words(frame: Frame, cutlist: CutList, view: View, units: Units) -> str:
    """What the drawing shows, for those who can't see it."""
    length, width, height = (
        show_length(size_m, units, style="long") for size_m in (frame.length_m, frame.width_m, frame.height_m)
    )
    size = f"{length} long, {width} wide and {height} high over all"
    pipes = "; ".join(f"{c.count} of {c.mark}, {c.role}, {show_length(c.length_m, units)}" for c in cutlist.cuts)
    return f"{view.title} of the frame: {size}, with {len(frame.stations_m)} bents. Pipes as cut: {pipes}."
