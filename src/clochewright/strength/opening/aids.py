"""Ways to lighten or hold a leaf: a cord over a post, gas struts, a counterweight, a wax-cylinder opener."""

from __future__ import annotations

import math

import numpy as np

from clochewright.measures import GRAVITY_M_S2
from clochewright.sources import Cited, Grade
from clochewright.strength.opening.statics import (
    Turning,
    force_along_N,
    lever_m,
    moment_Nm,
    turned,
)
from clochewright.strength.opening.types import Cord, Counterweight, Point, Strut, WaxOpener
from clochewright.strength.structure import Floats

POSTS_m = tuple(0.3 + 0.15 * n for n in range(9))
MOST_PARTS = 4
EYE_LOSS_factor = Cited(
    1.1, 1.05, 1.2, Grade.ESTIMATE, "friction of cord over a smooth eye or a small block, each turn"
)
TO_CLEAT_m = 1.0  # of cord for the cleat and the hand: common practice, no source

# Gas struts grow stiffer as they are pushed in; common practice, no source.
STRUT_GROWS_factor = Cited(1.3, 1.2, 1.4, Grade.COMMON_PRACTICE, "gas struts push about 1.3 times as hard shut as open")
STRUT_ENDS_m = 0.075  # a strut shut is as long as its stroke and this
STRUT_STEP_N = 10.0
STRUT_HOLDS_factor = 1.15  # so that it holds the leaf open when cold
TWO_STRUTS_m = 1.2
STRUT_ON_shares, STRUT_OUT_shares = np.arange(0.25, 0.75, 0.1), np.arange(0.0, 0.7, 0.1)  # of the way to the handle

ARM_m = 0.40
WEIGHT_SIZE_m = 0.10  # half of a counterweight, and clear of the ground
BALANCED_share = 0.85  # so that the leaf still shuts by itself

# Wax openers sold lift about 7 kg (15 lb) and push a leaf up by some 0.3 to 0.45 m.
WAX_N = Cited(68.6, 66.7, 73.5, Grade.COMMON_PRACTICE, "wax openers as sold: about 7 to 7.5 kg")
WAX_RISE_m = Cited(0.35, 0.30, 0.45, Grade.FROM_MEMORY, "wax openers as sold open a vent by 0.3 to 0.45 m")


def cord_tension_N(leaf: Turning, angles_deg: Floats, tied_m: Point, eye_m: Point | Floats) -> Floats:
    """The pull in a cord from the leaf to an eye, or to each of several (..., 1, 2), at each angle [N].

    Infinite where it can't hold the leaf.
    """
    pull = force_along_N(leaf, angles_deg, turned(tied_m, angles_deg), np.asarray(eye_m))
    return np.where(pull >= 0, pull, np.inf)


def choose_cord(leaf: Turning, angles_deg: Floats, over_m: float, limit_N: float) -> Cord | None:
    """The lowest post, and the fewest parts of cord, with which one hand stays within its limit; else the best.

    The cord runs beside the leaf's end, from its free rail to an eye on a post at its hinge side, and down to a cleat.
    """
    eyes = [(-over_m, post_m) for post_m in POSTS_m]
    most = cord_tension_N(leaf, angles_deg, leaf.handle_m, np.array(eyes)[:, None, :]).max(axis=1).tolist()
    ends = turned(leaf.handle_m, angles_deg[[0, -1]])
    best: Cord | None = None
    for parts in range(1, MOST_PARTS + 1):
        for eye, tension in zip(eyes, most, strict=True):
            if not math.isfinite(tension):
                continue
            pull = tension / parts * EYE_LOSS_factor.value**parts
            long_m, short_m = (math.dist(point, eye) for point in ends)
            whole_m = parts * long_m + eye[1] + TO_CLEAT_m
            cord = Cord(eye[1], leaf.handle_m, parts, pull, parts * (long_m - short_m), whole_m, pull <= limit_N)
            if cord.within_limit:
                return cord
            if best is None or pull < best.pull_N:
                best = cord
    return best


