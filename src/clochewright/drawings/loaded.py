"""The frame under load: how it bends at its limit, drawn larger than it is, and how hard each pipe is worked.

How hard a pipe is worked is told by the weight of its line, and by words beside the hardest, so that it reads in grey.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from clochewright.drawings.lettering import CAP_HEIGHT, text_width_mm
from clochewright.drawings.marks import Area, Circle, Drawing, Line, Mark, Point, Text
from clochewright.drawings.members import BedBox, Placing, bed_marks
from clochewright.drawings.projection import VIEWS
from clochewright.drawings.sheet import MARGIN_MM, Box, box_around, on_sheet
from clochewright.findings import word
from clochewright.frame import Vec, covers
from clochewright.job import Job
from clochewright.measures import Units, show_length, show_speed
from clochewright.strength import BentShape, Limit, about_m

WIDTH_MM, HEIGHT_MM = 180.0, 105.0
LOADS: Mapping[str, str] = {"shut": "wind", "wet": "snow"}
LOADED_NAMES = ("bent-wind", "worked-wind", "bent-snow", "worked-snow")
# A share of what a pipe bears, from which its line is so heavy.
WEIGHTS = ((0.0, "worked-little"), (1 / 3, "worked-half"), (2 / 3, "worked-most"))
TOLD = 4  # as many of the hardest worked lengths are named
_EXAGGERATED_SHARE = 0.25  # of the frame's height: the largest movement as it is drawn
_FACTORS = (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0)
_LABEL_MM, _SAMPLE_MM, _LEGEND_MM, _ROW_MM = 3.5, 11.0, 3.3, 5.6
_LEADER_MM = 4.0  # how far beside the frame its names begin
_ARROW_MM, _HEAD_MM, _ARROW_ROOM_MM = 13.0, 3.0, 24.0


def draw_loaded(job: Job, width_mm: float = WIDTH_MM, height_mm: float = HEIGHT_MM) -> dict[str, Drawing]:
    """The pictures of a job whose strength was worked out: "bent-wind", "worked-wind", "bent-snow", "worked-snow".

    Args:
        job: The finished job; one in a hurry, or refused, has none.
        width_mm: Width of the sheets of paper [mm].
        height_mm: Greatest height that the frame itself takes up [mm].
    """
    if job.made is None:
        return {}
    drawn = {}
    for shape in job.made.strength.shapes:
        limit = job.made.strength.limit(shape.case)
        if limit is not None and shape.rest_m:
            sheet = _Sheet(job, shape, limit, width_mm, height_mm)
            drawn[f"bent-{LOADS[shape.case]}"] = sheet.bent()
            drawn[f"worked-{LOADS[shape.case]}"] = sheet.worked()
    return drawn


class _Sheet:
    """One load on the first cover of a job."""

    def __init__(self, job: Job, shape: BentShape, limit: Limit, width_mm: float, height_mm: float) -> None:
        assert job.made is not None
        self.job, self.shape, self.limit, self.width_mm = job, shape, limit, width_mm
        self.units: Units = job.plan.units
        self.load = LOADS[shape.case]
        self.marks_of = job.made.cutlist.mark_of
        row = covers(job.frame)
        cover, bed = row[0][0], job.plan.bed
        length_m = bed.outside_length_m if len(row) == 1 else cover.length_m
        self.bed = BedBox(length_m, bed.outside_width_m, bed.height_m, bed.board_m)
        self.roles = {pipe.id: pipe.role for pipe in job.frame.pipes}
        self.size_m = max(cover.length_m, cover.width_m, cover.height_m)
        self.factor, self.most_m = _exaggeration(shape, cover.height_m)
        self.height_mm = height_mm
        self.placing = self._fitted(_ARROW_ROOM_MM)

    def bent(self) -> Drawing:
        """Thin where it stands unloaded, heavy where it has gone, drawn so many times as far."""
        drawn: list[Mark] = [*bed_marks(self.bed, self.placing)]
        drawn += [Line("unbent", self._line(points), part=pipe) for pipe, points in self.shape.rest_m.items()]
        drawn += [Line("bent", self._line(points), part=pipe) for pipe, points in self._exaggerated().items()]
        drawn += self._arrow(drawn)
        samples = [(pen, word(f"drawings.loaded.{pen}")) for pen in ("unbent", "bent")]
        drawn += self._legend(samples, box_around(drawn))
        note = word("drawings.loaded.bent-note", **self._said(), **self._drawn())
        return self._finished("bent", drawn, note)

    def worked(self) -> Drawing:
        """The heavier a line, the nearer that pipe is to what it bears."""
        by_share = sorted(self.shape.rest_m, key=lambda pipe: self.shape.shares.get(pipe, 0.0))
        names = self._told(by_share[::-1])
        widest_mm = max((text_width_mm(text, _LABEL_MM, "bold") for _, text in names), default=0.0)
        self.placing = self._fitted(2 * (widest_mm + _LEADER_MM + 2.0))
        drawn: list[Mark] = [*bed_marks(self.bed, self.placing)]
        drawn += [Line(self._pen(pipe), self._line(self.shape.rest_m[pipe]), part=pipe) for pipe in by_share]
        drawn += self._names(box_around(drawn), names)
        samples = [(pen, word(f"drawings.loaded.{pen}")) for _, pen in WEIGHTS]
        drawn += self._legend(samples, box_around(drawn))
        note = word("drawings.loaded.worked-note", **self._said(), governs=self.limit.governs)
        return self._finished("worked", drawn, note)

    def _pen(self, pipe: str) -> str:
        share = self.shape.shares.get(pipe, 0.0)
        return [pen for least, pen in WEIGHTS if share >= least][-1]

    def _said(self) -> dict[str, str]:
        """The load in words: how much of it, and how it comes."""
        value = self.limit.value
        if self.limit.kind == "gust_m_s":
            shown = show_speed(value, self.units)
        else:
            shown = show_length(about_m(value, self.units), self.units)
        return {"load": word(f"drawings.loaded.{self.load}", value=shown), "came": _came(self.shape)}

    def _drawn(self) -> dict[str, str]:
        """How far it really goes, and how many times as far it is drawn."""
        name = "true" if self.factor == 1 else "smaller" if self.factor < 1 else "larger"
        times = word(f"drawings.loaded.{name}", times=f"{self.factor if self.factor > 1 else 1 / self.factor:g}")
        most = show_length(max(about_m(self.most_m, self.units), 0.0), self.units)
        least = show_length(about_m(1.05 * _STEP[self.units], self.units), self.units)
        return {"times": times, "most": most if self.most_m >= _STEP[self.units] else f"< {least}"}

    def _exaggerated(self) -> dict[str, tuple[Vec, ...]]:
        """Each line with its movement drawn `factor` times as far."""
        out = {}
        for pipe, rest in self.shape.rest_m.items():
            a, b = np.array(rest), np.array(self.shape.lines_m[pipe])
            out[pipe] = tuple((float(x), float(y), float(z)) for x, y, z in a + self.factor * (b - a))
        return out

    def _line(self, points_m: Sequence[Vec]) -> tuple[Point, ...]:
        return tuple((x, y) for x, y, _ in self.placing.place(np.array(points_m)).tolist())

    def _fitted(self, beside_mm: float) -> Placing:
        """The scale at which both shapes and the bed fit, with so much paper kept free beside them [mm]."""
        view = VIEWS["three-quarter"]
        at_first = Placing(view, 1.0)
        points = [p for lines in (self.shape.rest_m, self._exaggerated()) for line in lines.values() for p in line]
        paper = at_first.place(np.array(points))
        low, high = paper.min(axis=0), paper.max(axis=0)
        whole = box_around(bed_marks(self.bed, at_first), Box(low[0], low[1], high[0], high[1]))
        room_mm = max(self.width_mm - 2 * MARGIN_MM - beside_mm, self.width_mm / 3)
        return Placing(view, max(whole.width_mm / room_mm, whole.height_mm / self.height_mm))

    def _arrow(self, drawn: Sequence[Mark]) -> Iterator[Mark]:
        """Where the wind comes from, on the ground beside the bed; snow comes down."""
        flow = _FLOW.get(self.shape.came) if self.load == "wind" else (0.0, 0.0, -1.0)
        if flow is None:
            return
        way = np.array(self._line([(0.0, 0.0, 0.0), flow]))
        way = (way[1] - way[0]) / np.linalg.norm(way[1] - way[0])
        if self.load == "wind":
            reach_m = (self.bed.length_m if flow[0] else self.bed.width_m) / 2 + 0.08 * self.size_m
            (tip,) = self._line([(-flow[0] * reach_m, -flow[1] * reach_m, 0.0)])
        else:
            around = box_around(drawn)
            tip = ((around.left_mm + around.right_mm) / 2, around.top_mm + 2.0)
        start = (tip[0] - way[0] * _ARROW_MM, tip[1] - way[1] * _ARROW_MM)
        yield Line("load", (start, tip))
        aside = np.array([-way[1], way[0]]) * _HEAD_MM / 2.2
        back = np.array(tip) - way * _HEAD_MM
        yield Area("load", (tip, _point(back + aside), _point(back - aside)))
        name = word(f"drawings.loaded.{self.load}-arrow")
        if self.load == "snow":
            yield Text("note", (start[0] + 3.0, (start[1] + tip[1]) / 2), name, _LABEL_MM)
            return
        anchor = "end" if way[0] > 0 else "start"
        gap = -1.5 if way[0] > 0 else 1.5
        yield Text("note", (start[0] + gap, start[1] - CAP_HEIGHT * _LABEL_MM / 2), name, _LABEL_MM, anchor)  # type: ignore[arg-type]

    def _told(self, hardest_first: Sequence[str]) -> list[tuple[str, str]]:
        """The hardest worked lengths, one pipe of each mark, with what is said of it."""
        told: dict[str, str] = {}
        for pipe in hardest_first:
            told.setdefault(self.marks_of.get(pipe, pipe), pipe)
        said = []
        for mark, pipe in list(told.items())[:TOLD]:
            share = f"{100 * self.shape.shares.get(pipe, 0.0):.0f} %"
            said.append((pipe, word("drawings.loaded.name", mark=mark, role=self.roles.get(pipe, ""), share=share)))
        return said

    def _names(self, around: Box, told: Sequence[tuple[str, str]]) -> Iterator[Mark]:
        """In two columns beside the frame, each with a leader to its pipe."""
        middle_mm = (around.left_mm + around.right_mm) / 2
        columns: dict[bool, list[tuple[Point, str]]] = {False: [], True: []}
        for pipe, text in told:
            line = self._line(self.shape.rest_m[pipe])
            at = line[len(line) // 2]
            columns[at[0] > middle_mm].append((at, text))
        for right, names in columns.items():
            edge = around.right_mm + _LEADER_MM if right else around.left_mm - _LEADER_MM
            height = math.inf
            for at, text in sorted(names, key=lambda name: -name[0][1]):
                height = min(height - _ROW_MM, at[1])
                yield Line("leader", (at, (edge, height)))
                yield Circle("leader", at, 0.6)
                place = (edge + (1.0 if right else -1.0), height - CAP_HEIGHT * _LABEL_MM / 2)
                yield Text("title", place, text, _LABEL_MM, "start" if right else "end", face="bold")

    def _legend(self, samples: Sequence[tuple[str, str]], around: Box) -> Iterator[Mark]:
        """What each kind of line means, in rows below the frame."""
        left, width = (around.left_mm + around.right_mm - self.width_mm) / 2 + MARGIN_MM, self.width_mm - 2 * MARGIN_MM
        x, y = left, around.bottom_mm - 6.0
        for pen, text in samples:
            need = _SAMPLE_MM + 2.0 + text_width_mm(text, _LEGEND_MM) + 5.0
            if x > left and x + need > left + width:
                x, y = left, y - 5.2
            middle = y + CAP_HEIGHT * _LEGEND_MM / 2
            yield Line(pen, ((x, middle), (x + _SAMPLE_MM, middle)))
            yield Text("note", (x + _SAMPLE_MM + 2.0, y), text, _LEGEND_MM)
            x += need

    def _finished(self, name: str, drawn: list[Mark], note: str) -> Drawing:
        title = word(f"drawings.loaded.{name}-{self.load}")
        whole = box_around(drawn)
        left_mm = (whole.left_mm + whole.right_mm - self.width_mm) / 2
        words = f"{title}. {note} {self._in_words()}"
        scale, units = self.placing.scale, self.units
        return on_sheet(drawn, title, note, self.width_mm, scale, units, words, left_mm=left_mm, bar=False)

    def _in_words(self) -> str:
        """The hardest worked lengths, for those who can't see the picture."""
        shares: dict[str, float] = {}
        for pipe, share in self.shape.shares.items():
            mark = f"{self.marks_of.get(pipe, pipe)} ({self.roles.get(pipe, '')})"
            shares[mark] = max(shares.get(mark, 0.0), share)
        hardest = sorted(shares.items(), key=lambda item: -item[1])[:TOLD]
        told = ", ".join(f"{mark} {100 * share:.0f} %" for mark, share in hardest)
        return word("drawings.loaded.in-words", told=told)


_FLOW: Mapping[str, Vec] = {
    "from the left": (0.0, -1.0, 0.0),
    "from the right": (0.0, 1.0, 0.0),
    "along the bed": (1.0, 0.0, 0.0),
}
_STEP: Mapping[Units, float] = {"inch": 0.0254, "mm": 0.01}


def _came(shape: BentShape) -> str:
    return word(f"drawings.loaded.came.{shape.came.replace(' ', '-')}") if shape.came else ""


def _exaggeration(shape: BentShape, height_m: float) -> tuple[float, float]:
    """How many times as far movement is drawn, a plain number, and the largest movement [m]."""
    moves = [np.array(line) - np.array(shape.rest_m[pipe]) for pipe, line in shape.lines_m.items()]
    most_m = max((float(np.linalg.norm(move, axis=1).max()) for move in moves), default=0.0)
    wanted = _EXAGGERATED_SHARE * height_m / max(most_m, 1e-9)
    return max((factor for factor in _FACTORS if factor <= wanted), default=_FACTORS[0]), most_m


def _point(at: np.ndarray) -> Point:
    return float(at[0]), float(at[1])
