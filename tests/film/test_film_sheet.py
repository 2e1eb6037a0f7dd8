"""The sheet for a whole cover: size, roll, laths, fasteners, findings."""

from __future__ import annotations

import itertools

import pytest

from clochewright.catalogue import load_catalogue
from clochewright.errors import CatalogueError
from clochewright.film import cut_sheet
from clochewright.film.fixing import places_along
from clochewright.plan import plan_from_si
from frame_samples import FOOT, INCH, tent


@pytest.fixture(scope="module")
def catalogue():
    return load_catalogue()


def plan_with(**film):
    return plan_from_si({"bed": {"length": 9 * FOOT, "width": 5.5 * FOOT}, "film": film})


def keys(film):
    return [finding.key for finding in film.findings]


def test_a_tent_of_9_ft_by_5_ft_6_in_comes_out_of_a_roll_10_ft_by_25_ft(catalogue):
    """Common practice, no source: 45 degrees, 1 ft overhang on each side."""
    film = cut_sheet(tent(9 * FOOT, 5.5 * FOOT), plan_with(overhang=1 * FOOT), catalogue)
    assert film.roll.label == "10 ft x 25 ft"
    assert film.roll.count == 1
    assert len(film.sheets) == 1
    assert not film.roll.across


def test_the_sheet_is_girth_and_reach_with_overhang_all_round(catalogue, small_tent):
    film = cut_sheet(small_tent, plan_with(overhang=0.25), catalogue)
    (sheet,) = film.sheets
    assert sheet.width_m == pytest.approx(film.girth_m + 0.5)
    assert sheet.length_m == pytest.approx(film.reach_m + 0.5)


def test_a_lath_along_each_bottom_rail(catalogue, small_tent):
    film = cut_sheet(small_tent, plan_with(), catalogue)
    assert {lath.side: lath.length_m for lath in film.laths} == {
        "left": small_tent.length_m,
        "right": small_tent.length_m,
        "front": small_tent.width_m,
        "far": small_tent.width_m,
    }
    assert film.staples == sum(lath.staples for lath in film.laths)
    assert film.screws == sum(len(lath.screws_m) for lath in film.laths)


def test_places_along_a_lath_by_hand():
    """4 ft of lath, screws every foot at most, 50 mm from the ends: 1.119 m between the outer ones makes 4 gaps."""
    places = places_along(4 * FOOT, 1 * FOOT, 0.050)
    assert len(places) == 5
    assert places[0] == pytest.approx(0.050)
    assert places[-1] == pytest.approx(4 * FOOT - 0.050)
    gaps = [b - a for a, b in itertools.pairwise(places)]
    assert max(gaps) <= 1 * FOOT
    assert max(gaps) - min(gaps) < 1e-9


def test_a_lath_too_short_for_two_screws_gets_one_in_the_middle():
    assert places_along(0.08, 0.3, 0.050) == (0.04,)


def test_a_short_overhang_is_said(catalogue, small_tent):
    assert "film.short-overhang" in keys(cut_sheet(small_tent, plan_with(overhang=2 * INCH), catalogue))
    assert "film.short-overhang" not in keys(cut_sheet(small_tent, plan_with(), catalogue))


def test_a_cover_wider_than_any_roll_is_joined_and_said(catalogue):
    film = cut_sheet(tent(16 * FOOT, 12 * FOOT, 5), plan_with(kind="8 mil clear vinyl film"), catalogue)
    assert "film.joined" in keys(film)
    assert len(film.sheets) > 1


def test_only_polyethylene_minds_pvc(catalogue, small_tent):
    assert "film.touches-pvc" in keys(cut_sheet(small_tent, plan_with(), catalogue))
    vinyl = cut_sheet(small_tent, plan_with(kind="8 mil clear vinyl film"), catalogue)
    assert "film.touches-pvc" not in keys(vinyl)
    assert not vinyl.touches_pvc_badly


def test_a_film_nobody_sells_is_refused_with_the_nearest(catalogue, small_tent):
    with pytest.raises(CatalogueError, match="6 mil UV film"):
        cut_sheet(small_tent, plan_with(kind="6 mil UVV film"), catalogue)
