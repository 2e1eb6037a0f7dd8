"""The gust at which a loose cover lifts itself off the bed."""

from __future__ import annotations

import math

from clochewright.findings import Finding, Level, word
from clochewright.frame import Frame
from clochewright.measures import GRAVITY_M_S2
from clochewright.sources import Cited, Grade
from clochewright.strength.beaufort import beaufort, mean_of_gust
from clochewright.strength.types import Limit
from clochewright.weights import Weights

# Half the density of air at 15 degC and sea level, as in q = 0.613 v^2 (ASCE 7-16, equation 26.10-1-SI).
HALF_AIR_DENSITY_KG_M3 = 0.613

# Low end: published uplift of 220 lb a foot on a 28 ft house at 80 mph is 0.48 of the stagnation pressure on plan area.
NET_UPLIFT = Cited(
    0.6,
    0.48,
    0.7,
    Grade.ESTIMATE,
    "0.48: Bartok (University of Connecticut), Reduce storm damage to your greenhouses; 0.7: wind along the ridge by "
    "ASCE 7-16 figure 27.3-1, mean suction 0.6 times gust factor 0.85, and 0.18 from inside",
)


def lifting_gust(mass_kg: float, plan_area_m2: float, net_uplift_factor: float) -> float:
    """The gust whose uplift equals the weight [m/s]: v = sqrt(m g / (1/2 rho CN A)).

    Args:
        mass_kg: what holds it down, its own mass [kg].
        plan_area_m2: the area it covers, seen from above [m2].
        net_uplift_factor: mean net uplift over that area, as a part of the stagnation pressure [1].

    Raises:
        ValueError: when one of them is not above zero.
    """
    if not (mass_kg > 0 and plan_area_m2 > 0 and net_uplift_factor > 0):
        raise ValueError("mass, area and uplift must be above zero")
    return math.sqrt(mass_kg * GRAVITY_M_S2 / (HALF_AIR_DENSITY_KG_M3 * net_uplift_factor * plan_area_m2))


def loose_lift_gust(frame: Frame, weights: Weights) -> tuple[Limit, tuple[Finding, ...]]:
    """The gust that lifts the shut but unlatched cover, with its band, and the finding that says it in words.

    The light end of the mass with the strong end of the uplift gives the low value, and the other way round.
    """
    area_m2 = frame.length_m * frame.width_m
    mass = weights.lid_kg
    value = lifting_gust(mass.value, area_m2, NET_UPLIFT.value)
    low = lifting_gust(mass.low, area_m2, NET_UPLIFT.high)
    high = lifting_gust(mass.high, area_m2, NET_UPLIFT.low)
    case, governs = word("strength.case.loose"), word("strength.governs.weight")
    limit = Limit(case, "gust_m_s", value, low, high, governs, NET_UPLIFT.source)
    mean = beaufort(mean_of_gust(low))
    values = {
        "mass_kg": mass.value,
        "gust_m_s": value,
        "low_m_s": low,
        "high_m_s": high,
        "force": mean.number,
        "name": mean.name,
        "seen": mean.seen,
    }
    finding = Finding(Level.WARN, "strength", "strength.lifts-loose", "strength", values, NET_UPLIFT.source)
    return limit, (finding,)
