"""PVC pipe as it is: softer when warm, softer and weaker the longer it is loaded.

Figures are for unplasticised PVC pressure pipe, cell class 12454 and its metric likes.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from clochewright.sources import Cited, Grade

MIN_S, HOUR_S, DAY_S, WEEK_S = 60.0, 3600.0, 86400.0, 604800.0
MONTH_S, YEAR_S = 30.44 * DAY_S, 365.25 * DAY_S
GUST_S = 3 * MIN_S  # shorter loads count as three minutes, the length of a short-term test
ROOM_DEGC, SUN_DEGC, FROST_DEGC = 23.0, 50.0, 0.0

SHORT_TERM_E_Pa = Cited(
    2.76e9,
    2.48e9,
    2.96e9,
    Grade.PUBLISHED,
    "400,000 psi in older handbooks; low: flexural modulus 360,000 psi (ASTM D790), high: tensile 430,000 psi (D638), "
    "pipe makers' tables at 73 °F",
)
SHORT_TERM_STRENGTH_Pa = Cited(
    49.6e6,
    48.3e6,
    51.4e6,
    Grade.PUBLISHED,
    "tensile strength 7,000 to 7,450 psi at 73 °F (ASTM D638), pipe makers' tables",
)
# 4,000 psi at 100,000 h is PVC 1120's hydrostatic design basis; its design stress of 2,000 psi is half of that.
DESIGN_BASIS_Pa = Cited(27.6e6, 23.6e6, 27.6e6, Grade.PUBLISHED, "PVC 1120; low: AS/NZS 1477:2017 Table 3.1, 50 years")
DESIGN_BASIS_S = 100_000 * HOUR_S
# The same share of what it bears that ASTM D2837's practice leaves for water pipe.
SAFETY = Cited(2.0, 1.6, 2.5, Grade.ESTIMATE, "2.0: design stress over design basis of PVC 1120; band an estimate")

# Strength against temperature [degC]. US makers' tables and PPFA User Bulletin 3-96; ISO 4422-2 re-rating.
US_STRENGTH = ((23, 1.0), (27, 0.88), (32, 0.75), (38, 0.62), (43, 0.50), (49, 0.40), (54, 0.30), (60, 0.22))
ISO_STRENGTH = ((20, 1.0), (25, 0.94), (30, 0.87), (35, 0.78), (40, 0.70), (45, 0.64), (50, 0.58))
STRENGTH_SOURCE = (
    "strength against temperature: US pipe makers' tables (PPFA User Bulletin 3-96); high: ISO 4422-2 re-rating"
)
# Modulus against temperature: engineering tables for PVC expansion loops; a pipe maker's set (from memory).
LOOP_MODULUS = ((22.8, 1.0), (37.8, 0.88), (60.0, 0.70))
MAKER_MODULUS = ((22.8, 1.0), (32.2, 0.893), (37.8, 0.867), (43.3, 0.843), (48.9, 0.817), (60.0, 0.769))
# Power laws from 3 minutes to 50 years: BS EN 1401-1 foreword (3000 to 1500 MPa); ring bending 3200 to 1200 MPa.
SLOW_CREEP, FAST_CREEP = 0.043, 0.061
CREEP_SOURCE = "BS EN 1401-1:2009 foreword, 3000 to 1500 MPa; low: an Australian maker, 3200 to 1200 MPa in 50 years"
HOTTEST_DEGC = 60.0  # top service temperature of PVC, pipe makers' tables
BRITTLE_DEGC = 10.0  # cold PVC cracks at a knock; bend it above 50 °F: common practice, no source


def modulus(temperature_degC: float, duration_s: float) -> Cited:
    """How stiff the pipe is [Pa] at a temperature [degC], under a load that lasts [s]."""
    loop, maker = read_off(LOOP_MODULUS, temperature_degC), read_off(MAKER_MODULUS, temperature_degC)
    slow, fast = creep(duration_s)
    E = SHORT_TERM_E_Pa
    low, high = min(loop, maker), max(loop, maker)
    grade = Grade.PUBLISHED if duration_s <= GUST_S and temperature_degC <= ROOM_DEGC else Grade.DERIVED
    source = E.source if duration_s <= GUST_S else f"{E.source}; {CREEP_SOURCE}"
    return Cited(E.value * low * (slow + fast) / 2, E.low * low * fast, E.high * high * slow, grade, source)


def creep(duration_s: float) -> tuple[float, float]:
    """Modulus under a lasting load over the short-term one, on the slower and the faster creeping line."""
    longer = max(duration_s, GUST_S) / GUST_S
    return float(longer**-SLOW_CREEP), float(longer**-FAST_CREEP)


def allowable_stress(temperature_degC: float, duration_s: float) -> Cited:
    """The stress that we let the pipe bear [Pa]: what breaks it after that time, over a safety of about two.

    Between a short test and the design basis, strength falls evenly against the logarithm of time on both scales, as
    ASTM D2837 extrapolates it.
    """
    strength = strength_at(temperature_degC, duration_s)
    return Cited(
        strength.value / SAFETY.value,
        strength.low / SAFETY.high,
        strength.high / SAFETY.low,
        Grade.ESTIMATE,
        f"{strength.source}; {SAFETY.source}",
    )


def strength_at(temperature_degC: float, duration_s: float) -> Cited:
    """The stress that breaks it after so long at that temperature [Pa]."""
    share = math.log(max(duration_s, GUST_S) / GUST_S) / math.log(DESIGN_BASIS_S / GUST_S)
    us, iso = read_off(US_STRENGTH, temperature_degC), read_off(ISO_STRENGTH, temperature_degC)

    def lasting(short_Pa: float, long_Pa: float) -> float:
        return float(short_Pa * (long_Pa / short_Pa) ** min(share, 1.0))

    short, long = SHORT_TERM_STRENGTH_Pa, DESIGN_BASIS_Pa
    grade = Grade.PUBLISHED if share == 0 and temperature_degC <= ROOM_DEGC else Grade.DERIVED
    low, high = min(us, iso), max(us, iso)
    source = short.source if temperature_degC <= ROOM_DEGC else f"{short.source}; {STRENGTH_SOURCE}"
    value = lasting(short.value, long.value) * us
    return Cited(value, lasting(short.low, long.low) * low, lasting(short.high, long.high) * high, grade, source)


def read_off(table: Sequence[tuple[float, float]], at_degC: float) -> float:
    """A factor between the entries of a table, held at its ends below; beyond its top along its last slope, above 0."""
    if at_degC <= table[0][0]:
        return table[0][1]
    for (a, one), (b, two) in pairwise(table):
        if at_degC <= b:
            return one + (two - one) * (at_degC - a) / (b - a)
    (a, one), (b, two) = table[-2:]
    return max(two + (two - one) * (at_degC - b) / (b - a), 0.05)
