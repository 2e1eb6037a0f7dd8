"""How far it reaches: the widest bed and the longest bay that still stand a given wind and snow."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from clochewright.findings import Finding, Level, word
from clochewright.measures import GRAVITY_M_S2
from clochewright.plan import Plan
from clochewright.sources import Cited, Grade
from clochewright.strength import material
from clochewright.strength.air import DIRECTIONALITY, gust_pressure_Pa
from clochewright.strength.cases import WindMix, film_pull_N_m, snow_weights
from clochewright.strength.limits import SNOW_SOURCE, WIND_SOURCE, governing
from clochewright.strength.model import Level as Band
from clochewright.strength.model import at_level
from clochewright.strength.roots import Root
from clochewright.strength.shares import second_order_gain, share_out
from clochewright.strength.snow import WET_kg_m3
from clochewright.strength.structure import Floats
from clochewright.strength.study import Asked, Study, code_of, study
from clochewright.strength.types import Limit, about_m
from clochewright.strength.windcases import wind_cases

# What is asked of a cover whose plan names no wind or snow of its place.
USUAL_GUST_m_s = Cited(26.8, 26.8, 26.8, Grade.PUBLISHED, "60 mph, where damage to hoop houses is seen: Bartok, "
                       "University of Connecticut")  # fmt: skip
SWEPT = "sweep before 2 in (50 mm) of wet snow: common practice, no source"
USUAL_SNOW_m = Cited(0.0508, 0.0508, 0.0508, Grade.COMMON_PRACTICE, SWEPT)
NARROWEST_m, WIDEST_m = 0.3, 4.0
SHORTEST_BAY_m, LONGEST_BAY_m = 0.3, 4.0
CLOSE, ROUGH, NEAR_SIZE = (
    0.04,
    0.2,
    0.01,
)  # of the share; at the ends of the band, from where it is read off; of the size
MOST_TRIES = 12
FEW, MANY = 0.2, 1.8  # first-order shares below or above which nothing hangs on what the movement adds
BESIDE = 0.6  # of the larger first-order share: a smaller one won't overtake it
USUAL_POWER = 2.0  # shares grow about with the square of a span

Again = Callable[[Plan], "Asked | None"]


@dataclass(frozen=True, slots=True)
class Load:
    """The wind and snow asked of a cover: a gust [m/s] and snow on the ground [Pa]; whether the plan names either."""

    gust_m_s: float
    ground_Pa: float
    named: bool

    @property
    def wet_m(self) -> float:
        """The snow as a depth of wet snow [m]."""
        return self.ground_Pa / (WET_kg_m3.value * GRAVITY_M_S2)


@dataclass(frozen=True, slots=True)
class Used:
    """How much of what it bears a cover is asked for (1 is the limit), and what is asked most."""

    share: float
    governs: str


def load_of(plan: Plan) -> Load:
    """What the plan's place has to meet; what it does not name, a gust and a snow that are usually asked for."""
    gust_m_s, ground_Pa = plan.site.design_gust_m_s, plan.site.ground_snow_Pa
    usual_Pa = USUAL_SNOW_m.value * WET_kg_m3.value * GRAVITY_M_S2
    named = gust_m_s is not None or ground_Pa is not None
    return Load(
        USUAL_GUST_m_s.value if gust_m_s is None else gust_m_s, usual_Pa if ground_Pa is None else ground_Pa, named
    )


def used(asked: Asked, load: Load, level: Band = "likely") -> Used:
    """How much of what it bears a cover is asked for under that wind, shut and latched, or that snow, for a week."""
    one = study(asked, level)
    if one.solved.responses.motion is not None:
        return Used(math.inf, word("strength.governs.free"))
    cases = wind_cases(one.shape, asked.plan.bed.height_m, one.code, False)
    directionality = at_level(DIRECTIONALITY, level, harms=True)
    q_Pa = gust_pressure_Pa(one.code, load.gust_m_s, asked.plan.site.exposure, directionality)
    film = film_pull_N_m(one.shape, cases, q_Pa, one.film) / one.film_holds_N_m
    winds = WindMix(one.patterns, one.shape, cases, one.film).at(q_Pa)
    snows = snow_weights(one.patterns, one.code, load.ground_Pa)
    found = [
        _First(one, "wind", winds, material.ROOM_DEGC, material.GUST_S),
        _First(one, "snow", snows, material.FROST_DEGC, material.WEEK_S),
    ]
    first = sorted(found, key=lambda state: -state.share)
    worst = first[0].amplified(asked.mark_of)
    if first[1].share > BESIDE * first[0].share:
        worst = max(worst, first[1].amplified(asked.mark_of), key=lambda found: found.share)
    torn = Used(film, word("strength.under.wind", governs=word("strength.governs.film")))
    return max(worst, torn, key=lambda found: found.share)


