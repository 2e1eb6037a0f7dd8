"""What the cover stands, said for people: each limit with its band, what it looks like out of doors, what to do."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from clochewright.findings import word
from clochewright.measures import Units, show_force, show_length, show_money, show_speed
from clochewright.plan import Plan
from clochewright.strength import Gain, Limit, Opening, Strength, about_m, beaufort, load_of, mean_of_gust

# The few for the shed. Of winds that read the same the first one's action is told, which answers for the others too.
CARD_WIND = ("propped", "shut", "panel-shut", "hot", "open-end", "unlatched", "loose")
CARD_SNOW = ("fresh", "wet", "drift")
WEAKER = ("open-end", "unlatched", "loose")  # stands no more for sure than the same cover shut and latched
WIDE = 2.0  # a likely figure beyond this many times the low end needs a reason
MOST_GIVEN_M = 0.5
DEEPEST_M = 1.0  # snow deeper than this covers the bed whatever stands on it


@dataclass(frozen=True, slots=True)
class SaidLimit:
    """One limit in words: what is done to it, the likely figure and both ends of its band, and what to do.

    `safe` is the low end, which is the one to act on, "" where that is nothing at all; `force` is its step on the
    Beaufort scale and `outdoors` what that looks like, "" but for wind.
    """

    key: str
    label: str
    likely: str
    safe: str
    best: str
    outdoors: str
    force: str
    governs: str
    act: str

    @property
    def band(self) -> str:
        """Both ends in words; "" where both read the same."""
        if self.best in ("", self.safe):
            return ""
        return word("job.stands.band" if self.safe else "job.stands.band-none", low=self.safe, high=self.best)


@dataclass(frozen=True, slots=True)
class CardLimit:
    """One row of the card: what is said of it, what else goes with the same figure, and whether its band is wide."""

    said: SaidLimit
    same: tuple[str, ...] = ()
    wide: bool = False


@dataclass(frozen=True, slots=True)
class SaidChange:
    """One change in words: what it brings and costs, and the plan's key and value where one does it."""

    label: str
    gust: str
    snow: str
    cost: str
    after: str
    path: str
    value: str


def said_limits(strength: Strength, units: Units) -> tuple[SaidLimit, ...]:
    """All limits in words."""
    return tuple(_said(limit, units) for limit in strength.limits)


def reach_load(plan: Plan, units: Units) -> str:
    """The wind and snow that spans are worked out for, and whose they are."""
    load = load_of(plan)
    shown = {
        "gust": show_limit("gust_m_s", load.gust_m_s, units),
        "snow": show_limit("snow_depth_m", load.wet_m, units),
    }
    return word("job.stands.load" if load.named else "job.stands.load-usual", **shown)


def card_limits(strength: Strength, units: Units, opening: Opening | None = None) -> tuple[CardLimit, ...]:
    """The few that a card in the shed has: wind as it rises, then snow; loose and unlatched are one to a gardener.

    What opens has a row of its own: propped open it bears least of all.

    Each limit has a band of its own, so that an open or unlatched cover could come out above the same cover shut and
    latched, and its action after the cover has gone. So none is credited with more than that one, and winds that read
    the same are one row with the action that answers for all.
    """
    by_key = {limit.key: limit for limit in (*strength.limits, *_propped(opening))}
    if "unlatched" in by_key:
        by_key.pop("loose", None)
    shut = by_key.get("shut")
    rows: dict[str, list[Limit]] = {}
    for key in CARD_WIND:
        if key in by_key:
            limit = _no_more_than(by_key[key], shut) if key in WEAKER and shut else by_key[key]
            rows.setdefault(show_limit(limit.kind, limit.low, units), []).append(limit)
    winds = sorted(rows.values(), key=lambda row: row[0].low)
    snows = [[by_key[key]] for key in CARD_SNOW if key in by_key]
    return tuple(_card_limit(row, units) for row in (*winds, *snows))


def _propped(opening: Opening | None) -> Iterator[Limit]:
    """The gust that lifts the leaf that bears least off its bar, propped at its widest."""
    winds = [leaf.wind[-1] for leaf in (opening.leaves if opening else ()) if leaf.wind and leaf.prop is not None]
    if not winds:
        return
    gust = min((wind.off_pin_m_s for wind in winds), key=lambda gust: gust.low)
    case, governs = word("job.stands.propped"), word("job.stands.propped-gives")
    yield Limit(case, "gust_m_s", gust.value, gust.low, gust.high, governs, gust.source, "propped")


def _no_more_than(limit: Limit, other: Limit) -> Limit:
    """The limit with each of its figures no higher than another's."""
    least = (min(a, b) for a, b in zip(_figures(limit), _figures(other), strict=True))
    value, low, high = least
    return replace(limit, value=value, low=low, high=high)


