"""What screws, hinges, latches and film fastenings can bear."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from clochewright.catalogue import PipeRow
from clochewright.sources import Cited, Grade
from clochewright.strength.structure import Floats

LB_N, INCH_m = 4.448222, 0.0254
LB_IN_N_m = LB_N / INCH_m
Fixed = Literal["screws", "bolts", "saddles"]


@dataclass(frozen=True, slots=True)
class Timber:
    """One timber: the specific gravity for NDS screw formulas, and C of p = C D² for side load [lb, in]."""

    name: str
    gravity_ratio: float
    side_factor: float


# Specific gravity: NDS table 12.3.3A (from memory); side load: Hicks, Civil Engineering Formulas, equation 6.38, groups
# I to IV: 4800, 3960, 3240, 2520.
TIMBERS = (
    Timber("cedar", 0.36, 2520.0),
    Timber("white cedar", 0.31, 2520.0),
    Timber("redwood", 0.37, 3240.0),
    Timber("spruce", 0.41, 2520.0),
    Timber("pine", 0.42, 2520.0),
    Timber("treated pine", 0.55, 3960.0),
    Timber("southern pine", 0.55, 3960.0),
    Timber("fir", 0.50, 3960.0),
    Timber("douglas fir", 0.50, 3960.0),
    Timber("larch", 0.52, 3960.0),
    Timber("oak", 0.73, 4800.0),
)
UNKNOWN = Timber("spruce", 0.36, 2520.0)  # the weakest that is common
SHORT_LOAD, WET = 1.6, 0.7  # NDS load duration for wind, wet service (from memory)

SCREW_m = Cited(0.164 * INCH_m, 0.164 * INCH_m, 0.164 * INCH_m, Grade.COMMON_PRACTICE, "No. 8: common practice")
THREAD_m = Cited(
    0.019, 0.013, 0.025, Grade.COMMON_PRACTICE, "3/4 in of thread in the board: common practice, no source"
)
SCREWS_EACH = 2  # to each side of a hinge or a latch: common practice, no source
# Ideal stripping of a No. 8 in 2.8 mm of PVC is about 0.85 kN; a quarter of that, since no test was found.
SCREW_IN_PIPE_N = Cited(
    200.0, 120.0, 300.0, Grade.ESTIMATE, "stripping load of a thread in PVC over about 4; no test found"
)
# A screw in plastic wants 2 to 3 of its diameters of thread; a pipe's wall gives less than one.
ENGAGES_factor = Cited(2.0, 2.0, 3.0, Grade.PUBLISHED, "Lincoln, Gomes & Braden, Mechanical Fastening of Plastics")
SADDLE_N = Cited(1000.0, 600.0, 1500.0, Grade.ESTIMATE, "a two-hole strap round the pipe, bolted to the hinge")
BOLT_m = 3 / 16 * INCH_m  # or 5 mm: common practice, no source
CLEARS_m = 1 / 32 * INCH_m  # a bolt's hole over the bolt: common practice, no source
HOLE_share = 0.2  # of the pipe's diameter; a wider hole weakens it too much: common practice, no source
BOLT_IN_PIPE_N = Cited(700.0, 450.0, 1000.0, Grade.ESTIMATE, "bearing of a 5 mm bolt on both walls at working stress")
# A 10 mm staple crown through 0.15 mm film at 10 MPa: 2 x 10 x 0.15 x 10.
STAPLE_N = Cited(30.0, 20.0, 45.0, Grade.ESTIMATE, "crown's two sides through 6 mil film at its yield; no test found")
FILM_YIELD_Pa = Cited(10e6, 8e6, 12e6, Grade.FROM_MEMORY, "yield of low-density polyethylene film")
FILM_E_Pa = Cited(200e6, 126e6, 299e6, Grade.PUBLISHED, "greenhouse films, 126 to 299 MPa: Advances in Materials "
                  "Science and Engineering 2019, 1692126, table 5")  # fmt: skip
FILM_SLACK_share = Cited(0.01, 0.005, 0.02, Grade.ESTIMATE, "a film fitted on a mild day, not stretched hard")


def timber_named(text: str) -> tuple[Timber, bool]:
    """The timber of that name, and whether it is known; the longest name that the text holds."""
    words = text.casefold()
    found = [timber for timber in TIMBERS if timber.name in words]
    return (max(found, key=lambda timber: len(timber.name)), True) if found else (UNKNOWN, False)


def screw_withdrawal_N_m(gravity_ratio: float, diameter_m: float) -> float:
    """Allowable pull on a wood screw in side grain, a metre of thread [N/m]: W = 2850 G² D lb/in (NDS 12.2.2)."""
    return 2850 * gravity_ratio**2 * diameter_m / INCH_m * LB_IN_N_m


def screw_side_load_N(side_factor: float, diameter_m: float) -> float:
    """Allowable side load on a wood screw [N]: p = C D² lb (Hicks, Civil Engineering Formulas, equation 6.38)."""
    return side_factor * (diameter_m / INCH_m) ** 2 * LB_N


def en_withdrawal_N(diameter_m: float, thread_m: float, density_kg_m3: float) -> float:
    """Characteristic pull on a screw by EN 1995-1-1, 8.7.2 (from memory) [N]; for 6 <= d <= 12 mm, thread >= 6 d."""
    d, length = diameter_m * 1000, thread_m * 1000
    return float(0.52 * d**-0.5 * length**-0.1 * density_kg_m3**0.8 * d * length * min(d / 8, 1.0))


def film_tension_N_m(pressure_Pa: float, chord_m: float, thickness_m: float, E_Pa: float, slack_share: float) -> float:
    """Tension in a strip of film held along two edges under an outward pressure [N/m]; see `film_tensions_N_m`."""
    one = np.array([pressure_Pa]), np.array([chord_m])
    return float(film_tensions_N_m(*one, thickness_m, E_Pa, slack_share)[0])


def film_tensions_N_m(
    pressure_Pa: Floats, chord_m: Floats, thickness_m: float, E_Pa: float, slack_share: float
) -> Floats:
    """Tension in strips of film, each held along two edges under an outward pressure [N/m], shape (n,).

    One hangs as a flat parabola: its own length, p²b²/24T² over the chord, is what it is slack by and what it
    stretches, T/(E t).
    """
    longer, stiff = (np.maximum(pressure_Pa, 0.0) * chord_m) ** 2 / 24, E_Pa * thickness_m
    tension: Floats = np.minimum(np.cbrt(longer * stiff), np.sqrt(longer / max(slack_share, 1e-9)))
    pulled = tension > 0
    longer, T = longer[pulled], tension[pulled]
    for _ in range(30):
        off = slack_share + T / stiff - longer / T**2
        step = off / (1 / stiff + 2 * longer / T**3)
        T = np.maximum(T - step, T / 4)
        if (np.abs(step) < 1e-9 * T).all():
            break
    tension[pulled] = T
    return tension


@dataclass(frozen=True, slots=True)
class Hold:
    """What one hinge or latch bears, working loads [N]: pull out of the board, side load on it, and in the pipe."""

    pull_N: float
    side_N: float
    pipe_N: float


def hold_of(timber: Timber, thread_m: float, pipe_N: float) -> Hold:
    """One hinge or latch on the named board, for a short load on wood that is wet; `pipe_N` is what it bears there."""
    share = SHORT_LOAD * WET * SCREWS_EACH
    diameter_m = SCREW_m.value
    pull_N = screw_withdrawal_N_m(timber.gravity_ratio, diameter_m) * thread_m * share
    return Hold(pull_N, screw_side_load_N(timber.side_factor, diameter_m) * share, pipe_N)


def how_fixed(pipe: PipeRow) -> Fixed:
    """Screws where the wall holds enough of their thread, bolts through both walls, or saddles on thin pipe."""
    wall_m = pipe.wall.value if pipe.wall is not None else 0.0
    if wall_m >= ENGAGES_factor.value * SCREW_m.value:
        return "screws"
    if (BOLT_m + CLEARS_m) <= HOLE_share * pipe.outside_diameter.value:
        return "bolts"
    return "saddles"


def in_pipe_N(pipe: PipeRow, *, bolted: bool = False) -> Cited:
    """What one hinge or latch bears at the pipe, fixed as `how_fixed` says, or `bolted` in any case [N]."""
    how = "bolts" if bolted else how_fixed(pipe)
    if how == "saddles":
        return SADDLE_N
    one = BOLT_IN_PIPE_N if how == "bolts" else SCREW_IN_PIPE_N
    return Cited(one.value * SCREWS_EACH, one.low * SCREWS_EACH, one.high * SCREWS_EACH, one.grade, one.source)
