"""Every outside figure that the cover rests on: its value with its band, how sure it is, and where it comes from."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial
from typing import Any

from clochewright.catalogue import FittingRow
from clochewright.findings import word
from clochewright.job import Job, Made, season_sources, show_ground
from clochewright.joints import CEMENT_SOURCE as CURING
from clochewright.measures import Units, inch, show_mass, show_speed
from clochewright.sources import Cited, Grade

Show = Callable[[float], str]
_Row = tuple[str, str, str, str, str]  # figure, value, band, grade, source

_FOOT_M = 12 * inch


def sources_page(job: Job, made: Made) -> dict[str, Any]:
    """The table of figures, and the numbered list of sources that it points to."""
    numbers: dict[str, int] = {}
    rows = []
    for figure, value, band, grade, source in _rows(job, made):
        number = numbers.setdefault(source, len(numbers) + 1)
        rows.append({"figure": figure, "value": value, "band": band, "grade": grade, "number": str(number)})
    return {"rows": rows, "list": list(numbers)}


def _rows(job: Job, made: Made) -> Iterator[_Row]:
    units, pipe, weights = job.plan.units, job.pipe, made.weights

    def small(length_m: float) -> str:
        return fine_length(length_m, units)

    def mass(mass_kg: float) -> str:
        return show_mass(mass_kg, units)

    def speed(speed_m_s: float) -> str:
        return show_speed(speed_m_s, units)

    yield _cited(word("booklet.source.outside"), pipe.outside_diameter, small)
    if pipe.wall is not None:
        yield _cited(word("booklet.source.wall"), pipe.wall, small)
    if pipe.mass_kg_m is not None:
        yield _cited(word("booklet.source.mass"), pipe.mass_kg_m, lambda value: _per_length(value, units))
    for row in job.fitting_rows:
        yield from _fitting(row, small)
    for kind, cited in weights.fitting_kg.items():
        yield _cited(word("booklet.source.fitting-mass", fitting=_name(kind)), cited, mass)
    yield _cited(word("booklet.source.film-thickness"), made.film.thickness, lambda value: thin_length(value, units))
    yield _cited(word("booklet.source.film-mass"), weights.film_kg, mass)
    yield _cited(word("booklet.source.lath-mass"), weights.lath_kg, mass)
    yield _cited(word("booklet.source.hardware-mass"), weights.hardware_kg, mass)
    for limit in made.limits:
        if limit.kind == "gust_m_s":
            cited = Cited(limit.value, limit.low, limit.high, Grade.ESTIMATE, limit.source)
            yield _cited(word("booklet.source.gust"), cited, speed)
    for ground in made.strength.grounds:
        if ground.key != "uplift":  # told with the gust that it gives
            shown = partial(show_ground, ground.kind, units=units)
            yield _cited(word(f"strength.ground.{ground.key}"), ground.cited, shown)
    if job.season is not None:
        for figure, value, grade, source in season_sources(job.season, units):
            yield figure, value, "", grade, source
    if made.joints.cemented:
        yield word("booklet.source.curing"), word("booklet.source.curing-value"), "", str(Grade.PUBLISHED), CURING


def _fitting(row: FittingRow, small: Show) -> Iterator[_Row]:
    """A fitting's figures; sockets that are alike share a line."""
    name = _name(row.kind)
    for figure, cited_of in (
        ("to-stop", [(socket.name, socket.centre_to_stop) for socket in row.sockets]),
        ("depth", [(socket.name, socket.depth) for socket in row.sockets]),
    ):
        label = word(f"booklet.source.{figure}", fitting=name)
        alike: dict[Cited, list[str]] = {}
        for socket, cited in cited_of:
            alike.setdefault(cited, []).append(socket)
        for cited, sockets in alike.items():
            said = (
                label if len(alike) == 1 else word("booklet.source.of-socket", figure=label, socket=", ".join(sockets))
            )
            yield _cited(said, cited, small)
    yield _cited(word("booklet.source.hub", fitting=name), row.hub_diameter, small)


def _cited(figure: str, cited: Cited, show: Show) -> _Row:
    band = _band(show(cited.low), show(cited.high))
    return figure, show(cited.value), band, str(cited.grade), cited.source or word("booklet.source.none")


def _band(low: str, high: str) -> str:
    """The two ends of a band; a unit that both share is left to the value beside it."""
    if low == high:
        return ""
    (low_figure, _, low_unit), (high_figure, _, high_unit) = low.partition(" "), high.partition(" ")
    if low_unit == high_unit:
        low, high = low_figure, high_figure
    return word("booklet.source.band", low=low, high=high)


def _name(kind: str) -> str:
    return word(f"supplies.fitting.{kind}")


def fine_length(length_m: float, units: Units) -> str:
    """A published length as tables give it: 1.315 in or 33.4 mm, finer than the tape."""
    return f"{length_m / inch:.3f} in" if units == "inch" else f"{length_m * 1000:.1f} mm"


def thin_length(length_m: float, units: Units) -> str:
    """The thickness of film, in mils or microns."""
    return f"{length_m / inch * 1000:.3g} mil" if units == "inch" else f"{length_m * 1e6:.0f} micron"


def _per_length(mass_kg_m: float, units: Units) -> str:
    over_m, name = (_FOOT_M, "per-foot") if units == "inch" else (1.0, "per-metre")
    return word(f"booklet.source.{name}", mass=show_mass(mass_kg_m * over_m, units))
