"""Pipe: its rows from the data file, and its other figures worked out where only some are known."""

from __future__ import annotations

from dataclasses import replace
from math import pi

from clochewright.catalogue.figures import Figure, read_figures
from clochewright.catalogue.types import PipeRow
from clochewright.sources import Cited, Grade

# Rigid PVC, makers' tables, ASTM D792: 1.40 +/- 0.02, allowed 1.37 to 1.50 [kg/m3].
PVC_DENSITY_KG_M3 = Cited(1400.0, 1370.0, 1500.0, Grade.PUBLISHED, "density of rigid PVC, makers' tables, ASTM D792")

_NOTES = {
    "inch": "Pipe sold by the same name under other standards (BS 3505, AS/NZS 1477) can be up to 0.3 mm fatter: "
    "measure before you mix.",
    "metric": "Sockets are parallel: a dry pipe goes fully home and holds nothing.",
    "waste": "From memory: measure pipe and fittings. Grey or white pipe with a greasy feel is polypropylene and can't "
    "be solvent-welded.",
}


def pipe_key(system: str, nominal: str, pipe_class: str) -> str:
    """The full name of a pipe: "1 in Sch 40", "32 mm PN 16", "32 mm waste"."""
    return f"{nominal} {'in' if system == 'inch' else 'mm'} {pipe_class}"


def read_pipes() -> tuple[PipeRow, ...]:
    """All pipes of the data file, in its order."""
    by_pipe: dict[tuple[str, ...], list[Figure]] = {}
    for figure in read_figures("pipe.csv", ("system", "nominal", "class")):
        by_pipe.setdefault(figure.owner, []).append(figure)
    return tuple(_pipe(owner, figures) for owner, figures in by_pipe.items())


def _pipe(owner: tuple[str, ...], figures: list[Figure]) -> PipeRow:
    system, nominal, pipe_class = owner
    known = {figure.dimension: figure.cited for figure in figures if figure.dimension != "stick"}
    return PipeRow(
        key=pipe_key(system, nominal, pipe_class),
        system=system,
        nominal=nominal,
        pipe_class=pipe_class,
        outside_diameter=known["outside_diameter"],
        wall=known["wall"],
        bore=known["bore"],
        mass_kg_m=known["mass"],
        sticks_m=tuple(figure.cited.value for figure in figures if figure.dimension == "stick"),
        taper=system == "inch",
        note=_NOTES[system],
    )


def with_bore_and_mass(pipe: PipeRow) -> PipeRow:
    """The pipe with its bore and mass worked out from its diameter and wall, as far as the wall is known."""
    if pipe.wall is None:
        return replace(pipe, bore=None, mass_kg_m=None)
    outside_m, wall_m = pipe.outside_diameter.value, pipe.wall.value
    area_m2 = pi * (outside_m - wall_m) * wall_m
    density = PVC_DENSITY_KG_M3
    bore_m = outside_m - 2 * wall_m
    return replace(
        pipe,
        bore=Cited(bore_m, bore_m, bore_m, Grade.DERIVED, "outside diameter less twice the wall"),
        mass_kg_m=Cited(
            area_m2 * density.value,
            area_m2 * density.low,
            area_m2 * density.high,
            Grade.DERIVED,
            f"diameter, wall and {density.source}",
        ),
    )