def _figures(limit: Limit) -> tuple[float, float, float]:
    return limit.value, limit.low, limit.high


def _card_limit(row: Sequence[Limit], units: Units) -> CardLimit:
    first = row[0]
    same = tuple(word(f"job.stands.same.{limit.key}") for limit in row[1:])
    return CardLimit(_said(first, units), same, first.value > WIDE * first.low)


def said_changes(strength: Strength, plan: Plan, units: Units) -> tuple[SaidChange, ...]:
    """What to change, the most gain for its cost first."""
    return tuple(_change(gain, plan, units) for gain in strength.changes)


def _said(limit: Limit, units: Units) -> SaidLimit:
    likely, safe, best = (show_limit(limit.kind, value, units) for value in (limit.value, limit.low, limit.high))
    if limit.kind in ("width_m", "bay_m"):  # no size at all is none
        likely = likely if limit.value > 0 else word("job.stands.none")
        safe, best = (shown if m > 0 else "" for shown, m in ((safe, limit.low), (best, limit.high)))
    force = outdoors = ""
    if limit.kind == "gust_m_s":
        step = beaufort(mean_of_gust(limit.low))
        force = word("job.stands.force", force=step.number, name=step.name)
        outdoors = word("job.stands.outdoors", force=step.number, name=step.name, seen=step.seen)
    act = word(f"job.stands.act.{limit.key}") if limit.key else ""
    label = limit.case[:1].upper() + limit.case[1:]
    return SaidLimit(limit.key, label, likely, safe, best, outdoors, force, limit.governs, act)


def show_limit(kind: str, value: float, units: Units) -> str:
    """A limit's figure as roughly as it is known: gusts in mph or m/s, snow in inches or centimetres, forces, sizes."""
    if kind == "gust_m_s":
        return show_speed(value, units)
    if kind == "force_N":
        return show_force(value, units)
    if kind == "snow_depth_m":
        if value > DEEPEST_M:
            return word("job.stands.deeper", depth=show_limit(kind, DEEPEST_M, units))
        return f"{100 * about_m(value, 'mm'):.0f} cm" if units == "mm" else show_length(about_m(value, units), units)
    return show_length(about_m(value, units), units, style="long")


def _change(gain: Gain, plan: Plan, units: Units) -> SaidChange:
    saves = gain.cost_money < 0
    money = show_money(abs(gain.cost_money), plan.prices.currency)
    after = {"gust": show_limit("gust_m_s", gain.gust_m_s, units),
             "snow": show_limit("snow_depth_m", gain.wet_snow_m, units)}  # fmt: skip
    return SaidChange(
        word(f"strength.change.{gain.key}"),
        f"{100 * gain.gust_share:+.0f} %",
        f"{100 * gain.snow_share:+.0f} %",
        word("job.stands.saves" if saves else "job.stands.costs", money=money),
        word("job.stands.after", **after),
        gain.change.path if gain.change else "",
        str(gain.change.value) if gain.change else "",
    )


def handling_said(strength: Strength, units: Units) -> Iterator[tuple[str, str, str]]:
    """Each way of handling it: what is done, how much of what it bears that takes, and what gives."""
    for check in strength.checks:
        share = word("job.stands.share", share=f"{100 * check.share:.0f}")
        gives_m = min(check.gives_m, MOST_GIVEN_M)  # beyond that it is no longer what small movements say
        gives = show_length(about_m(gives_m, units), units) if gives_m > 0.0254 else ""
        if check.gives_m > MOST_GIVEN_M:
            gives = word("job.stands.deeper", depth=gives)
        note = word("job.stands.gives", gives=gives, governs=check.governs) if gives else check.governs
        yield check.case[:1].upper() + check.case[1:], share, note


PSI_Pa, PCF_kg_m3, LBF_IN_N_m = 6894.757, 16.01846, 175.1268


def show_ground(kind: str, value: float, units: Units) -> str:
    """A figure that strength rests on, in the plan's units."""
    inch = units == "inch"
    if kind == "stress":
        return f"{_three(value / PSI_Pa)} psi" if inch else f"{_three(value / 1e6)} MPa"
    if kind == "force":
        return show_force(value, units)
    if kind == "share":
        return f"{100 * value:g} %"
    if kind == "density":
        return f"{_three(value / PCF_kg_m3)} lb/ft³" if inch else f"{_three(value)} kg/m³"
    if kind == "stiffness":
        return f"{_three(value / LBF_IN_N_m)} lbf/in" if inch else f"{_three(value / 1000)} N/mm"
    return f"{value:g}"


def _three(value: float) -> str:
    """To three figures, with commas between thousands."""
    return f"{float(f'{value:.3g}'):,.10g}"
