"""The line of film over hubs, against circles and tangents worked by hand."""

from __future__ import annotations

import math

import pytest

from clochewright.film.outline import hull, length_along, over_the_top
from clochewright.film.skin import skin_of, slack_between
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
    skin = skin_of(frame)
    assert skin.girth_m == pytest.approx(slopes + arcs, abs=1e-4)
    assert skin.tuck_m == pytest.approx(hub * (math.pi / 2 - below), abs=1e-4)  # from the middle of the rail down


def test_the_skin_ends_at_the_corners_below_and_at_the_end_bents_above():
    """The end bents stand two centre-to-faces in from the corner; film bends down past the outside of their hubs."""
    frame = tent(9 * FOOT, 5.5 * FOOT)
    skin, face = skin_of(frame), (13 / 16 + 1) * INCH
    assert [skin.section_m[i][0] for i in skin.corners] == pytest.approx([2.75 * FOOT, 0, -2.75 * FOOT])
    assert [skin.far_m[i] for i in skin.corners] == pytest.approx([4.5 * FOOT, 4.5 * FOOT - 2 * face, 4.5 * FOOT])
    assert skin.front_m == pytest.approx([-x for x in skin.far_m])


def test_girth_does_not_depend_on_how_many_bents():
    two, five = skin_of(tent(12 * FOOT, 4 * FOOT, 2)), skin_of(tent(12 * FOOT, 4 * FOOT, 5))
    assert two.girth_m == pytest.approx(five.girth_m, abs=1e-9)
    assert two.far_m == pytest.approx(five.far_m, abs=1e-9)


def test_a_pointed_ridge_leaves_no_slack():
    frame = tent(9 * FOOT, 5.5 * FOOT)
    assert slack_between(frame, skin_of(frame).girth_m) == pytest.approx(0.0, abs=1e-3)
