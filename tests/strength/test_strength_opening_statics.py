"""Statics of opening a leaf: against equilibrium solved as a matrix, and against the energy it takes."""

from __future__ import annotations

import math
import random

import numpy as np
import pytest

from clochewright.strength.opening.aids import (
    choose_cord,
    choose_counterweight,
    choose_strut,
    cord_tension_N,
    try_wax_opener,
)
from clochewright.strength.opening.statics import (
    Turning,
    force_along_N,
    hinge_N,
    lift_N,
    prop_N,
    square_to_way,
    turned,
)

G = 9.80665


def random_leaf(random_):
    """Anything from a panel on a slope to a tall barn."""
    width = random_.uniform(0.4, 2.5)
    centre = (random_.uniform(0.2, 0.7) * width, random_.uniform(-0.3, 0.6))
    handle = (width, random_.uniform(-0.6, 0.2))
    return Turning(random_.uniform(2, 40) * G, centre, handle)


def rotate(point, degrees):
    a = math.radians(degrees)
    return np.array([[math.cos(a), -math.sin(a)], [math.sin(a), math.cos(a)]]) @ np.array(point)


def equilibrium(leaf, degrees, at, way):
    """Hinge reaction (x, y) and one force along `way` at `at`, from the three equations of a free body."""
    centre = rotate(leaf.centre_m, degrees)
    matrix = np.array(
        [[1.0, 0.0, way[0]], [0.0, 1.0, way[1]], [0.0, 0.0, at[0] * way[1] - at[1] * way[0]]]
    )  # moments about the hinge line
    return np.linalg.solve(matrix, np.array([0.0, leaf.weight_N, leaf.weight_N * centre[0]]))


@pytest.mark.parametrize("seed", range(200))
def test_forces_are_those_of_a_free_body(seed):
    """Hand, bar, cord and hinge reaction of 200 random leaves against the 3 x 3 system of their equilibrium."""
    random_ = random.Random(seed)
    leaf, degrees = random_leaf(random_), random_.uniform(0, 150)
    angles = np.array([degrees])
    handle = rotate(leaf.handle_m, degrees)
    square = np.array([-handle[1], handle[0]]) / np.linalg.norm(handle)
    rx, ry, hand = equilibrium(leaf, degrees, handle, square)
    found = lift_N(leaf, angles)
    assert found[0] == pytest.approx(hand, rel=1e-9, abs=1e-9)
    hinge = hinge_N(leaf, found[:, None] * square_to_way(leaf, angles))
    assert hinge[0] == pytest.approx(math.hypot(rx, ry), rel=1e-9, abs=1e-9)

    pivot = (leaf.handle_m[0] * random_.uniform(0.3, 0.9), leaf.handle_m[1] + random_.uniform(-0.1, 0.1))
    pin = (pivot[0] * random_.uniform(0.7, 1.3), -0.7)
    head = rotate(pivot, degrees)
    way = (head - np.array(pin)) / np.linalg.norm(head - np.array(pin))
    rx, ry, push = equilibrium(leaf, degrees, head, way)
    bar, bar_angle = prop_N(leaf, angles, pivot, pin)
    assert bar[0] == pytest.approx(push, rel=1e-9, abs=1e-9)
    assert hinge_N(leaf, bar[:, None] * way[None, :])[0] == pytest.approx(math.hypot(rx, ry), rel=1e-9, abs=1e-9)
    between = math.degrees(math.acos(abs(float(way @ (head / np.linalg.norm(head))))))
    assert bar_angle[0] == pytest.approx(between, abs=1e-6)

    eye = np.array([-0.05, random_.uniform(0.5, 1.5)])
    pull_way = (eye - handle) / np.linalg.norm(eye - handle)
    pull = equilibrium(leaf, degrees, handle, pull_way)[2]
    cord = cord_tension_N(leaf, angles, leaf.handle_m, tuple(eye))[0]
    assert cord == (pytest.approx(pull, rel=1e-9) if pull >= 0 else math.inf)


@pytest.mark.parametrize("seed", range(40))
def test_work_of_the_hand_lifts_the_centre_of_gravity(seed):
    """Energy: the hand's force along its way, from shut to anywhere, is weight times rise, within 0.1 %."""
    leaf = random_leaf(random.Random(seed))
    end = random.Random(1000 + seed).uniform(30, 150)
    angles = np.linspace(0, end, 721)
    along = lift_N(leaf, angles)
    steps = np.linalg.norm(np.diff(turned(leaf.handle_m, angles), axis=0), axis=1)
    work = float(np.sum((along[1:] + along[:-1]) / 2 * steps))
    rise = turned(leaf.centre_m, angles)[:, 1]
    assert work == pytest.approx(leaf.weight_N * (rise[-1] - rise[0]), rel=1e-3, abs=leaf.weight_N * 1e-5)


