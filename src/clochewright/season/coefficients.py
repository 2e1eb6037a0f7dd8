"""Every coefficient of the heat balance, low, likely and high, with where it comes from.

"Low" and "high" are named for the night: low lets the cover cool more, whichever way the figure itself goes. The
literature does not settle them; the spread of the answers is the spread of these. None was tuned to a measured night.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from clochewright.site import SkyBook
from clochewright.sources import Cited, Grade

Lean = Literal["low", "likely", "high"]
LEANS: tuple[Lean, Lean, Lean] = ("low", "likely", "high")


@dataclass(frozen=True, slots=True)
class FilmOptics:
    """What a film does to sun and to heat radiation, dry and wet with drops (shares)."""

    sun_dry: Cited
    sun_wet: Cited
    heat_dry: Cited
    heat_wet: Cited


_DROPS = "Optical properties measurement of dry and wet transparent materials, ch. 53, abstract"
PLAIN_FILM = FilmOptics(
    sun_dry=Cited(0.90, 0.86, 0.90, Grade.PUBLISHED, _DROPS),
    sun_wet=Cited(0.67, 0.62, 0.78, Grade.PUBLISHED, f"{_DROPS}; high end: drops on part of it"),
    heat_dry=Cited(0.70, 0.80, 0.60, Grade.FROM_MEMORY, "thin low-density polyethylene, 0.6 to 0.8"),
    heat_wet=Cited(0.05, 0.10, 0.05, Grade.ESTIMATE, "wet film is almost black: M. Savage, Agrochemophysica 12, 1980"),
)
INFRARED_FILM = FilmOptics(
    sun_dry=PLAIN_FILM.sun_dry,
    sun_wet=PLAIN_FILM.sun_wet,
    heat_dry=Cited(0.20, 0.25, 0.15, Grade.PUBLISHED, "E. Kalfas, Polimery 1988 no. 4 p. 148: below 0.20"),
    heat_wet=PLAIN_FILM.heat_wet,
)
SECOND_LAYER_LETS = Cited(0.88, 0.85, 0.90, Grade.ESTIMATE, "0.70 for two layers where one has 0.80, working values")
GAP_AIR_W_m2_K = Cited(3.0, 4.0, 2.5, Grade.ESTIMATE, "still air between two films 2.5 W/m2K; edges leak")
# A second film is drier than the first: what the wet one radiates shines partly through it, to the sky.
SECOND_LETS_HEAT = Cited(0.35, 0.70, 0.05, Grade.ESTIMATE,
                         "dry film 0.7, with drops, dew or frost on it 0.05: half and half")  # fmt: skip
FLEECE_LETS = Cited(0.85, 0.80, 0.90, Grade.COMMON_PRACTICE, "light garden fleece, common practice, no source")
FLEECE_GAP_W_m2_K = Cited(11.0, 14.0, 9.0, Grade.ESTIMATE, "as a second layer, but air passes through the fabric")
BLANKET_m2_K_W = Cited(0.20, 0.10, 0.30, Grade.ESTIMATE, "a quilt or mat 5 to 15 mm thick, as laid in a garden")

# Outside: W. Watmuff, W. Charters & D. Proctor, Revue Internationale d'Heliotechnique 2 (1977) 56: 2.8 + 3.0 v, as
# quoted in public codes. Bot 1983 (from memory) has 2.8 + 1.2 v for a large glasshouse; a film 1 m long is nearer the
# first.
OUTSIDE_STILL_W_m2_K = Cited(2.8, 2.8, 2.8, Grade.PUBLISHED, "Watmuff et al. 1977, as quoted in public codes")
OUTSIDE_PER_m_s = Cited(3.0, 1.2, 3.8, Grade.PUBLISHED, "Watmuff et al. 1977; low: Bot 1983; high: McAdams")
FILM_FREE = Cited(1.5, 1.5, 1.5, Grade.FROM_MEMORY, "turbulent free convection, 1.5 dT^(1/3)")
FILM_LEAST_W_m2_K = Cited(1.0, 1.0, 1.0, Grade.ESTIMATE, "still air never quite rests")
GROUND_FREE = Cited(3.3, 1.86, 5.0, Grade.ESTIMATE, "bare soil 1.86 dT^0.33 (from memory) to a full crop about 5")
GROUND_LEAST_W_m2_K = Cited(0.8, 0.8, 0.8, Grade.FROM_MEMORY, "greenhouse literature")

LEAK_STILL_PER_H = Cited(1.5, 2.0, 1.0, Grade.ESTIMATE, "small removable cover, edges weighted; no measurement found")
LEAK_PER_m_s = Cited(0.7, 1.0, 0.4, Grade.ESTIMATE, "the same")
# Propped lid: T. Boulard & A. Baille, Agricultural and Forest Meteorology 76 (1995) 145:
# Q = (A/2) Cd sqrt(2 g (dT/T)(H/4) + Cw v^2); the arrangement from memory. Stack and wind add as heads, not as flows.
DISCHARGE = Cited(0.64, 0.64, 0.64, Grade.FROM_MEMORY, "Boulard & Baille 1995; sharp-edged opening 0.60 to 0.65")
WIND_PRESSURE = Cited(0.09, 0.07, 0.10, Grade.FROM_MEMORY, "Boulard & Baille 1995, no screen")

GROUND_TAKES = Cited(0.82, 0.80, 0.85, Grade.FROM_MEMORY, "moist dark soil reflects 0.15 to 0.20: T. Oke 1987")
GROUND_EMITS = Cited(0.95, 0.95, 0.95, Grade.FROM_MEMORY, "moist soil and leaves")
GROUND_RESISTS_m2_s_kg = Cited(200.0, 100.0, 500.0, Grade.ESTIMATE, "moist surface 200, dry 2000 to 3000")
LEAF_SHARE = Cited(0.4, 0.6, 0.2, Grade.ESTIMATE, "a young to a half-grown crop; leaves keep the sun off the soil")
LEAF_WARMS = Cited(0.4, 0.3, 0.5, Grade.ESTIMATE, "well-watered leaves give off more than half as water")
LOW_SUN_CAUGHT = Cited(0.5, 0.3, 0.7, Grade.ESTIMATE,
                       "sun that comes in low and would pass over the floor: film scatters half of it (same abstract), "
                       "crop and far film catch it")  # fmt: skip
WALL_W_m2_K = Cited(2.5, 3.0, 2.0, Grade.DERIVED, "38 mm softwood, 0.13 W/mK, air on the outside: 1/(0.29 + 0.1)")
FILM_TAKES = Cited(0.05, 0.05, 0.05, Grade.ESTIMATE, "clear film and drops")
FILM_EMITS_WET = Cited(0.90, 0.95, 0.85, Grade.ESTIMATE, "a film of water is nearly black")

# Soil: D. de Vries 1963 in Transport in the Atmosphere-Vegetation-Soil Continuum, table 2.2; a bed mix of compost and
# loam lies between clay and peat.
SOIL_CONDUCTS_W_m_K = Cited(0.7, 0.5, 0.9, Grade.DERIVED, "between moist clay and moist peat: de Vries 1963")
SOIL_HOLDS_J_m3_K = Cited(2.2e6, 2.0e6, 2.4e6, Grade.DERIVED, "between moist clay and moist peat: de Vries 1963")
DEEP_OVER_AIR_K = Cited(1.0, 0.0, 2.0, Grade.ESTIMATE, "soil at 2 m is about a degree over the year's mean air")

SKY: dict[Lean, SkyBook] = {"low": "berdahl-martin", "likely": "between", "high": "clark-allen"}


# All ends at once is a corner that hardly any cover sits in: one at a time and added as squares, the ends move the mean
# night by about 0.36 of it (Greensboro, typical year). 0.6 is taken, for all that the balance leaves out.
REACH_SHARE = 0.6


def leaning(cited: Cited, lean: Lean) -> float:
    """The likely value, or the one that far towards an end of the band."""
    if lean == "likely":
        return cited.value
    end = cited.low if lean == "low" else cited.high
    return cited.value + REACH_SHARE * (end - cited.value)