def choose_strut(
    leaf: Turning, angles_deg: Floats, line_height_m: float, rim_below_m: float, length_m: float, limit_N: float
) -> Strut | None:
    """Gas struts that hold the leaf at its widest opening, mounted so that a hand has least to do on the way.

    Args:
        leaf: the leaf.
        angles_deg: from shut to the widest opening [deg].
        line_height_m: the hinge line above the ground [m].
        rim_below_m: how far the rim is below the line [m].
        length_m: length of the hinge line, for one strut or two [m].
        limit_N: the hand's limit [N].
    """
    count = 2 if length_m > TWO_STRUTS_m else 1
    radius = leaf.handle_radius_m
    moment = moment_Nm(leaf, angles_deg)
    if moment[-1] <= 0:
        return None  # past its over-centre a strut has nothing to hold
    low_m = -rim_below_m - 0.6 * (line_height_m - rim_below_m)
    on_bed = np.array([(radius * out, down) for out in STRUT_OUT_shares for down in (-rim_below_m - 0.04, low_m)])
    # all pairs of a point on the leaf and one on the bed at once: (on the leaf, on the bed, angles)
    heads = STRUT_ON_shares[:, None, None, None] * turned(leaf.handle_m, angles_deg)
    feet = on_bed[:, None, :]
    lengths = np.linalg.norm(heads - feet, axis=-1)
    stroke = lengths[..., -1] - lengths[..., 0]
    lever = lever_m(heads, 2 * heads - feet)
    fits = (stroke > 0.05) & (lengths[..., 0] >= stroke + STRUT_ENDS_m) & (np.diff(lengths) > 0).all(axis=-1)
    fits &= (lever[..., -1] >= 0.05) & (lever >= 0).all(axis=-1)
    with np.errstate(divide="ignore", invalid="ignore"):
        open_N = STRUT_STEP_N * np.ceil(STRUT_HOLDS_factor * moment[-1] / lever[..., -1] / count / STRUT_STEP_N)
        pushed_in = (lengths[..., -1:] - lengths) / stroke[..., None]
    push = open_N[..., None] * (1 + (STRUT_GROWS_factor.value - 1) * pushed_in)
    hand = (moment - count * push * lever) / radius
    fits &= hand[..., 0] >= 0  # else it would not stay shut
    if not fits.any():
        return None
    asked = np.where(fits, np.maximum(hand.max(axis=-1), -hand.min(axis=-1)), np.inf)
    best = np.unravel_index(np.argmin(asked), asked.shape)
    on_leaf, most, least = STRUT_ON_shares[best[0]], float(hand[best].max()), float(hand[best].min())
    return Strut(
        count,
        float(open_N[best]),
        float(stroke[best]),
        float(lengths[best][0]),
        float(lengths[best][-1]),
        (float(leaf.handle_m[0] * on_leaf), float(leaf.handle_m[1] * on_leaf)),
        (float(on_bed[best[1], 0]), float(on_bed[best[1], 1])),
        most,
        least,
        max(most, -least) <= limit_N,
    )


def choose_counterweight(
    leaf: Turning, angles_deg: Floats, line_height_m: float, room_m: float, limit_N: float
) -> Counterweight | None:
    """A weight on an arm behind the hinges that takes most of the leaf's own; None where there is no room for it."""
    sink = math.sin(math.radians(min(float(angles_deg[-1]), 90.0)))
    arm_m = min(ARM_m, (line_height_m - WEIGHT_SIZE_m) / max(sink, 0.1), room_m)
    if arm_m < 0.1:
        return None
    moment = moment_Nm(leaf, angles_deg)
    mass_kg = BALANCED_share * float(moment[0]) / (GRAVITY_M_S2 * arm_m)
    balance = mass_kg * GRAVITY_M_S2 * arm_m * np.cos(np.radians(angles_deg))
    hand = (moment - balance) / leaf.handle_radius_m
    most = float(np.abs(hand).max())
    return Counterweight(mass_kg, arm_m, most, line_height_m - arm_m * sink, most <= limit_N)


def try_wax_opener(leaf: Turning, wanted_deg: float) -> WaxOpener:
    """How far a wax-cylinder opener lifts the leaf by itself, fixed where that is furthest; or what it lacks."""
    radius = leaf.handle_radius_m
    best: WaxOpener | None = None
    for share in np.arange(0.3, 1.01, 0.1):
        at_m = float(radius * share)
        opens = min(2 * math.degrees(math.asin(min(1.0, WAX_RISE_m.value / (2 * at_m)))), wanted_deg)
        angles = np.linspace(0.0, opens, 12)
        point = (leaf.handle_m[0] * float(share), leaf.handle_m[1] * float(share))
        out = turned(point, angles)[:, 0]
        asked = float((moment_Nm(leaf, angles) / np.maximum(out, 1e-6)).max())  # it pushes straight up
        works = asked <= WAX_N.value
        spare_kg = max(0.0, (asked - WAX_N.value) / asked) * leaf.weight_N / GRAVITY_M_S2
        found = WaxOpener(WAX_N, asked, at_m, opens, works, spare_kg)
        if best is None or (found.works, found.opens_deg if works else -asked) > (
            best.works,
            best.opens_deg if best.works else -best.asked_N,
        ):
            best = found
    assert best is not None
    return best
