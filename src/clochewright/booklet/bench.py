"""The pages for the bench and the shed door: joints, cement, film, lath, hinges, and use."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Any

from clochewright.booklet.curing import curing_table
from clochewright.booklet.figures import hoops_block, sizes_block
from clochewright.booklet.front import own_caution, page_cautions
from clochewright.booklet.words import between, capital, unbroken
from clochewright.film import BOTTOM, FilmPlan, Sheet
from clochewright.findings import word
from clochewright.job import Job, Made
from clochewright.lid import Fixing
from clochewright.measures import Units, show_angle, show_drill, show_length, show_mass, show_speed, show_temperature

# Leafy crops are given air above this: University of Wyoming Extension, Low Tunnels for Vegetables, 60 F (16 C).
_OPEN_ABOVE_degC = {"inch": (60 - 32) / 1.8, "mm": 16.0}
# Notes of the lid that belong to its use, and so to the shed door.
_IN_USE = ("lid.falls",)
# Told beside the sizes and the hoops that they belong to.
_BESIDE_SIZES = ("cuts.dry-fit-longer", "cuts.cement-shortens", "frame.hoop-bent")


def joints_page(job: Job, made: Made) -> dict[str, Any]:
    """Which joints are cemented and which screwed, how deep each pipe goes, and how long cement takes."""
    joints, units = made.joints, job.plan.units
    roles = {pipe.id: pipe.role for pipe in job.frame.pipes}
    alike: dict[tuple[str, str, str], Counter[str]] = {}
    for joint in joints.joints:
        row = job.frame.fitting(joint.fitting).role, joint.treatment, show_length(joint.seat_depth_m, units)
        alike.setdefault(row, Counter())[roles[joint.pipe]] += 1
    lead = "lead" if joints.cemented and joints.screwed else "lead-cemented" if joints.cemented else "lead-screwed"
    return {
        "lead": word(f"booklet.joints.{lead}", cemented=joints.cemented, screwed=joints.screwed),
        "cautions": page_cautions(job, "joints", but=_BESIDE_SIZES),
        "hoops": hoops_block(job.frame, job.pipe, units),
        "hoop_cautions": page_cautions(job, "joints", only=("frame.hoop-bent",)),
        "sizes": sizes_block(made, units),
        "size_cautions": page_cautions(job, "joints", only=("cuts.dry-fit-longer", "cuts.cement-shortens")),
        "rows": [
            {
                "fitting": capital(fitting),
                "pipes": ", ".join(f"{count} × {pipe}" for pipe, count in pipes.items()),
                "how": word(f"booklet.joints.{treatment}"),
                "depth": depth,
            }
            for (fitting, treatment, depth), pipes in alike.items()
        ],
        "order": _order(job),
        "curing": curing_table(job.frame.pipe_outside_diameter_m, units) if joints.cemented else None,
    }


def _order(job: Job) -> list[str]:
    """What the build pages don't tell: how sleeves are fixed to the boards."""
    if any(fitting.kind == "sleeve" for fitting in job.frame.fittings):
        return [word("booklet.joints.sleeves"), word("booklet.joints.spring")]
    return []


def film_page(job: Job, made: Made, files: Mapping[str, dict[str, str]]) -> dict[str, Any]:
    """The sheet, its roll, the laths with their staples and screws, and where hinges, latches and props go.

    Args:
        job: The finished job.
        made: What the bench made.
        files: The film's drawings by name, each with its file and its words.
    """
    film, lid, units = made.film, made.lid, job.plan.units
    sizes = [_several(count, _size(sheet, units)) for sheet, count in film.alike]
    rows = [_row("sheet", "; ".join(sizes)), _row("girth", show_length(film.girth_m, units))]
    if film.roll is None:
        rows.append(_row("roll", film.kind, word("booklet.film.no-roll")))
    else:
        way = word(f"booklet.film.roll-{'across' if film.roll.across else 'along'}")
        rows.append(_row("roll", f"{film.kind}, {film.roll.label}", way))
    rows += _laths(job, film)
    hinge_side = job.plan.lid.hinge_side
    latch_side = {"left": "right", "right": "left", "front": "far", "far": "front"}[hinge_side]
    if lid.saddles:
        for side, sign in (("left", 1.0), ("right", -1.0)):
            mine = [strap for strap in lid.saddles if strap.position_m[1] * sign > 0]
            rows.append(_fixings(job, "straps", side, mine))
        rows += [_fixings(job, "panel-hinges", "", lid.hinges), _fixings(job, "panel-latches", "", lid.latches)]
    else:
        rows += [
            _fixings(job, "hinges", hinge_side, lid.hinges),
            _fixings(job, "latches", latch_side, lid.latches),
        ]
    bars = Counter(
        (show_length(p.bar_m, units), show_length(p.length_m, units), show_angle(p.open_deg)) for p in lid.props
    )
    for (length, hole, angle), count in bars.items():
        rows.append(_row("prop", _several(count, length), word("booklet.film.prop-note", angle=angle, hole=hole)))
    cautions = page_cautions(job, "film")
    lead = word(f"booklet.film.lead-{'board' if film.seat is None else 'rail'}")
    return {"lead": lead, "rows": rows, "lath": files.get("lath"), "cautions": cautions}


