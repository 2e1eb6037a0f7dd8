"""What wind, rain and slope ask of a panel of film. Workshop estimates, each with its band.

A panel is a strip of film between two pipes. Blown out by a pressure p it is an arc of radius R = b^2 / (8 s) + s / 2
(chord b, sag s) and carries T = p R; its stress is T / t. How far it sags follows from its own stretch: a strip that
lay flat sags by s = b (3 p b / (64 E t))^(1/3).
"""

from __future__ import annotations

import math
from collections.abc import Callable
from itertools import pairwise

from clochewright.film.skin import Skin
from clochewright.film.types import Panel
from clochewright.findings import Finding, Level, Mend
from clochewright.frame import Frame
from clochewright.sources import Cited, Grade

AIR = 0.613  # half the density of air [kg/m3]: q = 0.613 v^2, ASCE 7
# Suction on the middle of a roof with the inside closed, at its edges, and the push on a windward slope; EN 1991-1-4
# table 7.4 (cpe,1 of zones H and G, 45 degrees) with 0.2 from inside, and table 7.3.
SUCTION = Cited(1.4, 0.7, 2.2, Grade.PUBLISHED, "EN 1991-1-4 tables 7.3 and 7.4, cpe,1, and 0.2 from inside")
# Steady wind pushes this part as hard as its gusts: gust pressure is some 2.3 to 2.8 times the mean's.
STEADY = 1 / 2.5
YOUNG = Cited(200e6, 126e6, 299e6, Grade.PUBLISHED, "three-layer greenhouse films, Hindawi AMSE 2019, 1692126, table 5")
YIELD = Cited(8e6, 8e6, 12e6, Grade.FROM_MEMORY, "low-density polyethylene film, from memory")
LONG_TERM = Cited(3.5e6, 3e6, 4e6, Grade.ESTIMATE, "for years of load, from the yield of low-density polyethylene")
# Water or slush 5 mm deep is what has to run off a panel before more of it gathers (common practice, no source) [Pa].
WET_PA = 50.0
# From memory: drops run down the inside of plain film, and do not fall, where it is steeper than some 26 to 30 degrees.
DRIPS_DEG = 27.0
# Straight stretches of the section shorter than this, by the hub, belong to the bend round a fitting.
FLAT_HUBS = 2.0
ESTIMATE = "T = p R on a strip of film; workshop estimate"


def sag_m(span_m: float, pressure_Pa: float, young_Pa: float, film_m: float) -> float:
    """How far a flat strip of film bulges under a pressure [m]."""
    return span_m * math.cbrt(3 * pressure_Pa * span_m / (64 * young_Pa * film_m))


def stress_Pa(span_m: float, pressure_Pa: float, young_Pa: float, film_m: float) -> float:
    """How hard film in such a strip is stretched [Pa]: T = p R over its thickness."""
    sag = sag_m(span_m, pressure_Pa, young_Pa, film_m)
    radius_m = span_m**2 / (8 * sag) + sag / 2
    return pressure_Pa * radius_m / film_m


def largest_m(limit_Pa: float, pressure_Pa: float, young_Pa: float, film_m: float) -> float:
    """The span at which a strip is stretched that hard [m]."""
    low, high = 1e-3, 100.0
    while high - low > 1e-4:
        middle = (low + high) / 2
        low, high = (middle, high) if stress_Pa(middle, pressure_Pa, young_Pa, film_m) < limit_Pa else (low, middle)
    return low