@pytest.mark.parametrize("seed", range(20))
def test_work_of_cord_and_bar_is_the_same_work(seed):
    """Energy: a bar's push along its own lengthening does the same work as the hand."""
    random_ = random.Random(seed)
    leaf = random_leaf(random_)
    pivot, pin = (leaf.handle_m[0] * 0.6, 0.02), (leaf.handle_m[0] * 0.6, -0.3)
    angles = np.linspace(5, 70, 2001)
    push, _ = prop_N(leaf, angles, pivot, pin)
    lengths = np.linalg.norm(turned(pivot, angles) - np.array(pin), axis=1)
    work = float(np.sum((push[1:] + push[:-1]) / 2 * np.diff(lengths)))
    rise = turned(leaf.centre_m, angles)[:, 1]
    assert work == pytest.approx(leaf.weight_N * (rise[-1] - rise[0]), rel=1e-3, abs=leaf.weight_N * 1e-4)


def test_a_uniform_lid_takes_half_its_weight():
    """By hand: lying flat, half the weight at the free rail; at an angle, its cosine; balance straight up."""
    leaf = Turning(100.0, (0.5, 0.0), (1.0, 0.0))
    angles = np.array([0.0, 60.0, 90.0])
    assert lift_N(leaf, angles) == pytest.approx([50.0, 25.0, 0.0], abs=1e-9)
    assert leaf.over_centre_deg == pytest.approx(90)
    # A bar standing square to it at its end bears the same as the hand.
    heads = turned((1.0, 0.0), angles[:1])
    assert force_along_N(leaf, angles[:1], heads, heads + np.array([[0.0, 1.0]])) == pytest.approx([50.0])


def test_a_strut_holds_the_leaf_open_and_lets_it_stay_shut():
    leaf = Turning(100.0, (0.5, 0.1), (1.0, 0.02))
    angles = np.linspace(0, 60, 13)
    strut = choose_strut(leaf, angles, 0.5, 0.0, 2.0, 22.0)
    assert strut is not None
    for n, degrees in ((0, 0.0), (-1, 60.0)):
        head = rotate(strut.on_leaf_m, degrees)
        way = head - np.array(strut.on_bed_m)
        assert np.linalg.norm(way) == pytest.approx((strut.shut_m, strut.open_m)[n], rel=1e-9)
        way /= np.linalg.norm(way)
        grows = 1.3 if degrees == 0 else 1.0  # common practice, no source
        turning = 2 * strut.force_N * grows * (head[0] * way[1] - head[1] * way[0])
        weight = leaf.weight_N * rotate(leaf.centre_m, degrees)[0]
        assert turning < weight if degrees == 0 else turning > weight
    assert strut.shut_m + strut.stroke_m == pytest.approx(strut.open_m)
    assert strut.shut_m > strut.stroke_m


def test_a_counterweight_takes_its_share():
    """By hand: 85 % of 50 Nm on an arm of 0.4 m is 10.8 kg; 7.5 N are left at the handle 1 m out."""
    leaf = Turning(100.0, (0.5, 0.0), (1.0, 0.0))
    weight = choose_counterweight(leaf, np.linspace(0, 60, 13), 0.9, math.inf, 22.0)
    assert weight.mass_kg == pytest.approx(0.85 * 50 / (9.80665 * 0.4))
    assert weight.most_N == pytest.approx(7.5)
    assert choose_counterweight(leaf, np.linspace(0, 60, 13), 0.9, 0.05, 22.0) is None  # a wall right behind


def test_a_cord_on_a_high_post_pulls_less():
    leaf = Turning(100.0, (0.5, 0.0), (1.0, 0.0))
    angles = np.linspace(0, 60, 13)
    low, high = (float(cord_tension_N(leaf, angles, leaf.handle_m, (0.0, post)).max()) for post in (0.5, 1.5))
    # By hand, shut: W x_c over the lever of a line from (1, 0) to (0, p), which is p / sqrt(1 + p2).
    assert low == pytest.approx(50 * math.sqrt(1.25) / 0.5)
    assert high == pytest.approx(50 * math.sqrt(3.25) / 1.5)
    cord = choose_cord(leaf, angles, 0.0, 22.0)
    assert cord.within_limit
    assert cord.pull_N <= 22.0
    assert cord.parts_count > 1


def test_a_wax_opener_is_judged_by_its_lift():
    """Wax openers sold lift about 7 kg: a 5 kg flat sash hinged at its edge is well within, a 30 kg lid is not."""
    assert try_wax_opener(Turning(5 * G, (0.5, 0.0), (1.0, 0.0)), 30.0).works
    heavy = try_wax_opener(Turning(30 * G, (0.5, 0.0), (1.0, 0.0)), 30.0)
    assert not heavy.works
    assert heavy.asked_N == pytest.approx(15 * G, rel=1e-3)  # by hand: half the weight at the far edge
