"""The outside figures that strength rests on, each with its band and source, to be told beside the results."""

from __future__ import annotations

from dataclasses import replace

from clochewright.sources import Cited, Grade
from clochewright.strength import material
from clochewright.strength.air import DIRECTIONALITY
from clochewright.strength.beaufort import GUST_OVER_MEAN
from clochewright.strength.hold_down import NET_UPLIFT
from clochewright.strength.limits import FRICTION, SNOW_SOURCE, WIND_SOURCE
from clochewright.strength.model import LOOSE_JOINT_EI_L, SOFT_SEAT_SHARE, HARDWARE_N_m, RIM_N_m
from clochewright.strength.resistance import (
    SCREW_IN_PIPE_N,
    STAPLE_N,
    FILM_E_Pa,
    FILM_SLACK_share,
    FILM_YIELD_Pa,
    SCREW_m,
    THREAD_m,
    screw_withdrawal_N_m,
    timber_named,
)
from clochewright.strength.snow import FRESH_kg_m3, WET_kg_m3
from clochewright.strength.study import Asked, code_of
from clochewright.strength.types import Ground


def grounds_of(asked: Asked) -> tuple[Ground, ...]:
    """What the strength of this cover rests on, in the order of the work."""
    code = code_of(asked.plan)
    timber, _ = timber_named(asked.plan.bed.timber)
    pull_N = screw_withdrawal_N_m(timber.gravity_ratio, SCREW_m.value)
    source = f"NDS 12.2.2, {timber.name}, No. 8; {THREAD_m.source}"
    pull = Cited(pull_N * THREAD_m.value, pull_N * THREAD_m.low, pull_N * THREAD_m.high, Grade.DERIVED, source)
    return (
        Ground("pressure", replace(DIRECTIONALITY, source=f"{WIND_SOURCE[code]}; {DIRECTIONALITY.source}"), "factor"),
        Ground("uplift", NET_UPLIFT, "factor"),
        Ground("gust-mean", GUST_OVER_MEAN, "factor"),
        Ground("fresh-snow", replace(FRESH_kg_m3, source=f"{FRESH_kg_m3.source}; {SNOW_SOURCE[code]}"), "density"),
        Ground("wet-snow", replace(WET_kg_m3, source=f"{WET_kg_m3.source}; {SNOW_SOURCE[code]}"), "density"),
        Ground("modulus", material.modulus(material.ROOM_DEGC, material.GUST_S), "stress"),
        Ground("modulus-week", material.modulus(material.FROST_DEGC, material.WEEK_S), "stress"),
        Ground("breaks", material.strength_at(material.ROOM_DEGC, material.GUST_S), "stress"),
        Ground("breaks-hot", material.strength_at(material.SUN_DEGC, material.GUST_S), "stress"),
        Ground("breaks-week", material.strength_at(material.FROST_DEGC, material.WEEK_S), "stress"),
        Ground("safety", material.SAFETY, "factor"),
        Ground("loose-joint", LOOSE_JOINT_EI_L, "factor"),
        Ground("soft-seat", SOFT_SEAT_SHARE, "share"),
        Ground("rim", RIM_N_m, "stiffness"),
        Ground("hardware", HARDWARE_N_m, "stiffness"),
        Ground("screw-pipe", SCREW_IN_PIPE_N, "force"),
        Ground("screw-board", pull, "force"),
        Ground("staple", STAPLE_N, "force"),
        Ground("film-yield", FILM_YIELD_Pa, "stress"),
        Ground("film-modulus", FILM_E_Pa, "stress"),
        Ground("film-slack", FILM_SLACK_share, "share"),
        Ground("friction", FRICTION, "factor"),
    )
