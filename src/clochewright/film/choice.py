"""The right film for this cover: every film on sale side by side, and other covers for the same frame."""

from __future__ import annotations

from collections.abc import Sequence

from clochewright.catalogue import Catalogue, GoodsRow, Prices
from clochewright.film.rolls import PriceOf, plan_rolls
from clochewright.film.types import FilmChoice, SecondCover, Sheet
from clochewright.findings import Finding, Level
from clochewright.plan import Plan
from clochewright.sources import Cited, Grade

POLYETHYLENE_KG_M3 = Cited(920.0, 910.0, 940.0, Grade.PUBLISHED, "film converter's yield table, 0.92 g/cm3")
# Film is sold by its nominal thickness; what comes off the roll is within a tenth of it.
GAUGE_BAND = 0.10


def is_polyethylene(row: GoodsRow) -> bool:
    """Whether the film is one that bare PVC eats: every film is, but vinyl (PVC) film."""
    return "vinyl" not in f"{row.key} {row.name} {row.note}".casefold()


def thickness_of(row: GoodsRow) -> Cited:
    """The film's thickness [m]; 0 where the catalogue has none."""
    return row.figures.get("thickness_m") or Cited(0.0, 0.0, 0.0, Grade.ESTIMATE, "not in the catalogue")


def mass_of(row: GoodsRow, area_m2: float) -> Cited:
    """Mass of so much of a film [kg], tabled or from its thickness as polyethylene."""
    each = row.figures.get("mass_kg_m2")
    if each is None:
        thickness = thickness_of(row)
        each = Cited(
            thickness.value * POLYETHYLENE_KG_M3.value,
            thickness.low * POLYETHYLENE_KG_M3.low * (1 - GAUGE_BAND),
            thickness.high * POLYETHYLENE_KG_M3.high * (1 + GAUGE_BAND),
            Grade.DERIVED,
            f"thickness, and density by {POLYETHYLENE_KG_M3.source}",
        )
    return Cited(each.value * area_m2, each.low * area_m2, each.high * area_m2, each.grade, each.source)


def pricing(prices: Prices, row: GoodsRow) -> PriceOf:
    """The prices of one film's rolls."""
    return lambda label: prices.price(row.key, label)


def compare(wanted: Sequence[Sheet], plan: Plan, catalogue: Catalogue, prices: Prices) -> tuple[FilmChoice, ...]:
    """Every film of the plan's market, and the one it names, for these sheets; the least dear by the season first.

    Films without a price come last; a film of which no roll gives these sheets is left out.
    """
    named = catalogue.find_goods("film", plan.film.kind)
    rows = dict.fromkeys((named.key, *(row.key for row in catalogue.goods("film", plan.units))))
    by_key = {row.key: row for row in catalogue.goods("film")}
    choices = []
    for key in rows:
        row = by_key[key]
        off = plan_rolls(row.rolls, wanted, pricing(prices, row))
        if off is None:
            continue
        choices.append(
            FilmChoice(
                key=key,
                name=row.name,
                thickness=row.figures.get("thickness_m"),
                life_years=row.figures.get("life_years"),
                light=row.figures.get("light_fraction"),
                mass_kg=mass_of(row, sum(sheet.area_m2 for sheet in off.sheets)),
                joins=off.joins,
                price=off.price(pricing(prices, row)),
                chosen=key == named.key,
            )
        )
    return tuple(sorted(choices, key=lambda c: (c.per_season_money is None, c.per_season_money or 0)))


def dear_by_the_season(choices: Sequence[FilmChoice]) -> tuple[Finding, ...]:
    """A note where another film costs less in the long run than the one chosen."""
    chosen = next((choice for choice in choices if choice.chosen), None)
    best = choices[0] if choices else None
    if chosen is None or best is None or best is chosen or best.joins > chosen.joins:
        return ()
    mine, other = chosen.per_season_money, best.per_season_money
    if mine is None or other is None or other >= mine:
        return ()
    values = {"film": chosen.name, "season_money": mine, "other": best.name, "other_money": other}
    return (Finding(Level.NOTE, "film", "film.cheaper-by-season", "film.kind", values, "the life the catalogue gives"),)


def second_covers(
    wanted: Sequence[Sheet], plan: Plan, catalogue: Catalogue, prices: Prices
) -> tuple[tuple[SecondCover, ...], tuple[Finding, ...]]:
    """Fleece, mesh or shade cloth over the same frame, each with its own sheets.

    Raises:
        CatalogueError: when the plan names a cloth that the catalogue does not have.
    """
    covers, findings = [], []
    for more in plan.film.more:
        row = catalogue.find_goods("cloth", more.kind)
        off = plan_rolls(row.rolls, wanted, pricing(prices, row))
        if off is None:
            values = {"film": row.name, "length_m": wanted[0].length_m, "width_m": wanted[0].width_m,
                      "rolls": ", ".join(roll.label for roll in row.rolls) or "none"}  # fmt: skip
            findings.append(Finding(Level.WARN, "film", "film.no-roll", "film.more", values))
            continue
        mass = mass_of(row, sum(sheet.area_m2 for sheet in off.sheets)) if "mass_kg_m2" in row.figures else None
        light = row.figures.get("light_fraction")
        covers.append(SecondCover(row.key, row.name, off.sheets, off.rolls, mass, light, off.joins))
    return tuple(covers), tuple(findings)
