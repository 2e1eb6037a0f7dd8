"""A base as it is built, and the right triangle behind every rafter."""

from __future__ import annotations

import pytest

from clochewright.catalogue import load_catalogue
from clochewright.frame import Frame, raise_frame
from clochewright.plan import plan_from_si

INCH_M = 0.0254


@pytest.fixture(scope="module")
def base() -> Frame:
    """9 ft by 5 ft 6 in over all, 1 in pipe, sockets 1 in deep, centre to stop 13/16 in, hubs 1 5/8 in, three bents."""
    kinds = ("elbow-90", "elbow-45", "tee", "cross", "side-outlet-elbow", "side-outlet-tee")
    measured = [
        {"kind": kind, "socket_depth_m": INCH_M, "centre_to_stop_m": 13 / 16 * INCH_M, "hub_m": 1.625 * INCH_M}
        for kind in kinds
    ]
    plan = plan_from_si(
        {
            "bed": {"length_m": 108 * INCH_M, "width_m": 66 * INCH_M},
            "cover": {"bents": 3, "apex": "pointed", "braces": "each"},
            "pipe": {"size": "1 in", "bench": "furniture"},
            "own": {"fittings": measured},
        }
    )
    rows = [fitting.model_dump() for fitting in plan.own.fittings]
    return raise_frame(plan, load_catalogue(own_fittings=rows, pipe=plan.pipe.size))


def lengths_in(frame: Frame, role: str) -> list[float]:
    return [pipe.cut_length_m / INCH_M for pipe in frame.pipes if pipe.role == role]


def test_side_pieces(base: Frame) -> None:
    # common practice, no source: 46 in, within 1/2 in
    sides = lengths_in(base, "side rail")
    assert len(sides) == 4
    assert sides == pytest.approx([46] * 4, abs=0.5)


def test_cross_pieces(base: Frame) -> None:
    # common practice, no source: 62 1/2 in, within 1/2 in; the two ends and the brace in the middle
    across = lengths_in(base, "end rail") + lengths_in(base, "brace")
    assert across == pytest.approx([62.5] * 3, abs=0.5)


def test_middle_foot_and_brace_are_centred_as_a_pair(base: Frame) -> None:
    places = [f.position_m[0] for f in base.fittings if f.role in ("rafter foot", "brace foot") and f.position_m[1] > 0]
    middle = sorted(places, key=abs)[:2]
    assert sum(middle) == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("apex", ["pointed", "butted"])
def test_a_right_triangle_of_45_degrees_has_its_slope(apex: str) -> None:
    # common practice, no source: base 30 in, 45 degrees, slope 42.43 in (30 times the square root of 2)
    hub_in = 1.625
    kinds = ("elbow-90", "tee", "side-outlet-elbow", "side-outlet-tee")
    plan = plan_from_si(
        {
            "bed": {"length_m": 100 * INCH_M, "width_m": (60 + hub_in) * INCH_M},
            "cover": {"apex": apex, "pitch_deg": 45.0},
            "pipe": {"size": "1 in", "bench": "furniture"},
            "own": {"fittings": [{"kind": kind, "hub_m": hub_in * INCH_M} for kind in kinds]},
        }
    )
    rows = [fitting.model_dump() for fitting in plan.own.fittings]
    frame = raise_frame(plan, load_catalogue(own_fittings=rows, pipe=plan.pipe.size))
    for pipe in frame.pipes:
        if pipe.role == "rafter":
            a, b = (frame.fitting(str(end.fitting)).position_m for end in pipe.ends)
            slope_in = sum((p - q) ** 2 for p, q in zip(a, b, strict=True)) ** 0.5 / INCH_M
            assert slope_in == pytest.approx(42.43, abs=0.005)