def try_panel(frame: Frame, skin: Skin, thickness: Cited, gust_m_s: float) -> tuple[Panel | None, tuple[Finding, ...]]:
    """Weigh up the largest panel, and the slope of every flat part of the roof.

    Args:
        frame: one cover.
        skin: its surface.
        thickness: the film's [m]; nothing is said of a film whose thickness is not known.
        gust_m_s: the gust to stand, at the cover [m/s].
    """
    if thickness.value <= 0:
        return None, ()
    film_m = thickness.value
    flats = _flats(skin, frame)
    bay_m = frame.longest_bay_m or frame.length_m
    span_m = min(bay_m, max((run for run, _ in flats), default=bay_m))
    q_Pa = AIR * gust_m_s**2
    pressure = Cited(q_Pa * SUCTION.value, q_Pa * SUCTION.low, q_Pa * SUCTION.high, Grade.ESTIMATE, SUCTION.source)
    sag = _banded(lambda p, e: sag_m(span_m, p, e, film_m), pressure)
    stress = _banded(lambda p, e: stress_Pa(span_m, p, e, film_m), pressure)
    gust = _banded(lambda p, e: largest_m(YIELD.value, p, e, film_m), pressure)
    steady = _banded(lambda p, e: largest_m(LONG_TERM.value, p * STEADY, e, film_m), pressure)
    governs, largest = ("gust", gust) if gust.value <= steady.value else ("steady wind", steady)
    wet_m = sag_m(span_m, WET_PA, YOUNG.value, film_m)
    panel = Panel(
        span_m, gust_m_s, pressure, sag, stress, largest, governs, math.degrees(math.atan(4 * wet_m / span_m))
    )
    return panel, (*_too_large(panel, bay_m), *_too_flat(panel, frame, flats))


def _banded(of: Callable[[float, float], float], pressure: Cited) -> Cited:
    """A figure of pressure and stiffness, with the least and the most it comes to over both their bands."""
    ends = [of(push, stiff) for push in (pressure.low, pressure.high) for stiff in (YOUNG.low, YOUNG.high)]
    return Cited(of(pressure.value, YOUNG.value), min(ends), max(ends), Grade.ESTIMATE, ESTIMATE)


def _flats(skin: Skin, frame: Frame) -> list[tuple[float, float]]:
    """The straight stretches of the section: length [m] and slope [deg]; a hoop has none."""
    if frame.shape == "tunnel":
        return []
    least_m = FLAT_HUBS * max((fitting.hub_diameter_m for fitting in frame.fittings), default=0.0)
    found = []
    for (y0, z0), (y1, z1) in pairwise(skin.section_m):
        run = math.hypot(y1 - y0, z1 - z0)
        if run >= least_m:
            found.append((run, math.degrees(math.atan2(abs(z1 - z0), abs(y1 - y0)))))
    return found


def _too_large(panel: Panel, bay_m: float) -> tuple[Finding, ...]:
    if panel.span_m <= panel.largest_m.value:
        return ()
    values = {
        "span_m": panel.span_m, "largest_m": panel.largest_m.value, "low_m": panel.largest_m.low,
        "gust_m_s": panel.gust_m_s,
    }  # fmt: skip
    shorter_m = round(max(0.3, panel.largest_m.value * 0.98), 3)
    change = Mend("cover.bay", f"{shorter_m * 1000:.0f} mm") if bay_m > shorter_m else None
    return (Finding(Level.WARN, "film", "film.panel-too-large", "cover.bay", values, ESTIMATE, change),)


def _too_flat(panel: Panel, frame: Frame, flats: list[tuple[float, float]]) -> tuple[Finding, ...]:
    roofs = [pitch for _, pitch in flats if pitch < 80.0]
    if not roofs:
        return ()
    pitch_deg = min(roofs)
    values = {"pitch_deg": pitch_deg, "least_deg": panel.least_pitch_deg, "drips_deg": DRIPS_DEG}
    if frame.recipes.get("apex") == "flat" and pitch_deg < panel.least_pitch_deg:
        width_m = max(run for run, pitch in flats if pitch == pitch_deg)
        change = Mend("cover.apex", "pointed" if abs(frame.pitch_deg - 45) < 2 else "butted")
        values["width_m"] = width_m
        return (Finding(Level.WARN, "film", "film.flat-apex", "cover.apex", values, ESTIMATE, change),)
    if pitch_deg < panel.least_pitch_deg:
        return (Finding(Level.WARN, "film", "film.ponds", "cover", values, ESTIMATE),)
    if pitch_deg < DRIPS_DEG:
        return (Finding(Level.NOTE, "film", "film.drips", "cover", values, "from memory, greenhouse practice"),)
    return ()
