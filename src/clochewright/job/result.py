"""The result file: everything in SI, the unit in the key's end, stable order, no clock in it."""

from __future__ import annotations

import json
from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from clochewright import __version__
from clochewright.findings import Finding, say
from clochewright.frame import Frame
from clochewright.job.assembly_result import joints_as_json
from clochewright.job.opening_result import lid_as_json
from clochewright.job.result_bodies import bodies_as_json
from clochewright.job.result_film import film_as_json
from clochewright.job.season_result import season_as_json
from clochewright.job.types import Job, Made
from clochewright.plan import plan_as_si

SCHEMA = "clochewright-job-1"
# Below a hundredth of a micrometre lies only the noise of floating point.
DECIMALS = 9


def result(job: Job) -> dict[str, Any]:
    """The job as plain JSON values; keys as in the handbook's page on the result file."""
    out: dict[str, Any] = {
        "schema": SCHEMA,
        "generator": f"clochewright {__version__}",
        "plan": plan_as_si(job.plan),
        "answer": {"question": job.answer.question, "verdict": job.answer.verdict, "text": job.answer.text},
        "frame": _frame(job.frame, job.made.cutlist.mark_of if job.made else {}) | _bed(job),
    }
    if job.made is not None:
        out |= _made(job.made)
        out["bodies"] = bodies_as_json(job.frame, job.made)
    if job.season is not None:
        out["season"] = season_as_json(job.season)
    out["findings"] = [_finding(job, finding) for finding in job.findings]
    return out


def result_text(job: Job) -> str:
    """The result file's text; the same plan gives the same bytes."""
    return json.dumps(_rounded(result(job)), indent=1, ensure_ascii=False, allow_nan=False) + "\n"


def _bed(job: Job) -> dict[str, Any]:
    """The bed's own outline where it was measured with four sides and two diagonals."""
    shape = job.plan.bed.shape
    if shape is None:
        return {}
    outline = {
        "corners_m": [list(corner) for corner in shape.corners_m],
        "angles_deg": list(shape.angles_deg),
        "diagonals_differ_m": shape.diagonals_differ_m,
        "out_of_square_m": shape.lean_m,
        "stands_in_m": [list(corner) for corner in shape.stands_in_m],
    }
    return {"bed": outline}


def _frame(frame: Frame, mark_of: Mapping[str, str]) -> dict[str, Any]:
    return {
        "shape": frame.shape,
        "pipe": frame.pipe_key,
        "pipe_outside_diameter_m": frame.pipe_outside_diameter_m,
        "recipes": dict(frame.recipes),
        "length_m": frame.length_m,
        "width_m": frame.width_m,
        "height_m": frame.height_m,
        "ridge_height_m": frame.ridge_height_m,
        "base_length_m": frame.base_length_m,
        "base_width_m": frame.base_width_m,
        "diagonal_m": frame.diagonal_m,
        "pitch_deg": frame.pitch_deg,
        "longest_bay_m": frame.longest_bay_m,
        "stations_m": list(frame.stations_m),
        "fittings": [
            {
                "id": fitting.id,
                "kind": fitting.kind,
                "role": fitting.role,
                "body": fitting.body,
                "position_m": list(fitting.position_m),
                "body_outside_diameter_m": fitting.hub_diameter_m,
                "ports": [
                    {
                        "name": port.name,
                        "direction": list(port.direction),
                        "centre_to_stop_m": port.centre_to_stop_m,
                        "socket_depth_m": port.socket_depth_m,
                    }
                    for port in fitting.ports
                ],
            }
            for fitting in frame.fittings
        ],
        "pipes": [
            {
                "id": pipe.id,
                "mark": mark_of.get(pipe.id),
                "role": pipe.role,
                "body": pipe.body,
                "shape": pipe.shape,
                "cut_length_m": pipe.cut_length_m,
                "ends": [
                    {"fitting": end.fitting, "port": end.port, "seat_depth_m": end.seat_depth_m} for end in pipe.ends
                ],
                "path_m": [list(point) for point in pipe.path_m],
            }
            for pipe in frame.pipes
        ],
    }


