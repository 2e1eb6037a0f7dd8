"""The films side by side, other cloth for the same frame, and old sheets."""

from __future__ import annotations

from decimal import Decimal

import pytest

from clochewright.catalogue import load_catalogue, load_prices
from clochewright.errors import CatalogueError
from clochewright.film import cut_sheet
from clochewright.frame import raise_frame
from clochewright.plan import plan_from_si
from frame_samples import FOOT, INCH

CATALOGUE, PRICES = load_catalogue(), load_prices()


def cut(sections=1, **film):
    plan = plan_from_si(
        {"bed": {"length": 9 * FOOT, "width": 5.5 * FOOT}, "film": film, "cover": {"sections": sections}}
    )
    return cut_sheet(raise_frame(plan, CATALOGUE), plan, CATALOGUE, None, PRICES)


def keys(film):
    return {finding.key for finding in film.findings}


def test_every_film_is_priced_by_the_season():
    choices = {choice.name: choice for choice in cut().choices}
    thin, thick = choices["4 mil one-season film"], choices["6 mil UV film"]
    assert thick.chosen
    assert thin.per_season_money == thin.price
    assert thick.per_season_money == thick.price / Decimal(4)  # warranted for four years: extension services
    assert thin.mass_kg.value / thick.mass_kg.value == pytest.approx(4 / 6, rel=0.01)


def test_what_is_cheap_today_and_dear_by_the_season_is_said():
    assert "film.cheaper-by-season" in keys(cut(kind="4 mil one-season film"))
    assert "film.cheaper-by-season" not in keys(cut())


def test_other_cloth_has_its_own_sheets_over_the_same_frame():
    film = cut(more=[{"kind": "insect mesh"}, {"kind": "0.9 oz fleece"}])
    mesh, fleece = film.more
    for more in (mesh, fleece):
        assert sum(s.area_m2 for s in more.sheets) == pytest.approx(film.sheets[0].area_m2, rel=0.1)
        assert more.rolls
    assert mesh.light.value > 0.5


def test_cloth_nobody_sells_is_refused_with_the_nearest():
    with pytest.raises(CatalogueError, match="insect mesh"):
        cut(more=[{"kind": "insekt mesh"}])


@pytest.mark.parametrize(
    ("old", "verdict", "covers", "key"),
    [
        ({"length_m": 5.5, "width_m": 3.1}, "use", "yes", "film.old-good"),
        ({"length_m": 4.7, "width_m": 2.8, "months": 8}, "use", "trimmed", "film.old-trimmed"),
        ({"length_m": 5.5, "width_m": 3.1, "months": 12, "tears": 3}, "patch", "yes", "film.old-patch"),
        ({"length_m": 5.5, "width_m": 2.0}, "replace", "no", "film.old-too-small"),
        ({"length_m": 3.1, "width_m": 5.5, "months": 60}, "replace", "yes", "film.old-worn"),
        ({"length_m": 5.5, "width_m": 3.1, "tears": 30}, "replace", "yes", "film.old-torn"),
        ({"length_m": 5.5, "width_m": 3.1, "months": 46, "tears": 1}, "replace", "yes", "film.old-not-worth-it"),
        ({"length_m": 5.5, "width_m": 3.1, "months": 7, "kind": "4 mil one-season film"}, "replace", "yes",
         "film.old-worn"),
    ],
)  # fmt: skip
def test_an_old_sheet_is_judged(old, verdict, covers, key):
    """Life by extension services: greenhouse grade four years, one-season film half a year to a year."""
    film = cut(old=old)
    assert (film.old.verdict, film.old.covers) == (verdict, covers)
    assert key in keys(film)


def test_each_section_has_its_own_sheet():
    film = cut(sections=2)
    assert film.covers == 2
    assert len(film.sheets) == 2
    assert len(film.laths) == 8
    assert film.order[-1].key == "again"


def test_one_alone_works_with_clamps_and_two_pull_together():
    def steps(people):
        plan = plan_from_si({"bed": {"length": 9 * FOOT, "width": 5.5 * FOOT}, "people": people})
        return [step.key for step in cut_sheet(raise_frame(plan, CATALOGUE), plan, CATALOGUE).order]

    assert "pull-alone" in steps(1)
    assert "pull-two" in steps(2)
    for order in (steps(1), steps(2)):
        (second,) = (key for key in order if key.startswith("second-side"))
        assert order.index("laths") < order.index("first-side") < order.index(second) < order.index("square")
        assert order[-1] == "end-laths"  # what is trimmed is trimmed before it is rolled in
    assert "second-side-two" in steps(2)  # and no clamps are taken off that nobody put on


@pytest.mark.parametrize(("high_side", "sign"), [("left", 1), ("right", -1)])
@pytest.mark.parametrize("people", [1, 2])
def test_a_sheet_whose_top_is_not_its_middle_is_laid_by_a_line(high_side, sign, people):
    """By hand: from edge to top it is overhang and high wall, so the line is that much short of half the sheet."""
    lean_to = {"back": 28 * INCH, "front": 10 * INCH, "high_side": high_side}
    plan = plan_from_si(
        {
            "bed": {"length": 6 * FOOT, "width": 3 * FOOT},
            "cover": {"shape": "lean-to"},
            "lean-to": lean_to,
            "people": people,
        }
    )
    film = cut_sheet(raise_frame(plan, CATALOGUE), plan, CATALOGUE)
    (sheet,) = film.pattern.pieces
    across = sorted(
        {line.points[0][1] for line in sheet.lines if line.kind in ("rail", "crest")}, key=lambda y: -y * sign
    )
    rail, top = across[0], across[1]
    wall_m, half_m = abs(rail - top), sheet.width_m / 2
    assert wall_m == pytest.approx(28 * INCH, abs=0.01)
    (step,) = (step for step in film.order if step.key.startswith("spread"))
    assert step.key == ("spread-alone-off" if people == 1 else "spread-two-off")
    assert step.values["side"] == high_side
    assert step.values["off_m"] == pytest.approx(half_m - (half_m - abs(rail)) - wall_m)
    assert step.values["off_m"] > 0.2


def test_a_tent_s_sheet_is_folded_in_its_middle():
    (step,) = (step for step in cut().order if step.key.startswith("spread"))
    assert not step.key.endswith("-off")
