"""The line of film over hubs, against circles and tangents worked by hand."""

from __future__ import annotations

import math

import pytest

from clochewright.film.develop import develop
from clochewright.film.outline import hull, length_along, over_the_top
from frame_samples import FOOT, INCH, tent


def test_hull_of_a_square_with_points_inside_is_the_square():
    square = [(0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0)]
    assert hull([*square, (1.0, 1.0), (0.5, 1.5), (1.0, 0.0)]) == square


def test_over_the_top_of_a_square_is_three_sides():
    assert over_the_top([(0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0)], 0.5) == (
        (2.0, 0.5),
        (2.0, 2.0),
        (0.0, 2.0),
        (0.0, 0.5),
    )


def test_over_the_top_of_what_lies_below_is_nothing():
    assert over_the_top([(0.0, 0.0), (2.0, 0.0), (1.0, 1.0)], 3.0) == ()
    assert length_along(()) == 0.0


def test_girth_over_round_hubs_is_slopes_and_arcs():
    """Euclid: tangents and arcs. Film touches the hub at the apex through 90 degrees, and each foot from slope to rail.

    Each foot's arc: 135 degrees to the hub's lowest point, less the part below the underside of the rail pipe.
    """
    frame = tent(9 * FOOT, 5.5 * FOOT)
    hub, pipe = 1.625 * INCH / 2, 1.315 * INCH / 2
    below = math.acos(pipe / hub)
    slopes = 2 * (5.5 * FOOT / 2 - hub) * math.sqrt(2)
    arcs = hub * (math.pi / 2 + 2 * (math.radians(135) - below))
    assert develop(frame).girth_m == pytest.approx(slopes + arcs, abs=1e-4)


def test_reach_runs_up_one_end_along_the_ridge_and_down_the_other():
    """The end bents stand two centre-to-faces in from the corner, so film leans in by that on its way up the gable."""
    frame = tent(9 * FOOT, 5.5 * FOOT)
    hub, face = 1.625 * INCH / 2, (13 / 16 + 1) * INCH
    rise = 5.5 * FOOT / 2 - hub
    lean = math.atan2(rise, 2 * face)
    flat = 2 * math.hypot(rise, 2 * face) + 9 * FOOT - 2 * hub - 4 * face
    below = math.acos(1.315 / 1.625)
    arcs = hub * (2 * lean + 2 * (math.pi - lean - below))
    assert develop(frame).reach_m == pytest.approx(flat + arcs, abs=1e-4)


def test_girth_does_not_depend_on_how_many_bents():
    two, five = develop(tent(12 * FOOT, 4 * FOOT, 2)), develop(tent(12 * FOOT, 4 * FOOT, 5))
    assert two.girth_m == pytest.approx(five.girth_m, abs=1e-9)
    assert two.reach_m == pytest.approx(five.reach_m, abs=1e-9)


def test_a_pointed_ridge_leaves_no_slack():
    assert develop(tent(9 * FOOT, 5.5 * FOOT)).slack_m == pytest.approx(0.0, abs=1e-3)
