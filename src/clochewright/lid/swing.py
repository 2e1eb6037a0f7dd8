"""The room a leaf takes as it opens, and where it comes to rest when it is thrown fully open."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

import numpy as np

from clochewright.lid.turning import FURTHEST_DEG, Contact, Floats, Obstacle, first_contact, hull_of
from clochewright.lid.types import Rest, Round, Swing

FAR_m = 50.0
FILM_OFF_SOIL_m = 0.05  # common practice, no source
STEP_DEG = 2.0


def swing_of(
    rounds: Sequence[Round],
    handle_m: tuple[float, float],
    line_height_m: float,
    rim_below_m: float,
    over_m: float,
    wall_m: float | None,
    fixed: Sequence[Round] = (),
) -> Swing:
    """Where a leaf goes and rests.

    Args:
        rounds: the leaf's outline, seen along its hinge line.
        handle_m: its handle, likewise (out, up) [m].
        line_height_m: the hinge line above the ground [m].
        rim_below_m: how far the bed's rim is below the line [m].
        over_m: how far the line lies in from the outside of the bed [m].
        wall_m: how far a wall behind is from the outside of the bed [m], None where there is none.
        fixed: what stays of the frame when a panel opens.
    """
    hull_m = hull_of(rounds)
    obstacles = [_bed(line_height_m, rim_below_m, over_m)]
    if wall_m is not None:
        obstacles.append(_box("wall", -FAR_m, -over_m - wall_m, -line_height_m, FAR_m))
    near = [r for r in fixed if r.out_m < -2 * r.radius_m]  # beside the line itself, hinges keep the two apart
    if near:
        obstacles.append(Obstacle("frame", tuple((float(x), float(z)) for x, z in hull_of(near))))
    beyond = first_contact(hull_m, obstacles)
    contact = _sooner(beyond, hull_m, line_height_m, 0.0)
    rest = _rest(contact, beyond, hull_m, rounds, line_height_m)
    angles = np.radians(np.append(np.arange(0.0, rest.angle_deg, STEP_DEG), rest.angle_deg))
    cos, sin = np.cos(angles), np.sin(angles)
    outs = np.outer(cos, hull_m[:, 0]) - np.outer(sin, hull_m[:, 1])
    ups = np.outer(sin, hull_m[:, 0]) + np.outer(cos, hull_m[:, 1])
    way = (handle_m[0] * cos - handle_m[1] * sin).tolist(), (handle_m[0] * sin + handle_m[1] * cos).tolist()
    path = tuple(zip(*way, strict=True))
    behind_m = max(0.0, -float(outs.min()) - over_m)
    return Swing(rest, line_height_m + float(ups.max()), behind_m, max(0.0, -float(outs[-1].min()) - over_m), path)


def _sooner(beyond: Contact | None, hull_m: Floats, line_height_m: float, raised_m: float) -> Contact:
    """The ground, raised by so much, or what is met beyond it; what meets nothing stops at the furthest angle."""
    ground = first_contact(hull_m, [_box("ground", -FAR_m, FAR_m, -line_height_m - FAR_m, -line_height_m + raised_m)])
    met = [contact for contact in (ground, beyond) if contact is not None]
    return min(met, key=lambda contact: contact.angle_deg, default=Contact(FURTHEST_DEG, "rim", (0.0, 0.0)))


def _rest(
    contact: Contact, beyond: Contact | None, hull_m: Floats, rounds: Sequence[Round], line_height_m: float
) -> Rest:
    on: Literal["ground", "wall", "bed side", "rim", "frame"] = "rim"
    if contact.name in ("ground", "wall", "frame"):
        on = contact.name  # type: ignore[assignment]
    elif contact.name == "bed":
        on = "rim" if contact.at_m[1] > -1e-6 else "bed side"
    part = _touches(contact, rounds)
    if on != "ground":
        return Rest(contact.angle_deg, on, part)
    lifted = _sooner(beyond, hull_m, line_height_m, FILM_OFF_SOIL_m)
    if lifted.name != "ground":
        return Rest(contact.angle_deg, on, part)
    return Rest(contact.angle_deg, on, part, FILM_OFF_SOIL_m, max(0.0, -lifted.at_m[0]), lifted.angle_deg)


def _touches(contact: Contact, rounds: Sequence[Round]) -> Literal["pipe", "fitting", "film"]:
    """Which part lies where it touches: what is round there, or the film between."""
    turn = np.radians(contact.angle_deg)
    x, z = contact.at_m
    shut = (x * np.cos(turn) + z * np.sin(turn), z * np.cos(turn) - x * np.sin(turn))
    for one in sorted(rounds, key=lambda r: r.part):
        if abs(np.hypot(shut[0] - one.out_m, shut[1] - one.up_m) - one.radius_m) < 1e-4:
            return one.part
    return "film"


def _bed(line_height_m: float, rim_below_m: float, over_m: float) -> Obstacle:
    return _box("bed", -over_m, FAR_m, -line_height_m - 1.0, -rim_below_m)


def _box(name: str, left_m: float, right_m: float, low_m: float, high_m: float) -> Obstacle:
    return Obstacle(name, ((left_m, low_m), (right_m, low_m), (right_m, high_m), (left_m, high_m)))
