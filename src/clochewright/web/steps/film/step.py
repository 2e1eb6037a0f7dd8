"""The film: the sheet, its roll, laths with their staples and screws."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from clochewright.findings import word
from clochewright.measures import show_mass
from clochewright.plan import Plan
from clochewright.web.steps.kit import Figure, Seen, Shown, SourceRow, Step, entries


@dataclass(frozen=True, slots=True)
class LathLine:
    """One lath: its side, length, staples, screws and where those are from its front or left end."""

    side: str
    length: str
    staples: int
    screws: int
    at: str


@dataclass(frozen=True, slots=True)
class FilmShown(Shown):
    """The laths."""

    laths: tuple[LathLine, ...] = ()


_FIELDS = ("film.kind", "film.ends", "film.overhang", "film.staple_gap", "film.screw_gap", "film.screw_points",
           "film.gust")  # fmt: skip
_OLD = ("film.old.length", "film.old.width", "film.old.kind", "film.old.months", "film.old.tears")


def _fields(plan: Plan) -> tuple[str, ...]:
    return (*_FIELDS, *_OLD, *entries("film.more", ("kind",), len(plan.film.more)))


def _figures(seen: Seen) -> Iterator[Figure]:
    film = seen.made.film
    sizes = []
    for sheet, count in film.alike:
        size = word("web.gist.bed", length=seen.length(sheet.length_m), width=seen.length(sheet.width_m))
        sizes.append(f"{count} × {size}" if count > 1 else size)
    yield seen.figure("sheet", "; ".join(sizes), "sheet-note")
    if film.roll is not None:
        yield seen.figure("roll", film.roll.label)
    yield seen.figure("girth", seen.length(film.girth_m), "girth-note")
    yield seen.figure("staples", str(film.staples))
    yield seen.figure("screws", str(film.screws))


def _show(seen: Seen) -> FilmShown:
    film = seen.made.film
    sheet = film.sheets[0]
    laths = tuple(
        LathLine(
            word(f"booklet.side.{lath.side}"),
            seen.length(lath.length_m),
            lath.staples,
            len(lath.screws_m),
            ", ".join(seen.length(at_m) for at_m in lath.screws_m),
        )
        for lath in film.laths
    )
    sources: tuple[SourceRow, ...] = (
        seen.source(word("booklet.source.film-thickness"), film.thickness, lambda m: f"{m * 1e6:.0f} micron"),
        seen.source(word("booklet.source.film-mass"), film.mass_kg, lambda kg: show_mass(kg, seen.units)),
    )
    many = len(film.sheets)
    size = {"length": seen.length(sheet.length_m), "width": seen.length(sheet.width_m)}
    gist = word("web.gist.films", sheets=many, **size) if many > 1 else word("web.gist.film", **size)
    return FilmShown(gist, tuple(_figures(seen)), sources, laths)


STEP = Step("film", _fields, _show, finding_steps=("film",), drawings=("pattern", "rolls"))
