"""Development: the skin laid out flat, as one sheet with folded ends, or with gables cut by themselves."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import accumulate, pairwise

from clochewright.film.cap import Cap, unroll
from clochewright.film.flap import Flap
from clochewright.film.outline import Point
from clochewright.film.pattern import Ends, Face, Pattern, PatternLine, PatternPiece
from clochewright.film.skin import Skin
from clochewright.frame import Vec

# Common practice, no source: strips and gables lap by 100 to 150 mm.
LAP_M = 0.125
# More corners than this make too many pleats to fold.
MOST_FOLDED = 6
FRONT, FAR = -1.0, 1.0


def develop(skin: Skin, overhang_m: float, ends: Ends, stations_m: Sequence[float] = ()) -> Pattern:
    """Lay the film out flat.

    Args:
        skin: the surface of one cover.
        overhang_m: film past the underside of each bottom rail, to roll on a lath [m].
        ends: folded like a parcel, or cut as pieces of their own.
        stations_m: where the bents stand, for their lines on the sheet [m].

    Returns:
        The pattern. Every face of the skin lies on it once, at its own size.
    """
    strip = _Strip(skin)
    hem_m = skin.tuck_m + overhang_m
    caps = {toward: unroll(skin.end(toward), toward) for toward in (FRONT, FAR)}
    if ends == "cut":
        gables = tuple(_gable(cap, toward, hem_m, skin.tuck_m) for toward, cap in caps.items())
        return Pattern("cut", (open_ended(skin, hem_m, stations_m), *gables), 0, strip.corners())
    flaps = [Flap(skin, cap, strip.edge(toward), toward) for toward, cap in caps.items()]
    return Pattern("folded", (_parcel(strip, flaps, hem_m, stations_m),), len(flaps[0].pleats), strip.corners())


def ends_for(skin: Skin) -> Ends:
    """Folded where the section has few corners; a curve would take a pleat every few inches, so there it is cut."""
    return "folded" if len(skin.corners) <= MOST_FOLDED else "cut"


class _Strip:
    """The film from side rail to side rail, flat: first axis along the bed, second across it."""

    def __init__(self, skin: Skin) -> None:
        self.skin = skin
        run = [0.0, *accumulate(math.dist(a, b) for a, b in pairwise(skin.section_m))]
        self.half_m = run[-1] / 2
        self.across = tuple(self.half_m - reached for reached in run)

    def edge(self, toward: float) -> tuple[Point, ...]:
        """Its front end (-1) or far end (1), from the left rail to the right one."""
        return tuple(zip(self.skin.far_m if toward > 0 else self.skin.front_m, self.across, strict=True))

    def faces(self) -> tuple[Face, ...]:
        """Its flat faces, one between each two lines along the bed."""
        front, far = self.edge(FRONT), self.edge(FAR)
        front_at, far_at = self.skin.end(FRONT), self.skin.end(FAR)
        return tuple(
            Face((front[i], far[i], far[j], front[j]), (front_at[i], far_at[i], far_at[j], front_at[j]))
            for i, j in pairwise(range(len(front)))
        )

    def lines(self, stations_m: Iterable[float]) -> list[PatternLine]:
        """Rails, crests, bents, and where the rolls on the laths begin."""
        front, far, corners = self.edge(FRONT), self.edge(FAR), self.skin.corners
        bends = corners[1:-1] if len(corners) <= MOST_FOLDED else (self._crown(),)
        lines = [PatternLine("crest", (front[i], far[i])) for i in bends]
        lines += [PatternLine("rail", (front[i], far[i])) for i in (0, -1)]
        lines += [PatternLine("bent", tuple(edge[i] for i in corners)) for edge in (front, far)]
        inner = [x for x in stations_m if max(p[0] for p in front) + LAP_M < x < min(p[0] for p in far) - LAP_M]
        lines += [PatternLine("bent", ((x, self.half_m), (x, -self.half_m))) for x in inner]
        if self.skin.tuck_m > 0:
            under = self.half_m + self.skin.tuck_m
            lines += [PatternLine("roll", ((front[0][0], v), (far[0][0], v))) for v in (under, -under)]
        return lines

    def _crown(self) -> int:
        """The point of a curve that lies on the strip's middle, as nearly as one does."""
        return min(range(len(self.across)), key=lambda i: abs(self.across[i]))

    def corners(self) -> tuple[tuple[Point, Vec], ...]:
        """The frame's corners: where they lie on the strip, and in space."""
        ends = ((self.edge(toward), self.skin.end(toward)) for toward in (FRONT, FAR))
        return tuple((flat[i], space[i]) for flat, space in ends for i in self.skin.corners)


def _parcel(strip: _Strip, flaps: Sequence[Flap], hem_m: float, stations_m: Sequence[float]) -> PatternPiece:
    """One sheet for everything."""
    half_m = strip.half_m + hem_m
    front, far = (flap.trim(hem_m) for flap in flaps)
    x0, x1 = (strip.edge(toward)[0][0] for toward in (FRONT, FAR))
    trim = ((x0, half_m), (x1, half_m), *far, (x1, -half_m), (x0, -half_m), *reversed(front))
    low, high = (min(x for x, _ in trim), -half_m), (max(x for x, _ in trim), half_m)
    lines = (*strip.lines(stations_m), *(line for flap in flaps for line in flap.lines()))
    faces = (*strip.faces(), *(face for flap in flaps for face in flap.faces()))
    return PatternPiece("cover", low, high, trim, lines, faces)


def strip_corners(skin: Skin) -> tuple[tuple[Point, Vec], ...]:
    """The corners of a skin: where they lie on its sheet, and in space [m]."""
    return _Strip(skin).corners()


def open_ended(skin: Skin, hem_m: float, stations_m: Sequence[float]) -> PatternPiece:
    """The sheet over the bed, its ends to lap round the end bents; `hem_m` past both its edges [m]."""
    strip = _Strip(skin)
    half_m = strip.half_m + hem_m
    front, far = ([(x + toward * LAP_M, v) for x, v in strip.edge(toward)] for toward in (FRONT, FAR))
    x0, x1 = front[0][0], far[0][0]
    trim = ((x0, half_m), *((x1, half_m), *far[1:-1], (x1, -half_m)), (x0, -half_m), *reversed(front[1:-1]))
    low, high = (min(x for x, _ in trim), -half_m), (max(x for x, _ in trim), half_m)
    return PatternPiece("cover", low, high, trim, tuple(strip.lines(stations_m)), strip.faces())


def _gable(cap: Cap, toward: float, hem_m: float, tuck_m: float) -> PatternPiece:
    """An end as a piece of its own: cut along the bent, where the sheet over the bed laps over it."""
    middle = cap.edge[-1][0] / 2
    edge = [(toward * (x - middle), y) for x, y in cap.edge]
    low_x, high_x = sorted((edge[0][0], edge[-1][0]))
    trim = ((edge[-1][0], -hem_m), (edge[0][0], -hem_m), *edge)
    low, high = (min(x for x, _ in edge), -hem_m), (max(x for x, _ in edge), max(y for _, y in edge))
    lines = [PatternLine("rail", (edge[-1], edge[0])), PatternLine("bent", tuple(edge))]
    if tuck_m > 0:
        lines.append(PatternLine("roll", ((low_x, -tuck_m), (high_x, -tuck_m))))
    faces = tuple(Face(tuple(edge[i] for i in three), tuple(cap.rim[i] for i in three)) for three in cap.triangles)
    return PatternPiece("front gable" if toward < 0 else "far gable", low, high, trim, tuple(lines), faces)