class _First:
    """One load at first order: its worst case."""

    def __init__(self, one: Study, name: str, cases: Floats, degC: float, duration_s: float) -> None:
        self._one, self._name, self._bears = one, name, one.bears(degC, duration_s)
        self._E_ratio = at_level(material.modulus(degC, duration_s), one.level) / one.E_Pa
        found = share_out(one.solved, cases, self._bears)
        worst = int(found.most.argmax())
        state = found.what[worst], found.where[worst], cases[worst], found.opened[worst], found.pipes[worst]
        self._root = Root(1.0, worst, *state)
        self.share = float(found.most[worst])

    def amplified(self, mark_of: Mapping[str, str]) -> Used:
        """The share with what the frame's own movement adds to it."""
        root = self._root
        said = word(f"strength.under.{self._name}", governs=governing(self._one, root, mark_of))
        if root.what == "off":
            return Used(math.inf, said)
        if not FEW < self.share < MANY:  # plain without what its movement adds
            return Used(self.share, said)
        gain = second_order_gain(self._one.solved, root.weights, root.open, self._E_ratio, self._bears)
        return Used(self.share * gain, said)


def reach_limits(asked: Asked, again: Again) -> tuple[Limit, ...]:
    """The widest bed and the longest bay for the plan's wind and snow, with bands.

    Args:
        asked: the cover as planned; its frame stands and its pipe's wall is known.
        again: the bench up to the weights on another plan; None where the frame is refused.
    """
    load = load_of(asked.plan)
    sizes = _Sizes(asked, again, wider, load)
    limits = [_limit("width", sizes, asked.plan.bed.outside_width_m, (NARROWEST_m, WIDEST_m))]
    if len(asked.frame.stations_m) > asked.plan.covers_count:
        sizes = _Sizes(asked, again, longer, load)
        limits.append(_limit("bay", sizes, asked.frame.longest_bay_m, (SHORTEST_BAY_m, LONGEST_BAY_m)))
    return tuple(limits)


def reach_note(plan: Plan, limits: tuple[Limit, ...]) -> Finding:
    """The note that tells how far it reaches."""
    load = load_of(plan)
    values: dict[str, object] = {"gust_m_s": load.gust_m_s, "wet_m": about_m(load.wet_m, plan.units)}
    for limit in limits:
        low_m, value_m, high_m = (about_m(m, plan.units) for m in (limit.low, limit.value, limit.high))
        values |= {f"{limit.key}_low_m": low_m, f"{limit.key}_m": value_m, f"{limit.key}_high_m": high_m}
        values[f"{limit.key}_governs"] = limit.governs
    if len(limits) == 1:
        return Finding(Level.NOTE, "strength", "strength.reach-width", "strength", values, limits[0].source)
    return Finding(Level.NOTE, "strength", "strength.reach", "strength", values, limits[0].source)


def wider(asked: Asked, width_m: float) -> Plan:
    """The same plan on a bed of another outside width [m]."""
    plan = asked.plan
    less_m = 2 * plan.bed.board_m if plan.bed.measured == "inside" and plan.bed.tape is None else 0.0
    bed = plan.bed.model_copy(update={"width_m": width_m - less_m, **_squared(plan)})
    hoops = plan.hoops.model_copy(update={"length_m": None})
    return plan.model_copy(update={"bed": bed, "hoops": hoops})


def longer(asked: Asked, bay_m: float) -> Plan:
    """The same plan with as many bents, on a bed so long that they stand so far apart [m]."""
    plan, sections = asked.plan, asked.plan.covers_count
    bents = len(asked.frame.stations_m) // sections
    more_m = (bay_m - asked.frame.longest_bay_m) * (bents - 1) * sections
    bed = plan.bed.model_copy(update={"length_m": plan.bed.length_m + more_m, **_squared(plan)})
    cover = plan.cover.model_copy(update={"bents": bents, "bay_m": max(bay_m * 1.5, plan.cover.bay_m)})
    return plan.model_copy(update={"bed": bed, "cover": cover})


