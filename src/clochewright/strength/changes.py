"""What to change: the affordable changes, each tried by running it, ranked by what they gain for what they cost."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from clochewright.findings import Mend
from clochewright.measures import round_length, show_length
from clochewright.plan import Plan
from clochewright.sources import Cited, Grade
from clochewright.strength.limits import Found, snow_limits, wind_limits
from clochewright.strength.resistance import how_fixed
from clochewright.strength.study import Asked, Extras, study
from clochewright.strength.types import Gain

LOWER_SHARE = 0.8  # of the height, for the change to a lower cover
WORTH_SHARE = 0.03  # a change that brings less than this on both gust and snow, or takes more of one, is not told
LEAST_COST = 1.0  # in the plan's currency: below it a change costs next to nothing

# What additions cost where no price is at hand, in the plan's currency: invented, for ranking only.
LATCH_money = Cited(4.0, 2.0, 8.0, Grade.ESTIMATE, "a small latch with screws")
STRAP_money = Cited(9.0, 5.0, 15.0, Grade.ESTIMATE, "webbing strap with a buckle, two hooks")
BOLT_money = Cited(0.6, 0.3, 1.2, Grade.ESTIMATE, "a 5 mm stainless bolt with nut and washers")
DIAGONAL_money = Cited(5.0, 3.0, 9.0, Grade.ESTIMATE, "a length of the same pipe with two clips")

Again = Callable[[Plan], "tuple[Asked, float] | None"]


@dataclass(frozen=True, slots=True)
class Change:
    """One change to try: its name in the words, and either another plan or additions to this one with their cost.

    `mend` is the plan's key that makes it, where one does.
    """

    key: str
    plan: Plan | None = None
    mend: Mend | None = None
    extras: Extras | None = None
    cost_money: float = 0.0


def rank_changes(asked: Asked, cost_money: float, again: Again, thicker: str | None) -> tuple[Gain, ...]:
    """Try every affordable change and rank them by gain over cost, the best first.

    The gain is what the change adds to the gust it stands shut and latched and to the wet snow it bears, as shares of
    what they are, added up; one that makes either worse is left out. Changes that save money come first, those with
    more gain before those with less.
    more gain before those with less.

    Args:
        asked: the cover as planned; its frame stands and its pipe's wall is known.
        cost_money: what it costs as planned.
        again: runs the bench on another plan; None where that is refused.
        thicker: the next thicker pipe by name, if there is one.
    """
    found = _limits(asked)
    if found is None:
        return ()
    before = found[0].limit.value, found[1].limit.value
    if min(before) <= 0:
        return ()
    gains = []
    for change in _changes(asked, thicker, any(one.root.what.endswith(" pipe") for one in found)):
        if change.plan is not None:
            other = again(change.plan)
            if other is None:
                continue
            changed, costs = other[0], other[1] - cost_money
        else:
            changed, costs = replace(asked, extras=change.extras or Extras()), change.cost_money
        after = _stands(changed)
        if after is None:
            continue
        gust, snow = after[0] / before[0] - 1, after[1] / before[1] - 1
        if max(gust, snow) < WORTH_SHARE or min(gust, snow) < -WORTH_SHARE:
            continue
        gains.append(Gain(change.key, after[0], after[1], gust, snow, costs, change.mend))
    return tuple(
        sorted(gains, key=lambda gain: -(gain.gust_share + gain.snow_share) / max(gain.cost_money, LEAST_COST))
    )


def _stands(asked: Asked) -> tuple[float, float] | None:
    """Likely gust, shut and latched, and wet snow; None where the frame is free to move or bears nothing."""
    found = _limits(asked)
    if found is None:
        return None
    shut, wet = (one.limit.value for one in found)
    return (shut, wet) if shut > 0 and wet > 0 else None


def _limits(asked: Asked) -> tuple[Found, Found] | None:
    if asked.pipe.wall is None or asked.pipe.mass_kg_m is None:
        return None
    one = study(asked)
    if one.solved.responses.motion is not None:
        return None
    (shut,) = wind_limits({"likely": one}, asked.plan, asked.mark_of, only=("shut",))
    (wet,) = snow_limits({"likely": one}, asked.plan, asked.mark_of, only=("wet",))
    return shut, wet


def _changes(asked: Asked, thicker: str | None, screws_govern: bool) -> Iterator[Change]:
    plan, cover = asked.plan, asked.plan.cover
    bents = len(asked.frame.stations_m) // plan.covers_count + 1
    more = plan.model_copy(update={"cover": cover.model_copy(update={"bents": bents})})
    yield Change("bent", more, Mend("cover.bents", bents))
    if thicker is not None:
        other = plan.model_copy(update={"pipe": plan.pipe.model_copy(update={"size": thicker})})
        yield Change("pipe", other, Mend("pipe.size", thicker))
    lower = _lower(asked)
    if lower is not None:
        yield Change("lower", *lower)
    fixings = len(asked.lid.hinges) + len(asked.lid.latches)
    if asked.lid.latches:
        yield Change("latches", extras=Extras(latches=2), cost_money=2 * LATCH_money.value)
    if fixings and screws_govern and how_fixed(asked.pipe) == "screws":
        yield Change("bolts", extras=Extras(bolts=True), cost_money=2 * fixings * BOLT_money.value)
    yield Change("straps", extras=Extras(straps=2), cost_money=2 * STRAP_money.value)
    if cover.shape != "tunnel":
        yield Change("diagonals", extras=Extras(diagonals=True), cost_money=4 * DIAGONAL_money.value)


def _lower(asked: Asked) -> tuple[Plan, Mend | None] | None:
    """The same cover a fifth lower, by the figure that its shape goes by."""
    plan, cover = asked.plan, asked.plan.cover

    def mend(path: str, length_m: float) -> Mend:
        return Mend(path, show_length(length_m, plan.units))

    if cover.shape in ("tent", "tunnel"):
        height_m = round_length(asked.frame.height_m * LOWER_SHARE, plan.units)
        lower = cover.model_copy(update={"height_m": height_m, "pitch_deg": None})
        hoops = plan.hoops.model_copy(update={"length_m": None})
        one_key = cover.pitch_deg is None and plan.hoops.length_m is None
        changed = plan.model_copy(update={"cover": lower, "hoops": hoops})
        return changed, mend("cover.height", height_m) if one_key else None
    if cover.shape == "barn":
        walls_m = round_length(plan.barn.walls_m * LOWER_SHARE, plan.units)
        barn = plan.barn.model_copy(update={"walls_m": walls_m})
        return plan.model_copy(update={"barn": barn}), mend("barn.walls", walls_m)
    if cover.shape == "lean-to":
        sides = plan.lean_to
        back_m = round_length(sides.front_m + (sides.back_m - sides.front_m) * LOWER_SHARE, plan.units)
        lean_to = sides.model_copy(update={"back_m": back_m})
        return plan.model_copy(update={"lean_to": lean_to}), mend("lean-to.back", back_m)
    return None
