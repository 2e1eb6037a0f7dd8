"""The lath screw: long enough for lath, film and pipe wall, and its point where the plan wants it."""

from __future__ import annotations

from collections.abc import Sequence

from clochewright.catalogue import PILOT_SHARE, GoodsRow, PipeRow
from clochewright.film.types import ScrewFit
from clochewright.findings import Finding, Level

# A screw holds with its full thread, which begins this far behind its point; it stops as far short of the far wall
# (common practice, no source).
POINT_M = 0.003
# The diameter of a usual lath screw, where its row has none (common practice, no source).
USUAL_M = 0.004
# The wall of a pipe that does not tell it, by its diameter.
WALL_SHARE = 0.07
PRACTICE = "common practice, no source"
ENGAGED = "Lincoln, Gomes and Braden, Mechanical Fastening of Plastics: 2 to 3 screw diameters of engagement"


def fit_screw(
    stack_m: float, pipe: PipeRow, screws: Sequence[GoodsRow], points: str
) -> tuple[ScrewFit | None, tuple[Finding, ...]]:
    """The shortest lath screw on sale whose point ends where it is wanted.

    Args:
        stack_m: lath and the film rolled on it, which the screw goes through first [m].
        pipe: the rail it goes into.
        screws: lath screws on sale.
        points: "inside" keeps the point in the bore, off the far wall; "through" brings it out on the far side.

    Returns:
        The screw, the nearest where none is right, or None where none is on sale; and what there is to say about it.
    """
    known = sorted((row for row in screws if "length_m" in row.figures), key=lambda row: row.figures["length_m"].value)
    if not known:
        return None, ()
    outside_m = pipe.outside_diameter.value
    wall_m = pipe.wall.value if pipe.wall else outside_m * WALL_SHARE
    if points == "through":
        least_m, most_m = stack_m + outside_m + POINT_M, stack_m + 2 * outside_m
    else:
        least_m, most_m = stack_m + wall_m + POINT_M, stack_m + outside_m - wall_m - POINT_M
    right = [row for row in known if least_m - 1e-9 <= row.figures["length_m"].value <= most_m + 1e-9]
    row = right[0] if right else min(known, key=lambda row: abs(row.figures["length_m"].value - least_m))
    diameter_m = row.figures["diameter_m"].value if "diameter_m" in row.figures else USUAL_M
    length_m, pilot_m = row.figures["length_m"].value, diameter_m * PILOT_SHARE
    fit = ScrewFit(row.key, row.name, length_m, least_m, most_m, points, bool(right), pilot_m)
    values = {"screw": row.name, "least_m": least_m, "most_m": most_m, "wall_m": wall_m}
    if not right:
        return fit, (Finding(Level.WARN, "film", "film.no-screw", "film.screw_points", values, PRACTICE),)
    if points == "through":
        return fit, (Finding(Level.NOTE, "film", "film.screw-through", "film.screw_points", values, ENGAGED),)
    return fit, (Finding(Level.NOTE, "film", "film.screw-inside", "film.screw_points", values, ENGAGED),)