def _squared(plan: Plan) -> dict[str, object]:
    """A bed measured by four sides and two diagonals is taken as the rectangle on it."""
    if plan.bed.tape is None:
        return {}
    return {"tape": None, "measured": "outside"}


class _Sizes:
    """What is used at a size, each size run once and each level looked at once."""

    def __init__(self, asked: Asked, again: Again, resized: Callable[[Asked, float], Plan], load: Load) -> None:
        self.plan = asked.plan
        self._asked, self._again, self._resized, self._load = asked, again, resized, load
        self._run: dict[float, Asked | None] = {}

    def at(self, size_m: float, level: Band) -> Used | None:
        """None where the frame can't be built at that size."""
        if size_m not in self._run:
            self._run[size_m] = self._again(self._resized(self._asked, size_m))
        run = self._run[size_m]
        return used(run, self._load, level) if run is not None else None


@dataclass(frozen=True, slots=True)
class _Found:
    """A size, what ends it there, and how steeply the share grows with it."""

    size_m: float
    governs: str
    power: float


def _limit(key: str, sizes: _Sizes, start_m: float, bounds_m: tuple[float, float]) -> Limit:
    likely = _largest(sizes, "likely", start_m, bounds_m, USUAL_POWER)
    from_m = max(likely.size_m, bounds_m[0])
    low = _largest(sizes, "low", from_m, bounds_m, likely.power, ROUGH)
    high = _largest(sizes, "high", from_m, bounds_m, likely.power, ROUGH)
    low_m, high_m = min(likely.size_m, low.size_m), max(likely.size_m, high.size_m)
    code = code_of(sizes.plan)
    source = f"{WIND_SOURCE[code]}; {SNOW_SOURCE[code]}"
    return Limit(word(f"strength.case.{key}"), f"{key}_m", likely.size_m, low_m, high_m, likely.governs, source, key)


def _largest(
    sizes: _Sizes,
    level: Band,
    start_m: float,
    bounds_m: tuple[float, float],
    power: float,
    close: float = CLOSE,
) -> _Found:
    """The largest size that stands, between a safe and an unsafe one, by false position on logarithms of both.

    At each end of what is tried it is what it is: 0 where even the smallest does not stand.
    """
    safe: tuple[float, Used] | None = None
    unsafe: tuple[float, Used] | None = None
    size_m, reason = min(max(start_m, bounds_m[0]), bounds_m[1]), ""
    for _ in range(MOST_TRIES):
        found = sizes.at(size_m, level) or Used(math.inf, word("strength.governs.builds"))
        if abs(found.share - 1) < close:
            return _Found(size_m * found.share ** (-1 / power), found.governs, power)
        if found.share < 1:
            safe = (size_m, found)
            if size_m >= bounds_m[1]:
                return _Found(size_m, word("strength.governs.untried"), power)
        else:
            if math.isfinite(found.share) or unsafe is None:
                reason = found.governs
            unsafe = (size_m, found)
            if size_m <= bounds_m[0]:
                return _Found(0.0, reason, power)
        if safe is None:
            step = 0.97 * found.share ** (-1 / power) if math.isfinite(found.share) else 0.7
            size_m = max(size_m * min(max(step, 0.5), 0.92), bounds_m[0])
        elif unsafe is None:
            size_m = min(size_m * min(max(1.05 * found.share ** (-1 / power), 1.1), 1.8), bounds_m[1])
        else:
            far = math.log(unsafe[0] / safe[0])
            if far < NEAR_SIZE:
                break
            at = 0.5
            if math.isfinite(unsafe[1].share) and safe[1].share > 0:
                grown = math.log(unsafe[1].share / safe[1].share)
                power = min(max(grown / far, 0.7), 6.0)
                at = min(max(-math.log(safe[1].share) / grown, 0.08), 0.92)
            size_m = safe[0] * math.exp(at * far)
    return _Found(safe[0] if safe else 0.0, reason, power)
