"""Loads on whole covers: what is laid on the faces must come to what area and pressure give."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from asking import ask_si, example

from clochewright.strength import LIKELY, Load, cases, prove
from clochewright.strength.reach import used
from clochewright.strength.resistance import film_tension_N_m
from clochewright.strength.snow import GRAVITY_M_S2, roof_share
from clochewright.strength.study import study
from clochewright.strength.windcases import wind_cases

NAMES = ("bed-4", "bed-7", "long-bed", "wall-bed")


@pytest.fixture(scope="module")
def studies():
    return {name: study(example(name)) for name in NAMES}


def force(one, name):
    """The whole force of one pattern [N]."""
    lengths = one.solved.prepared.shape.length_m
    return cases.pattern_force(one.patterns, lengths)[one.patterns.row[name]]


@pytest.mark.parametrize("name", NAMES)
def test_own_weight_is_what_it_weighs(studies, name):
    """Pipe, fittings, film, laths and hardware together, but for seats counted once, hang and overhangs: within 6 %."""
    asked = example(name)
    found_kg = -force(studies[name], "own")[2] / GRAVITY_M_S2
    assert found_kg == pytest.approx(asked.weights.lid_kg.value, rel=0.06)


@pytest.mark.parametrize("name", ["bed-4", "bed-7", "wall-bed"])
def test_pressure_comes_to_area_times_pressure(studies, name):
    """Pressed and pulled, each face gets its own area along its own direction; a strain pulls nothing away."""
    one = studies[name]
    for k, face in enumerate(one.shape.faces):
        out = np.array([0.0, *face.out]) * face.area_m2
        assert force(one, f"press {k}") == pytest.approx(-out, abs=0.12 * face.area_m2)
        assert force(one, f"pull {k}") == pytest.approx(out, abs=1e-9)
        assert force(one, f"strain {k}") == pytest.approx(np.zeros(3), abs=1e-9)


def test_faces_of_each_shape(studies):
    slopes = {name: [round(face.slope_deg) for face in one.shape.faces] for name, one in studies.items()}
    assert slopes["bed-4"] == [45, 45]
    assert slopes["bed-7"] == [90, 45, 45, 90]
    assert len(slopes["long-bed"]) == 3
    assert slopes["wall-bed"][0] == slopes["wall-bed"][2] == 90
    assert 20 < slopes["wall-bed"][1] < 35
    for one in studies.values():
        assert {face.side for face in one.shape.faces} >= {1.0, -1.0} or len(one.shape.faces) == 3


def test_snow_comes_to_its_share_on_plan(studies):
    """On a roof of one slope: share of the ground's snow times the plan area, within the rails' own width."""
    one = studies["bed-4"]
    plan_m2 = one.shape.span_m * one.shape.length_m
    expected = roof_share("US", 45.0) * plan_m2
    assert -force(one, "snow")[2] == pytest.approx(expected, rel=0.02)
    both = force(one, "snow left") + force(one, "snow right")
    assert both == pytest.approx(force(one, "snow"), abs=1e-9)


def test_a_mirrored_wind_is_the_same_wind(studies):
    """On a frame alike on both sides, wind from the left and from the right press alike."""
    shape = studies["bed-4"].shape
    found = wind_cases(shape, 0.3, "US", False)
    left = sorted(case.face_ratio for case in found if case.name == "from the left")
    right = sorted(case.face_ratio[::-1] for case in found if case.name == "from the right")
    assert np.array(left) == pytest.approx(np.array(right), rel=1e-6)


def test_inside_pressure_pushes_out(studies):
    """With an open end the suction on a roof along the bed is greater than shut, by either code."""
    shape = studies["bed-7"].shape
    for code in ("US", "EN"):
        worst = [min(min(c.face_ratio) for c in wind_cases(shape, 0.3, code, is_open)) for is_open in (False, True)]
        assert worst[1] < worst[0] - 0.2


def test_wind_mix_is_what_the_coefficients_say(studies):
    one = studies["bed-4"]
    case = next(c for c in wind_cases(one.shape, 0.28, "US", False) if min(c.face_ratio) < 0 < max(c.face_ratio))
    (weights,) = cases.WindMix(one.patterns, one.shape, [case], one.film).at(100.0)
    for k, net in enumerate(case.face_ratio):
        row = one.patterns.row[f"{'press' if net >= 0 else 'pull'} {k}"]
        assert weights[row] == pytest.approx(100.0 * abs(net))
        if net < 0:
            tension = film_tension_N_m(-100.0 * net, one.shape.faces[k].depth_m, *one.film)
            assert weights[one.patterns.row[f"strain {k}"]] == pytest.approx(tension)


def test_a_row_of_covers_weighs_each_its_own():
    one = study(ask_si(bed={"length_m": 4.8, "width_m": 1.2}, cover={"sections": 2}))
    whole = ask_si(bed={"length_m": 4.8, "width_m": 1.2}, cover={"sections": 2}).weights.lid_kg.value
    assert -force(one, "own")[2] / GRAVITY_M_S2 == pytest.approx(whole / 2, rel=0.08)


def test_limits_hold_what_they_say():
    """At the limit the worst share is 1; in two thirds of the gust it is under, in one half as hard again over."""
    asked = example("bed-4")
    shut = prove(asked, LIKELY).limit("shut")
    assert shut is not None
    assert 10 < shut.value < 60
    shares = [used(asked, Load(part * shut.value, 1.0, named=True)).share for part in (0.67, 1.0, 1.5)]
    assert shares[0] < 0.9
    assert shares[1] == pytest.approx(1.0, abs=0.03)
    assert shares[2] > 1.2


def test_bands_hold_the_likely_value():
    for limit in prove(example("wall-bed")).limits:
        assert 0 <= limit.low <= limit.value <= limit.high, limit


def test_more_pipe_and_less_span_stand_more():
    """Thicker pipe, closer bents and a warmer pipe go the way they must."""
    base = {"bed": {"length_m": 2.4, "width_m": 1.2}, "cover": {"bents": 3}}
    plain = prove(ask_si(**base, pipe={"size": "1 in"}), LIKELY)
    thick = prove(ask_si(**base, pipe={"size": "1-1/4 in"}), LIKELY)
    close = prove(ask_si(bed=base["bed"], cover={"bents": 5}, pipe={"size": "1 in"}), LIKELY)
    for better in (thick, close):
        assert better.limit("wet").value > plain.limit("wet").value
        assert better.limit("shut").value > plain.limit("shut").value
    for found in (plain, thick, close):
        assert found.limit("hot").value < found.limit("shut").value
        assert found.limit("open-end").value < found.limit("shut").value
        assert found.limit("wet").value < found.limit("fresh").value


def test_site_is_checked():
    """A place that asks for more than the cover stands gets a warning for wind and for snow, and a calm one none."""
    asked = example("bed-4")

    def keys(gust_m_s, snow_Pa):
        site = asked.plan.site.model_copy(update={"design_gust_m_s": gust_m_s, "ground_snow_Pa": snow_Pa})
        plan = asked.plan.model_copy(update={"site": site})
        return {f.key for f in prove(replace(asked, plan=plan)).findings}

    assert {"strength.design-gust", "strength.design-snow"} <= keys(70.0, 20_000.0)
    assert not {"strength.design-gust", "strength.design-snow"} & keys(10.0, 50.0)


def test_every_result_says_what_it_is():
    for name in NAMES:
        assert "strength.estimate" in {f.key for f in prove(example(name), LIKELY).findings}


def test_dry_joints_may_rack_and_are_told():
    """A frame only screwed together: its low end gets no figure, and how it moves is named."""
    found = prove(ask_si(bed={"length_m": 2.4, "width_m": 1.2}, joints={"seat": "dry"}))
    racks = [f for f in found.findings if f.key == "strength.racks"]
    assert racks
    assert racks[0].values["members"]
    assert found.limit("shut").low == 0.0
    assert found.limit("shut").value > 0
