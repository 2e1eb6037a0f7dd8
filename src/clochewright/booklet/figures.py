"""The chief figures on the front page, and the hoops: what, how much, from where to where."""

from __future__ import annotations

from typing import Any

from clochewright.booklet.words import area, between
from clochewright.catalogue import PipeRow
from clochewright.cuts import readings
from clochewright.findings import word
from clochewright.frame import Frame, HoopFacts
from clochewright.job import Job, Made
from clochewright.measures import Units, show_angle, show_force, show_length, show_mass, show_money, show_temperature
from clochewright.plan import Plan

_BEND_ABOVE_degC = 10.0
_SLIGHT_N = 0.5  # a push that no hand feels
_TAPED = ("length", "width", "diagonal", "height", "post", "rafter", "hoop")  # what a tape can check


def chief_figures(job: Job, made: Made) -> list[dict[str, str]]:
    """The figures on the front page, in rows of three."""
    plan, frame, units = job.plan, job.frame, job.plan.units
    supplies, weight = made.supplies, made.weights.lid_kg
    missing = sum(row.price is None for row in supplies.rows)
    invented = any(finding.key == "supplies.invented-prices" for finding in supplies.findings)
    cost = "cost-note-invented" if invented else "cost-note-missing" if missing else "cost-note"
    to_buy = sum(stick.origin == "buy" for stick in made.cutlist.stock.sticks)
    pieces = sum(cut.count for cut in made.cutlist.cuts)
    figures = [
        _figure("bed", area(plan.bed.outside_length_m, plan.bed.outside_width_m, units),
                board=show_length(plan.bed.board_m, units)),
        _figure("cover", area(frame.length_m, frame.width_m, units), note=_line(plan)),
        _figure("height", show_length(frame.height_m, units, style="long")),
        *_of_shape(frame, plan, units),
        _figure("bents", str(len(frame.stations_m)), note="hoops-note" if frame.hoop else "",
                bay=show_length(frame.longest_bay_m, units)),
    ]  # fmt: skip
    if any(fitting.role == "corner" for fitting in frame.fittings):
        read = readings(made.dry, made.spreads).find("diagonal")
        joined_m = read.joined_m if read is not None else (frame.diagonal_m, frame.diagonal_m)
        figures.append(_figure("diagonal", _range(*joined_m, units)))
    if plan.covers_count > 1:
        figures.append(_figure("sections", str(plan.covers_count)))
    if made.weights.panel_kg is not None:
        panel = made.weights.panel_kg
        figures.append(_figure("panel", between(show_mass(panel.low, units), show_mass(panel.high, units))))
    figures += [
        _figure("weight", between(show_mass(weight.low, units), show_mass(weight.high, units))),
        _figure("cost", show_money(supplies.total, plan.prices.currency), note=cost, count=missing),
        _figure("pipe", job.pipe.key, count=to_buy, pieces=pieces),
    ]
    return figures


def _line(plan: Plan) -> str:
    """Where the base sits, as the note of the size over all."""
    if plan.cover.shape == "tunnel" and plan.hoops.feet != "tees":
        return f"cover-{plan.hoops.feet}"
    return f"cover-{plan.cover.line}"


def _of_shape(frame: Frame, plan: Plan, units: Units) -> list[dict[str, str]]:
    """What only covers of this shape have."""
    if frame.hoop is not None:
        return [_figure("hoop", show_length(_hoop_pipe_m(frame), units), radius=_radius(frame.hoop, units))]
    pitch = show_angle(frame.pitch_deg)
    if frame.shape == "lean-to":
        heights = [show_length(height_m, units) for height_m in (plan.lean_to.back_m, plan.lean_to.front_m)]
        return [_figure("back", word("booklet.figure.back-and-front", back=heights[0], front=heights[1]), pitch=pitch)]
    recipes = word("booklet.recipe.at", place="apex", recipe=frame.recipes.get("apex", ""))
    if frame.shape == "barn":
        walls = show_length(plan.barn.walls_m, units)
        return [_figure("roof", pitch, walls=walls, recipes=recipes)]
    return [_figure("steepest" if frame.shape == "own" else "pitch", pitch, recipes=recipes)]


def _figure(name: str, value: str, note: str = "", **fields: object) -> dict[str, str]:
    said = word(f"booklet.figure.{note or f'{name}-note'}", **fields)
    return {"label": word(f"booklet.figure.{name}"), "value": value, "note": said}


def _hoop_pipe_m(frame: Frame) -> float:
    """The length to cut for one hoop, or for each half of one [m]."""
    return next(pipe.cut_length_m for pipe in frame.pipes if pipe.role == "hoop")


def _radius(hoop: HoopFacts, units: Units) -> str:
    return show_length(hoop.least_radius_m, units)


def hoops_block(frame: Frame, pipe: PipeRow, units: Units) -> dict[str, Any] | None:
    """The hoops at the bench: what to cut, what they bend to, what it strains; None where there are none."""
    hoop = frame.hoop
    if hoop is None:
        return None
    pieces = [piece for piece in frame.pipes if piece.role == "hoop"]
    mouths = [point[1] for piece in pieces for point in (piece.path_m[1], piece.path_m[-2])]
    halves = len(pieces) > len(frame.stations_m)
    push = show_force(abs(hoop.push_N), units) if abs(hoop.push_N) >= _SLIGHT_N else word("booklet.hoops.hardly")
    rows = [
        ("cut", show_length(_hoop_pipe_m(frame), units), "cut-half" if halves else "cut-whole"),
        ("span", show_length(max(mouths) - min(mouths), units), "span-note"),
        ("rise", show_length(hoop.rise_m, units), "rise-note"),
        ("radius", _radius(hoop, units), "radius-note"),
        ("strain", f"{hoop.strain_share:.1%}".replace("%", " %"), "strain-note"),
        ("push", push, "push-note"),
    ]
    return {
        "rows": [
            {
                "label": word(f"booklet.hoops.{name}"),
                "value": value,
                "note": word(f"booklet.hoops.{note}", pipe=pipe.key, count=len(pieces)),
            }
            for name, value, note in rows
        ],
        "caution": {
            "what": [word("booklet.hoops.warm", above=show_temperature(_BEND_ABOVE_degC, units))],
            "why": word("booklet.hoops.warm-why"),
            "source": word("booklet.hoops.warm-source"),
        },
    }


def sizes_block(made: Made, units: Units) -> dict[str, Any] | None:
    """Three sizes of what a tape can check: as planned, as a dry fit shows it, as it comes out joined for good."""
    read = readings(made.dry, made.spreads)
    if not read.all:
        return None
    rows = [
        {
            "size": word(f"booklet.sizes.{one.name}"),
            "planned": show_length(one.planned_m, units),
            "dry": _range(*one.dry_m, units),
            "joined": _range(*one.joined_m, units),
        }
        for one in sorted((one for one in read.all if one.name in _TAPED), key=lambda one: _TAPED.index(one.name))
    ]
    lead = word("booklet.sizes.lead" if read.longer_dry else "booklet.sizes.lead-same")
    return {"rows": rows, "lead": lead, "dry": read.longer_dry}


def _range(low_m: float, high_m: float, units: Units) -> str:
    return between(show_length(low_m, units), show_length(high_m, units))
