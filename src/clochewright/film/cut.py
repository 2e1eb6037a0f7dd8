"""One sheet over the cover: its size, its roll, its laths, and the cautions that go with it."""

from __future__ import annotations

from clochewright.catalogue import Catalogue, GoodsRow
from clochewright.film.develop import Development, develop
from clochewright.film.fixing import lay_laths
from clochewright.film.rolls import Choice, choose_roll
from clochewright.film.types import FilmPlan, Sheet
from clochewright.findings import Finding, Level
from clochewright.frame import Frame
from clochewright.plan import Plan
from clochewright.sources import Cited, Grade

PRACTICE = "common practice, no source"
DELAWARE = (
    "Univ. of Delaware Cooperative Extension, Weekly Crop Update, Don't Mix PVC Pipe and Polyethylene Greenhouse Film"
)
# 150 to 200 mm at each edge can be rolled on a lath.
LEAST_OVERHANG_M = 0.150
# More slack than this between the bents shows, and flaps.
SLACK_WORTH_SAYING_M = 0.010
POLYETHYLENE_KG_M3 = Cited(920.0, 910.0, 940.0, Grade.PUBLISHED, "film converter's yield table, 0.92 g/cm3")
# Film is sold by its nominal thickness; what comes off the roll is within a tenth of it.
GAUGE_BAND = 0.10


def cut_sheet(frame: Frame, plan: Plan, catalogue: Catalogue) -> FilmPlan:
    """Size the sheet, choose its roll, lay its laths.

    The sheet's width is the girth and an overhang at each side; its length is the reach, down over each gable like a
    parcel's end, and an overhang at each end.

    Args:
        frame: the solved frame.
        plan: says which film, how much overhang, and how far staples and screws are apart.
        catalogue: film by kind, with the rolls it is sold in.

    Returns:
        The film for the cover, with findings.

    Raises:
        CatalogueError: when the plan names a film that the catalogue does not have.
    """
    row = catalogue.find_goods("film", plan.film.kind)
    over = develop(frame)
    length_m = over.reach_m + 2 * plan.film.overhang_m
    width_m = over.girth_m + 2 * plan.film.overhang_m
    choice = choose_roll(row.rolls, length_m, width_m)
    sheets = choice.strips if choice is not None else (Sheet("cover", length_m, width_m),)
    thickness, mass_kg_m2 = _thickness(row), _mass_kg_m2(row)
    area_m2 = sum(sheet.area_m2 for sheet in sheets)
    findings = (
        *_roll_findings(row, choice, length_m, width_m),
        *_overhang_findings(plan),
        *_slack_findings(over),
        *_cautions(row),
    )
    return FilmPlan(
        kind=row.name,
        sheets=sheets,
        roll=choice.roll if choice is not None else None,
        laths=lay_laths(frame, plan),
        overhang_m=plan.film.overhang_m,
        girth_m=over.girth_m,
        reach_m=over.reach_m,
        slack_m=over.slack_m,
        section_m=over.section_m,
        profile_m=over.profile_m,
        thickness=thickness,
        mass_kg=_times(mass_kg_m2, area_m2),
        touches_pvc_badly=is_polyethylene(row),
        findings=findings,
    )


def is_polyethylene(row: GoodsRow) -> bool:
    """Whether the film is one that bare PVC eats: every film is, but vinyl (PVC) film."""
    return "vinyl" not in f"{row.key} {row.name} {row.note}".casefold()


def _thickness(row: GoodsRow) -> Cited:
    return row.figures.get("thickness_m") or Cited(0.0, 0.0, 0.0, Grade.ESTIMATE, "not in the catalogue")


def _mass_kg_m2(row: GoodsRow) -> Cited:
    """Mass of the film [kg/m2], tabled or from its thickness as polyethylene."""
    tabled = row.figures.get("mass_kg_m2")
    if tabled is not None:
        return tabled
    thickness = _thickness(row)
    return Cited(
        thickness.value * POLYETHYLENE_KG_M3.value,
        thickness.low * POLYETHYLENE_KG_M3.low * (1 - GAUGE_BAND),
        thickness.high * POLYETHYLENE_KG_M3.high * (1 + GAUGE_BAND),
        Grade.DERIVED,
        f"thickness, and density by {POLYETHYLENE_KG_M3.source}",
    )


def _times(each: Cited, count: float) -> Cited:
    return Cited(each.value * count, each.low * count, each.high * count, each.grade, each.source)


def _roll_findings(row: GoodsRow, choice: Choice | None, length_m: float, width_m: float) -> tuple[Finding, ...]:
    values: dict[str, object] = {"film": row.name, "length_m": length_m, "width_m": width_m}
    if choice is None:
        values["rolls"] = ", ".join(roll.label for roll in row.rolls) or "none"
        return (Finding(Level.WARN, "film", "film.no-roll", "film.kind", values),)
    if len(choice.strips) > 1:
        values |= {"strips": len(choice.strips), "roll": choice.roll.label}
        return (Finding(Level.WARN, "film", "film.joined", "film.kind", values, PRACTICE),)
    return ()


def _overhang_findings(plan: Plan) -> tuple[Finding, ...]:
    if plan.film.overhang_m >= LEAST_OVERHANG_M:
        return ()
    values = {"overhang_m": plan.film.overhang_m, "least_m": LEAST_OVERHANG_M}
    return (Finding(Level.WARN, "film", "film.short-overhang", "film.overhang", values, PRACTICE),)


def _slack_findings(over: Development) -> tuple[Finding, ...]:
    if over.slack_m < SLACK_WORTH_SAYING_M:
        return ()
    return (Finding(Level.NOTE, "film", "film.slack", "film", {"slack_m": over.slack_m}),)


def _cautions(row: GoodsRow) -> tuple[Finding, ...]:
    found = [
        Finding(Level.NOTE, "film", "film.suffocation", "film", {}, "general packaging warning; common practice"),
        Finding(Level.NOTE, "film", "film.mild-day", "film", {}, "greenhouse film maker's fitting guide"),
    ]
    if is_polyethylene(row):
        found.append(Finding(Level.NOTE, "film", "film.touches-pvc", "film", {"film": row.name}, DELAWARE))
    return tuple(found)