def _made(made: Made) -> dict[str, Any]:
    stock, film, weights, supplies = made.cutlist.stock, made.film, made.weights, made.supplies
    return {
        "cuts": [
            {"mark": cut.mark, "role": cut.role, "length_m": cut.length_m, "count": cut.count}
            for cut in made.cutlist.cuts
        ],
        "stock": {
            "kerf_m": stock.kerf_m,
            "proven": stock.proven,
            "gap": stock.gap,
            "reused": [
                {
                    "old_mark": use.piece.mark,
                    "mark": use.mark,
                    "pipe": use.pipe,
                    "fitting": use.fitting,
                    "length_m": use.length_m,
                    "new_piece_m": use.new_m,
                }
                for use in made.cutlist.reused
            ],
            "already": sorted(made.cutlist.already, key=lambda pipe: (len(pipe), pipe)),
            "sticks": [
                {
                    "length_m": stick.length_m,
                    "origin": stick.origin,
                    "cuts": [{"mark": mark, "length_m": length_m} for mark, length_m in stick.cuts],
                    "offcut_m": stick.offcut_m,
                }
                for stick in stock.sticks
            ],
        },
        "dry": [
            {
                "name": size.name,
                "finished_m": size.finished_m,
                "dry_m": size.dry_m,
                "dry_low_m": size.dry_low_m,
                "dry_high_m": size.dry_high_m,
            }
            for size in made.dry.sizes
        ],
        "spread": [
            {
                "name": one.name,
                "unit": one.unit,
                "nominal": one.nominal,
                "likely": one.likely,
                "worst_low": one.worst_low,
                "worst_high": one.worst_high,
                "rss": one.rss,
                "fittings_low": one.fittings_low,
                "fittings_high": one.fittings_high,
            }
            for one in made.spreads.all
        ],
        "cut_last": [
            {"mark": late.mark, "role": late.role, "size": late.size, "share": late.share}
            for late in made.spreads.matter_most
        ],
        "supplies": [
            {
                "item": row.item,
                "what": row.what,
                "quantity": row.quantity,
                "unit": row.unit,
                "unit_price": row.unit_price,
                "price": row.price,
            }
            for row in supplies.rows
        ],
        "supplies_total": supplies.total,
        "mass_kg": {
            "frame": weights.frame_kg.value,
            "film": weights.film_kg.value,
            "lath": weights.lath_kg.value,
            "hardware": weights.hardware_kg.value,
            "lid": weights.lid_kg.value,
            "lid_low": weights.lid_kg.low,
            "lid_high": weights.lid_kg.high,
        },
        "film": film_as_json(film),
        "lid": lid_as_json(made.lid, made.opening),
        **joints_as_json(made.joints, made.assembly),
        "strength": _strength(made),
    }


def _strength(made: Made) -> dict[str, Any]:
    strength = made.strength
    return {
        "limits": [
            {
                "key": x.key,
                "case": x.case,
                "kind": x.kind,
                "value": x.value,
                "low": x.low,
                "high": x.high,
                "governs": x.governs,
                "source": x.source,
            }
            for x in strength.limits
        ],
        "handling": [
            {"key": x.key, "case": x.case, "share": x.share, "gives_m": x.gives_m, "governs": x.governs}
            for x in strength.checks
        ],
        "worst": [
            {"case": x.case, "pipe": x.pipe, "mark": made.cutlist.mark_of.get(x.pipe), "role": x.role, "share": x.share}
            for x in strength.members
        ],
        "changes": [
            {
                "key": x.key,
                "gust_m_s": x.gust_m_s,
                "wet_snow_m": x.wet_snow_m,
                "gust_share": x.gust_share,
                "snow_share": x.snow_share,
                "cost": x.cost_money,
                "change": {"path": x.change.path, "value": x.change.value} if x.change else None,
            }
            for x in strength.changes
        ],
    }


def _finding(job: Job, finding: Finding) -> dict[str, Any]:
    words = say(finding, job.plan.units, job.plan.prices.currency)
    return {
        "level": str(finding.level),
        "step": finding.step,
        "key": finding.key,
        "what": words.what,
        "where": finding.where,
        "why": words.why,
        "mend": words.mend,
        "source": finding.source,
        "change": {"path": finding.change.path, "value": finding.change.value} if finding.change else None,
    }


def _rounded(value: Any) -> Any:
    if isinstance(value, float):
        return round(value, DECIMALS) + 0.0  # + 0.0 turns -0.0 into 0.0
    if isinstance(value, Decimal):
        return float(value)
    if isinstance(value, Mapping):
        return {key: _rounded(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [_rounded(item) for item in value]
    return value
