"""The film: the sheet, its roll, laths with their staples and screws."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from clochewright.findings import word
from clochewright.measures import show_drill, show_mass
from clochewright.plan import Plan
from clochewright.web.steps.kit import Figure, Seen, Shown, SourceRow, Step, entries


@dataclass(frozen=True, slots=True)
class LathLine:
    """The laths on one side: their lengths, staples, screws, and where those are from its front or left end.

    `lies` is where each piece begins and ends, "" where it is sawn to fit between the fittings.
    """

    side: str
    lengths: tuple[str, ...]
    lies: str
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
    if film.seat is not None:
        up = seen.length(film.seat.screw_up_m)
        yield seen.figure("lath-up", show_drill(film.seat.edge_up_m, seen.units), "lath-up-note", screw_up=up)
    if film.screw is not None:
        hole = show_drill(film.screw.pilot_m, seen.units)
        yield seen.figure("lath-hole", hole, "lath-hole-note", screw=film.screw.name)


def _lath(seen: Seen, place: int) -> LathLine:
    lath = seen.made.film.laths[place]
    way = word(f"booklet.film.lath-from-{'left' if lath.side in ('front', 'far') else 'front'}")
    runs = [tuple(map(seen.length, run_m)) for run_m in lath.runs_m]
    lies = ", ".join(word("booklet.film.lath-piece", start=start, stop=stop) for start, stop in runs)
    return LathLine(
        word(f"booklet.side.{lath.side}"),
        tuple(map(seen.length, lath.pieces_m)),
        f"{lies}, {way}" if lies else "",
        lath.staples,
        len(lath.screws_m),
        ", ".join(map(seen.length, lath.screws_m)),
    )


def _pictures(seen: Seen) -> Iterator[str]:
    """The film's drawings, each under its name."""
    film, pattern = seen.made.film, seen.made.film.pattern
    yield "pattern"
    yield from dict.fromkeys(f"pattern-{'gable' if piece.is_gable else piece.name}" for piece in pattern.pieces[1:])
    if pattern.ends == "folded" and pattern.pleats:
        yield "fold"
    if film.rolls:
        yield "rolls"
    if film.seat is not None and film.lath_roll is not None:
        yield "lath"


def _show(seen: Seen) -> FilmShown:
    film = seen.made.film
    sheet = film.sheets[0]
    laths = tuple(_lath(seen, place) for place in range(len(film.laths)))
    sources: tuple[SourceRow, ...] = (
        seen.source(word("booklet.source.film-thickness"), film.thickness, lambda m: f"{m * 1e6:.0f} micron"),
        seen.source(word("booklet.source.film-mass"), film.mass_kg, lambda kg: show_mass(kg, seen.units)),
    )
    many = len(film.sheets)
    size = {"length": seen.length(sheet.length_m), "width": seen.length(sheet.width_m)}
    gist = word("web.gist.films", sheets=many, **size) if many > 1 else word("web.gist.film", **size)
    return FilmShown(gist, tuple(_figures(seen)), sources, laths, drawings=tuple(_pictures(seen)))


STEP = Step("film", _fields, _show, finding_steps=("film",))
