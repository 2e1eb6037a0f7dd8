"""Where only a panel opens, the gap is the panel's, not the whole lid's."""

from __future__ import annotations

import math

import pytest

from clochewright.catalogue import load_catalogue
from clochewright.frame import raise_frame
from clochewright.plan import plan_from_si
from clochewright.season import enclose
from clochewright.season.enclosure import opening_at


def test_the_gap_is_the_panel_s_own_by_hand() -> None:
    wish = {"bed": {"length_m": 2.4, "width_m": 1.2}, "cover": {"shape": "lean-to"}, "lid": {"opens": "slope"}}
    plan = plan_from_si(wish)
    frame = raise_frame(plan, load_catalogue(pipe=plan.pipe.size))
    corners = [f.position_m for f in frame.fittings if f.role == "panel corner"]
    hub_m = max(f.hub_diameter_m for f in frame.fittings if f.body == "panel-1")
    long_m = max(x for x, _, _ in corners) - min(x for x, _, _ in corners) + hub_m
    low, high = min(corners, key=lambda at: at[2]), max(corners, key=lambda at: at[2])
    deep_m = math.dist(low[1:], high[1:]) + hub_m
    area_m2, height_m = opening_at(enclose(frame, plan), 30.0)
    # a chord of 2 d sin(15 deg) along the free edge, and at each end half of d^2 sin(30 deg): plane geometry
    assert height_m == pytest.approx(2 * deep_m * math.sin(math.radians(15)))
    assert area_m2 == pytest.approx(height_m * long_m + deep_m**2 * 0.5)
