"""Wind and water on a panel of film."""

from __future__ import annotations

import math

import pytest

from clochewright.catalogue import load_catalogue
from clochewright.film import cut_sheet
from clochewright.film.tension import largest_m, sag_m, stress_Pa
from clochewright.frame import raise_frame
from clochewright.plan import plan_from_si

MIL = 25.4e-6


def cut(**plan):
    wanted = plan_from_si({"bed": {"length_m": 2.7, "width_m": 1.5}} | plan)
    catalogue = load_catalogue()
    return cut_sheet(raise_frame(wanted, catalogue), wanted, catalogue)


def said(film, key):
    return next((finding for finding in film.findings if finding.key == key), None)


@pytest.mark.parametrize("pressure", [50.0, 400.0, 900.0])
def test_stretch_and_pull_agree(pressure):
    """Statics and Hooke: an arc of radius R under p carries T = p R, and is longer than its chord by T / (E t).

    The closed form leaves out what is of second order in sag over span, a few per cent at most.
    """
    span, young, film = 1.2, 200e6, 6 * MIL
    sag = sag_m(span, pressure, young, film)
    radius = span**2 / (8 * sag) + sag / 2
    arc = 2 * radius * math.asin(span / 2 / radius)
    assert stress_Pa(span, pressure, young, film) == pytest.approx(pressure * radius / film)
    assert arc / span - 1 == pytest.approx(pressure * radius / (young * film), rel=0.08)


def test_a_flat_square_inch_of_arithmetic():
    """By hand: 3 p b / (64 E t) = 3 x 429 x 1.2 / (64 x 200e6 x 152.4e-6) = 7.9e-4, cube root 0.0925: 111 mm."""
    assert sag_m(1.2, 429.0, 200e6, 152.4e-6) == pytest.approx(0.111, abs=0.0005)


def test_the_largest_panel_is_stretched_to_the_limit():
    span = largest_m(8e6, 429.0, 200e6, 6 * MIL)
    assert stress_Pa(span, 429.0, 200e6, 6 * MIL) == pytest.approx(8e6, rel=1e-3)


def test_thicker_film_and_less_wind_allow_a_wider_panel():
    thick = cut().panel.largest_m.value
    assert cut(film={"kind": "4 mil one-season film"}).panel.largest_m.value < thick
    assert (
        cut(film={"gust_m_s": 40.0}).panel.largest_m.value < thick < cut(film={"gust_m_s": 15.0}).panel.largest_m.value
    )


def test_pressure_is_that_of_the_gust():
    """ASCE 7: 50 mph is 0.00256 x 50^2 = 6.4 psf of stagnation pressure, 306 Pa; 1.4 of it pulls on the film."""
    assert cut().panel.pressure_Pa.value == pytest.approx(6.4 * 47.88 * 1.4, rel=0.005)


def test_a_panel_too_wide_for_its_gust_is_said_with_a_shorter_bay():
    film = cut(film={"gust_m_s": 45.0}, cover={"bay_m": 1.3})
    finding = said(film, "film.panel-too-large")
    assert film.panel.span_m > film.panel.largest_m.value
    assert finding.change.path == "cover.bay"
    assert said(cut(), "film.panel-too-large") is None


def test_a_flat_apex_ponds_and_is_mended_by_a_pointed_one():
    flat = said(cut(cover={"apex": "flat"}), "film.flat-apex")
    assert (flat.change.path, flat.change.value) == ("cover.apex", "pointed")
    assert said(cut(cover={"apex": "pointed"}, pipe={"bench": "furniture"}), "film.flat-apex") is None


def test_a_low_slope_drips_and_a_lower_one_ponds():
    assert said(cut(**{"lean-to": {"back_m": 0.7, "front_m": 0.2}, "cover": {"shape": "lean-to"}}), "film.drips")
    assert said(cut(**{"lean-to": {"back_m": 0.4, "front_m": 0.25}, "cover": {"shape": "lean-to"}}), "film.ponds")
    assert not {"film.drips", "film.ponds"} & {finding.key for finding in cut().findings}
