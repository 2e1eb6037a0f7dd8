"""The covering pages: the pattern with its points, the rolls, the order of work, and the films side by side."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from clochewright.booklet.words import between
from clochewright.drawings import pattern_points, what_is_alike
from clochewright.film import FilmChoice, FilmPlan, PatternPiece
from clochewright.findings import word
from clochewright.job import Job, Made
from clochewright.measures import (
    Units,
    show_angle,
    show_drill,
    show_length,
    show_mass,
    show_money,
    show_pressure,
    show_speed,
)
from clochewright.sources import Cited


def covering_page(job: Job, made: Made, files: Mapping[str, dict[str, str]]) -> dict[str, Any]:
    """What the covering pages show.

    Args:
        job: The finished job.
        made: What the bench made.
        files: The film's drawings by name, each with its file and its words.
    """
    film, units = made.film, job.plan.units
    gables = film.pattern.gables
    return {
        "head": word("booklet.covering.head"),
        "lead": word("booklet.covering.lead"),
        "pattern": files["pattern"],
        "points": _points(film.pattern.main, units),
        "gable": files.get("pattern-gable"),
        "gable_points": _points(gables[-1], units) if gables else None,
        "others": [
            {"picture": files[f"pattern-{piece.name}"], "points": _points(piece, units)}
            for piece in {piece.name: piece for piece in film.pattern.pieces[1:] if not piece.is_gable}.values()
        ],
        "rolls": files.get("rolls"),
        "rolls_lead": _rolls_lead(film, units),
        "fold": files.get("fold"),
        "order_head": word("booklet.covering.order-head"),
        "order": [_step(step.key, step.values, units) for step in film.order],
        "figures": _figures(film, units),
        "films_head": word("booklet.covering.films-head"),
        "films_lead": word("booklet.covering.films-lead"),
        "films_heads": [word(f"booklet.covering.{name}") for name in _COLUMNS],
        "films": [_film_row(choice, job) for choice in film.choices],
        "more": _more(film, units),
    }


_FINE = ("drill_m", "edge_up_m")  # shown in smaller steps than lengths that are sawn
_COLUMNS = ("film", "thickness", "life", "light", "mass", "price", "season")


def _points(piece: PatternPiece, units: Units) -> dict[str, Any]:
    """The list of points to measure out."""
    across = "up" if piece.is_gable else "across"
    return {
        "lead": word(f"booklet.covering.alike-{what_is_alike(piece)}"),
        "heads": [word(f"booklet.covering.{name}") for name in ("point", "what-it-is", "along", across)],
        "rows": [
            [
                str(point.number),
                word(f"drawings.point.{point.what}"),
                _signed(point.along_m, ("right", "left") if piece.is_gable else ("far", "front"), units),
                _signed(point.across_m, ("up", "down") if piece.is_gable else ("left", "right"), units),
            ]
            for point in pattern_points(piece)
        ],
    }


def _signed(length_m: float, ways: tuple[str, str], units: Units) -> str:
    """A length with the way it is measured; nothing for what lies on the middle line."""
    shown = show_length(abs(length_m), units)
    if shown == show_length(0.0, units):
        return word("booklet.covering.on-middle" if ways[0] != "up" else "booklet.covering.on-rail")
    return word(f"booklet.covering.way-{ways[0] if length_m > 0 else ways[1]}", length=shown)


def _step(key: str, values: Mapping[str, Any], units: Units) -> str:
    shown = {
        name: (show_drill if name in _FINE else show_length)(value, units) if name.endswith("_m") else value
        for name, value in values.items()
    }
    return word(f"film.order.{key}", **shown)


def _rolls_lead(film: FilmPlan, units: Units) -> str:
    if not film.rolls:
        return word("booklet.film.no-roll")
    if film.joins:
        return word("booklet.covering.rolls-joined", joins=film.joins, lap=word(f"booklet.covering.lap-{units}"))
    return word("booklet.covering.rolls-whole", count=len(film.rolls))


def _figures(film: FilmPlan, units: Units) -> list[dict[str, str]]:
    rows = []
    if film.lath_roll:
        turns = word("booklet.covering.turns-value", half_turns=film.lath_roll.half_turns)
        rows.append(_figure("turns", turns, takes=show_length(film.lath_roll.takes_m, units)))
    if film.screw:
        low, high = (show_length(m, units) for m in (film.screw.least_m, film.screw.most_m))
        rows.append(_figure("screw", film.screw.name, low=low, high=high))
    if film.slack_m:
        rows.append(_figure("slack", show_length(film.slack_m, units)))
    if film.panel:
        panel = film.panel
        rows.append(_figure("panel", show_length(panel.span_m, units), gust=show_speed(panel.gust_m_s, units)))
        rows.append(_figure("sag", _band(panel.sag_m, units)))
        rows.append(_figure("largest", _band(panel.largest_m, units), governs=panel.governs))
        pressure = between(*(show_pressure(p, units) for p in (panel.pressure_Pa.low, panel.pressure_Pa.high)))
        rows.append(_figure("pressure", pressure))
        rows.append(_figure("pitch", show_angle(panel.least_pitch_deg)))
    return rows


def _figure(name: str, value: str, **fields: object) -> dict[str, str]:
    note = word(f"booklet.covering.{name}-note", **fields)
    return {"label": word(f"booklet.covering.{name}-row"), "value": value, "note": note}


def _band(length: Cited, units: Units) -> str:
    return between(show_length(length.low, units), show_length(length.high, units))


def _film_row(choice: FilmChoice, job: Job) -> dict[str, Any]:
    units, currency = job.plan.units, job.plan.prices.currency
    unknown = word("booklet.covering.unknown")
    life, light, season = choice.life_years, choice.light, choice.per_season_money
    thickness = choice.thickness.value if choice.thickness else None
    mil = word("booklet.covering.mil", mil=f"{(thickness or 0) / 25.4e-6:.1f}", micron=f"{(thickness or 0) * 1e6:.0f}")
    name = word("booklet.covering.joined", film=choice.name, joins=choice.joins) if choice.joins else choice.name
    cells = [
        name,
        mil if thickness else unknown,
        word("booklet.covering.years", years=between(f"{life.low:g}", f"{life.high:g}")) if life else unknown,
        between(f"{light.low:.0%}", f"{light.high:.0%}") if light else unknown,
        show_mass(choice.mass_kg.value, units),
        show_money(choice.price, currency) if choice.price is not None else unknown,
        show_money(season, currency) if season is not None else unknown,
    ]
    return {"cells": cells, "chosen": choice.chosen}


def _more(film: FilmPlan, units: Units) -> list[str]:
    """Other cloth for the frame, one line each."""
    lines = []
    for more in film.more:
        length, width = (show_length(m, units) for m in (more.sheets[0].length_m, more.sheets[0].width_m))
        rolls = ", ".join(dict.fromkeys(roll.label for roll in more.rolls))
        light = between(f"{more.light.low:.0%}", f"{more.light.high:.0%}") if more.light else "?"
        lines.append(
            word("booklet.covering.more", cloth=more.name, length=length, width=width, rolls=rolls, light=light)
        )
    return lines
