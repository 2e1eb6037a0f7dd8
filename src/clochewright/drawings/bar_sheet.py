"""The bar that props a leaf: its pivot, and a hole for every opening, measured from the pivot."""

from __future__ import annotations

from clochewright.drawings.dimensions import chain, level_below, running
from clochewright.drawings.drill import PIN_m
from clochewright.drawings.marks import Area, Circle, Drawing, Line, Mark, Text
from clochewright.drawings.sheet import MARGIN_MM, SCALES, box_around, on_sheet
from clochewright.findings import word
from clochewright.lid import Prop
from clochewright.measures import Units, show_angle, show_drill, show_length

_WIDE_m = 0.038
_TEXT_MM = 3.4


def draw_bar(prop: Prop, units: Units, width_mm: float) -> Drawing:
    """The bar, lying, its pivot on the left.

    Args:
        prop: The bar.
        units: How lengths are shown.
        width_mm: Width of the sheet [mm].
    """
    room_mm = width_mm - 2 * MARGIN_MM - 4.0
    scale = next((s for s in SCALES[units] if prop.bar_m * 1000 / s <= room_mm), SCALES[units][-1])
    size = 1000 / scale
    past_m = (prop.bar_m - prop.holes[-1].from_pivot_m) / 2
    length, half = prop.bar_m * size, _WIDE_m * size / 2
    corners = ((0.0, -half), (length, -half), (length, half), (0.0, half))
    drawn: list[Mark] = [Area("bar", corners), Line("bar", corners, closed=True)]
    drawn.append(Line("centre-line", ((0.0, 0.0), (length, 0.0))))
    places = [past_m * size, *((past_m + hole.from_pivot_m) * size for hole in prop.holes)]
    names = [word("drawings.lid.bar.pivot")]
    names += [word("drawings.lid.bar.hole", angle=show_angle(hole.open_deg)) for hole in prop.holes]
    for x, name in zip(places, names, strict=True):
        drawn.append(Circle("hole", (x, 0.0), max(PIN_m[units] * size / 2, 0.7)))
        drawn.append(Text("title", (x, half + 1.8), name, _TEXT_MM, "middle", face="bold"))
    texts = [word("drawings.from-here"), *(show_length(hole.from_pivot_m, units) for hole in prop.holes)]
    rule = level_below(-half - 7.0)
    ends = [(x, -half) for x in places]
    drawn += running(rule, [*ends, (length, -half)], texts)[0]
    low = box_around(drawn).bottom_mm - 4.0
    over_all = word("drawings.over-all", length=show_length(prop.bar_m, units))
    drawn += chain(level_below(low), [(0.0, -half), (length, -half)], [over_all])[0]
    title, note = word("drawings.lid.bar.title"), word("drawings.lid.bar.note", hole=show_drill(PIN_m[units], units))
    alt = word("drawings.lid.bar.alt", length=show_length(prop.bar_m, units), holes=", ".join(texts[1:]))
    return on_sheet(drawn, title, note, width_mm, scale, units, alt)