def _size(sheet: Sheet, units: Units) -> str:
    length, width = (show_length(side_m, units) for side_m in (sheet.length_m, sheet.width_m))
    return word("booklet.figure.times", length=length, width=width)


def _row(name: str, value: str, note: str | None = None, **fields: object) -> dict[str, str]:
    said = word(f"booklet.film.{name}-note") if note is None else note
    return {"label": word(f"booklet.film.{name}", **fields), "value": value, "note": said}


def _several(count: int, size: str) -> str:
    return word("booklet.film.several", count=str(count), size=size) if count > 1 else size


def _laths(job: Job, film: FilmPlan) -> list[dict[str, str]]:
    """Where the pieces of lath lie, those of sides that are alike in one row; how high, and the hole to drill."""
    units = job.plan.units
    alike: dict[tuple[str, str], list[str]] = {}
    for lath in film.laths:
        fixed: dict[str, Any] = {"staples": lath.staples, "screws": len(lath.screws_m)}
        if lath.side in BOTTOM and film.seat is not None:
            way = word(f"booklet.film.lath-from-{'left' if lath.side in ('front', 'far') else 'front'}")
            note = word("booklet.film.lath-note", pieces=len(lath.runs_m), way=way, **fixed)
            value = unbroken([_piece(run, units) for run in lath.runs_m])
        else:
            on = "board" if lath.side in BOTTOM else "whole"
            value, note = show_length(lath.length_m, units), word(f"booklet.film.lath-{on}-note", **fixed)
        cover = word("booklet.film.lath-cover", number=lath.cover) if film.covers > 1 else ""
        alike.setdefault((value, note), []).append(word(f"booklet.side.{lath.side}") + cover)
    rows = [_row("lath", value, note, side=", ".join(sides)) for (value, note), sides in alike.items()]
    if film.seat is not None:
        note = word("booklet.film.lath-up-note", screw_up=show_length(film.seat.screw_up_m, units))
        rows.append(_row("lath-up", show_drill(film.seat.edge_up_m, units), note))
    if film.screw is not None:
        on = "board" if film.seat is None else "rail"
        note = word("booklet.film.drill-note", screw=film.screw.name, into=word(f"booklet.film.drill-{on}"))
        rows.append(_row("drill", show_drill(film.screw.pilot_m, units), note))
    return rows


def _piece(run_m: tuple[float, float], units: Units) -> str:
    start, stop = (show_length(at_m, units) for at_m in run_m)
    return word("booklet.film.lath-piece", start=start, stop=stop)


def _fixings(job: Job, name: str, side: str, fixings: Sequence[Fixing]) -> dict[str, str]:
    """Where the middles of hinges or latches are, from the front end of the cover, or from its left side."""
    if not fixings:
        return _row(name, word("booklet.film.none"), "", side=side)
    units = job.plan.units
    if side in ("front", "far"):
        places = [show_length(job.frame.width_m / 2 - fixing.position_m[1], units) for fixing in fixings]
        return _row(name, unbroken(places), word("booklet.film.from-left"), side=side)
    places = [show_length(fixing.position_m[0] + job.frame.length_m / 2, units) for fixing in fixings]
    return _row(name, unbroken(places), word("booklet.film.from-front"), side=side)


def shed_page(job: Job, made: Made) -> dict[str, Any]:
    """What to keep in mind while the cover is in use, with the few figures that go with it."""
    units, frame = job.plan.units, job.frame
    size = " × ".join(show_length(m, units, style="long") for m in (frame.length_m, frame.width_m, frame.height_m))
    weight, panel = made.weights.panel_kg or made.weights.lid_kg, made.weights.panel_kg is not None
    facts = [
        ("size", size),
        ("panel-weight" if panel else "weight", between(show_mass(weight.low, units), show_mass(weight.high, units))),
        *(
            ("gust", between(show_speed(limit.low, units), show_speed(limit.high, units)))
            for limit in made.limits
            if limit.kind == "gust_m_s"
        ),
        (
            "hinges",
            word("booklet.shed.hinges-value", hinges=len(made.lid.hinges), latches=len(made.lid.latches)),
        ),
        ("film", made.film.kind),
    ]
    open_above = show_temperature(_OPEN_ABOVE_degC[units], units)
    return {
        "facts": [{"label": word(f"booklet.shed.{name}"), "value": value} for name, value in facts],
        "cautions": [
            own_caution("shed", "wind"),
            *page_cautions(job, "lid", only=_IN_USE),
            own_caution("shed", "heat", open=open_above),
            *(own_caution("shed", name) for name in ("snow", "people", "water", "rules")),
        ],
    }
