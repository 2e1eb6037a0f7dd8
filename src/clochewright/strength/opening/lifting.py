"""Lifting a cover off: the revised NIOSH equation, and the limits of other authorities."""

from __future__ import annotations

from typing import Literal

from clochewright.frame import Vec
from clochewright.sources import Cited, Grade
from clochewright.strength.opening.types import Lifting, LiftLimit

Grip = Literal["good", "fair", "poor"]

NIOSH = "NIOSH, Applications Manual for the Revised Lifting Equation, DHHS 94-110 (revised 2021)"
LOAD_CONSTANT_kg = 23.0
OUT_OF_REACH_m, TOO_HIGH_m, TOO_FAR_ROUND_deg = 0.63, 1.75, 135.0
# How far out from the ankles the hands are: a wide, light cover is taken by its rails, arms half out.
HANDS_OUT_m = Cited(0.45, 0.63, 0.35, Grade.ESTIMATE, "a wide frame taken by its rails; low: arms right out")
CARRIED_UP_m = 0.60  # from the rim to the hips and over the crop
TWO_PEOPLE_factor = Cited(1.7, 1.6, 1.8, Grade.ESTIMATE, "two lift a little less than twice as much as one")

# Lifting at arm's length from between shin and knuckle height: women 7 kg, men 10 kg (HSE INDG143, from memory).
HSE_kg = Cited(7.0, 3.0, 10.0, Grade.FROM_MEMORY, "HSE INDG143/L23, knuckle height at arm's length: women 7 kg, men "
               "10 kg; shin height 3 and 5")  # fmt: skip
ISO_kg = Cited(20.0, 15.0, 25.0, Grade.FROM_MEMORY, "ISO 11228-1 reference mass: women 20 kg, men 25 kg, 15 kg younger "
               "or older, close to the body")  # fmt: skip
HOME_kg = Cited(10.0, 5.0, 10.0, Grade.FROM_MEMORY, "EN 1005-2, domestic use: 10 kg, children and the elderly 5 kg")


def recommended_kg(
    out_m: float,
    height_m: float,
    travel_m: float,
    turn_deg: float = 0.0,
    grip: Grip = "fair",
    often_factor: float = 1.0,
) -> float:
    """The recommended weight limit RWL = LC HM VM DM AM FM CM [kg] (NIOSH 94-110).

    Args:
        out_m: hands out from the middle between the ankles, H [m]; nearer than 0.25 counts as that.
        height_m: hands above the floor at the start, V [m].
        travel_m: how far up or down they go, D [m]; less than 0.25 counts as that.
        turn_deg: how far the body is turned, A [deg].
        grip: how good the grip is.
        often_factor: FM; 1 for a lift now and then.
    """
    if out_m > OUT_OF_REACH_m or not 0 <= height_m <= TOO_HIGH_m or turn_deg > TOO_FAR_ROUND_deg:
        return 0.0
    horizontal = 0.25 / max(out_m, 0.25)
    vertical = 1 - 0.3 * abs(height_m - 0.75)
    distance = 0.82 + 0.045 / max(travel_m, 0.25)
    asymmetry = 1 - 0.0032 * turn_deg
    low = height_m < 0.75
    coupling = {"good": 1.0, "fair": 0.95 if low else 1.0, "poor": 0.90}[grip]
    return LOAD_CONSTANT_kg * horizontal * vertical * distance * asymmetry * often_factor * coupling


def lift_off(mass: Cited, centre_m: Vec, rim_m: float, length_m: float, width_m: float, people: int) -> Lifting:
    """Whether it can be lifted off the bed, by how many, and where they hold it.

    Args:
        mass: of what is lifted [kg].
        centre_m: its centre of gravity, in the frame's axes [m].
        rim_m: the bed's rim above the ground [m].
        length_m: its length along the bed [m].
        width_m: its width [m].
        people: how many there are.
    """
    reach = (HANDS_OUT_m.value, HANDS_OUT_m.low, HANDS_OUT_m.high)
    held_m = min(rim_m, TOO_HIGH_m)  # a panel hinged higher up than one lifts is held lower down
    value, low, high = (recommended_kg(out_m, held_m, CARRIED_UP_m, 0.0, "poor") for out_m in reach)
    niosh = Cited(value, low, high, Grade.DERIVED, f"{NIOSH}; hands out by {HANDS_OUT_m.value} m, poor grip")
    limits = tuple(
        LiftLimit(key, limit, mass.value / limit.value)
        for key, limit in (("niosh", niosh), ("hse", HSE_kg), ("iso", ISO_kg), ("home", HOME_kg))
    )
    one_kg = niosh.value
    needed = 1 if mass.value <= one_kg else 2 if mass.value <= one_kg * TWO_PEOPLE_factor.value else 0
    x, y, _ = centre_m
    half_m, apart_m = length_m / 2, width_m / 4
    middle_x = x  # balance along the bed
    grips: tuple[Vec, ...] = tuple(
        (end, y + side * apart_m, 0.0) for end in (middle_x - half_m, middle_x + half_m) for side in (1.0, -1.0)
    )
    if needed == 1:
        grips = ((middle_x - 0.25, y, 0.0), (middle_x + 0.25, y, 0.0))
    return Lifting(mass, limits, needed, grips, mass.value / 2, 0 < needed <= max(people, 1))
