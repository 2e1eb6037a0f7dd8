"""The film as the result file has it: sheets, rolls, laths, and the pattern in the flat."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from clochewright.film import CutRoll, FilmPlan, Pattern
from clochewright.job.cited import cited_as_json
from clochewright.sources import Cited


def film_as_json(film: FilmPlan) -> dict[str, Any]:
    """The film's keys as plain JSON values."""
    return {
        "kind": film.kind,
        "sheets": [{"name": s.name, "length_m": s.length_m, "width_m": s.width_m} for s in film.sheets],
        "roll_length_m": film.roll.length_m if film.roll else None,
        "roll_width_m": film.roll.width_m if film.roll else None,
        "rolls": _rolls(film.rolls),
        "joins": film.joins,
        "taped_m": film.taped_m,
        "girth_m": film.girth_m,
        "reach_m": film.reach_m,
        "slack_m": film.slack_m,
        "laths": [
            {
                "cover": lath.cover,
                "body": lath.body,
                "side": lath.side,
                "length_m": lath.length_m,
                "pieces_m": [list(run) for run in lath.runs_m],
                "joints_m": list(lath.joints_m),
                "staples": lath.staples,
                "screws_m": list(lath.screws_m),
            }
            for lath in film.laths
        ],
        "half_turns": film.lath_roll.half_turns if film.lath_roll else None,
        "lath_seat": _seat(film),
        "staples": film.staples,
        "screws": film.screws,
        "screw": _screw(film),
        "pattern": _pattern(film.pattern),
        "panel": _panel(film),
        "choices": [
            {
                "name": choice.name,
                "thickness_m": choice.thickness.value if choice.thickness else None,
                "life_years": _band(choice.life_years),
                "light": _band(choice.light),
                "mass_kg": choice.mass_kg.value,
                "joins": choice.joins,
                "price": choice.price,
                "price_per_season": choice.per_season_money,
                "chosen": choice.chosen,
            }
            for choice in film.choices
        ],
        "more": [
            {
                "kind": more.name,
                "sheets": [{"name": s.name, "length_m": s.length_m, "width_m": s.width_m} for s in more.sheets],
                "rolls": _rolls(more.rolls),
                "mass_kg": more.mass_kg.value if more.mass_kg else None,
                "light": _band(more.light),
            }
            for more in film.more
        ],
        "old": {"verdict": film.old.verdict, "covers": film.old.covers} if film.old else None,
    }


def _rolls(rolls: Sequence[CutRoll]) -> list[dict[str, Any]]:
    return [
        {
            "label": roll.label,
            "length_m": roll.length_m,
            "width_m": roll.width_m,
            "sheets": [
                {"name": p.sheet.name, "along_m": p.along_m, "across_m": p.across_m, "turned": p.turned}
                for p in roll.placed
            ],
            "left": [{"name": left.name, "length_m": left.length_m, "width_m": left.width_m} for left in roll.left],
        }
        for roll in rolls
    ]


def _screw(film: FilmPlan) -> dict[str, Any] | None:
    if film.screw is None:
        return None
    screw = film.screw
    return {
        "name": screw.name,
        "length_m": screw.length_m,
        "least_m": screw.least_m,
        "most_m": screw.most_m,
        "points": screw.points,
        "pilot_m": screw.pilot_m,
    }


def _seat(film: FilmPlan) -> dict[str, float] | None:
    if film.seat is None:
        return None
    seat = film.seat
    return {
        "edge_up_m": seat.edge_up_m,
        "clear_m": seat.clear_m,
        "screw_up_m": seat.screw_up_m,
        "proud_m": seat.proud_m,
    }


def _panel(film: FilmPlan) -> dict[str, Any] | None:
    """The largest panel; all of its figures are estimates, and their bands go with them."""
    if film.panel is None:
        return None
    panel = film.panel
    return {
        "span_m": panel.span_m,
        "gust_m_s": panel.gust_m_s,
        "pressure_Pa": _band(panel.pressure_Pa),
        "sag_m": _band(panel.sag_m),
        "stress_Pa": _band(panel.stress_Pa),
        "largest_m": _band(panel.largest_m),
        "governs": panel.governs,
        "least_pitch_deg": panel.least_pitch_deg,
    }


def _band(cited: Cited | None) -> dict[str, float] | None:
    return cited_as_json(cited) if cited else None


def _pattern(pattern: Pattern) -> dict[str, Any]:
    """Polygons and lines in the flat, the outside up: first axis along the bed (along the end, for a gable) [m]."""
    return {
        "ends": pattern.ends,
        "pleats": pattern.pleats,
        "pieces": [
            {
                "name": piece.name,
                "length_m": piece.length_m,
                "width_m": piece.width_m,
                "low_m": list(piece.low),
                "high_m": list(piece.high),
                "trim_m": [list(point) for point in piece.trim],
                "middles_m": [list(point) for point in piece.middles],
                "lines": [
                    {"kind": line.kind, "points_m": [list(point) for point in line.points]} for line in piece.lines
                ],
            }
            for piece in pattern.pieces
        ],
        "corners": [{"flat_m": list(flat), "space_m": list(space)} for flat, space in pattern.corners],
    }
